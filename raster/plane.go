// Package raster holds picture planes and the few operations on them that
// reading yarn needs: area reduction to a working scale with the camera's
// orientation applied on the way, bilinear sampling, blur, and derivative
// filters tuned for orientation.
//
// Nothing here allocates per pixel, and the same input always gives the same
// output. Coordinates run from the centre of the top left pixel, x to the
// right and y downwards.
package raster

import "math"

// A Plane is one channel of a picture in 8 bits.
type Plane struct {
	W, H   int // pixels
	Stride int // bytes from one row to the next
	Pix    []uint8
}

// NewPlane returns a plane of zeros. Negative sizes count as zero.
func NewPlane(w, h int) *Plane {
	w, h = max(w, 0), max(h, 0)
	return &Plane{W: w, H: h, Stride: w, Pix: make([]uint8, w*h)}
}

// Row returns the pixels of row y.
func (p *Plane) Row(y int) []uint8 {
	return p.Pix[y*p.Stride : y*p.Stride+p.W]
}

// At returns the value at (x, y) by bilinear interpolation. Points outside
// take the value of the nearest edge. The plane must not be empty.
func (p *Plane) At(x, y float64) float32 {
	x0, fx := split(x, p.W)
	y0, fy := split(y, p.H)
	i := y0*p.Stride + x0
	dx, dy := 0, 0
	if x0+1 < p.W {
		dx = 1
	}
	if y0+1 < p.H {
		dy = p.Stride
	}
	return between(p.Pix[i], p.Pix[i+dx], p.Pix[i+dy], p.Pix[i+dx+dy], fx, fy)
}

// between interpolates between two pixels and the two below them, by the shares of the
// right and the lower ones.
func between(upperLeft, upperRight, lowerLeft, lowerRight uint8, right, lower float32) float32 {
	a, b := float32(upperLeft), float32(upperRight)
	c, d := float32(lowerLeft), float32(lowerRight)
	above, below := a+(b-a)*right, c+(d-c)*right
	return above + (below-above)*lower
}

// Sample sets each of dst to the value at the point of the same index, as At does, in less
// time. x and y must be as long as dst.
func (p *Plane) Sample(dst []float32, x, y []float64) {
	right, bottom := float64(p.W-1), float64(p.H-1)
	for i := range dst {
		u, v := x[i], y[i]
		if !(u >= 0 && v >= 0 && u < right && v < bottom) {
			dst[i] = p.At(u, v)
			continue
		}
		x0, y0 := int(u), int(v)
		fx, fy := float32(u-float64(x0)), float32(v-float64(y0))
		upper := p.Pix[y0*p.Stride+x0:]
		lower := upper[p.Stride:]
		dst[i] = between(upper[0], upper[1], lower[0], lower[1], fx, fy)
	}
}

// split clamps v into [0, n-1] and returns its whole part and remainder.
func split(v float64, n int) (int, float32) {
	if !(v > 0) { // also catches NaN
		return 0, 0
	}
	if v >= float64(n-1) {
		return n - 1, 0
	}
	whole := math.Floor(v)
	return int(whole), float32(v - whole)
}

// Reduce returns the plane averaged over squares of k x k pixels; the last row
// and column may cover less. k below 2 returns the plane itself.
func (p *Plane) Reduce(k int) *Plane {
	if k < 2 {
		return p
	}
	out := NewPlane((p.W+k-1)/k, (p.H+k-1)/k)
	if k == 2 && p.W%2 == 0 && p.H%2 == 0 {
		for j := range out.H {
			halve(out.Row(j), p.Row(2*j), p.Row(2*j+1))
		}
		return out
	}
	sums := make([]uint32, out.W)
	for j := range out.H {
		clear(sums)
		lo, hi := j*k, min((j+1)*k, p.H)
		for y := lo; y < hi; y++ {
			addBlocks(p.Row(y), sums, k, false)
		}
		row := out.Row(j)
		for i, s := range sums {
			n := uint32((hi - lo) * min(k, p.W-i*k))
			row[i] = uint8((s + n/2) / n)
		}
	}
	return out
}

// A Field is a rectangle of float32 values without padding.
type Field struct {
	W, H int
	Pix  []float32
}

// NewField returns a field of zeros. Negative sizes count as zero.
func NewField(w, h int) *Field {
	w, h = max(w, 0), max(h, 0)
	return &Field{W: w, H: h, Pix: make([]float32, w*h)}
}

// Row returns the values of row y.
func (f *Field) Row(y int) []float32 {
	return f.Pix[y*f.W : (y+1)*f.W]
}

// At returns the value at (x, y) by bilinear interpolation. Points outside
// take the value of the nearest edge. The field must not be empty.
func (f *Field) At(x, y float64) float32 {
	x0, fx := split(x, f.W)
	y0, fy := split(y, f.H)
	i := y0*f.W + x0
	dx, dy := 0, 0
	if x0+1 < f.W {
		dx = 1
	}
	if y0+1 < f.H {
		dy = f.W
	}
	a, b := f.Pix[i], f.Pix[i+dx]
	c, d := f.Pix[i+dy], f.Pix[i+dx+dy]
	top, bottom := a+(b-a)*fx, c+(d-c)*fx
	return top + (bottom-top)*fy
}

// Clone returns a copy that shares nothing with f.
func (f *Field) Clone() *Field {
	g := NewField(f.W, f.H)
	copy(g.Pix, f.Pix)
	return g
}
