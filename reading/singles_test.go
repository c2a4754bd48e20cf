package reading

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"waketwist/unit"
	"waketwist/yarn"
)

const singlesApart = 160 // pixels between the middles of yarns drawn side by side

// shortSingles draws n singles of given surface angle side by side, standing up on
// dark ground, with noise and with fibres that end after little more than a width.
func shortSingles(n, h int, a unit.Angle, contrast, noise float64) *image.YCbCr {
	const radius = 30.0
	m := image.NewYCbCr(image.Rect(0, 0, singlesApart*n, h), image.YCbCrSubsampleRatio444)
	r := rand.New(rand.NewPCG(8, 9))
	var tone [16][64]float64 // of the fibres round the yarn, one row after the other
	for i := range tone {
		for j := range tone[i] {
			tone[i][j] = r.NormFloat64()
		}
	}
	for y := range h {
		for x := range singlesApart * n {
			v, k := 40.0, x/singlesApart
			if u := (float64(x%singlesApart) - singlesApart/2) / radius; math.Abs(u) < 1 {
				round := (math.Asin(u)*radius-float64(h-y)*math.Tan(float64(a)))/3 + float64(7*k)
				j, f := int(math.Floor(round)), round-math.Floor(round)
				row := &tone[int(float64(y)/(2.5*radius)+float64(j&7)/8+float64(5*k))&15]
				v = 150*math.Sqrt(1-0.6*u*u) + contrast*(row[j&63]*(1-f)+row[(j+1)&63]*f)
			}
			m.Y[m.YOffset(x, y)] = uint8(min(max(v+noise*r.NormFloat64(), 0), 255))
			m.Cb[m.COffset(x, y)], m.Cr[m.COffset(x, y)] = 128, 128
		}
	}
	return m
}

// Yarns side by side are one yarn wrapped several times: what each shows too little
// of to be believed alone, they show together.
func TestSinglesSideBySideSpeakTogether(t *testing.T) {
	const n, h = 5, 300
	for _, degrees := range []float64{12, -13} {
		photo := photoOf(shortSingles(n, h, unit.Angle(degrees)*unit.Degree, 8, 8))
		src := newSource(photo)
		var yarns []*cut
		var alone []float64
		for k := range n {
			w := &witness{}
			read(photo, Options{At: image.Rect(singlesApart*k+10, 0, singlesApart*(k+1)-10, h)}, w)
			y := w.tried[0].yarns[0]
			y.abreast = n
			yarns = append(yarns, y)
			alone = append(alone, longFibres(src, yarns[k:]).common)
		}
		r := readSingles(src, yarns, 0, false)
		want := yarn.Z
		if degrees < 0 {
			want = yarn.S
		}
		if median(alone) >= commonAbreast {
			t.Errorf("%.0f deg: %.2f in common on each yarn alone, the test asks for less", degrees, alone)
		}
		if !r.Readable || r.Plies != 1 || r.Direction != want || math.Abs(r.Angle.Value.Degrees()-math.Abs(degrees)) > 3 {
			t.Errorf("%.0f deg: %d strands, %v, %.1f deg (%v)", degrees, r.Plies, r.Direction, r.Angle.Value.Degrees(), r.Reason)
		}
	}
}

// Long fibres bear out the texture of yarns side by side where noise leaves it little
// contrast and a ply explains them a little; where strands are steeper, they do not.
func TestLongFibresBearOutTheTexture(t *testing.T) {
	f := fibreLay{angle: -30 * math.Pi / 180}
	for _, c := range []struct {
		angle, common float64
		want          bool
	}{{-31, 1, true}, {-31, 0.7, false}, {31, 1, false}, {-39, 3, false}, {-24, 1, false}} {
		if l := (longLay{angle: c.angle, common: c.common, steady: true}); l.bearsOut(f) != c.want {
			t.Errorf("%+v: bears out %v, want %v", c, !c.want, c.want)
		}
	}
	const n, h, evidence = 5, 600, 1
	photo := photoOf(shortSingles(n, h, 30*unit.Degree, 8, 8))
	src := newSource(photo)
	var yarns []*cut
	for k := range n {
		y := cutOut(src, newAxis([]float64{singlesApart * (float64(k) + 0.5), singlesApart * (float64(k) + 0.5)}, []float64{4, h - 4}, 3), 60, cutRounds)
		y.abreast = n
		yarns = append(yarns, y)
	}
	if f := readFibres(src, yarns); f.local >= contrastAbreast+contrastBeside*evidence {
		t.Errorf("a contrast of %.2f, the test asks for less", f.local)
	}
	if r := readSingles(src, yarns, evidence, false); !r.Readable || r.Direction != yarn.Z || math.Abs(r.Angle.Value.Degrees()-30) > 3 {
		t.Errorf("%v, %.1f deg (%v)", r.Direction, r.Angle.Value.Degrees(), r.Reason)
	}
}

// stripedSingles draws singles of given surface angle whose fibres of several tones
// come round again after every turn.
func stripedSingles(a unit.Angle) *image.YCbCr {
	const w, h, radius, tones = 300, 600, 30.0, 24
	m := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio444)
	r := rand.New(rand.NewPCG(0, 4))
	var tone [tones]float64
	for i := range tone {
		tone[i] = 15 * r.NormFloat64()
	}
	for y := range h {
		for x := range w {
			v := 40.0
			if u := (float64(x) - w/2) / radius; math.Abs(u) < 1 {
				turns := math.Asin(u)/(2*math.Pi) - float64(h-y)*math.Tan(float64(a))/(2*math.Pi*radius)
				at := (turns - math.Floor(turns)) * tones
				k, f := int(at), at-math.Floor(at)
				v = 150*math.Sqrt(1-0.6*u*u) + tone[k%tones]*(1-f) + tone[(k+1)%tones]*f
			}
			m.Y[m.YOffset(x, y)] = uint8(min(max(v+r.NormFloat64(), 0), 255))
			m.Cb[m.COffset(x, y)], m.Cr[m.COffset(x, y)] = 128, 128
		}
	}
	return m
}

// Fibres that come round again repeat as the strands of a rope do, but lean as what
// passes for its borders does.
func TestStripedSinglesAreNoRope(t *testing.T) {
	for _, degrees := range []float64{38, 43, -47} {
		r := Read(photoOf(stripedSingles(unit.Angle(degrees)*unit.Degree)), Options{})
		want := yarn.Z
		if degrees < 0 {
			want = yarn.S
		}
		if !r.Readable || r.Plies != 1 || r.Direction != want || math.Abs(r.Angle.Value.Degrees()-math.Abs(degrees)) > 2.5 {
			t.Errorf("%.0f deg: %d strands, %v, %.1f deg (%v)", degrees, r.Plies, r.Direction, r.Angle.Value.Degrees(), r.Reason)
		}
	}
}
