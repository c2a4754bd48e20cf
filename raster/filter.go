package raster

import "math"

// BlurRows smooths each row of f in place with a Gaussian of standard
// deviation sigma pixels, approximated by three running means (Wells 1986).
// Rows are continued with their edge values. Sigma below 0.3 does nothing.
func (f *Field) BlurRows(sigma float64) {
	radii := boxRadii(sigma)
	if radii[2] == 0 || f.W < 2 {
		return
	}
	tmp := make([]float32, f.W)
	for y := range f.H {
		row := f.Row(y)
		for _, r := range radii {
			runningMean(tmp, row, r)
			copy(row, tmp)
		}
	}
}

// BlurColumns smooths each column of f in place; see BlurRows.
func (f *Field) BlurColumns(sigma float64) {
	radii := boxRadii(sigma)
	if radii[2] == 0 || f.H < 2 {
		return
	}
	col, tmp := make([]float32, f.H), make([]float32, f.H)
	for x := range f.W {
		for y := range col {
			col[y] = f.Pix[y*f.W+x]
		}
		for _, r := range radii {
			runningMean(tmp, col, r)
			col, tmp = tmp, col
		}
		for y := range col {
			f.Pix[y*f.W+x] = col[y]
		}
	}
}

// boxRadii returns the radii of three running means that together have
// standard deviation sigma, as nearly as whole radii allow.
func boxRadii(sigma float64) [3]int {
	if sigma < 0.3 {
		return [3]int{}
	}
	ideal := math.Sqrt(4*sigma*sigma + 1)
	low := int((ideal - 1) / 2)
	w := float64(2*low + 1)
	n := math.Round((12*sigma*sigma - 3*w*w - 12*w - 9) / (-4*w - 4))
	var radii [3]int
	for i := range radii {
		radii[i] = low
		if float64(i) >= n {
			radii[i]++
		}
	}
	return radii
}

// runningMean writes the mean of src over [i-r, i+r] to dst.
func runningMean(dst, src []float32, r int) {
	n := len(src)
	if r <= 0 {
		copy(dst, src)
		return
	}
	sum := float64(src[0]) * float64(r)
	for i := 0; i <= r; i++ {
		sum += float64(src[min(i, n-1)])
	}
	scale := 1 / float64(2*r+1)
	for i := range n {
		dst[i] = float32(sum * scale)
		sum += float64(src[min(i+r+1, n-1)]) - float64(src[max(i-r, 0)])
	}
}

// Gradient returns the derivatives of f along x and y per pixel, by the 3 x 3
// filters whose error of orientation is least over the middle wave numbers
// (weights 47, 162, 47 of 256: Jähne, Scharr and Körkel 1999). The one-pixel
// rim is zero.
func (f *Field) Gradient() (gx, gy *Field) {
	gx, gy = NewField(f.W, f.H), NewField(f.W, f.H)
	const side, mid = 47.0 / 512, 162.0 / 512
	for y := 1; y < f.H-1; y++ {
		a, b, c := f.Row(y-1), f.Row(y), f.Row(y+1)
		rx, ry := gx.Row(y), gy.Row(y)
		for x := 1; x < f.W-1; x++ {
			rx[x] = side*(a[x+1]-a[x-1]+c[x+1]-c[x-1]) + mid*(b[x+1]-b[x-1])
			ry[x] = side*(c[x-1]-a[x-1]+c[x+1]-a[x+1]) + mid*(c[x]-a[x])
		}
	}
	return gx, gy
}
