package drawing_test

import (
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"waketwist/internal/drawing"
	"waketwist/unit"
)

func plainScene() drawing.Scene {
	return drawing.Scene{
		Size: image.Pt(600, 450), PixelsPerMillimetre: 20, Ground: drawing.Card,
		Axis: 25 * unit.Degree, Light: 120 * unit.Degree, ShadowShare: 0.4, BlurPixels: 0.8, GrainShare: 0.01,
	}
}

func photograph(t *testing.T, y drawing.Yarn, scene drawing.Scene) *image.RGBA {
	t.Helper()
	m, err := drawing.Photograph(y, scene)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// moments returns the direction of the bright pixels about their middle, in
// degrees anticlockwise from the right, and how many there are.
func moments(m *image.RGBA) (degrees float64, n int) {
	var sx, sy, sxx, sxy, syy float64
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			if m.RGBAAt(x, y).R > 110 {
				u, v := float64(x), -float64(y)
				sx, sy, sxx, sxy, syy, n = sx+u, sy+v, sxx+u*u, sxy+u*v, syy+v*v, n+1
			}
		}
	}
	k := float64(n)
	xx, xy, yy := sxx/k-sx*sx/k/k, sxy/k-sx*sy/k/k, syy/k-sy*sy/k/k
	return unit.Angle(math.Atan2(2*xy, xx-yy) / 2).Degrees(), n
}

func TestYarnLiesAlongTheAxis(t *testing.T) {
	y := twoPly()
	y.Dyes = []color.NRGBA{{0xff, 0xff, 0xff, 0xff}}
	for _, axis := range []float64{-60, -15, 0, 40, 80} {
		scene := plainScene()
		scene.Size = image.Pt(500, 500)
		scene.Axis = unit.Angle(axis) * unit.Degree
		if got, _ := moments(photograph(t, y, scene)); math.Abs(got-axis) > 1 {
			t.Errorf("the yarn lies at %.1f deg, want %g", got, axis)
		}
	}
}

// A bowed yarn's middle line stands off the chord by the sagitta of its arc.
func TestBowBendsTheYarn(t *testing.T) {
	y := twoPly()
	y.Dyes, y.UnevennessCV = []color.NRGBA{{0xff, 0xff, 0xff, 0xff}}, 0
	for _, bow := range []float64{-30, 30} {
		scene := plainScene()
		scene.Axis, scene.Bow = 0, unit.Angle(bow)*unit.Degree
		m := photograph(t, y, scene)
		radius := math.Hypot(600, 450) / float64(scene.Bow)
		want := radius - math.Copysign(math.Sqrt(radius*radius-260*260), radius)
		got := (rowOfYarn(m, 40)+rowOfYarn(m, 560))/2 - rowOfYarn(m, 300)
		if math.Abs(got-want) > 4 {
			t.Errorf("bow %g: ends lie %.1f px below the middle, want %.1f", bow, got, want)
		}
	}
}

// rowOfYarn is the mean row of bright pixels within ten columns of x.
func rowOfYarn(m *image.RGBA, x int) float64 {
	var sum, n float64
	for i := x - 10; i <= x+10; i++ {
		for y := range m.Rect.Dy() {
			if m.RGBAAt(i, y).R > 110 {
				sum, n = sum+float64(y), n+1
			}
		}
	}
	return sum / n
}

// The shadow falls on the side away from the lamp.
func TestShadowFallsAwayFromTheLamp(t *testing.T) {
	y := twoPly()
	for _, light := range []float64{90, -90} {
		scene := plainScene()
		scene.Ground, scene.Axis, scene.GrainShare = drawing.Paper, 0, 0
		scene.Light = unit.Angle(light) * unit.Degree
		m := photograph(t, y, scene)
		off := int(0.75 * y.OuterDiameter().Millimetres() * scene.PixelsPerMillimetre)
		above, below := rowMean(m, 225-off), rowMean(m, 225+off)
		if light < 0 {
			above, below = below, above
		}
		if below > above-15 {
			t.Errorf("lamp at %g: brightness %.0f towards it and %.0f away, want a shadow", light, above, below)
		}
	}
}

func rowMean(m *image.RGBA, y int) (mean float64) {
	for x := range m.Rect.Dx() {
		mean += float64(m.RGBAAt(x, y).G) / float64(m.Rect.Dx())
	}
	return mean
}

func TestRulerMarksMillimetres(t *testing.T) {
	for _, axis := range []float64{10, 80} {
		scene := plainScene()
		scene.Axis, scene.PixelsPerMillimetre, scene.Ruler = unit.Angle(axis)*unit.Degree, 12.5, true
		y := twoPly()
		m := photograph(t, y, scene)
		var edge []float64
		if axis < 45 { // the rule is 15 % of the height, marks on its upper edge
			for x := range m.Rect.Dx() {
				edge = append(edge, float64(m.RGBAAt(x, m.Rect.Dy()-60).G))
			}
		} else {
			for y := range m.Rect.Dy() {
				edge = append(edge, float64(m.RGBAAt(80, y).G))
			}
		}
		// Ten millimetres at once, for a tenth of a pixel.
		if got := period(edge, 125) / 10; math.Abs(got-12.5) > 0.15 {
			t.Errorf("axis %g: marks stand %.2f px apart, want 12.5", axis, got)
		}
	}
}

// The disc takes as many pixels as its area, and lies where it is put.
func TestDiscIsTrueToScale(t *testing.T) {
	scene := plainScene()
	scene.Ground, scene.GrainShare, scene.ShadowShare, scene.Axis = drawing.Paper, 0, 0, 0
	without := photograph(t, twoPly(), scene)
	scene.Disc = drawing.Disc{Diameter: 6 * unit.Millimetre, X: 150.5, Y: 90}
	with := photograph(t, twoPly(), scene)
	var n, sx, sy float64
	for y := range with.Rect.Dy() {
		for x := range with.Rect.Dx() {
			if d := int(without.RGBAAt(x, y).B) - int(with.RGBAAt(x, y).B); d > 30 {
				n, sx, sy = n+1, sx+float64(x), sy+float64(y)
			}
		}
	}
	if want := math.Pi * 60 * 60; math.Abs(n-want) > 0.03*want {
		t.Errorf("the disc takes %.0f pixels, want %.0f", n, want)
	}
	if math.Hypot(sx/n-150.5, sy/n-90) > 0.5 {
		t.Errorf("its middle is at %.1f, %.1f", sx/n, sy/n)
	}
}

// sharpness is the mean square difference between neighbours along rows.
func sharpness(m *image.RGBA) (sum float64) {
	for y := range m.Rect.Dy() {
		for x := 1; x < m.Rect.Dx(); x++ {
			d := float64(m.RGBAAt(x, y).G) - float64(m.RGBAAt(x-1, y).G)
			sum += d * d / float64(m.Rect.Dx()*m.Rect.Dy())
		}
	}
	return sum
}

func TestBlurAndGrain(t *testing.T) {
	scene := plainScene()
	scene.GrainShare, scene.BlurPixels = 0, 0
	sharp := sharpness(photograph(t, twoPly(), scene))
	scene.BlurPixels = 3
	blurred := sharpness(photograph(t, twoPly(), scene))
	if blurred > sharp/3 {
		t.Errorf("neighbours differ by %.1f sharp and %.1f blurred", sharp, blurred)
	}
	scene.GrainShare = 0.02
	// Independent noise of that sd on both neighbours adds twice its square.
	want := 2 * (0.02 * 255) * (0.02 * 255)
	if got := sharpness(photograph(t, twoPly(), scene)) - blurred; math.Abs(got-want) > 0.1*want {
		t.Errorf("grain adds %.1f to the neighbours' difference, want %.1f", got, want)
	}
}

func TestPhotographRefuses(t *testing.T) {
	for want, spoil := range map[string]func(*drawing.Yarn, *drawing.Scene){
		"say S or Z":      func(y *drawing.Yarn, _ *drawing.Scene) { y.Direction = 0 },
		"0 by 450 pixels": func(_ *drawing.Yarn, s *drawing.Scene) { s.Size.X = 0 },
		"100000 by 100000": func(_ *drawing.Yarn, s *drawing.Scene) {
			s.Size = image.Pt(100000, 100000)
		},
		"0 pixels thick":   func(_ *drawing.Yarn, s *drawing.Scene) { s.PixelsPerMillimetre = 0 },
		"NaN pixels thick": func(_ *drawing.Yarn, s *drawing.Scene) { s.PixelsPerMillimetre = math.NaN() },
		"ground 7":         func(_ *drawing.Yarn, s *drawing.Scene) { s.Ground = 7 },
		"of 3 strands":     func(y *drawing.Yarn, _ *drawing.Scene) { y.Braid = true },
		"from the middle":  func(_ *drawing.Yarn, s *drawing.Scene) { s.AsidePixels = 400 },
		"41 yarns":         func(_ *drawing.Yarn, s *drawing.Scene) { s.Abreast = 41 },
		"gaps of -1":       func(_ *drawing.Yarn, s *drawing.Scene) { s.GapShare = -1 },
		"-1 stray hairs":   func(_ *drawing.Yarn, s *drawing.Scene) { s.StrayHairs = -1 },
		"light 5 degrees":  func(_ *drawing.Yarn, s *drawing.Scene) { s.LightHeight = 5 * unit.Degree },
		"light of 2":       func(_ *drawing.Yarn, s *drawing.Scene) { s.AmbientShare = 2 },
		"edge of 3":        func(_ *drawing.Yarn, s *drawing.Scene) { s.ShadowEdge = 3 },
		"shake of -1":      func(_ *drawing.Yarn, s *drawing.Scene) { s.ShakePixels = -1 },
		"exposure of -1":   func(_ *drawing.Yarn, s *drawing.Scene) { s.ExposureShare = -1 },
		"warmth of 1":      func(_ *drawing.Yarn, s *drawing.Scene) { s.WarmthShare = 1 },
		"sharpening of 3":  func(_ *drawing.Yarn, s *drawing.Scene) { s.SharpenShare = 3 },
		"bow of 90":        func(_ *drawing.Yarn, s *drawing.Scene) { s.Bow = 90 * unit.Degree },
		"shadow of 2":      func(_ *drawing.Yarn, s *drawing.Scene) { s.ShadowShare = 2 },
		"blur of -1":       func(_ *drawing.Yarn, s *drawing.Scene) { s.BlurPixels = -1 },
		"grain of 1":       func(_ *drawing.Yarn, s *drawing.Scene) { s.GrainShare = 1 },
		"a rule cannot": func(_ *drawing.Yarn, s *drawing.Scene) {
			s.PixelsPerMillimetre, s.Ruler = 2, true
		},
	} {
		y, scene := twoPly(), plainScene()
		spoil(&y, &scene)
		if m, err := drawing.Photograph(y, scene); err == nil || m != nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Photograph answered %v, want an error with %q", err, want)
		}
	}
}
