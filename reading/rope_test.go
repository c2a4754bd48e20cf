package reading

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"waketwist/unit"
)

// straightCut cuts out yarn of a width that stands up at a place of a picture.
func straightCut(m *image.YCbCr, x, width float64) (*source, *cut) {
	src := newSource(photoOf(m))
	h := float64(m.Rect.Dy())
	return src, cutOut(src, newAxis([]float64{x, x}, []float64{4, h - 4}, 3), width, cutRounds)
}

// The strands of a rope come round many times in a turn, the fibres of singles never.
func TestStrandsComeRound(t *testing.T) {
	for _, z := range []bool{false, true} {
		_, c := straightCut(drawing(200, 700, drawn{n: 6, degrees: 25, z: z, diameter: 60, x: 100}), 100, 60)
		if got := c.body().comesRound(); got <= strandsRound {
			t.Errorf("a rope, Z %v: %.2f, want more than %.2f", z, got, strandsRound)
		}
	}
	m := singlesDrawn(25*unit.Degree, 12, 2)
	_, c := straightCut(m, float64(m.Rect.Dx())/2, 60)
	if got := c.body().comesRound(); got > 0.8*strandsRound {
		t.Errorf("singles: %.2f, want less than %.2f", got, strandsRound)
	}
}

// heather draws fibres of many tones that lean by an angle, standing up on dark
// ground, and swing about it by so many pixels along borders that lean by another and
// take some light.
func heather(fibre, border unit.Angle, swing float64) *image.YCbCr {
	const w, h, radius, strand = 200, 800, 40.0, 36.0
	m := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio444)
	r := rand.New(rand.NewPCG(3, 5))
	var tone [512]float64
	for i := range tone {
		tone[i] = r.NormFloat64()
	}
	for y := range h {
		for x := range w {
			v, u := 30.0, (float64(x)-w/2)/radius
			if math.Abs(u) < 1 {
				round, along := math.Asin(u)*radius, float64(h-y)
				sin, cos := math.Sincos(2 * math.Pi / strand * (round - along*border.Tan()))
				at := round - along*fibre.Tan() + swing*sin
				v = 150*math.Sqrt(1-0.6*u*u) + 20*tone[int(math.Floor(at/3))&511] + 6*swing*cos
			}
			m.Y[m.YOffset(x, y)] = uint8(min(max(v+2*r.NormFloat64(), 0), 255))
			m.Cb[m.COffset(x, y)], m.Cr[m.COffset(x, y)] = 128, 128
		}
	}
	return m
}

// Fibres that swing to and fro from border to border are a rope's, whatever else
// borders show; those of singles lean alike all round.
func TestFibresSwingAlongBorders(t *testing.T) {
	const fibre, border = 14 * unit.Degree, 34 * unit.Degree
	for _, side := range []unit.Angle{-1, 1} {
		var steeper [2]float64
		for i, swing := range []float64{0, 2} {
			src, c := straightCut(heather(side*fibre, side*border, swing), 100, 80)
			f := c.readFibres(src)
			steeper[i] = c.steeper(src, f, longFibres(src, []*cut{c}))
			l := c.swing(src, f)
			if along := math.Abs(l.angle*float64(side)-border.Degrees()) <= 6 && l.clear(); along != (swing > 0) {
				t.Errorf("side %v, by %.0f pixels: a swing along %.0f degrees, clear %v", side, swing, l.angle, l.clear())
			}
		}
		if steeper[0] > surelySteeper/2 || steeper[1] < steeper[0]+surelySteeper/3 {
			t.Errorf("side %v: singles %.2f steeper, with a swing %.2f", side, steeper[0], steeper[1])
		}
	}
}
