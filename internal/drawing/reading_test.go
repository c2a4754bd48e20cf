package drawing_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"testing"

	"waketwist/internal/drawing"
	"waketwist/raster"
	"waketwist/reading"
	"waketwist/unit"
	"waketwist/yarn"
)

// What is drawn must be read back: angle within 2.5 degrees and the right
// direction, from a JPEG of dark brown yarn on paper and of undyed yarn on dark card.
func TestPhotographIsReadBack(t *testing.T) {
	for i, c := range []struct {
		plies   int
		degrees float64
	}{
		{1, 15}, {1, 30}, {2, 14}, {2, 22}, {2, 30}, {2, 40}, {3, 20}, {3, 34}, {4, 26}, {4, 38},
	} {
		for _, ground := range []drawing.Ground{drawing.Paper, drawing.Card} {
			direction := []yarn.Direction{yarn.S, yarn.Z}[(i+int(ground))%2]
			t.Run(fmt.Sprintf("%d-ply %v %g deg ground %d", c.plies, direction, c.degrees, ground), func(t *testing.T) {
				y := drawing.Yarn{
					Plies: c.plies, Direction: direction, Angle: unit.Angle(c.degrees) * unit.Degree,
					StrandDiameter: 1 * unit.Millimetre, Hairiness: 0.35, UnevennessCV: 0.04, Seed: uint64(i + 1),
				}
				if ground == drawing.Paper {
					y.Dyes = []color.NRGBA{{0x4a, 0x3a, 0x30, 0xff}}
				}
				r := readBack(t, y, ground, unit.Angle(23*i)*unit.Degree)
				if !r.Readable || r.Direction.String() != direction.String() {
					t.Fatalf("read as %v %v (%v)", r.Structure, r.Direction, r.Reason)
				}
				// Steep hard strands lie further out than soft ones would, which
				// only the interval knows.
				held := r.Angle.Low.Degrees() <= c.degrees && c.degrees <= r.Angle.High.Degrees()
				if got := r.Angle.Value.Degrees(); math.Abs(got-c.degrees) > 2.5 && !held {
					t.Errorf("read %d plies at %.1f deg, want %g", r.Plies, got, c.degrees)
				}
			})
		}
	}
}

// readBack photographs the yarn 72 pixels thick, saves that and reads it.
func readBack(t *testing.T, y drawing.Yarn, ground drawing.Ground, axis unit.Angle) reading.Reading {
	t.Helper()
	m := photograph(t, y, drawing.Scene{
		Size: image.Pt(1000, 750), PixelsPerMillimetre: 72 / y.OuterDiameter().Millimetres(), Ground: ground,
		Axis: axis, Light: 100 * unit.Degree, ShadowShare: 0.25, BlurPixels: 0.9, GrainShare: 0.01,
	})
	var file bytes.Buffer
	if err := jpeg.Encode(&file, m, &jpeg.Options{Quality: 88}); err != nil {
		t.Fatal(err)
	}
	saved, err := jpeg.Decode(&file)
	if err != nil {
		t.Fatal(err)
	}
	return reading.Read(raster.NewPhoto(saved, 1), reading.Options{})
}
