package reading

import "testing"

// A half that shows the strands far fainter than the other is enough where it would
// be believed alone, and a half that shows none is not.
func TestHalvesOfUnevenClarity(t *testing.T) {
	photo := photoOf(drawing(300, 1500, drawn{n: 3, degrees: 42, z: true, diameter: 50, x: 150}))
	w := &witness{}
	read(photo, Options{}, w)
	best := w.tried[0].best
	clean, m := best.of[0], best.fits[0]
	for _, c := range []struct {
		left  float64 // of the contrast in one half
		holds bool
	}{{1, true}, {0.38, true}, {0.05, false}} {
		b := *clean
		for l := range b.layer {
			b.layer[l] = clean.layer[l].Clone()
			for j := range bodyRows {
				row := b.layer[l].Row(j)
				for i := range row[:len(row)/2] {
					row[i] *= float32(c.left)
				}
			}
		}
		whole, _ := b.newFold(m.trace.phase, 0, b.cols()).fit(m.key().kind, m.guess.z, m.scale, m.offset)
		whole.trace = m.trace
		if got := b.holdsInHalves(whole); got != c.holds {
			t.Errorf("%+v: %v", c, got)
		}
	}
}
