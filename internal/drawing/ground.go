package drawing

import (
	"image/color"
	"math"
)

// Ground is what the yarn lies on.
type Ground int

// The grounds.
const (
	Paper  Ground = iota // white, nearly even
	Card                 // dark grey card
	Linen                // a natural plain weave
	Wood                 // a planed board
	Skin                 // the back of a hand or a lap
	Cotton               // a fine plain weave
	Twill                // dark trousers
)

// groundColours are the grounds' own colours.
var groundColours = map[Ground]color.NRGBA{
	Paper:  {0xee, 0xec, 0xe6, 255},
	Card:   {0x2c, 0x2c, 0x2e, 255},
	Linen:  {0xb9, 0xaa, 0x90, 255},
	Wood:   {0xb8, 0x86, 0x55, 255},
	Skin:   {0xcf, 0x98, 0x7c, 255},
	Cotton: {0xa6, 0xac, 0xb4, 255},
	Twill:  {0x2c, 0x30, 0x42, 255},
}

// groundColour is the ground's colour without its texture and light.
func (s Scene) groundColour() color.NRGBA {
	if s.Tint.A != 0 {
		return s.Tint
	}
	return groundColours[s.Ground]
}

// layGround fills a plate with the ground under the scene's light, which falls
// off away from the lamp.
func layGround(scene Scene, seed uint64) []paint {
	w, h := scene.Size.X, scene.Size.Y
	pix := make([]paint, w*h)
	g := surface{scene: scene, seed: uint32(seed*2654435761 + 12345)}
	sin, cos := math.Sincos(float64(scene.Light))
	inParallel(h, func(top, bottom int) {
		for k := top * w; k < bottom*w; k++ {
			x, y := float64(k%w)-float64(w)/2, float64(k/w)-float64(h)/2
			fall := 0.92 + 0.22*(x*cos-y*sin)/scene.diagonal()
			pix[k] = g.at(x, y).scaled(fall)
			pix[k].a = 1
		}
	})
	return pix
}

// surface is the ground without its light.
type surface struct {
	scene Scene
	seed  uint32
}

func (g surface) at(x, y float64) paint {
	// Textures are in millimetres, but coarse enough to see at any scale.
	mm := max(g.scene.PixelsPerMillimetre, 6)
	u, v := x/mm, y/mm
	own := g.scene.groundColour()
	switch g.scene.Ground {
	case Card:
		return tinted(own, 1+0.16*g.cloud(8*u, 8*v)+0.1*g.cloud(0.3*u, 0.3*v))
	case Linen:
		return tinted(own, g.weave(u, v))
	case Wood:
		return tinted(own, g.grain(u, v))
	case Skin:
		return g.skin(own, u, v)
	case Cotton:
		return tinted(own, 0.5+0.5*g.weave(2*u, 2*v))
	case Twill:
		return tinted(own, g.twill(u, v))
	}
	return tinted(own, 1+0.03*g.cloud(6*u, 6*v)+0.04*g.cloud(0.15*u, 0.15*v))
}

func tinted(c color.NRGBA, f float64) paint { return linear(c).scaled(f) }

// weave is a plain weave of uneven threads, eighteen to the centimetre: where
// the warp lies on top its threads are seen, elsewhere those of the weft.
func (g surface) weave(u, v float64) float64 {
	const threads = 1.8 * math.Pi
	warp := math.Sin(threads*u + 0.5*g.cloud(1.8*u, 0.3*v))
	weft := math.Sin(threads*v + 0.5*g.cloud(0.3*u, 1.8*v))
	cross := math.Cos(threads*u) * math.Cos(threads*v)
	top := smooth(0.5 + 2*cross)
	body := top*(1-warp*warp) + (1-top)*(1-weft*weft)
	uneven := top*g.cloud(1.8*u, 0.25*v) + (1-top)*g.cloud(0.25*u, 1.8*v)
	return 0.72 + 0.3*body + 0.22*uneven + 0.05*g.cloud(0.2*u, 0.2*v)
}

// grain is long streaks in rings, across the picture but for a slant.
func (g surface) grain(u, v float64) float64 {
	along, across := u+0.25*v, v-0.25*u
	ring := math.Sin(2.2*across + 3*g.cloud(0.05*along, 0.25*across))
	return 0.95 + 0.1*ring + 0.16*g.cloud(0.12*along, 3*across) + 0.1*g.cloud(0.4*along, 9*across)
}

// cloud is smooth noise of mean 0 within 1 either way, with features one unit
// across.
func (g surface) cloud(x, y float64) float64 {
	i, j := math.Floor(x), math.Floor(y)
	fx, fy := smooth(x-i), smooth(y-j)
	a, b := int32(i), int32(j)
	top := g.knot(a, b)*(1-fx) + g.knot(a+1, b)*fx
	bottom := g.knot(a, b+1)*(1-fx) + g.knot(a+1, b+1)*fx
	return top*(1-fy) + bottom*fy
}

// knot is a fixed random number from -1 to 1 at a whole place.
func (g surface) knot(i, j int32) float64 {
	h := g.seed ^ uint32(i)*0x9e3779b1 ^ uint32(j)*0x85ebca77
	h ^= h >> 15
	h *= 0x2c1b3c6d
	h ^= h >> 12
	h *= 0x297a2d39
	h ^= h >> 15
	return float64(h)/(1<<31) - 1
}
