package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"

	"golang.org/x/image/draw"
)

// Side is the longer side in pixels of a reduced picture.
type Side int

// The reduced pictures that are made.
const (
	Thumbnail Side = 320  // for lists
	Preview   Side = 1600 // for a page of its own, or to draw on
)

// Reduce returns img within a square of the given side, upright, with anything
// transparent on white. A picture that fits already keeps its size. The result
// shares nothing with img.
func Reduce(img image.Image, o Orientation, side Side) image.Image {
	size := img.Bounds().Size()
	long := max(size.X, size.Y)
	small := averaged(img, max(1, long/int(side)))
	if long > int(side) {
		w, h := max(1, size.X*int(side)/long), max(1, size.Y*int(side)/long)
		dst := image.NewRGBA(image.Rect(0, 0, w, h))
		draw.ApproxBiLinear.Scale(dst, dst.Rect, small, small.Rect, draw.Src, nil)
		small = dst
	}
	return Upright(small, o)
}

// averaged returns img with each square of k x k pixels averaged into one, so
// that fine plies do not turn into moire. Rows and columns left over at the far
// edges are dropped.
func averaged(img image.Image, k int) *image.RGBA {
	b := img.Bounds()
	dst := image.NewRGBA(image.Rect(0, 0, b.Dx()/k, b.Dy()/k))
	// Strips of k rows keep the memory small while image/draw converts colours.
	strip := image.NewRGBA(image.Rect(0, 0, b.Dx(), k))
	white := image.NewUniform(color.White)
	for y := range dst.Rect.Dy() {
		if !opaque(img) {
			draw.Draw(strip, strip.Rect, white, image.Point{}, draw.Src)
		}
		draw.Draw(strip, strip.Rect, img, b.Min.Add(image.Pt(0, y*k)), draw.Over)
		averageStrip(dst.Pix[y*dst.Stride:][:dst.Stride], strip, k)
	}
	return dst
}

func opaque(img image.Image) bool {
	switch img.(type) {
	case *image.YCbCr, *image.Gray, *image.Gray16:
		return true
	}
	return false
}

func averageStrip(row []byte, strip *image.RGBA, k int) {
	n := k * k
	for i := 0; i < len(row); i += 4 {
		var r, g, b int
		for y := range k {
			square := strip.Pix[y*strip.Stride+i*k:][:4*k]
			for j := 0; j < len(square); j += 4 {
				r += int(square[j])
				g += int(square[j+1])
				b += int(square[j+2])
			}
		}
		row[i], row[i+1], row[i+2], row[i+3] = byte(r/n), byte(g/n), byte(b/n), 255
	}
}

func encodeJPEG(img image.Image) ([]byte, error) {
	var out bytes.Buffer
	err := jpeg.Encode(&out, img, &jpeg.Options{Quality: 85})
	return out.Bytes(), err
}
