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

// Reduce returns channel c, upright, each pixel the mean over a square of
// k x k photo pixels; the last row and column may cover less. Subsampled
// chroma is averaged over the pixels it has. k below 1 counts as 1.
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
	if c == Luma && !p.orient.swaps() {
		p.reduceRows(src, out, k)
		return out
	}
	for y := range out.H {
		for x := range out.W {
			out.Pix[y*out.Stride+x] = p.blockMean(src, x*k, y*k, k)
		}
	}
	return out
}

// reduceRows averages a full-size plane whose rows stay rows.
func (p *Photo) reduceRows(src, out *Plane, k int) {
	sums := make([]uint32, out.W)
	for j := range out.H {
		clear(sums)
		rows := min(k, p.h-j*k)
		for r := range rows {
			_, sy := p.orient.stored(0, j*k+r, p.w, p.h)
			addBlocks(src.Row(sy), sums, k, p.orient == 2 || p.orient == 3)
		}
		row := out.Row(j)
		for i, s := range sums {
			n := uint32(rows * min(k, p.w-i*k))
			row[i] = uint8((s + n/2) / n)
		}
	}
}

func addBlocks(row []uint8, sums []uint32, k int, mirror bool) {
	n := len(row)
	for i := range sums {
		lo, hi := i*k, min((i+1)*k, n)
		if mirror {
			lo, hi = n-hi, n-lo
		}
		var s uint32
		for _, v := range row[lo:hi] {
			s += uint32(v)
		}
		sums[i] += s
	}
}

// blockMean averages the stored pixels of src under the k x k block of photo
// pixels whose upright top left corner is (x, y).
func (p *Photo) blockMean(src *Plane, x, y, k int) uint8 {
	x1, y1 := min(x+k, p.w)-1, min(y+k, p.h)-1
	ax, ay := p.orient.stored(x, y, p.w, p.h)
	bx, by := p.orient.stored(x1, y1, p.w, p.h)
	sw, sh := p.w, p.h
	if p.orient.swaps() {
		sw, sh = sh, sw
	}
	// Scale to the plane's own size: chroma may have fewer pixels.
	lx, hx := min(ax, bx)*src.W/sw, max(ax, bx)*src.W/sw
	ly, hy := min(ay, by)*src.H/sh, max(ay, by)*src.H/sh
	var sum, n uint32
	for j := ly; j <= hy; j++ {
		for _, v := range src.Pix[j*src.Stride+lx : j*src.Stride+hx+1] {
			sum += uint32(v)
		}
		n += uint32(hx - lx + 1)
	}
	return uint8((sum + n/2) / n)
}
