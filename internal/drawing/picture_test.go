package drawing

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"math/rand/v2"

	xdraw "golang.org/x/image/draw"

	"waketwist/unit"
	"waketwist/yarn"
)

// picture is one photograph drawn at random, with what makes it unreadable.
type picture struct {
	yarn     Yarn
	scene    Scene
	width    float64 // of the yarn, pixels
	quality  int     // of the JPEG
	enlarged float64 // times its size, 0 for as it is

	why                         string // unreadable
	ground, scheme, light, kind string // words for the table
}

// unreadable are the ways to spoil a picture.
var unreadable = []struct {
	why   string
	spoil func(chance, *picture)
}{
	{"blur", chance.defocus}, {"dark", chance.darken}, {"none", chance.clear}, {"rod", chance.rod}, {"tiny", chance.tiny},
	{"enlarged", chance.enlarge}, {"felted", chance.felt}, {"rope", chance.rope}, {"braid", chance.braid},
}

// random draws the n-th picture of a seed, which is always the same, however many
// are drawn. One in seven cannot be read, each time in another way.
func random(seed uint64, n int) picture {
	if (uint64(n)+seed)%7 == 0 {
		return spoilt(seed, n, uint64(n)/7+seed)
	}
	r := chance{rand.New(rand.NewPCG(seed, uint64(n)))}
	for {
		if p := r.picture(); p.fits() && p.careful() {
			return p
		}
	}
}

// spoilt draws the n-th picture of a seed so that it cannot be read, in one of the
// ways taken by turns.
func spoilt(seed uint64, n int, turn uint64) picture {
	r := chance{rand.New(rand.NewPCG(seed, uint64(n)))}
	way := unreadable[turn%uint64(len(unreadable))]
	for {
		p := r.picture()
		p.why = way.why
		way.spoil(r, &p)
		if p.fits() {
			return p
		}
	}
}

// picture draws a readable photograph, apart from what careful says.
func (r chance) picture() picture {
	p := picture{yarn: r.twisted(), kind: "run", quality: 55 + r.IntN(41)}
	p.scheme = r.dye(&p.yarn)
	p.scene.Size = r.frame()
	p.ground, p.light = r.layOn(&p.scene), r.lightUp(&p.scene)
	// About a median of 67 pixels, further above it than below.
	steps := math.Abs(r.NormFloat64()) * []float64{-0.72, 0.88}[r.IntN(2)]
	p.resize(67*math.Exp(steps), r.between(0.7, 3))
	p.scene.Axis, p.scene.Bow = r.degrees(0, 360), unit.Angle(r.about(7, 22))*unit.Degree
	p.scene.AsidePixels = r.about(0.08, 0.2) * p.shortSide()
	switch {
	case p.yarn.Plies == 2 && r.IntN(4) == 0:
		p.kind, p.yarn.Loop = "plyback", true
	case p.width < 120 && r.IntN(10) < 3:
		p.kind, p.scene.Abreast, p.scene.GapShare = "wraps", 3+r.IntN(6), r.near(0.15, 0.8, 0.03, 0.6)
		p.scene.Bow /= 5
	}
	r.handle(&p)
	return p
}

// handle is how the camera was held.
func (r chance) handle(p *picture) {
	s := &p.scene
	s.BlurPixels = max(0.4, p.width*r.near(0.012, 0.6, 0.002, 0.04))
	if r.IntN(6) == 0 {
		s.ShakePixels, s.Shake = p.width*r.between(0.01, 0.05), r.degrees(0, 180)
	}
	if r.IntN(3) > 0 {
		s.SharpenShare = r.between(0.1, 0.8)
	}
	s.GrainShare = r.near(0.009, 0.5, 0.003, 0.025)
	if s.PixelsPerMillimetre >= 8 && r.IntN(4) == 0 {
		s.Ruler = true
	}
	if r.IntN(2) == 0 {
		s.StrayHairs = 1 + r.IntN(12)
	}
}

// resize gives the yarn a width in pixels and in millimetres.
func (p *picture) resize(pixels, millimetres float64) {
	p.width = pixels
	p.yarn.StrandDiameter = unit.Length(millimetres/(1+p.yarn.centreRatio())) * unit.Millimetre
	p.scene.PixelsPerMillimetre = pixels / millimetres
}

func (p *picture) shortSide() float64 { return float64(min(p.scene.Size.X, p.scene.Size.Y)) }

// fits reports whether what is wanted goes into the frame.
func (p *picture) fits() bool {
	bundle := p.width * (1 + float64(max(1, p.scene.Abreast)-1)*(1+p.scene.GapShare))
	return bundle < 0.75*p.shortSide()
}

// careful reports whether a careful person could read the picture: the yarn is
// wide enough, stands out from its ground, shows a whole turn of a ply, and is
// lit and sharp enough for what there is to see on it.
func (p *picture) careful() bool {
	v := p.inView()
	apart := math.Inf(1)
	for _, c := range append(p.yarn.Dyes, p.yarn.Changes...) {
		apart = min(apart, distance(c, p.scene.groundColour()))
	}
	narrowest, nearest := 27.0, 24.0
	if p.yarn.Plies == 1 { // whose fibres are fine
		narrowest, nearest = 36, 30
	}
	blur := math.Hypot(p.scene.BlurPixels, p.scene.ShakePixels/math.Sqrt(12))
	return p.width >= narrowest && p.width <= 340 && apart > nearest && v.pixels > 6*p.width &&
		(p.yarn.Plies == 1 || v.turns >= 0.95) && blur <= 0.04*p.width
}

// defocus blurs the strands away, and the fibres of singles.
func (r chance) defocus(p *picture) {
	p.yarn.Angle = max(p.yarn.Angle, 25*unit.Degree)
	p.resize(r.between(30, 60), 1.5)
	p.scene.BlurPixels = p.width * r.between(0.25, 0.4)
	if n := p.yarn.Plies; n > 1 {
		repeat := p.yarn.Pitch().Millimetres() * p.scene.PixelsPerMillimetre
		if p.scheme == "solid" || p.scheme == "heather" {
			repeat /= float64(n)
		}
		p.scene.BlurPixels = min(100, max(p.scene.BlurPixels, r.between(0.5, 0.7)*repeat))
	}
}

// darken leaves a few steps of grey above the noise.
func (r chance) darken(p *picture) {
	p.scene.ExposureShare, p.scene.GrainShare = r.near(0.002, 0.4, 0.0006, 0.004), r.between(0.01, 0.025)
}

func (r chance) clear(p *picture) { p.kind = "none" }

func (r chance) rod(p *picture) {
	p.yarn = Yarn{Plies: 1, Direction: yarn.S, StrandDiameter: p.yarn.StrandDiameter, Finish: Polished, Dyes: []color.NRGBA{r.wool()}, Seed: p.yarn.Seed}
	p.scheme = "solid"
	p.resize(r.between(40, 180), r.between(1, 6))
}

func (r chance) tiny(p *picture) { p.resize(r.between(4, 11.5), r.between(0.3, 2)) }

func (r chance) enlarge(p *picture) {
	p.resize(r.between(28, 70), r.between(0.5, 2))
	p.enlarged = p.width / r.between(3.5, 6)
}

func (r chance) felt(p *picture) {
	p.yarn.Plies, p.yarn.Loop, p.yarn.Finish, p.yarn.Angle, p.yarn.Hairiness = 1, false, Felted, 0, r.between(0.6, 1)
	p.scene.Abreast = 1
	p.resize(r.between(40, 180), r.between(2, 6))
}

func (r chance) rope(p *picture) {
	p.yarn.Plies, p.yarn.Loop, p.yarn.Angle = 5+r.IntN(3), false, r.degrees(18, 38)
	r.pack(&p.yarn, 0.95, 1)
	p.resize(r.between(60, 150), r.between(2, 8))
}

func (r chance) braid(p *picture) {
	p.yarn.Plies, p.yarn.Loop, p.yarn.Braid, p.yarn.Angle = 3, false, true, r.degrees(25, 42)
	p.scene.Abreast = 1
	p.resize(r.between(50, 200), r.between(2, 8))
}

// photograph draws the picture, before it is saved.
func (p picture) photograph() (*image.RGBA, error) {
	scene := p.scene
	if p.enlarged > 0 {
		scene.Size = image.Pt(int(float64(scene.Size.X)/p.enlarged), int(float64(scene.Size.Y)/p.enlarged))
		scene.PixelsPerMillimetre /= p.enlarged
		scene.BlurPixels, scene.AsidePixels, scene.ShakePixels, scene.Ruler = 0.7, 0, 0, false
	}
	if p.why == "none" {
		return bare(scene, p.yarn.Seed)
	}
	m, err := Photograph(p.yarn, scene)
	if err != nil || p.enlarged == 0 {
		return m, err
	}
	large := image.NewRGBA(image.Rectangle{Max: p.scene.Size})
	xdraw.CatmullRom.Scale(large, large.Rect, m, m.Rect, draw.Src, nil)
	return large, nil
}

// bare pictures a scene with no yarn on it.
func bare(scene Scene, seed uint64) (*image.RGBA, error) {
	scene = scene.usual()
	if err := scene.check(); err != nil {
		return nil, err
	}
	p, err := layTable(scene, seed)
	if err != nil {
		return nil, err
	}
	return p.take(scene, seed), nil
}
