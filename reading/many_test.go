package reading

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"waketwist/raster"
)

// TestRopesAreKnown draws ropes and yarns of one thickness: of ropes none passes
// for a yarn of four, and no yarn for a rope.
func TestRopesAreKnown(t *testing.T) {
	for n := 2; n <= mostStrands; n++ {
		for degrees := 16.0; degrees <= 36; degrees += 10 {
			m := drawing(400, 900, drawn{n: n, degrees: degrees, z: true, diameter: 150, x: 200})
			r := Read(raster.NewPhoto(m, 1), Options{})
			if n > maxPlies && r.Readable {
				t.Errorf("%d strands at %.0f degrees are read as %d", n, degrees, r.Plies)
			}
			if n <= maxPlies && r.Reason == TooMany {
				t.Errorf("%d strands at %.0f degrees are taken for a rope", n, degrees)
			}
		}
	}
}

// TestRopesOfTonesAreKnown draws ropes and yarns with a dark strand, and a paler one,
// that come round once a turn: what imitates the colours of the one must not be read as
// the other.
func TestRopesOfTonesAreKnown(t *testing.T) {
	for _, tones := range [][]float64{
		{0.4, 0.7, 1, 1, 1, 1}, {0.4, 0.4, 1, 1, 1, 1}, {0.4, 1, 0.7, 1, 1, 1}, {0.1, 0.5, 1, 0.3, 0.8, 0.6}, {0.4, 1, 0.4, 1, 0.4, 1},
		{0.4, 0.7, 1, 1}, {0.4, 0.7, 1}, {0.1, 0.5, 1, 0.3}, {0.1, 0.5, 1},
	} {
		for degrees := 20.0; degrees <= 32; degrees += 6 {
			name := fmt.Sprintf("tones %v at %.0f degrees", tones, degrees)
			d := drawn{n: len(tones), degrees: degrees, z: true, diameter: 100, x: 100}
			m := drawing(200, 700)
			d.drawToned(m, rand.New(rand.NewPCG(7, 9)), tones)
			r := Read(photoOf(m), Options{})
			if d.n > maxPlies && r.Readable {
				t.Errorf("%s: %d strands are read as %d", name, d.n, r.Plies)
			}
			if d.n <= maxPlies && (!r.Readable || r.Plies != d.n) {
				t.Errorf("%s: %d strands are read as %d (%v)", name, d.n, r.Plies, r.Reason)
			}
		}
	}
}
