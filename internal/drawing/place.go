package drawing

import (
	"math"
)

// lie is where the band of a yarn lies on the table.
type lie struct {
	scene  Scene
	outer  float64 // diameter, pixels
	before float64 // where the band starts, pixels along the yarn before the middle
	w, h   int     // of the band
}

func lieOf(y Yarn, scene Scene) lie {
	l := lie{scene: scene, outer: y.OuterDiameter().Millimetres() * scene.PixelsPerMillimetre}
	l.before = 0.55 * scene.diagonal()
	length := 2 * l.before
	if y.Loop {
		length = l.before + 0.36*float64(min(scene.Size.X, scene.Size.Y))
	}
	l.w, l.h = int(length), int(math.Ceil(l.outer*(1+2*margin)))
	return l
}

// aside is how far the i-th yarn lies from the line on which the scene lays them.
func (l lie) aside(i int) float64 {
	return (float64(i) - float64(l.scene.Abreast-1)/2) * l.outer * (1 + l.scene.GapShare)
}

// abreast is the i-th of several yarns side by side: of the same numbers, but not
// the same yarn.
func (y Yarn) abreast(i int) Yarn {
	y.Seed += uint64(1000 * i)
	return y
}

// place draws the yarns of the scene on an empty plate.
func (p *plate) place(y Yarn, scene Scene) []paint {
	l := lieOf(y, scene)
	var bands []*band
	for i := range scene.Abreast {
		bands = append(bands, renderBand(y.abreast(i), scene.PixelsPerMillimetre, l.w, l.h, lamp(y, scene)))
	}
	out := make([]paint, p.w*p.h)
	inParallel(p.h, func(top, bottom int) {
		for k := top * p.w; k < bottom*p.w; k++ {
			along, across := l.onYarn(float64(k%p.w)+0.5, float64(k/p.w)+0.5)
			for i, b := range bands {
				q := b.at(along+l.before-0.5, across-l.aside(i)+float64(l.h)/2-0.5)
				out[k] = q.over(out[k])
			}
		}
	})
	return out
}

// onYarn turns a place in the picture into one along and across the yarn, both
// from the middle.
func (l lie) onYarn(x, y float64) (along, across float64) {
	sin, cos := math.Sincos(float64(l.scene.Axis))
	dx, dy := x-float64(l.scene.Size.X)/2, y-float64(l.scene.Size.Y)/2
	return bowed(dx*cos-dy*sin, dx*sin+dy*cos-l.scene.AsidePixels, l.scene)
}

// inPicture turns a place along and across the yarn into one in the picture.
func (l lie) inPicture(along, across float64) (x, y float64) {
	if math.Abs(float64(l.scene.Bow)) >= 1e-6 {
		radius := l.scene.diagonal() / float64(l.scene.Bow)
		sin, cos := math.Sincos(along / radius)
		along, across = (radius-across)*sin, radius-(radius-across)*cos
	}
	sin, cos := math.Sincos(float64(l.scene.Axis))
	across += l.scene.AsidePixels
	return along*cos + across*sin + float64(l.scene.Size.X)/2, across*cos - along*sin + float64(l.scene.Size.Y)/2
}

// bowed turns a place on the table into a place along and across a yarn whose
// axis is an arc of a circle.
func bowed(along, across float64, scene Scene) (float64, float64) {
	if math.Abs(float64(scene.Bow)) < 1e-6 {
		return along, across
	}
	radius := scene.diagonal() / float64(scene.Bow)
	away := radius - across
	if radius < 0 {
		return radius * math.Atan2(-along, -away), radius + math.Hypot(along, away)
	}
	return radius * math.Atan2(along, away), radius - math.Hypot(along, away)
}

// lamp is the light as it falls on the strip.
func lamp(y Yarn, scene Scene) light {
	sin, cos := math.Sincos(float64(scene.Light - scene.Axis))
	up, flat := math.Sincos(float64(scene.LightHeight))
	from := mirrored(y, vec{z: flat * cos, x: -flat * sin, y: up})
	return light{from: from, ambient: scene.AmbientShare, rim: 0.12}
}

// at samples the band between its pixels; outside it there is nothing.
func (b *band) at(x, y float64) paint {
	if x <= -1 || y <= -1 || x >= float64(b.w) || y >= float64(b.h) {
		return paint{}
	}
	i, j := int(math.Floor(x)), int(math.Floor(y))
	fx, fy := x-float64(i), y-float64(j)
	var sum paint
	for _, c := range [4]struct {
		i, j int
		f    float64
	}{{i, j, (1 - fx) * (1 - fy)}, {i + 1, j, fx * (1 - fy)}, {i, j + 1, (1 - fx) * fy}, {i + 1, j + 1, fx * fy}} {
		if c.i >= 0 && c.j >= 0 && c.i < b.w && c.j < b.h {
			q := b.pix[c.j*b.w+c.i].scaled(c.f)
			sum = paint{sum.r + q.r, sum.g + q.g, sum.b + q.b, sum.a + q.a}
		}
	}
	return sum
}
