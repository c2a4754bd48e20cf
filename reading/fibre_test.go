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
		{25, 12, 2}, {25, 4, 3}, {-40, 4, 3}, {-15, 3, 3}, {35, 1.5, 3}, {-25, 2, 5},
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

// feltDrawn draws a felted yarn: short fibres that lie across each other, about
// a mean lean.
func feltDrawn(a, scatter unit.Angle) *image.YCbCr {
	m := singlesDrawn(0, 0, 1)
	r := rand.New(rand.NewPCG(5, 6))
	for range 9000 {
		x, y := 122+56*r.Float64(), 600*r.Float64()
		sin, cos := math.Sincos(float64(a) + float64(scatter)*r.NormFloat64())
		tone := 14 * r.NormFloat64()
		for t := -3.0; t <= 3; t += 0.7 {
			if px, py := int(x+t*sin), int(y-t*cos); px > 120 && px < 180 && py >= 0 && py < 600 {
				k := m.YOffset(px, py)
				m.Y[k] = uint8(min(max(float64(m.Y[k])+tone, 0), 255))
			}
		}
	}
	return m
}

// Felt that leans a little is not read: its fibres are short. Nor do they have
// anything in common at a distance, where those of singles do.
func TestFeltIsNotRead(t *testing.T) {
	for _, degrees := range []unit.Angle{0, 20, -35} {
		photo := raster.NewPhoto(feltDrawn(degrees*unit.Degree, 35*unit.Degree), 1)
		if r := Read(photo, Options{}); r.Readable {
			t.Errorf("felt about %.0f deg: read as %d strands, %v", float64(degrees), r.Plies, r.Direction)
		}
	}
}

// commonOf is what the lines of the one yarn in a drawn picture have in common.
func commonOf(t *testing.T, img *image.YCbCr) longLay {
	t.Helper()
	w := &witness{}
	photo := raster.NewPhoto(img, 1)
	read(photo, Options{}, w)
	if len(w.tried) == 0 {
		t.Fatal("no yarn found")
	}
	return longFibres(newSource(photo), w.tried[0].yarns[:1])
}

func TestLongFibresHaveMuchInCommon(t *testing.T) {
	for _, a := range []unit.Angle{20, 40, -30} {
		if l := commonOf(t, singlesDrawn(a*unit.Degree, 2, 4)); l.common < leastCommon || !l.steady || math.Abs(l.angle-float64(a)) > 4 {
			t.Errorf("singles of %.0f deg: %+v", float64(a), l)
		}
		if l := commonOf(t, feltDrawn(a*unit.Degree, 35*unit.Degree)); l.common >= leastCommon {
			t.Errorf("felt about %.0f deg: %+v", float64(a), l)
		}
	}
	if l := commonOf(t, singlesDrawn(0, 0, 3)); l.common >= leastCommon {
		t.Errorf("rod: %+v", l)
	}
}

// Clear fibres over three widths are read, as the refusal of less promises.
func TestThreeWidthsOfSinglesAreEnough(t *testing.T) {
	const height = 205
	whole := singlesDrawn(25*unit.Degree, 12, 2)
	m := image.NewYCbCr(image.Rect(0, 0, whole.Rect.Dx(), height), image.YCbCrSubsampleRatio444)
	copy(m.Y, whole.Y)
	copy(m.Cb, whole.Cb)
	copy(m.Cr, whole.Cr)
	if r := Read(raster.NewPhoto(m, 1), Options{}); !r.Readable || r.Plies != 1 || r.Direction != yarn.Z {
		t.Errorf("%d strands, %v (%v), want singles, Z", r.Plies, r.Direction, r.Reason)
	}
}

// Fibres that lie along the yarn, or lean against a lay, are not what was taken for
// strands; those that lean nearly as its borders do may be.
func TestFibresApartFromALay(t *testing.T) {
	const degree = math.Pi / 180
	border := newPly(3, round, 30*degree).borderAngle().Radians()
	for _, z := range []bool{true, false} {
		side := 1.0
		if !z {
			side = -1
		}
		m := fitting{guess: guess{ply: newPly(3, round, 30*degree), repeat: 1, z: z}}
		for lean, want := range map[float64]bool{-border: true, 0: true, 4 * degree: true, border: false, 0.8 * border: false} {
			if got := m.apartFrom(fibreLay{angle: side * lean}); got != want {
				t.Errorf("Z %v, fibres at %.0f deg to its side: apart is %v", z, lean/degree, got)
			}
		}
	}
}
