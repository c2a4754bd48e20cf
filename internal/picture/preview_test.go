package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"testing"
)

func TestReducedSize(t *testing.T) {
	tests := []struct {
		w, h        int
		orientation Orientation
		want        image.Point
	}{
		{1000, 500, Normal, image.Pt(320, 160)},
		{500, 1000, Normal, image.Pt(160, 320)},
		{1000, 500, QuarterTurn, image.Pt(160, 320)},
		{321, 16, Normal, image.Pt(320, 15)},
		{320, 200, Normal, image.Pt(320, 200)},
		{60, 40, ThreeQuarters, image.Pt(40, 60)},
		{19_999, 16, Normal, image.Pt(320, 1)},
	}
	for _, test := range tests {
		img := image.NewGray(image.Rect(0, 0, test.w, test.h))
		if got := Reduce(img, test.orientation, Thumbnail).Bounds().Size(); got != test.want {
			t.Errorf("%d x %d, orientation %d: got %v, want %v", test.w, test.h, test.orientation, got, test.want)
		}
	}
}

// The finest stripes must average to grey, not to the moire of the pixels that
// happen to be sampled.
func TestReducedAverages(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 1280, 640))
	for i := range img.Pix {
		img.Pix[i] = byte(i % 2 * 200)
	}
	small := Reduce(img, Normal, Thumbnail)
	for x := range 320 {
		if got := color.GrayModel.Convert(small.At(x, 80)).(color.Gray).Y; got != 100 {
			t.Fatalf("at %d: got %d, want 100", x, got)
		}
	}
}

func TestReducedPutsTransparentOnWhite(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 640, 640))
	for i := 0; i < len(img.Pix)/2; i += 4 {
		copy(img.Pix[i:], []byte{10, 20, 30, 255})
	}
	small := Reduce(img, Normal, Thumbnail)
	for y, want := range map[int]color.RGBA{0: {10, 20, 30, 255}, 319: {255, 255, 255, 255}} {
		if got := small.At(5, y); got != want {
			t.Errorf("row %d: got %v, want %v", y, got, want)
		}
	}
}

func TestReducedKeepsColours(t *testing.T) {
	flat := image.NewUniform(color.RGBA{180, 90, 40, 255})
	img := image.NewRGBA(image.Rect(0, 0, 700, 500))
	for i := range img.Pix {
		img.Pix[i] = []byte{180, 90, 40, 255}[i%4]
	}
	jpg, err := encodeJPEG(Reduce(decoded(t, jpegOf(t, img)), Normal, Thumbnail))
	if err != nil {
		t.Fatal(err)
	}
	small, err := jpeg.Decode(bytes.NewReader(jpg))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []image.Point{{}, {160, 100}, {319, 227}} {
		if !alike(small.At(p.X, p.Y), flat.C) {
			t.Errorf("at %v: got %v, want %v", p, small.At(p.X, p.Y), flat.C)
		}
	}
}

// alike allows each channel the 4 of 255 that two JPEGs in a row lose.
func alike(a, b color.Color) bool {
	r1, g1, b1, _ := a.RGBA()
	r2, g2, b2, _ := b.RGBA()
	near := func(x, y uint32) bool { return max(x, y)-min(x, y) <= 4<<8 }
	return near(r1, r2) && near(g1, g2) && near(b1, b2)
}
