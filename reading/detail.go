package reading

import (
	"math"

	"waketwist/raster"
)

const (
	detailWindow = 32   // pixels in which the spectrum is taken
	detailAcross = 16   // pixels across the yarn, at least, of the reduction it is taken in
	detailWidth  = 27   // pixels from which yarn with sharp edges shows enough
	detailShare  = 0.1  // of the strongest detail: what is weaker is blur and noise
	strandDetail = 3    // cycles of detail across yarn whose edges are sharp, for its strands
	leastDetail  = 4.5  // the same where they are soft
	smallWidth   = 22   // pixels below which there must be good detail: ten pixels enlarged look like that
	goodDetail   = 6.3  // cycles from which it is as good as sharp; between the two narrow yarn is unsure
	sharpDetail  = 0.3  // cycles per pixel: a picture that holds so much was hardly enlarged
	softEdges    = 0.19 // edge blur over width: seven pixels across whose edges take one and a third
)

// detail is how many cycles of it the picture holds across narrow yarn, infinite
// where that is plainly enough. A picture enlarged from too little has pixels
// enough, but nothing in them.
func (c *cut) detail(src *source) float64 {
	if c.width >= detailWidth {
		return math.Inf(1)
	}
	cycles := c.cycles(src)
	if cycles >= sharpDetail*c.width {
		return math.Inf(1)
	}
	return cycles
}

// cycles is how many cycles of detail the picture holds across yarn of any width.
func (c *cut) cycles(src *source) float64 {
	s := src.sampler(max(c.width/detailAcross, 1))
	k := float64(s.k[0])
	return c.finestDetail(s.plane[0], k) / k * c.width
}

// fullShare is the share of places along the yarn that are narrower than its
// full width.
const fullShare = 0.8

// full is the width of the yarn where it is seen broad: where strands lie one
// behind the other a two-ply shows half its width, and is no smaller for it.
func (c *cut) full() float64 {
	return quantile(c.outline.widths(), fullShare)
}

// blank reports whether the yarn shows too little detail to be read, where its
// edges are blurred over a share `blur` of its width. What was enlarged, or lies
// out of focus, is soft in all there is, its edges too; soft edges alone may be a
// shadow's, and faint detail alone smooth yarn on smooth ground.
func (c *cut) blank(src *source, blur float64) bool {
	switch {
	case c.full() < smallWidth:
		return c.detail(src) < goodDetail
	case blur >= softEdges:
		return c.cycles(src) < leastDetail
	}
	return c.detail(src) < strandDetail
}

// detailSin and detailCos hold the Fourier sums of a window, with its taper.
var detailSin, detailCos = func() (s, c [detailWindow / 2][detailWindow]float64) {
	for f := range s {
		for k := range detailWindow {
			taper := 0.5 - 0.5*math.Cos(2*math.Pi*(float64(k)+0.5)/detailWindow)
			s[f][k], c[f][k] = math.Sincos(2 * math.Pi * float64(f*k) / detailWindow)
			s[f][k] *= taper
			c[f][k] *= taper
		}
	}
	return s, c
}()

// finestDetail is the highest spatial frequency, in cycles per pixel of a plane
// reduced by k, at which the picture around the yarn still varies. Edges and texture vary by
// as much at every frequency when each is weighed by its square; blur and
// enlargement end that.
func (c *cut) finestDetail(p *raster.Plane, k float64) float64 {
	var power [detailWindow / 2]float64
	a := c.strip.along
	hop := max(int(8*k/a.step), 1)
	for i := 0; i < a.len(); i += hop {
		for _, side := range [3]float64{-0.5, 0, 0.5} {
			x, y := a.at(i, side*c.width)
			addSpectrum(&power, p, int(x/k)-detailWindow/2, int(y/k), 1, 0)
			addSpectrum(&power, p, int(x/k), int(y/k)-detailWindow/2, 0, 1)
		}
	}
	noise := math.Inf(1)
	for _, v := range power[detailWindow*3/8:] {
		noise = math.Min(noise, v)
	}
	var most float64
	weighed := func(f int) float64 { return max(power[f]-noise, 0) * float64(f*f) }
	for f := 2; f < len(power); f++ {
		most = max(most, weighed(f))
	}
	last := len(power) - 1
	for ; last > 2 && weighed(last) < detailShare*most; last-- {
	}
	u, v := weighed(last), weighed(min(last+1, len(power)-1))
	return (float64(last) + min((u-detailShare*most)/max(u-v, 1e-9), 1)) / detailWindow
}

// addSpectrum adds the power of a window of the picture that runs from (x, y)
// along (dx, dy), if it lies inside.
func addSpectrum(power *[detailWindow / 2]float64, p *raster.Plane, x, y, dx, dy int) {
	endX, endY := x+dx*(detailWindow-1), y+dy*(detailWindow-1)
	if x < 0 || y < 0 || endX >= p.W || endY >= p.H {
		return
	}
	var v [detailWindow]float64
	var mean float64
	for k := range v {
		v[k] = float64(p.Pix[(y+k*dy)*p.Stride+x+k*dx])
		mean += v[k] / detailWindow
	}
	for f := 2; f < len(power); f++ {
		var re, im float64
		for k := range v {
			re += (v[k] - mean) * detailCos[f][k]
			im += (v[k] - mean) * detailSin[f][k]
		}
		power[f] += re*re + im*im
	}
}
