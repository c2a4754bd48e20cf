package drawing

import (
	"fmt"
	"image"
	"math"
	"math/rand/v2"

	"waketwist/unit"
)

// Scene is how a photograph is taken: from straight above, with one lamp at the
// side, 42 degrees above the table.
type Scene struct {
	Size                image.Point // of the picture, pixels
	PixelsPerMillimetre float64
	Ground              Ground
	// Axis is the direction of the yarn, anticlockwise from the picture's
	// right. A loop lies at that end.
	Axis unit.Angle
	// Light is where the lamp stands, anticlockwise from the picture's right.
	Light unit.Angle
	// ShadowShare is the share of the ground's light that the lamp's shadow
	// takes away: 0 under an overcast sky, 0.6 under a bare bulb.
	ShadowShare float64
	// Bow is how far the yarn's direction turns across the picture.
	Bow unit.Angle
	// BlurPixels is the standard deviation of the lens's blur.
	BlurPixels float64
	// GrainShare is the standard deviation of the noise, as a share of the
	// distance from black to white. A phone by daylight stays near 0.01.
	GrainShare float64
	// Ruler lays a rule marked in millimetres along one edge. It needs a scale
	// of at least 3 pixels per millimetre.
	Ruler bool
	Disc  Disc
}

// lampHeight is the lamp's angle above the table.
const lampHeight = 42 * unit.Degree

// Photograph pictures the yarn lying on a table, with its hair and shadow but
// without perspective or the lens's distortion. It fails when a number lies
// outside what can be drawn.
func Photograph(y Yarn, scene Scene) (*image.RGBA, error) {
	if err := y.check(); err != nil {
		return nil, err
	}
	if err := scene.check(y); err != nil {
		return nil, err
	}
	p := &plate{w: scene.Size.X, h: scene.Size.Y}
	p.pix = layGround(scene, y.Seed)
	if scene.Ruler {
		if err := p.layRuler(scene); err != nil {
			return nil, err
		}
	}
	if scene.Disc.Diameter > 0 {
		p.layDisc(scene)
	}
	yarn := p.place(y, scene)
	p.shade(yarn, y, scene)
	for k, c := range yarn {
		p.pix[k] = c.over(p.pix[k])
	}
	p.blur(scene.BlurPixels)
	return p.expose(scene, y.Seed), nil
}

// check reports the first number that cannot be pictured.
func (s Scene) check(y Yarn) error {
	between := func(v, lo, hi float64) bool { return v >= lo && v <= hi }
	outer := s.PixelsPerMillimetre * y.OuterDiameter().Millimetres()
	switch {
	case s.Size.X < 16 || s.Size.Y < 16 || s.Size.X > maxPixels/s.Size.Y:
		return fmt.Errorf("a photograph of %d by %d pixels cannot be made: give 16 to some thousands each way", s.Size.X, s.Size.Y)
	case !between(outer, 1, s.diagonal()) || outer*s.diagonal() > maxPixels:
		return fmt.Errorf("a yarn %.3g pixels thick does not suit a photograph of %d by %d: change the scale", outer, s.Size.X, s.Size.Y)
	case s.Ground < Paper || s.Ground > Wood:
		return fmt.Errorf("ground %d is not known: use Paper, Card, Linen or Wood", s.Ground)
	case !between(math.Abs(s.Bow.Degrees()), 0, 60):
		return fmt.Errorf("a bow of %.0f degrees cannot be pictured: give at most 60 either way", s.Bow.Degrees())
	case !between(s.ShadowShare, 0, 1):
		return fmt.Errorf("a shadow of %.3g cannot be pictured: give a share from 0 to 1", s.ShadowShare)
	case !between(s.BlurPixels, 0, 40):
		return fmt.Errorf("a blur of %.3g pixels cannot be pictured: give 0 to 40", s.BlurPixels)
	case !between(s.GrainShare, 0, 0.5):
		return fmt.Errorf("a grain of %.3g cannot be pictured: give a share from 0 to 0.5", s.GrainShare)
	case !between(s.Disc.Diameter.Millimetres()*s.PixelsPerMillimetre, 0, s.diagonal()):
		return fmt.Errorf("a disc of %s does not suit a photograph of %d by %d: change the scale", s.Disc.Diameter, s.Size.X, s.Size.Y)
	case s.Ruler && s.PixelsPerMillimetre < 3:
		return fmt.Errorf("at %.3g pixels per millimetre a rule cannot be read: give at least 3", s.PixelsPerMillimetre)
	}
	return nil
}

func (s Scene) diagonal() float64 { return math.Hypot(float64(s.Size.X), float64(s.Size.Y)) }

// plate is the picture being built up, in linear light, row by row.
type plate struct {
	w, h int
	pix  []paint
}

// place draws the yarn across the middle of an empty plate.
func (p *plate) place(y Yarn, scene Scene) []paint {
	from := 0.55 * scene.diagonal() // where the band starts, before the middle
	length := 2 * from
	if y.Loop {
		length = from + 0.36*float64(min(p.w, p.h))
	}
	outer := y.OuterDiameter().Millimetres() * scene.PixelsPerMillimetre
	width := int(math.Ceil(outer * (1 + 2*margin)))
	b := renderBand(y, scene.PixelsPerMillimetre, int(length), width, lamp(y, scene))
	out := make([]paint, p.w*p.h)
	sin, cos := math.Sincos(float64(scene.Axis))
	inParallel(p.h, func(top, bottom int) {
		for k := top * p.w; k < bottom*p.w; k++ {
			dx, dy := float64(k%p.w)+0.5-float64(p.w)/2, float64(k/p.w)+0.5-float64(p.h)/2
			along, across := bowed(dx*cos-dy*sin, dx*sin+dy*cos, scene)
			out[k] = b.at(along+from-0.5, across+float64(width)/2-0.5)
		}
	})
	return out
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
	up, flat := math.Sincos(float64(lampHeight))
	from := mirrored(y, vec{z: flat * cos, x: -flat * sin, y: up})
	return light{from: from, ambient: 0.36, rim: 0.12}
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

// shade darkens the ground where the yarn keeps the light off: the lamp's
// shadow on the far side, and a soft dimness all round.
func (p *plate) shade(yarn []paint, y Yarn, scene Scene) {
	outer := y.OuterDiameter().Millimetres() * scene.PixelsPerMillimetre
	sin, cos := math.Sincos(float64(scene.Light))
	cover, cast := make([]float32, len(yarn)), make([]float32, len(yarn))
	for k, c := range yarn {
		cover[k] = c.a
	}
	// A round yarn's shadow reaches about one diameter past it; the lamp is wide,
	// so it fades on the way.
	const steps = 8
	for s := range steps {
		d := outer * 0.9 * float64(s) / steps
		p.shift(cast, cover, int(math.Round(-d*cos)), int(math.Round(d*sin)))
	}
	p.soften(cast, max(1, int(0.28*outer)))
	p.soften(cover, max(1, int(0.45*outer)))
	for k := range p.pix {
		c := &p.pix[k]
		dim := float64((1 - float32(scene.ShadowShare)*cast[k]) * (1 - 0.28*cover[k]))
		*c = paint{float32(dim) * c.r, float32(dim) * c.g, float32(math.Pow(dim, 0.95)) * c.b, 1}
	}
}

// shift keeps the larger of what is there and the mask moved by dx, dy.
func (p *plate) shift(on, mask []float32, dx, dy int) {
	for y := max(0, dy); y < min(p.h, p.h+dy); y++ {
		for x := max(0, dx); x < min(p.w, p.w+dx); x++ {
			on[y*p.w+x] = max(on[y*p.w+x], mask[(y-dy)*p.w+x-dx])
		}
	}
}

// expose turns light into the bytes of a picture, with grain.
func (p *plate) expose(scene Scene, seed uint64) *image.RGBA {
	rng := rand.New(rand.NewPCG(seed, 5))
	m := image.NewRGBA(image.Rect(0, 0, p.w, p.h))
	for k, c := range p.pix {
		grain := 255 * scene.GrainShare * rng.NormFloat64()
		tint := 0.3 * 255 * scene.GrainShare * rng.NormFloat64()
		m.Pix[4*k] = exposed(c.r, grain+tint)
		m.Pix[4*k+1] = exposed(c.g, grain)
		m.Pix[4*k+2] = exposed(c.b, grain-tint)
		m.Pix[4*k+3] = 255
	}
	return m
}

func exposed(v float32, grain float64) uint8 {
	return uint8(min(255, max(0, 255*math.Sqrt(float64(max(0, v)))+grain+0.5)))
}
