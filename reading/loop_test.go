package reading

import (
	"math"
	"path/filepath"
	"testing"
)

// Where a ply-back sample parts into its loop, the strands turn less: that
// stretch counts neither for the pitch nor for the width.
func TestLoopIsLeftOut(t *testing.T) {
	for file, pitch := range map[string]float64{"dev_043.jpg": 130.96, "dev_056.jpg": 230.23} {
		r := Read(loadPhoto(t, filepath.Join("testdata", file)), Options{})
		if !r.Readable || r.Plies != 2 {
			t.Errorf("%s: read as %d strands (%v)", file, r.Plies, r.Reason)
			continue
		}
		if math.Abs(r.Pitch.Value/pitch-1) > 0.015 {
			t.Errorf("%s: pitch %.1f, want %.1f", file, r.Pitch.Value, pitch)
		}
	}
}
