package scale

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"

	"waketwist/raster"
)

// A shade is how light a picture is at a point, 0 to 255.
type shade func(x, y float64) float64

// paint takes a photograph of a shade, with a little noise. Each pixel is the
// mean of its corners, or of sixteen places where those differ.
func paint(w, h int, of shade) *raster.Photo {
	rng := rand.New(rand.NewPCG(uint64(w), uint64(h)))
	m := image.NewGray(image.Rect(0, 0, w, h))
	above, below := make([]float64, w+1), make([]float64, w+1)
	corners := func(y int, row []float64) {
		for x := range row {
			row[x] = of(float64(x)-0.5, float64(y)-0.5)
		}
	}
	corners(0, below)
	for y := range h {
		above, below = below, above
		corners(y+1, below)
		for x := range w {
			a, b, c, d := above[x], above[x+1], below[x], below[x+1]
			v := (a + b + c + d) / 4
			if max(a, b, c, d)-min(a, b, c, d) > 8 {
				v = 0
				for k := range 16 {
					v += of(float64(x)+(float64(k%4)-1.5)/4, float64(y)+(float64(k/4)-1.5)/4) / 16
				}
			}
			m.SetGray(x, y, color.Gray{uint8(min(255, max(0, v+2.5*rng.NormFloat64()+0.5)))})
		}
	}
	return raster.NewPhoto(m, 1)
}

// table is plain ground under uneven light.
func table(x, y float64) float64 { return 150 + 0.01*x - 0.008*y + 4*math.Sin(x/31+y/47) }

// cloth is a coarse weave, rough and regular.
func cloth(x, y float64) float64 {
	return 140 + 25*math.Sin(x/2.3+math.Sin(y/9))*math.Sin(y/2.6+math.Sin(x/13))
}

// coin lays a struck coin on a ground: a rim, a ring, letters and a shadow. Its
// axes are long and short pixels, the long one turned so far.
func coin(ground shade, at Point, long, short, turn float64) shade {
	sin, cos := math.Sincos(turn)
	depth := func(x, y float64) (float64, float64) {
		dx, dy := x-at.X, y-at.Y
		u, v := (dx*cos+dy*sin)/(long/2), (dy*cos-dx*sin)/(short/2)
		return math.Hypot(u, v), math.Atan2(v, u)
	}
	return func(x, y float64) float64 {
		s, t := depth(x, y)
		if s > 1 {
			g := ground(x, y)
			if far, _ := depth(x-0.03*long, y-0.04*long); far < 1 {
				g *= 0.6
			}
			return g
		}
		light := 95 + 30*math.Cos(t-1)*s
		switch {
		case s > 0.94:
			light += 45
		case s > 0.74 && s < 0.9 && math.Sin(23*t) > 0.2 && math.Cos(t) > -0.8:
			light -= 35
		case s < 0.5:
			light += 25 * math.Sin(9*s+3*t)
		}
		return light
	}
}
