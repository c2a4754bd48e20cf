package reading

import "testing"

// Two thirds of a turn in view are enough, wherever they begin and end: none of them
// is left uncounted at the ends.
func TestTwoThirdsOfATurnAreRead(t *testing.T) {
	for _, degrees := range []float64{9, 11, 14} {
		for _, strands := range []int{2, 3} {
			d := drawn{n: strands, degrees: degrees, z: true, diameter: 80, x: 150}
			r := Read(photoOf(drawing(301, int(0.7*d.pitch()), d)), Options{})
			if !r.Readable || r.Direction != d.direction() || !r.Has(FewTurns) {
				t.Errorf("%d strands at %.0f deg: %v, %v (%v)", strands, degrees, r.Direction, r.Flags, r.Reason)
			} else if a := r.Angle; a.Low.Degrees() > degrees || a.High.Degrees() < degrees {
				t.Errorf("%d strands at %.0f deg: %.1f to %.1f", strands, degrees, a.Low.Degrees(), a.High.Degrees())
			}
		}
	}
}
