package drawing_test

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"

	"waketwist/internal/drawing"
	"waketwist/unit"
	"waketwist/yarn"
)

func ExampleDraw() {
	y := drawing.Yarn{
		Plies:          2,
		Direction:      yarn.S,
		Angle:          38 * unit.Degree,
		StrandDiameter: 1.2 * unit.Millimetre,
		Hairiness:      0.3,
	}
	m, err := drawing.Draw(y, drawing.Sheet{PixelsPerMillimetre: 20, Length: 40 * unit.Millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d by %d pixels, one turn every %.1f mm\n", m.Rect.Dx(), m.Rect.Dy(), y.Pitch().Millimetres())
	// Output: 800 by 77 pixels, one turn every 4.8 mm
}

func ExamplePhotograph() {
	y := drawing.Yarn{
		Plies:          3,
		Direction:      yarn.S,
		Angle:          28 * unit.Degree,
		StrandDiameter: 0.9 * unit.Millimetre,
		Hairiness:      0.4,
		UnevennessCV:   0.06,
	}
	m, err := drawing.Photograph(y, drawing.Scene{
		Size:                image.Pt(640, 480),
		PixelsPerMillimetre: 20,
		Ground:              drawing.Linen,
		Axis:                20 * unit.Degree,
		Light:               120 * unit.Degree,
		ShadowShare:         0.4,
		BlurPixels:          0.8,
		GrainShare:          0.01,
		Ruler:               true,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, m, &jpeg.Options{Quality: 88}); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(m.Bounds().Size(), file.Len() > 10_000)
	// Output: (640,480) true
}
