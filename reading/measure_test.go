package reading

import (
	"math"
	"path/filepath"
	"testing"
)

// The outline that is drawn over a photograph is as wide as the width read, also
// where the fit would have the yarn narrower than its outline.
func TestOutlineDrawnIsTheWidthRead(t *testing.T) {
	for _, file := range []string{"dev_016.jpg", "dev_038.jpg", "dev_050.jpg"} {
		r := Read(loadPhoto(t, filepath.Join("testdata", file)), Options{})
		if !r.Readable {
			t.Errorf("%s: %v", file, r.Reason)
			continue
		}
		var mean float64
		top, bottom := r.Overlay.Edges[0], r.Overlay.Edges[1]
		for i, p := range top {
			mean += math.Hypot(p.X-bottom[i].X, p.Y-bottom[i].Y) / float64(len(top))
		}
		if math.Abs(mean/r.Width.Value-1) > 0.015 {
			t.Errorf("%s: edges %.1f apart in the mean where the width reads %.1f", file, mean, r.Width.Value)
		}
	}
}
