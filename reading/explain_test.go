package reading

import (
	"path/filepath"
	"testing"

	"waketwist/raster"
	"waketwist/yarn"
)

// The colours of heather are streaks of its fibres, which cross the strands: twist is
// seen by the shades between these.
func TestStreaksAreNoStrands(t *testing.T) {
	img := decode(t, filepath.Join("testdata", "drawn_steep_heather.jpg"))
	for orient, want := range map[raster.Orientation]yarn.Direction{1: yarn.S, 2: yarn.Z, 6: yarn.S} {
		r := Read(raster.NewPhoto(img, orient), Options{})
		if !r.Readable || r.Plies != 2 || r.Direction != want || r.Has(OtherTones) {
			t.Errorf("stored as %d: %d strands, %v, %v (%v)", orient, r.Plies, r.Direction, r.Flags, r.Reason)
		}
	}
}
