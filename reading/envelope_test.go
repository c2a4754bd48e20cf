package reading

import (
	"image"
	"math"
	"testing"
)

// An outline that goes to and fro with one strand is laid around all of them; one that
// swells to both sides, or lies amid other yarns, stays as it was.
func TestEnclosesStrands(t *testing.T) {
	const width, period = 40, 50
	for _, c := range []struct {
		name        string
		sway, swell float64 // photo pixels
		amid        bool
		want        float64 // mean width
	}{
		{"even", 0, 0, false, width},
		{"swelling", 0, 6, false, width},
		{"one strand", 10, 0, false, width + 18},
		{"among yarns", 10, 0, true, width},
	} {
		m := drawing(600, 230)
		stripe(m, 0, 600, 85, 145, 150, 90, 160)
		if c.amid {
			stripe(m, 0, 600, 50, 83, 150, 150, 90)
			stripe(m, 0, 600, 147, 180, 150, 150, 90)
		}
		src := newSource(photoOf(m))
		cut := evenCut(src, newAxis([]float64{50, 550}, []float64{115, 115}, 1), width)
		cut.cues = cut.strip.cueFields()
		cut.evidence = learn(cut.strip, cut.cues, around(width/2, width)).evidence(cut.cues)
		for i := range cut.outline.top {
			sin := math.Sin(2 * math.Pi * float64(i) / period)
			cut.outline.top[i] += c.sway*sin - c.swell*sin
			cut.outline.bottom[i] += c.sway*sin + c.swell*sin
		}
		cut.encloseStrands(makeCueMap(src, image.Rectangle{}).look())
		if got, _ := cut.outline.mean(); math.Abs(got-c.want) > 3 {
			t.Errorf("%s: %.1f pixels wide, want %.1f", c.name, got, c.want)
		}
	}
}
