package raster

import (
	"image"
	"image/color"
)

// Orientation is the camera's orientation tag (Exif 2.3, tag 0x0112): how the
// stored rows and columns lie in the upright picture. 1 is upright as stored;
// values outside 1 to 8 count as 1.
type Orientation int

// swaps reports whether stored rows are upright columns.
func (o Orientation) swaps() bool { return o >= 5 && o <= 8 }

// reverses reports whether stored columns run against their upright axis, and
// whether stored rows do.
func (o Orientation) reverses() (columns, rows bool) {
	return o == 2 || o == 3 || o == 7 || o == 8, o == 3 || o == 4 || o == 6 || o == 7
}

// stored maps a point of the upright picture of size w x h to the stored one.
func (o Orientation) stored(x, y, w, h int) (int, int) {
	switch o {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return y, w - 1 - x
	case 7:
		return h - 1 - y, w - 1 - x
	case 8:
		return h - 1 - y, x
	}
	return x, y
}

// Channel names one plane of a Photo.
type Channel int

// The channels of a photograph (ITU-R BT.601, full range as in JFIF).
const (
	Luma Channel = iota
	Cb
	Cr
)

// A Photo is a photograph as stored, with the orientation in which it is to
// be looked at. Its methods speak of the upright picture.
type Photo struct {
	planes [3]*Plane // stored orientation; chroma may be subsampled
	orient Orientation
	w, h   int // upright, in photo pixels
}

// NewPhoto takes the planes of img. The planes of an *image.YCbCr and of an
// *image.Gray are used where they lie, without copying; other kinds are
// converted once.
func NewPhoto(img image.Image, orient Orientation) *Photo {
	b := img.Bounds()
	p := &Photo{orient: orient, w: b.Dx(), h: b.Dy()}
	if orient.swaps() {
		p.w, p.h = p.h, p.w
	}
	switch m := img.(type) {
	case *image.YCbCr:
		p.planes = ycbcrPlanes(m)
	case *image.Gray:
		p.planes = grayPlanes(m)
	default:
		p.planes = convertedPlanes(img)
	}
	return p
}

func ycbcrPlanes(m *image.YCbCr) [3]*Plane {
	b := m.Rect
	if b.Empty() {
		return [3]*Plane{NewPlane(0, 0), NewPlane(0, 0), NewPlane(0, 0)}
	}
	c0 := m.COffset(b.Min.X, b.Min.Y)
	last := m.COffset(b.Max.X-1, b.Max.Y-1) - c0
	ch := last/m.CStride + 1
	cw := last%m.CStride + 1
	y := &Plane{W: b.Dx(), H: b.Dy(), Stride: m.YStride, Pix: m.Y[m.YOffset(b.Min.X, b.Min.Y):]}
	cb := &Plane{W: cw, H: ch, Stride: m.CStride, Pix: m.Cb[c0:]}
	cr := &Plane{W: cw, H: ch, Stride: m.CStride, Pix: m.Cr[c0:]}
	return [3]*Plane{y, cb, cr}
}

// grayPlanes gives a picture without colour a chroma of one neutral pixel.
func grayPlanes(m *image.Gray) [3]*Plane {
	b := m.Rect
	if b.Empty() {
		return [3]*Plane{NewPlane(0, 0), NewPlane(0, 0), NewPlane(0, 0)}
	}
	y := &Plane{W: b.Dx(), H: b.Dy(), Stride: m.Stride, Pix: m.Pix[m.PixOffset(b.Min.X, b.Min.Y):]}
	neutral := &Plane{W: 1, H: 1, Stride: 1, Pix: []uint8{128}}
	return [3]*Plane{y, neutral, neutral}
}

func convertedPlanes(img image.Image) [3]*Plane {
	b := img.Bounds()
	var out [3]*Plane
	for c := range out {
		out[c] = NewPlane(b.Dx(), b.Dy())
	}
	rgba, _ := img.(image.RGBA64Image)
	for y := range out[0].H {
		for x := range out[0].W {
			var r, g, bl uint32
			if rgba != nil {
				c := rgba.RGBA64At(b.Min.X+x, b.Min.Y+y)
				r, g, bl = uint32(c.R), uint32(c.G), uint32(c.B)
			} else {
				r, g, bl, _ = img.At(b.Min.X+x, b.Min.Y+y).RGBA()
			}
			i := y*out[0].Stride + x
			out[0].Pix[i], out[1].Pix[i], out[2].Pix[i] =
				color.RGBToYCbCr(uint8(r>>8), uint8(g>>8), uint8(bl>>8))
		}
	}
	return out
}

// Size returns the width and height of the upright picture in photo pixels.
func (p *Photo) Size() (w, h int) { return p.w, p.h }

// ChromaStep returns how many photo pixels share one value of chroma along the
// coarser direction: 1, 2 or 4.
func (p *Photo) ChromaStep() int {
	sw, sh := p.storedSize()
	c := p.planes[Cb]
	return max(ratio(sw, c.W), ratio(sh, c.H))
}

// ratio is the subsampling of n values to m: the power of two next above n/m,
// at most 4. A picture without colour, whose chroma is one value, counts as 1.
func ratio(n, m int) int {
	switch {
	case m <= 1 || n <= m:
		return 1
	case n <= 2*m:
		return 2
	}
	return 4
}

func (p *Photo) storedSize() (w, h int) {
	if p.orient.swaps() {
		return p.h, p.w
	}
	return p.w, p.h
}

// Reduce returns channel c, upright, each pixel the mean over a square of
// k x k photo pixels; the last row and column may cover less. k below 1 counts
// as 1. Subsampled chroma is averaged over the values it has, and repeated
// where it has none.
//
// Pixel (i, j) of the result lies at photo point (i*k + (k-1)/2, j*k + (k-1)/2).
// Where nothing is to be averaged or turned, the result shares the photo's
// memory and must not be written to.
func (p *Photo) Reduce(c Channel, k int) *Plane {
	k = max(k, 1)
	src := p.planes[c]
	if k == 1 && (p.orient <= 1 || p.orient > 8) && src.W == p.w && src.H == p.h {
		return src
	}
	out := NewPlane((p.w+k-1)/k, (p.h+k-1)/k)
	if src.W == 0 || src.H == 0 {
		return out
	}
	sw, sh := p.storedSize()
	rx, ry := ratio(sw, src.W), ratio(sh, src.H)
	if src.W == 1 || src.H == 1 || k%rx != 0 || k%ry != 0 {
		p.repeat(src, out, k)
		return out
	}
	switch {
	case k == rx && k == ry && (p.orient <= 1 || p.orient > 8) && src.W == out.W && src.H == out.H:
		return src
	case k == rx && k == ry:
		p.turned(src, out)
	case k/rx == 2 && k/ry == 2 && src.W%2 == 0 && src.H%2 == 0:
		p.halved(src, out)
	default:
		p.average(src, out, k/rx, k/ry)
	}
	return out
}

// average writes the means of blocks of kx x ky stored values, counted from
// the upright corner.
func (p *Photo) average(src, out *Plane, kx, ky int) {
	cols, rows := out.W, out.H
	if p.orient.swaps() {
		cols, rows = rows, cols
	}
	right, down := p.orient.reverses()
	sums := make([]uint32, cols)
	for j := range rows {
		clear(sums)
		lo := min(j*ky, src.H-1)
		hi := min(lo+ky, src.H)
		for y := lo; y < hi; y++ {
			sy := y
			if down {
				sy = src.H - 1 - y
			}
			addBlocks(src.Row(sy), sums, kx, right)
		}
		p.writeMeans(out, sums, j, hi-lo, kx, src.W)
	}
}

// writeMeans writes row j of blocks, each summed over so many rows and kx of
// the width's columns, to the upright picture.
func (p *Photo) writeMeans(out *Plane, sums []uint32, j, rows, kx, width int) {
	start, stride := j*out.Stride, 1
	if p.orient.swaps() {
		start, stride = j, out.Stride
	}
	full := min(width/kx, len(sums))
	n := uint64(rows * kx)
	// Multiplying by the reciprocal is exact while sum * n stays below 2^32.
	inverse := (1<<32 + n - 1) / n
	for i, s := range sums[:full] {
		if n < 4000 {
			out.Pix[start+i*stride] = uint8((uint64(s) + n/2) * inverse >> 32)
		} else {
			out.Pix[start+i*stride] = uint8((uint64(s) + n/2) / n)
		}
	}
	for i := full; i < len(sums); i++ {
		n := uint32(rows * max(min(kx, width-i*kx), 1))
		out.Pix[start+i*stride] = uint8((sums[i] + n/2) / n)
	}
}

// addBlocks adds up a row in blocks of k values, from its end if reversed. A
// block past the end takes the last value once.
func addBlocks(row []uint8, sums []uint32, k int, reversed bool) {
	n := len(row)
	for i := range sums {
		lo := min(i*k, n-1)
		hi := min(lo+k, n)
		if reversed {
			lo, hi = n-hi, n-lo
		}
		var s uint32
		for _, v := range row[lo:hi] {
			s += uint32(v)
		}
		sums[i] += s
	}
}

// repeat fills out with the stored value under the middle of each block.
func (p *Photo) repeat(src, out *Plane, k int) {
	sw, sh := p.storedSize()
	for y := range out.H {
		for x := range out.W {
			sx, sy := p.orient.stored(min(x*k+k/2, p.w-1), min(y*k+k/2, p.h-1), p.w, p.h)
			out.Pix[y*out.Stride+x] = src.Pix[sy*src.H/sh*src.Stride+sx*src.W/sw]
		}
	}
}
