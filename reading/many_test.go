package reading

import (
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"waketwist/raster"
	"waketwist/unit"
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
// that come round once a turn, and such of which no two strands are alike: what imitates
// the colours of the one must not be read as the other.
func TestRopesOfTonesAreKnown(t *testing.T) {
	for _, c := range []struct {
		diameter, height float64
		from, to         float64 // degrees
		tones            []float64
	}{
		{100, 700, 20, 32, []float64{0.4, 0.7, 1, 1, 1, 1}},
		{100, 700, 20, 32, []float64{0.4, 0.4, 1, 1, 1, 1}},
		{100, 700, 20, 20, []float64{0.4, 1, 0.7, 1, 1, 1}},
		{70, 560, 26, 38, []float64{0.1, 0.5, 1, 0.3, 0.8, 0.6}},
		{100, 700, 20, 32, []float64{0.4, 0.7, 1, 1}},
		{100, 700, 20, 32, []float64{0.4, 0.7, 1}},
	} {
		for degrees := c.from; degrees <= c.to; degrees += 6 {
			name := fmt.Sprintf("tones %v at %.0f degrees", c.tones, degrees)
			d := drawn{n: len(c.tones), degrees: degrees, z: true, diameter: c.diameter, x: c.diameter}
			m := drawing(int(2*c.diameter), int(c.height))
			d.drawToned(m, rand.New(rand.NewPCG(7, 9)), c.tones)
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

// Where the borders are seen elsewhere than the likeliest count of strands would have
// them, the count is not sure, and the interval knows.
func TestBordersAmissLeaveTheCountUnsure(t *testing.T) {
	const truth = 40.9 * unit.Degree
	r := Read(loadPhoto(t, filepath.Join("testdata", "tubes_two_ply.jpg")), Options{})
	if r.Readable && (r.Angle.Low > truth || r.Angle.High < truth || r.Plies != 2 && !r.Has(UnsurePlies)) {
		t.Errorf("read as %d strands, %.1f to %.1f degrees, %v", r.Plies, r.Angle.Low.Degrees(), r.Angle.High.Degrees(), r.Flags)
	}
}
