package drawing_test

import (
	"image"
	"math"
	"testing"

	"waketwist/internal/drawing"
	"waketwist/raster"
	"waketwist/scale"
	"waketwist/unit"
)

// A disc and a rule that lie beside drawn yarn give the scale that was drawn.
func TestDiscAndRulerGiveTheScale(t *testing.T) {
	for _, tt := range []struct {
		ground drawing.Ground
		axis   unit.Angle
		perMM  float64
	}{
		{drawing.Paper, 12 * unit.Degree, 18.7},
		{drawing.Card, 80 * unit.Degree, 14.3},
		{drawing.Linen, 10 * unit.Degree, 21.2},
		{drawing.Wood, 15 * unit.Degree, 16.4},
	} {
		scene := plainScene()
		scene.Size, scene.Ground, scene.Axis, scene.PixelsPerMillimetre = image.Pt(900, 700), tt.ground, tt.axis, tt.perMM
		scene.Ruler, scene.Disc = true, drawing.Disc{Diameter: 9 * unit.Millimetre, X: 230.4, Y: 160.7}
		photo := raster.NewPhoto(photograph(t, twoPly(), scene), 1)
		want := 9 * tt.perMM
		d, err := scale.FindDisc(photo, image.Rectangle{})
		if off := math.Abs(d.Diameter.Value - want); err != nil || off > 0.01*want || off > 2*d.Diameter.SD {
			t.Errorf("ground %d: the disc is %.2f +- %.2f px across (%v), want %.2f", tt.ground, d.Diameter.Value, d.Diameter.SD, err, want)
		}
		r, err := scale.FindRuler(photo, image.Rectangle{}, unit.Millimetre)
		if off := math.Abs(r.Spacing.Value - tt.perMM); err != nil || off > 0.003*tt.perMM || off > 2*r.Spacing.SD {
			t.Errorf("ground %d: marks stand %.3f +- %.3f px apart (%v), want %.3f", tt.ground, r.Spacing.Value, r.Spacing.SD, err, tt.perMM)
		}
	}
}
