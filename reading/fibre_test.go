package reading

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"waketwist/raster"
	"waketwist/unit"
	"waketwist/yarn"
)

// singlesDrawn draws singles of given surface angle, standing up on grey
// ground: long fibres of random lightness and noise that drowns them.
func singlesDrawn(a unit.Angle, contrast, noise float64) *image.YCbCr {
	const w, h, radius = 300, 600, 30.0
	m := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio444)
	r := rand.New(rand.NewPCG(3, 4))
	var tone [512]float64 // of the fibres round the yarn
	for i := range tone {
		tone[i] = r.NormFloat64()
	}
	for y := range h {
		for x := range w {
			v := 40.0
			if u := (float64(x) - w/2) / radius; math.Abs(u) < 1 {
				round := math.Asin(u)*radius - float64(h-y)*math.Tan(float64(a))
				k := int(math.Floor(round/3)) & 511
				f := round/3 - math.Floor(round/3)
				v = 190*math.Sqrt(1-0.6*u*u) + contrast*(tone[k]*(1-f)+tone[(k+1)&511]*f)
			}
			m.Y[m.YOffset(x, y)] = uint8(min(max(v+noise*r.NormFloat64(), 0), 255))
			m.Cb[m.COffset(x, y)], m.Cr[m.COffset(x, y)] = 128, 128
		}
	}
	return m
}

// Fibres fainter than the noise are read where they lean alike all along; a rod
// with the same noise is not.
func TestFaintFibres(t *testing.T) {
	for _, c := range []struct{ degrees, contrast, noise float64 }{
		{25, 12, 2}, {25, 4, 3}, {-40, 4, 3}, {-15, 3, 3},
	} {
		r := Read(raster.NewPhoto(singlesDrawn(unit.Angle(c.degrees)*unit.Degree, c.contrast, c.noise), 1), Options{})
		want := yarn.Z
		if c.degrees < 0 {
			want = yarn.S
		}
		if !r.Readable || r.Plies != 1 || r.Direction != want || math.Abs(r.Angle.Value.Degrees()-math.Abs(c.degrees)) > 4 {
			t.Errorf("%+v: %d strands, %v, %.1f deg (%v)", c, r.Plies, r.Direction, r.Angle.Value.Degrees(), r.Reason)
		}
	}
	for _, noise := range []float64{0, 1, 3} {
		if r := Read(raster.NewPhoto(singlesDrawn(0, 0, noise), 1), Options{}); r.Readable {
			t.Errorf("rod with noise %.0f: read as %d strands, %v", noise, r.Plies, r.Direction)
		}
	}
}
