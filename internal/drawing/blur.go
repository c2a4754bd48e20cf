package drawing

import (
	"math"
	"slices"

	"waketwist/unit"
)

// soften averages a mask twice over squares of 2 r + 1 pixels.
func (p *plate) soften(mask []float32, r int) {
	for range 2 {
		for y := range p.h {
			runningMean(mask[y*p.w:][:p.w], 1, p.w, r)
		}
		for x := range p.w {
			runningMean(mask[x:], p.w, p.h, r)
		}
	}
}

// runningMean averages n values, a stride apart, over r neighbours each side;
// beyond the ends the end values go on.
func runningMean(v []float32, stride, n, r int) {
	old := make([]float32, n)
	for i := range old {
		old[i] = v[i*stride]
	}
	at := func(i int) float32 { return old[min(n-1, max(0, i))] }
	var sum float32
	for i := -r; i <= r; i++ {
		sum += at(i)
	}
	for i := range n {
		v[i*stride] = sum / float32(2*r+1)
		sum += at(i+r+1) - at(i-r)
	}
}

// blur spreads the light by a bell of the given standard deviation in pixels.
func (p *plate) blur(sd float64) {
	if sd < 0.1 {
		return
	}
	kernel := bellKernel(sd)
	half := make([]paint, len(p.pix))
	inParallel(p.h, func(top, bottom int) {
		for y := top; y < bottom; y++ {
			row := p.pix[y*p.w:][:p.w]
			for x := range p.w {
				half[y*p.w+x] = weighted(kernel, func(i int) paint { return row[min(p.w-1, max(0, x+i))] })
			}
		}
	})
	inParallel(p.h, func(top, bottom int) {
		for y := top; y < bottom; y++ {
			for x := range p.w {
				p.pix[y*p.w+x] = weighted(kernel, func(i int) paint { return half[min(p.h-1, max(0, y+i))*p.w+x] })
			}
		}
	})
}

// bellKernel holds the weights of a Gaussian out to three standard deviations.
func bellKernel(sd float64) []float32 {
	r := int(math.Ceil(3 * sd))
	k := make([]float32, 2*r+1)
	var sum float64
	for i := range k {
		x := float64(i-r) / sd
		sum += math.Exp(-x * x / 2)
	}
	for i := range k {
		x := float64(i-r) / sd
		k[i] = float32(math.Exp(-x*x/2) / sum)
	}
	return k
}

func weighted(kernel []float32, at func(i int) paint) paint {
	var sum paint
	for i, f := range kernel {
		p := at(i - len(kernel)/2)
		sum.r += f * p.r
		sum.g += f * p.g
		sum.b += f * p.b
	}
	sum.a = 1
	return sum
}

// shake spreads the light evenly along a straight way of so many pixels.
func (p *plate) shake(pixels float64, direction unit.Angle) {
	if pixels < 0.3 {
		return
	}
	sin, cos := math.Sincos(float64(direction))
	steps := 2*int(math.Ceil(pixels)) + 1
	still := &band{w: p.w, h: p.h, pix: p.pix}
	moved := make([]paint, len(p.pix))
	inParallel(p.h, func(top, bottom int) {
		for k := top * p.w; k < bottom*p.w; k++ {
			var sum paint
			for i := range steps {
				d := pixels * (float64(i)/float64(steps-1) - 0.5)
				x, y := float64(k%p.w)+d*cos, float64(k/p.w)-d*sin
				q := still.at(min(float64(p.w-1), max(0, x)), min(float64(p.h-1), max(0, y)))
				sum = paint{sum.r + q.r, sum.g + q.g, sum.b + q.b, 1}
			}
			moved[k] = sum.scaled(1 / float64(steps))
			moved[k].a = 1
		}
	})
	p.pix = moved
}

// sharpenReach is the standard deviation of the soft picture in pixels.
const sharpenReach = 1.3

// sharpen adds a share of what a soft picture lacks, which leaves a thin halo at
// every edge.
func (p *plate) sharpen(share float64) {
	if share == 0 {
		return
	}
	soft := &plate{w: p.w, h: p.h, pix: slices.Clone(p.pix)}
	soft.blur(sharpenReach)
	k := float32(share)
	for i, q := range soft.pix {
		c := &p.pix[i]
		*c = paint{max(0, c.r+k*(c.r-q.r)), max(0, c.g+k*(c.g-q.g)), max(0, c.b+k*(c.b-q.b)), 1}
	}
}
