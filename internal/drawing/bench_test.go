package drawing_test

import (
	"image"
	"testing"

	"waketwist/internal/drawing"
	"waketwist/unit"
	"waketwist/yarn"
)

// twoPly is a balanced woollen two-ply, S, at 30 degrees.
func twoPly() drawing.Yarn {
	return drawing.Yarn{
		Plies: 2, Direction: yarn.S, Angle: 30 * unit.Degree,
		StrandDiameter: 1 * unit.Millimetre, Hairiness: 0.4, UnevennessCV: 0.05, Seed: 1,
	}
}

// BenchmarkDraw draws a page's picture of 800 by 160 pixels.
func BenchmarkDraw(b *testing.B) {
	for name, finish := range map[string]drawing.Finish{"dry": drawing.Dry, "wet": drawing.Wet, "washed": drawing.Washed} {
		b.Run(name, func(b *testing.B) {
			y := twoPly()
			y.Finish = finish
			for b.Loop() {
				if _, err := drawing.Draw(y, drawing.Sheet{PixelsPerMillimetre: 50, Length: 16 * unit.Millimetre}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkPhotograph makes a picture of 1200 by 900 pixels.
func BenchmarkPhotograph(b *testing.B) {
	scene := drawing.Scene{
		Size: image.Pt(1200, 900), PixelsPerMillimetre: 30, Ground: drawing.Card,
		Axis: 15 * unit.Degree, Light: 120 * unit.Degree, ShadowShare: 0.4, BlurPixels: 0.9, GrainShare: 0.01,
	}
	for b.Loop() {
		if _, err := drawing.Photograph(twoPly(), scene); err != nil {
			b.Fatal(err)
		}
	}
}
