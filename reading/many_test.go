package reading

import (
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
