package reading

import (
	"image"
	"math/rand/v2"
	"testing"

	"waketwist/raster"
	"waketwist/unit"
)

// onCard draws yarns around a card that stands out more than they do.
func onCard(yarns ...drawn) *raster.Photo {
	m := drawing(1000, 900)
	for y := 250; y < 650; y++ {
		for x := 250; x < 750; x++ {
			m.Y[m.YOffset(x, y)] = 215
		}
	}
	for _, d := range yarns {
		d.draw(m.SubImage(image.Rect(0, 245, 1000, 655)).(*image.YCbCr), rand.New(rand.NewPCG(11, 2)))
	}
	return photoOf(m)
}

// Yarn is read on the card that it was wound around.
func TestYarnOnACard(t *testing.T) {
	for _, z := range []bool{false, true} {
		a := drawn{n: 2, degrees: 30, z: z, diameter: 44, x: 440}
		b := a
		b.x = 530
		r := Read(onCard(a, b), Options{})
		if !r.Readable || r.Plies != a.n || r.Direction != a.direction() || r.Angle.Low > 30*unit.Degree || r.Angle.High < 30*unit.Degree {
			t.Errorf("%v: %d strands, %v, %.1f to %.1f (%v)", a.direction(), r.Plies, r.Direction, r.Angle.Low.Degrees(), r.Angle.High.Degrees(), r.Reason)
		}
	}
	if r := Read(onCard(), Options{}); r.Readable {
		t.Errorf("an empty card: %d strands, %v", r.Plies, r.Direction)
	}
}
