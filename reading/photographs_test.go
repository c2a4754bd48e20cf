package reading

import (
	"image"
	"path/filepath"
	"testing"

	"waketwist/raster"
	"waketwist/yarn"
)

// A person who boxes the yarn and states its strands is believed sooner, where
// there is yarn.
func TestBoxAndStatedPliesHelp(t *testing.T) {
	stems := loadPhoto(t, filepath.Join("testdata", "pc_s4_four_ply.jpg"))
	r := Read(stems, Options{Plies: 4, At: image.Rect(5, 50, 715, 100)})
	if !r.Readable || r.Direction != yarn.S || r.Border.Degrees() < 27 || r.Border.Degrees() > 39 {
		t.Errorf("four stems: %v, border %.1f (%v), want S and 33", r.Direction, r.Border.Degrees(), r.Reason)
	}
	wood := loadPhoto(t, filepath.Join("testdata", "neg_wood.jpg"))
	for n := 2; n <= maxPlies; n++ {
		if r := Read(wood, Options{Plies: n, At: image.Rect(20, 200, 580, 320)}); r.Readable {
			t.Errorf("wood: read as %d strands, %v", r.Plies, r.Direction)
		}
	}
}

// Photographs of stems that press each other flat, with the angle of the
// visible border as the eye reads it: two strands, not four, in every lay.
func TestFlatStrandsOnPhotographs(t *testing.T) {
	for _, c := range []struct {
		file   string
		at     image.Rectangle
		border float64 // degrees, read by eye within about 8
	}{
		{"pc_s2_red_green_steep.jpg", image.Rectangle{}, 45},
		{"pc_s2_clean_pair.jpg", image.Rect(55, 5, 105, 320), 39},
		{"pc_s2_clean_pair.jpg", image.Rect(240, 5, 305, 320), 40},
	} {
		for orient, want := range map[raster.Orientation]yarn.Direction{1: yarn.S, 2: yarn.Z} {
			p := raster.NewPhoto(decode(t, filepath.Join("testdata", c.file)), orient)
			at := c.at
			if w, _ := p.Size(); orient == 2 && !at.Empty() {
				at.Min.X, at.Max.X = w-at.Max.X, w-at.Min.X
			}
			r := Read(p, Options{At: at})
			if !r.Readable || r.Plies != 2 || r.Direction != want {
				t.Errorf("%s stored as %d: %d strands, %v (%v)", c.file, orient, r.Plies, r.Direction, r.Reason)
				continue
			}
			if got := r.Border.Degrees(); got < c.border-8 || got > c.border+8 {
				t.Errorf("%s stored as %d: border at %.1f, the eye reads %.0f", c.file, orient, got, c.border)
			}
		}
	}
}

// Streaks that lean all along a hairy yarn bear out a lay too faint to be
// believed alone; the angle is then given widely.
func TestFaintLayThatTheTextureBearsOut(t *testing.T) {
	for orient, want := range map[raster.Orientation]yarn.Direction{1: yarn.Z, 2: yarn.S} {
		at := image.Rect(10, 0, 440, 890)
		if orient == 2 {
			at.Min.X, at.Max.X = 682-at.Max.X, 682-at.Min.X
		}
		r := Read(raster.NewPhoto(decode(t, filepath.Join("testdata", "green_yarn_diagonal.jpg")), orient), Options{At: at})
		if !r.Readable || r.Direction != want {
			t.Errorf("stored as %d: %v (%v), want %v", orient, r.Direction, r.Reason, want)
			continue
		}
		if wide := (r.Angle.High - r.Angle.Low).Degrees(); wide < 10 {
			t.Errorf("stored as %d: the interval is only %.1f degrees wide", orient, wide)
		}
		if got := r.Border.Degrees(); got < 21 || got > 45 {
			t.Errorf("stored as %d: border at %.1f, the eye reads 33", orient, got)
		}
	}
}
