package drawing

import (
	"image/color"
	"math"
	"math/rand/v2"
)

// strayColours are those of wool, of a dark sheep, and of lint.
var strayColours = []color.NRGBA{{0xd8, 0xd0, 0xc0, 0xff}, {0x30, 0x28, 0x24, 0xff}, {0x80, 0x60, 0x70, 0xff}}

// strew lays loose hairs about, each waving and about a pixel wide.
func (p *plate) strew(scene Scene, seed uint64) {
	rng := rand.New(rand.NewPCG(seed, 6))
	for range scene.StrayHairs {
		ink := linear(strayColours[rng.IntN(len(strayColours))])
		cover := 0.2 + 0.5*rng.Float64()
		x, y := float64(p.w)*rng.Float64(), float64(p.h)*rng.Float64()
		heading, bend := 2*math.Pi*rng.Float64(), 0.0
		length := scene.diagonal() * (0.05 + 0.3*rng.Float64())
		for at := 0.0; at < length; at += 0.5 {
			// The bend forgets itself within a twentieth of the picture.
			bend += -10*bend/scene.diagonal() + rng.NormFloat64()/scene.diagonal()
			heading += bend / 4
			x, y = x+0.5*math.Cos(heading), y+0.5*math.Sin(heading)
			p.speck(x, y, ink, 0.5*cover)
		}
	}
}

// speck lays a soft dot of one pixel's size.
func (p *plate) speck(x, y float64, ink paint, cover float64) {
	i, j := int(math.Floor(x)), int(math.Floor(y))
	fx, fy := x-float64(i), y-float64(j)
	for k, f := range [4]float64{(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy} {
		if c, r := i+k%2, j+k/2; c >= 0 && r >= 0 && c < p.w && r < p.h {
			at := &p.pix[r*p.w+c]
			*at = ink.scaled(cover * f).over(*at)
		}
	}
}
