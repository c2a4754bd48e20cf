package reading

import (
	"math"
	"testing"

	"waketwist/raster"
)

// litBar is a bar of light yarn, 60 wide, on dark ground, whose edges a lens has
// blurred in the light itself, and its outline half way between their levels. Every
// fourth width a hair has drawn the lower edge out by so much.
func litBar(yarn, ground, hair float64) *cut {
	c := shadedCut()
	const cols, soft = 400, 2.5
	st := &strip{reach: 60, step: 1, along: &axis{step: 1, x: make([]float64, cols)}}
	for ch, f := range c.strip.chan_ {
		st.chan_[ch] = raster.NewField(cols, f.H)
		for j := range f.H {
			y := math.Abs(st.across(j))
			share := math.Erfc((y-30)/(soft*math.Sqrt2)) / 2
			v := 128.0
			if ch == 0 {
				v = math.Sqrt(share*yarn*yarn + (1-share)*ground*ground)
			}
			for i := range cols {
				st.chan_[ch].Pix[j*cols+i] = float32(v)
			}
		}
	}
	half := (yarn + ground) / 2
	share := (half*half - ground*ground) / (yarn*yarn - ground*ground)
	edge := 30 + soft*math.Sqrt2*math.Erfinv(1-2*share)
	o := &outline{}
	for i := range cols {
		bottom := edge
		if i%240 < 40 {
			bottom += hair
		}
		o.top, o.bottom, o.sure = append(o.top, -edge), append(o.bottom, bottom), append(o.sure, 1)
	}
	c = &cut{strip: st, outline: o, cues: st.cueFields(), abreast: 1}
	c.width, _ = o.mean()
	return c
}

// Half way between the levels of yarn and ground is not where the yarn ends, since
// light adds up and levels do not; and a hair is no part of the width.
func TestGirthIsWhereTheLightEnds(t *testing.T) {
	for _, of := range [][3]float64{{220, 25, 12}, {40, 230, 0}} {
		c := litBar(of[0], of[1], of[2])
		b := c.body()
		if w := b.width * b.girth(nil); math.Abs(w-60) > 0.6 || math.Abs(c.width-60) < 1.5 {
			t.Errorf("yarn of level %.0f on %.0f: outline %.2f, yarn %.2f, want 60 of the latter", of[0], of[1], c.width, w)
		}
	}
}

// Where a strand passes, the edge lies as it mostly does where another has passed.
func TestGirthOfStrandsPassing(t *testing.T) {
	const cols = 480
	var r, passing []float64
	for i := range cols {
		passing = append(passing, 2*math.Pi*float64(i)/60)
		r = append(r, 0.9+0.1*math.Cos(passing[i]))
		if i%60 >= 20 && i%60 < 30 && i > 300 {
			r[i] += 0.5
		}
	}
	for i, v := range usually(r, passing) {
		if want := 0.9 + 0.1*math.Cos(passing[i]); math.Abs(v-want) > 0.03 {
			t.Fatalf("column %d: %.3f, want %.3f", i, v, want)
		}
	}
}
