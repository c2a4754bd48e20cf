package drawing

import (
	"image"
	"image/color"
	"math"
	"testing"
)

// table pictures a plain table of 600 by 450 pixels, without noise.
func table(t *testing.T, change func(*Scene)) *image.RGBA {
	t.Helper()
	scene := Scene{Size: image.Pt(600, 450), PixelsPerMillimetre: 20}
	change(&scene)
	m, err := bare(scene, 3)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A tinted ground has on average the colour that it is given.
func TestTint(t *testing.T) {
	m := table(t, func(s *Scene) { s.Ground, s.Tint = Paper, color.NRGBA{0x40, 0x90, 0x60, 0xff} })
	var mean [3]float64
	for i := 0; i < len(m.Pix); i += 4 {
		for c := range mean {
			mean[c] += float64(m.Pix[i+c]) / float64(len(m.Pix)/4)
		}
	}
	for c, want := range [3]float64{0x40, 0x90, 0x60} {
		if math.Abs(mean[c]-want) > 8 {
			t.Errorf("channel %d is %.0f on average, want %.0f", c, mean[c], want)
		}
	}
}

// Hairs that lie about change the table where they lie, and only there.
func TestStrayHairs(t *testing.T) {
	clean := table(t, func(*Scene) {})
	strewn := table(t, func(s *Scene) { s.StrayHairs = 3 })
	changed := 0
	for i := range clean.Pix {
		if clean.Pix[i] != strewn.Pix[i] {
			changed++
		}
	}
	if changed < 100 || changed > len(clean.Pix)/20 {
		t.Errorf("%d of %d values changed by three hairs", changed, len(clean.Pix))
	}
}
