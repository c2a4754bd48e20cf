package drawing

import (
	"image/color"
	"math"

	"waketwist/unit"
)

// Disc is a struck disc of copper, like a coin, that lies beside the yarn to give
// the scale.
type Disc struct {
	Diameter unit.Length // 0 for none
	// X and Y are its middle, in pixels from the picture's top left corner.
	X, Y float64
}

// Parts of a disc in shares of its radius.
const (
	discRim    = 0.93 // from here on it is raised
	discFace   = 0.62 // up to here a pattern is struck
	discShadow = 0.03 // how far its shadow falls
)

// layDisc lays the disc on the ground, with its shadow. Its edge covers pixels by
// the share of them that it takes.
func (p *plate) layDisc(scene Scene) {
	d := scene.Disc
	radius := d.Diameter.Millimetres() * scene.PixelsPerMillimetre / 2
	sin, cos := math.Sincos(float64(scene.Light))
	inParallel(p.h, func(top, bottom int) {
		for k := top * p.w; k < bottom*p.w; k++ {
			x, y := float64(k%p.w)-d.X, float64(k/p.w)-d.Y
			away := math.Hypot(x, y)
			if away > 1.1*radius+2 {
				continue
			}
			shadow := within(math.Hypot(x+discShadow*radius*cos, y-discShadow*radius*sin), radius)
			ground := p.pix[k].scaled(1 - scene.ShadowShare*shadow)
			ground.a = 1
			// The lamp falls on slopes that face it.
			facing := (x*cos - y*sin) / radius
			metal := tinted(color.NRGBA{0xb9, 0x77, 0x4e, 255}, struck(away/radius, math.Atan2(y, x), facing))
			metal.a = 1
			p.pix[k] = metal.scaled(within(away, radius)).over(ground.scaled(1 - within(away, radius)))
			p.pix[k].a = 1
		}
	})
}

// within is the share of a pixel that a circle covers whose middle is so far away.
func within(away, radius float64) float64 { return min(1, max(0, radius-away+0.5)) }

// struck is how light the metal is at a share of the radius and a direction.
func struck(s, turn, facing float64) float64 {
	light := 1 + 0.12*facing
	switch {
	case s > discRim:
		return light * (1.25 + 0.5*facing)
	case s < discFace:
		return light * (1 + 0.16*math.Sin(12*s+4*turn)*math.Cos(3*turn-5*s))
	}
	return light
}
