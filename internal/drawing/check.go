package drawing

import (
	"fmt"
	"math"
)

// check reports the first number of the scene that cannot be pictured.
func (s Scene) check() error {
	between := func(v, lo, hi float64) bool { return v >= lo && v <= hi }
	switch {
	case s.Size.X < 16 || s.Size.Y < 16 || s.Size.X > maxPixels/s.Size.Y:
		return fmt.Errorf("a photograph of %d by %d pixels cannot be made: give 16 to some thousands each way", s.Size.X, s.Size.Y)
	case s.Ground < Paper || s.Ground > Twill:
		return fmt.Errorf("ground %d is not known: use Paper, Card, Linen, Wood, Skin, Cotton or Twill", s.Ground)
	case !between(math.Abs(s.Bow.Degrees()), 0, 60):
		return fmt.Errorf("a bow of %.0f degrees cannot be pictured: give at most 60 either way", s.Bow.Degrees())
	case !between(math.Abs(s.AsidePixels), 0, s.diagonal()/2):
		return fmt.Errorf("a yarn %.3g pixels from the middle cannot be pictured: give at most half the diagonal", s.AsidePixels)
	case !between(float64(s.Abreast), 1, 40) || !between(s.GapShare, 0, 10):
		return fmt.Errorf("%d yarns with gaps of %.3g diameters cannot be pictured: give up to 40 yarns and gaps of 0 to 10", s.Abreast, s.GapShare)
	case !between(float64(s.StrayHairs), 0, 500):
		return fmt.Errorf("%d stray hairs cannot be pictured: give 0 to 500", s.StrayHairs)
	}
	return s.checkLight()
}

// checkLight reports the first number of the light and the camera that cannot be
// pictured.
func (s Scene) checkLight() error {
	between := func(v, lo, hi float64) bool { return v >= lo && v <= hi }
	switch {
	case !between(s.LightHeight.Degrees(), 10, 80):
		return fmt.Errorf("a light %.0f degrees above the table cannot be pictured: give 10 to 80", s.LightHeight.Degrees())
	case !between(s.AmbientShare, 0, 1):
		return fmt.Errorf("light of %.3g from all round cannot be pictured: give a share from 0 to 1", s.AmbientShare)
	case !between(s.ShadowShare, 0, 1):
		return fmt.Errorf("a shadow of %.3g cannot be pictured: give a share from 0 to 1", s.ShadowShare)
	case !between(s.ShadowEdge, 0, 2):
		return fmt.Errorf("a shadow's edge of %.3g diameters cannot be pictured: give 0 to 2", s.ShadowEdge)
	case !between(s.BlurPixels, 0, 100):
		return fmt.Errorf("a blur of %.3g pixels cannot be pictured: give 0 to 100", s.BlurPixels)
	case !between(s.ShakePixels, 0, 200):
		return fmt.Errorf("a shake of %.3g pixels cannot be pictured: give 0 to 200", s.ShakePixels)
	case !between(s.SharpenShare, 0, 2):
		return fmt.Errorf("a sharpening of %.3g cannot be pictured: give a share from 0 to 2", s.SharpenShare)
	case !between(s.ExposureShare, 0, 4) || !between(math.Abs(s.WarmthShare), 0, 0.9):
		return fmt.Errorf("an exposure of %.3g and a warmth of %.3g cannot be pictured: give 0 to 4, and at most 0.9 either way", s.ExposureShare, s.WarmthShare)
	case !between(s.GrainShare, 0, 0.5):
		return fmt.Errorf("a grain of %.3g cannot be pictured: give a share from 0 to 0.5", s.GrainShare)
	}
	return nil
}

// checkScale reports what is too large or too small at the scene's scale.
func (s Scene) checkScale(y Yarn) error {
	between := func(v, lo, hi float64) bool { return v >= lo && v <= hi }
	outer := s.PixelsPerMillimetre * y.OuterDiameter().Millimetres()
	switch {
	case !between(outer, 1, s.diagonal()) || outer*s.diagonal() > maxPixels:
		return fmt.Errorf("a yarn %.3g pixels thick does not suit a photograph of %d by %d: change the scale", outer, s.Size.X, s.Size.Y)
	case !between(s.Disc.Diameter.Millimetres()*s.PixelsPerMillimetre, 0, s.diagonal()):
		return fmt.Errorf("a disc of %s does not suit a photograph of %d by %d: change the scale", s.Disc.Diameter, s.Size.X, s.Size.Y)
	case s.Ruler && s.PixelsPerMillimetre < 3:
		return fmt.Errorf("at %.3g pixels per millimetre a rule cannot be read: give at least 3", s.PixelsPerMillimetre)
	}
	return nil
}
