package reading

import (
	"slices"
	"testing"
)

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

// Where the phase of a lay is lost in one half, as on yarn that is twisted unevenly, its
// borders still bear it out from end to end, and bear no lay out to the other side.
func TestBordersBearOutEverywhere(t *testing.T) {
	photo := photoOf(drawing(300, 1500, drawn{n: 2, degrees: 30, z: true, diameter: 60, x: 150}))
	w := &witness{}
	read(photo, Options{}, w)
	best := w.tried[0].best
	lost := *best.fits[0].trace
	lost.phase = slices.Clone(lost.phase)
	for i := range lost.phase[:len(lost.phase)/2] {
		lost.phase[i] *= 1.7
	}
	for _, z := range []bool{true, false} {
		s := best
		s.fits = slices.Clone(best.fits)
		s.fits[0].trace, s.fits[0].guess.z = &lost, z
		if s.of[0].holdsInHalves(s.fits[0]) {
			t.Errorf("Z %v: holds in the half whose phase was lost", z)
		}
		if got := s.everywhere(); got != z {
			t.Errorf("Z %v: holds everywhere is %v", z, got)
		}
	}
}
