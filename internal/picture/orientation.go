package picture

import (
	"image"
	"image/draw"
)

// Orientation says how stored pixels lie to the scene, numbered 1 to 8 as by
// Exif (CIPA DC-008, tag 0x0112).
type Orientation int

// The orientations, by what puts the stored picture upright.
const (
	Normal         Orientation = 1 + iota // nothing
	MirroredAcross                        // mirror left and right
	HalfTurn                              // turn by 180 degrees
	MirroredDown                          // mirror top and bottom
	Transposed                            // mirror about the diagonal from top left
	QuarterTurn                           // turn clockwise by 90 degrees
	Transversed                           // mirror about the diagonal from top right
	ThreeQuarters                         // turn clockwise by 270 degrees
)

// orientationOf takes the number from a file; one out of range is Normal.
func orientationOf(n uint16) Orientation {
	if n < uint16(Normal) || n > uint16(ThreeQuarters) {
		return Normal
	}
	return Orientation(n)
}

// swapsSides reports whether the upright picture is as wide as the stored one
// is high.
func (o Orientation) swapsSides() bool { return o >= Transposed }

// stored returns where in a stored picture of w x h pixels the pixel (x, y) of
// the upright picture lies.
func (o Orientation) stored(x, y, w, h int) (int, int) {
	switch o {
	case MirroredAcross:
		return w - 1 - x, y
	case HalfTurn:
		return w - 1 - x, h - 1 - y
	case MirroredDown:
		return x, h - 1 - y
	case Transposed:
		return y, x
	case QuarterTurn:
		return y, h - 1 - x
	case Transversed:
		return w - 1 - y, h - 1 - x
	case ThreeQuarters:
		return w - 1 - y, x
	}
	return x, y
}

// UprightSize returns width and height in pixels after Orientation is applied.
func (i Info) UprightSize() (width, height int) {
	if i.Orientation.swapsSides() {
		return i.Height, i.Width
	}
	return i.Width, i.Height
}

// Upright returns the picture turned and mirrored as o says: img itself for
// Normal, else a copy of 4 bytes a pixel. Make a large picture smaller first.
func Upright(img image.Image, o Orientation) image.Image {
	if o <= Normal || o > ThreeQuarters {
		return img
	}
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	src := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(src, src.Bounds(), img, b.Min, draw.Src)
	dst := image.NewRGBA(src.Bounds())
	if o.swapsSides() {
		dst = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range dst.Rect.Dy() {
		for x := range dst.Rect.Dx() {
			sx, sy := o.stored(x, y, w, h)
			copy(dst.Pix[dst.PixOffset(x, y):][:4], src.Pix[src.PixOffset(sx, sy):][:4])
		}
	}
	return dst
}
