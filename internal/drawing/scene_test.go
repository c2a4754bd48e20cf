package drawing_test

import (
	"image"
	"image/color"
	"math"
	"testing"

	"waketwist/internal/drawing"
	"waketwist/unit"
)

// whiteOnCard is a scene without noise and shadow in which white yarn lies level.
func whiteOnCard() (drawing.Yarn, drawing.Scene) {
	y, scene := twoPly(), plainScene()
	y.Dyes, y.Hairiness, y.UnevennessCV = []color.NRGBA{{0xff, 0xff, 0xff, 0xff}}, 0, 0
	scene.Axis, scene.GrainShare, scene.ShadowShare = 0, 0, 0
	return y, scene
}

// Yarns abreast lie a diameter and the gap apart, about the line aside from the
// middle.
func TestYarnsAbreast(t *testing.T) {
	y, scene := whiteOnCard()
	scene.Abreast, scene.GapShare, scene.AsidePixels = 3, 0.5, 20
	m := photograph(t, y, scene)
	apart := 1.5 * y.OuterDiameter().Millimetres() * scene.PixelsPerMillimetre
	for i := range 3 {
		middle := 225 + 20 + (float64(i)-1)*apart
		if on := rowMean(m, int(middle)); on < 110 {
			t.Errorf("yarn %d: brightness %.0f at row %.0f", i, on, middle)
		}
		if beside := rowMean(m, int(middle+apart/2)); beside > 70 {
			t.Errorf("after yarn %d: brightness %.0f at row %.0f, want the card", i, beside, middle+apart/2)
		}
	}
}

// A shake along the yarn blurs what lies across it only; one across, its edges.
func TestShakeBlursAlongItsWay(t *testing.T) {
	y, scene := whiteOnCard()
	edge := func(m *image.RGBA) (steepest float64) {
		for row := 150; row < 225; row++ {
			steepest = max(steepest, rowMean(m, row+1)-rowMean(m, row))
		}
		return steepest
	}
	still := photograph(t, y, scene)
	scene.ShakePixels = 12
	along := photograph(t, y, scene)
	scene.Shake = 90 * unit.Degree
	across := photograph(t, y, scene)
	if edge(along) < 0.8*edge(still) || edge(across) > 0.5*edge(still) {
		t.Errorf("rows differ by up to %.1f still, %.1f shaken along and %.1f across", edge(still), edge(along), edge(across))
	}
	if got := sharpness(along); got > 0.6*sharpness(still) {
		t.Errorf("neighbours along the yarn differ by %.1f shaken along, %.1f still", got, sharpness(still))
	}
}

func TestSharpenAndExposure(t *testing.T) {
	y, scene := whiteOnCard()
	plain := photograph(t, y, scene)
	sharp, dark, warm := scene, scene, scene
	sharp.SharpenShare, dark.ExposureShare, warm.WarmthShare = 0.7, 0.25, 0.2
	if got, want := sharpness(photograph(t, y, sharp)), 1.2*sharpness(plain); got < want {
		t.Errorf("neighbours differ by %.1f sharpened, want at least %.1f", got, want)
	}
	// A quarter of the light is half the value of a byte.
	if got, want := rowMean(photograph(t, y, dark), 225), rowMean(plain, 225)/2; math.Abs(got-want) > 1.5 {
		t.Errorf("brightness %.1f at a quarter of the light, want %.1f", got, want)
	}
	c := photograph(t, y, warm).RGBAAt(5, 5)
	if c.R <= c.G || c.G <= c.B {
		t.Errorf("warm light on grey card is %v", c)
	}
}
