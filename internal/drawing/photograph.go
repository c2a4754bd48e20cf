package drawing

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"

	"waketwist/unit"
)

// Scene is how a photograph is taken: from straight above, with one lamp or
// window at the side.
type Scene struct {
	Size                image.Point // of the picture, pixels
	PixelsPerMillimetre float64
	Ground              Ground
	// Tint is the colour of the ground, its own where the tint's alpha is 0.
	Tint color.NRGBA
	// Axis is the direction of the yarn, anticlockwise from the picture's
	// right. A loop lies at that end.
	Axis unit.Angle
	// Light is where the lamp stands, anticlockwise from the picture's right.
	Light       unit.Angle
	LightHeight unit.Angle // above the table; 0 stands for 42 degrees
	// AmbientShare is the share of the light that comes from all round; 0
	// stands for 0.36, a lamp in a light room.
	AmbientShare float64
	// ShadowShare is the share of the ground's light that the lamp's shadow
	// takes away: 0 under an overcast sky, 0.6 under a bare bulb.
	ShadowShare float64
	// ShadowEdge is how far the edge of the shadow fades, in diameters of the
	// yarn; 0 stands for 0.28, a lamp of some width.
	ShadowEdge float64
	// Bow is how far the yarn's direction turns across the picture.
	Bow unit.Angle
	// AsidePixels is how far from the picture's middle the yarn passes.
	AsidePixels float64
	// Abreast is how many yarns of the same numbers lie side by side, as round
	// a card; 0 and 1 are one.
	Abreast int
	// GapShare is the gap between yarns side by side, in their outer diameters.
	GapShare float64
	// StrayHairs is how many loose hairs lie about.
	StrayHairs int
	// BlurPixels is the standard deviation of the lens's blur.
	BlurPixels float64
	// ShakePixels is how far the picture moved while it was taken, and Shake
	// which way, anticlockwise from the right.
	ShakePixels float64
	Shake       unit.Angle
	// SharpenShare is how much the camera adds of the difference between the
	// picture and a soft one, as phones do: 0 to 2.
	SharpenShare float64
	// ExposureShare is the light that falls on the sensor over what would
	// expose rightly; 0 stands for 1.
	ExposureShare float64
	// WarmthShare is how much the white balance adds to red and takes from blue.
	WarmthShare float64
	// GrainShare is the standard deviation of the noise, as a share of the
	// distance from black to white. A phone by daylight stays near 0.01.
	GrainShare float64
	// Ruler lays a rule marked in millimetres along one edge. It needs a scale
	// of at least 3 pixels per millimetre.
	Ruler bool
	Disc  Disc
}

// What a scene that does not say otherwise is lit by.
const (
	lampHeight  = 42 * unit.Degree
	lampAmbient = 0.36
	lampEdge    = 0.28
)

// usual fills in what a scene leaves at zero.
func (s Scene) usual() Scene {
	for _, v := range []struct {
		number *float64
		usual  float64
	}{
		{(*float64)(&s.LightHeight), float64(lampHeight)}, {&s.AmbientShare, lampAmbient}, {&s.ShadowEdge, lampEdge}, {&s.ExposureShare, 1},
	} {
		if *v.number == 0 {
			*v.number = v.usual
		}
	}
	s.Abreast = max(1, s.Abreast)
	return s
}

// Photograph pictures the yarn lying on a table, with its hair and shadow but
// without perspective or the lens's distortion. It fails when a number lies
// outside what can be drawn.
func Photograph(y Yarn, scene Scene) (*image.RGBA, error) {
	if err := y.check(); err != nil {
		return nil, err
	}
	scene = scene.usual()
	if err := scene.check(); err != nil {
		return nil, err
	}
	if err := scene.checkScale(y); err != nil {
		return nil, err
	}
	p, err := layTable(scene, y.Seed)
	if err != nil {
		return nil, err
	}
	yarn := p.place(y, scene)
	p.shade(yarn, y, scene)
	for k, c := range yarn {
		p.pix[k] = c.over(p.pix[k])
	}
	return p.take(scene, y.Seed), nil
}

// layTable lays everything on the table but the yarn.
func layTable(scene Scene, seed uint64) (*plate, error) {
	p := &plate{w: scene.Size.X, h: scene.Size.Y}
	p.pix = layGround(scene, seed)
	if scene.Ruler {
		if err := p.layRuler(scene); err != nil {
			return nil, err
		}
	}
	if scene.Disc.Diameter > 0 {
		p.layDisc(scene)
	}
	p.strew(scene, seed)
	return p, nil
}

// take presses the button.
func (p *plate) take(scene Scene, seed uint64) *image.RGBA {
	p.blur(scene.BlurPixels)
	p.shake(scene.ShakePixels, scene.Shake)
	p.sharpen(scene.SharpenShare)
	return p.expose(scene, seed)
}

func (s Scene) diagonal() float64 { return math.Hypot(float64(s.Size.X), float64(s.Size.Y)) }

// plate is the picture being built up, in linear light, row by row.
type plate struct {
	w, h int
	pix  []paint
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
	// Under a lamp of the usual height a round yarn's shadow reaches about one
	// diameter past it; the lamp is wide, so it fades on the way.
	const steps = 8
	reach := 0.9 * outer * lampHeight.Tan() / scene.LightHeight.Tan()
	for s := range steps {
		d := reach * float64(s) / steps
		p.shift(cast, cover, int(math.Round(-d*cos)), int(math.Round(d*sin)))
	}
	p.soften(cast, max(1, int(scene.ShadowEdge*outer)))
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
	red, green, blue := float32(scene.ExposureShare*(1+scene.WarmthShare)), float32(scene.ExposureShare), float32(scene.ExposureShare*(1-scene.WarmthShare))
	for k, c := range p.pix {
		grain := 255 * scene.GrainShare * rng.NormFloat64()
		tint := 0.3 * 255 * scene.GrainShare * rng.NormFloat64()
		m.Pix[4*k] = exposed(red*c.r, grain+tint)
		m.Pix[4*k+1] = exposed(green*c.g, grain)
		m.Pix[4*k+2] = exposed(blue*c.b, grain-tint)
		m.Pix[4*k+3] = 255
	}
	return m
}

func exposed(v float32, grain float64) uint8 {
	return uint8(min(255, max(0, 255*math.Sqrt(float64(max(0, v)))+grain+0.5)))
}
