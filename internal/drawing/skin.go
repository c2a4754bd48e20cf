package drawing

import (
	"image/color"
	"math"
)

// skin is blotched with blood and crossed by fine furrows that enclose small
// uneven fields, about a millimetre across.
func (g surface) skin(own color.NRGBA, u, v float64) paint {
	blood := 0.6*g.cloud(0.12*u, 0.12*v) + 0.4*g.cloud(0.7*u, 0.7*v)
	// Furrows run where smooth noise passes through zero.
	du, dv := 0.6*g.cloud(0.5*u+31, 0.5*v), 0.6*g.cloud(0.5*u, 0.5*v+57)
	furrow := func(a, b float64) float64 {
		d := g.cloud(a, b) / 0.12
		return math.Exp(-d * d)
	}
	deep := furrow(2.2*(u+du)+0.6*v, 0.8*v) + furrow(0.8*u-90, 2.2*(v+dv)-0.6*u)
	p := tinted(own, 1+0.05*g.cloud(5*u, 5*v)-0.05*min(1, deep)+0.05*blood)
	p.g *= float32(1 - 0.07*blood)
	p.b *= float32(1 - 0.05*blood)
	return p
}

// twill is threads of the warp that pass over two and under two, each row one
// thread further, ten to the centimetre.
func (g surface) twill(u, v float64) float64 {
	const threads = 2.0 // per millimetre
	across := math.Sin(math.Pi * threads * u)
	step := math.Cos(math.Pi * threads / 2 * (u + v + 0.15*g.cloud(u, v)))
	top := smooth(0.5 + step)
	return 0.75 + 0.35*top*(1-0.5*across*across) + 0.2*g.cloud(2*u, 0.4*v) + 0.12*g.cloud(6*u, 6*v)
}
