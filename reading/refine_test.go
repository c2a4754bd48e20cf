package reading

import (
	"math"
	"testing"

	"waketwist/raster"
)

// shadedCut is a blurred bar of tinted yarn, rows 30 to 90, on grey ground with a
// shadow that is darkest below it.
func shadedCut() *cut {
	const cols, rows = 40, 121
	st := &strip{reach: 60, step: 1, along: &axis{step: 1}}
	for ch := range st.chan_ {
		st.chan_[ch] = raster.NewField(cols, rows)
	}
	for j := range rows {
		luma, blue, red := 200.0, 128.0, 128.0
		switch {
		case j >= 30 && j < 90:
			luma, blue, red = 150, 100, 160
		case j >= 90:
			luma = min(70+4*float64(j-90), 200)
		}
		for ch, v := range [3]float64{luma, blue, red} {
			for i := range cols {
				st.chan_[ch].Pix[j*cols+i] = float32(v)
			}
		}
	}
	for _, f := range st.chan_ {
		f.BlurColumns(2)
	}
	o := &outline{}
	for range cols {
		o.top, o.bottom, o.sure = append(o.top, -32), append(o.bottom, 33), append(o.sure, 1)
	}
	return &cut{strip: st, outline: o, cues: st.cueFields(), width: 65, abreast: 1}
}

// Beside a shadow the edge is found by tint. Under a blur the lighter of yarn and
// shadow lends the mixture most of its tint, which must not move the edge.
func TestEdgeBesideAShadow(t *testing.T) {
	c := shadedCut()
	c.refineEdges()
	for i := range c.outline.top {
		// Rows hold what lies half a row to either side.
		if top, bottom := c.outline.top[i], c.outline.bottom[i]; math.Abs(top+30.5) > 0.6 || math.Abs(bottom-29.5) > 0.6 {
			t.Fatalf("column %d: from %.2f to %.2f, want -30.5 to 29.5", i, top, bottom)
		}
	}
}

// Yarn with a clear hue of its own ends where the ground's hue begins, though the
// outline took a deep shadow in; that shadow makes the width unsure until then.
func TestShadowByHue(t *testing.T) {
	c := shadedCut()
	sure := c.outlineSD(c.width, 1, 0)
	for i := range c.outline.bottom {
		c.outline.bottom[i] = 44
	}
	width, middle, at := c.withoutShadow()
	if math.Abs(width-62) > 3 || math.Abs(middle+1) > 2 || at != [2]bool{false, true} {
		t.Errorf("%.1f wide about %.1f, shadow %v; want about 62, -1 and below", width, middle, at)
	}
	if unsure := c.outlineSD(76, 1, 0); unsure < 10 || sure > 5 {
		t.Errorf("standard deviations %.1f with the shadow and %.1f without", unsure, sure)
	}
}

// White yarn on white ground is known from a shadow by its texture alone, however
// wide the shadow.
func TestShadowByTexture(t *testing.T) {
	c := shadedCut()
	luma := c.strip.chan_[0]
	for j := range luma.H {
		y := c.strip.across(j)
		for i := range luma.W {
			level := 200.0
			switch {
			case math.Abs(y) < 22:
				level = 190 + 25*math.Sin(float64(i)*0.35+y/8)
			case y > 0 && y < 45:
				level = 150
			}
			luma.Row(j)[i] = float32(level)
		}
	}
	for _, k := range [2]int{cueBlue, cueRed} {
		clear(c.cues[k].Pix)
	}
	for i := range c.outline.bottom {
		c.outline.top[i], c.outline.bottom[i] = -22, 44
	}
	c.width = 66
	width, middle, at := c.withoutShadow()
	if math.Abs(width-44) > 3 || math.Abs(middle) > 3 || at != [2]bool{false, true} {
		t.Errorf("%.1f wide about %.1f, shadow %v; want about 44, 0 and below", width, middle, at)
	}
}
