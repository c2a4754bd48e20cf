package reading

import (
	"image"
	"math"
	"testing"
)

// stripe paints rows [from, to) of columns [left, right).
func stripe(m *image.YCbCr, left, right, from, to int, y, cb, cr uint8) {
	for j := from; j < to; j++ {
		for i := left; i < right; i++ {
			k := m.YOffset(i, j)
			m.Y[k], m.Cb[k], m.Cr[k] = y, cb, cr
		}
	}
}

// A strand with the next one against it, now on this side and now on that, is told
// from singles on plain ground, with a shadow, or beside one other thing.
func TestStrandAmidOthers(t *testing.T) {
	const width, left, right = 30, 100, 400
	for _, c := range []struct {
		name  string
		paint func(*image.YCbCr)
		want  bool
	}{
		{"singles", func(*image.YCbCr) {}, false},
		{"in its shadow", func(m *image.YCbCr) {
			stripe(m, 0, 500, 85, 100, 60, 128, 128)
			stripe(m, 0, 500, 130, 150, 70, 128, 128)
		}, false},
		{"against one thing", func(m *image.YCbCr) { stripe(m, 0, 500, 60, 100, 80, 170, 100) }, false},
		{"strand", func(m *image.YCbCr) {
			stripe(m, 0, 250, 70, 100, 80, 170, 100)
			stripe(m, 250, 500, 130, 160, 80, 170, 100)
		}, true},
		{"strand among many", func(m *image.YCbCr) {
			for at := 0; at < 500; at += 20 {
				stripe(m, at, at+10, 0, 60, 90, 170, 90)
				stripe(m, at, at+10, 170, 230, 90, 90, 170)
			}
			stripe(m, 0, 500, 60, 170, 90, 155, 102)
		}, true},
	} {
		m := drawing(500, 230)
		c.paint(m)
		stripe(m, 0, 500, 100, 100+width, 150, 90, 160)
		src := newSource(photoOf(m))
		line := newAxis([]float64{left, right}, []float64{99.5 + width/2, 99.5 + width/2}, 1)
		cut := evenCut(src, line, width)
		cut.cues = cut.strip.cueFields()
		if got := cut.amidOthers(makeCueMap(src, image.Rectangle{}).look()); got != c.want {
			t.Errorf("%s: amid others is %v", c.name, got)
		}
	}
}

// A strand seen between the places where others cross it narrows to both its ends; yarn
// that is cut, or uneven, does not.
func TestTapers(t *testing.T) {
	for _, c := range []struct {
		name  string
		width func(at float64) float64 // at a place from 0 to 1, of the usual
		want  bool
	}{
		{"even", func(float64) float64 { return 1 }, false},
		{"strand", func(at float64) float64 { return 4.5 * at * (1 - at) }, true},
		{"one end thin", func(at float64) float64 { return min(1, 2*at) }, false},
		{"thick and thin", func(at float64) float64 { return 1 + 0.4*math.Sin(20*at) }, false},
	} {
		src := newSource(photoOf(drawing(500, 230)))
		cut := evenCut(src, newAxis([]float64{100, 400}, []float64{115, 115}, 1), 40)
		for i := range cut.outline.top {
			half := 20 * c.width(float64(i)/float64(len(cut.outline.top)-1))
			cut.outline.top[i], cut.outline.bottom[i] = -half, half
		}
		if got := cut.tapers(); got != c.want {
			t.Errorf("%s: tapers is %v", c.name, got)
		}
	}
}

// One strand of a ply was taken for a yarn: the ply is read that is some two strands wide
// there. Around a whole yarn nothing wider is looked for.
func TestWholeOfAStrand(t *testing.T) {
	for _, z := range []bool{false, true} {
		d := drawn{n: 2, degrees: 14, z: z, diameter: 80, x: 300}
		lean := 14.0
		if !z {
			lean = -lean
		}
		src := newSource(photoOf(drawing(600, 900, d)))
		m := makeCueMap(src, image.Rectangle{})
		src.ground = m.look()
		across := 80 * math.Tan(lean*math.Pi/180)
		cut := evenCut(src, newAxis([]float64{300 + across, 300 - across}, []float64{370, 530}, 1), 36)
		cut.cues = cut.strip.cueFields()
		for i := range cut.outline.top {
			at := float64(i) / float64(len(cut.outline.top)-1)
			cut.outline.top[i], cut.outline.bottom[i] = -72*at*(1-at), 72*at*(1-at)
		}
		r := (&candidate{cut: cut}).readWhole(src, m, Options{})
		if !r.Readable || r.Plies != 2 || r.Direction != d.direction() || math.Abs(r.Angle.Value.Degrees()-14) > 2 {
			t.Errorf("Z %v: read as %d %v at %.1f deg (%v)", z, r.Plies, r.Direction, r.Angle.Value.Degrees(), r.Reason)
		}
		own := evenCut(src, newAxis([]float64{300, 300}, []float64{100, 800}, 1), 72)
		own.cues = own.strip.cueFields()
		if r := (&candidate{cut: own}).readWhole(src, m, Options{}); r.Readable {
			t.Errorf("Z %v: more than the yarn was read", z)
		}
	}
}
