package drawing

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"slices"

	"waketwist/unit"
	"waketwist/yarn"
)

// chance draws the numbers of whole photographs at random, within what can lie on
// a spinner's table.
type chance struct{ *rand.Rand }

// between is as likely anywhere from lo to hi.
func (r chance) between(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// near has the given median and spreads by a factor of e^sd either way, held
// within lo and hi.
func (r chance) near(median, sd, lo, hi float64) float64 {
	return min(hi, max(lo, median*math.Exp(sd*r.NormFloat64())))
}

// about is normal about 0, held within most either way.
func (r chance) about(sd, most float64) float64 {
	return min(most, max(-most, sd*r.NormFloat64()))
}

// among picks an index by the weights.
func (r chance) among(weights ...float64) int {
	var sum float64
	for _, w := range weights {
		sum += w
	}
	at := sum * r.Float64()
	for i, w := range weights {
		if at -= w; at < 0 {
			return i
		}
	}
	return len(weights) - 1
}

func (r chance) degrees(lo, hi float64) unit.Angle {
	return unit.Angle(r.between(lo, hi)) * unit.Degree
}

// wools are colours of yarn.
var wools = []color.NRGBA{
	{0xee, 0xea, 0xe0, 0xff}, {0xdd, 0xcb, 0xa8, 0xff}, {0xa8, 0xa2, 0x9a, 0xff}, {0x66, 0x62, 0x60, 0xff}, {0x2e, 0x2a, 0x28, 0xff},
	{0x6e, 0x4a, 0x32, 0xff}, {0x9c, 0x74, 0x4e, 0xff}, {0xa8, 0x2c, 0x2a, 0xff}, {0xd0, 0x78, 0x2a, 0xff}, {0xd6, 0xae, 0x3a, 0xff},
	{0x4e, 0x7a, 0x3c, 0xff}, {0x2a, 0x5c, 0x50, 0xff}, {0x3c, 0x6a, 0xa4, 0xff}, {0x26, 0x34, 0x66, 0xff}, {0x7c, 0x4a, 0x8a, 0xff}, {0xd2, 0x8c, 0x96, 0xff},
}

// wool is a colour of yarn, a little off the ones above.
func (r chance) wool() color.NRGBA { return r.shifted(wools[r.IntN(len(wools))], 12) }

func (r chance) shifted(c color.NRGBA, most float64) color.NRGBA {
	ch := func(v uint8) uint8 { return uint8(min(250, max(12, float64(v)+r.between(-most, most)))) }
	return color.NRGBA{ch(c.R), ch(c.G), ch(c.B), 0xff}
}

func scaledColour(c color.NRGBA, f float64) color.NRGBA {
	ch := func(v uint8) uint8 { return uint8(min(250, f*float64(v))) }
	return color.NRGBA{ch(c.R), ch(c.G), ch(c.B), 0xff}
}

// unlike is a colour of yarn that the eye tells from another at once.
func (r chance) unlike(c color.NRGBA) color.NRGBA {
	for {
		if d := r.wool(); distance(c, d) > 70 {
			return d
		}
	}
}

// distance is how far two colours lie apart, in steps of 255.
func distance(a, b color.NRGBA) float64 {
	d := func(p, q uint8) float64 { return float64(p) - float64(q) }
	return math.Sqrt(d(a.R, b.R)*d(a.R, b.R)+d(a.G, b.G)*d(a.G, b.G)+d(a.B, b.B)*d(a.B, b.B)) / math.Sqrt(3)
}

// twisted is a yarn as spinners make it, undyed.
func (r chance) twisted() Yarn {
	y := Yarn{
		Plies: 1 + r.among(0.2, 0.55, 0.17, 0.08), Direction: yarn.S, Angle: r.degrees(8, 47.5),
		StrandDiameter: 1 * unit.Millimetre, FibreLean: r.degrees(-6, 16), Finish: []Finish{Dry, Washed, Wet}[r.among(0.68, 0.22, 0.1)],
		Hairiness: r.between(0.05, 0.8), UnevennessCV: r.near(0.07, 0.6, 0.01, 0.2), Seed: r.Uint64N(1 << 40),
	}
	if r.IntN(9) < 4 {
		y.Direction = yarn.Z
	}
	if y.Plies > 2 { // more strands lock sooner
		y.Angle = min(y.Angle, r.degrees(36, 43))
	}
	r.pack(&y, 0.88, 1)
	return y
}

// pack presses the strands together, to a share of the radius at which they touch.
func (r chance) pack(y *Yarn, lo, hi float64) {
	if y.Plies > 1 {
		y.CentreRadiusRatio = r.between(lo, hi) * yarn.ContactRadius(y.Plies, yarn.CentreAngle(y.Angle))
	}
}

// dye colours the yarn and says in what scheme.
func (r chance) dye(y *Yarn) string {
	first := r.wool()
	y.Dyes = []color.NRGBA{first}
	switch r.among(0.57, 0.2, 0.17, 0.06) {
	case 1:
		if y.Plies == 1 {
			break
		}
		y.Dyes = []color.NRGBA{first, r.unlike(first)}
		for len(y.Dyes) < y.Plies && r.IntN(2) == 0 {
			y.Dyes = append(y.Dyes, r.wool())
		}
		if y.Plies > 2 && len(y.Dyes) == 2 {
			y.Dyes = slices.Insert(y.Dyes, 0, first)
		}
		return "marl"
	case 2:
		y.Blend = []color.NRGBA{r.unlike(first)}
		if r.IntN(2) == 0 {
			y.Blend = append(y.Blend, r.wool())
		}
		return "heather"
	case 3:
		y.Changes = []color.NRGBA{first, r.unlike(first), r.wool()}
		return "variegated"
	}
	return "solid"
}

// grounds are what a spinner's yarn lies on, with how often.
var grounds = []struct {
	name   string
	ground Ground
	tint   color.NRGBA
	weight float64
}{
	{"paper", Paper, groundColours[Paper], 0.16},
	{"tint", Paper, color.NRGBA{0xc8, 0xcc, 0xb4, 255}, 0.05},
	{"tint", Paper, color.NRGBA{0xe0, 0xbc, 0xb8, 255}, 0.05},
	{"grey", Card, color.NRGBA{0x78, 0x7a, 0x7c, 255}, 0.12},
	{"dark", Card, groundColours[Card], 0.1},
	{"weave", Linen, groundColours[Linen], 0.14},
	{"wood", Wood, groundColours[Wood], 0.07},
	{"wood", Wood, color.NRGBA{0x74, 0x4e, 0x34, 255}, 0.04},
	{"skin", Skin, groundColours[Skin], 0.1},
	{"skin", Skin, color.NRGBA{0x8a, 0x5c, 0x46, 255}, 0.03},
	{"fineweave", Cotton, groundColours[Cotton], 0.08},
	{"darkcloth", Twill, groundColours[Twill], 0.07},
}

// layOn chooses the ground and returns its name.
func (r chance) layOn(s *Scene) string {
	var weights []float64
	for _, g := range grounds {
		weights = append(weights, g.weight)
	}
	g := grounds[r.among(weights...)]
	// Lighter or darker by far, of another hue by little.
	s.Ground, s.Tint = g.ground, r.shifted(g.tint, 5)
	s.Tint = scaledColour(s.Tint, r.near(1, 0.12, 0.75, 1.25))
	return g.name
}

// lightUp chooses the light and returns its name.
func (r chance) lightUp(s *Scene) string {
	s.Light = r.degrees(0, 360)
	s.ExposureShare = r.near(0.92, 0.15, 0.65, 1.25)
	switch r.among(0.46, 0.34, 0.2) {
	case 0:
		s.LightHeight, s.AmbientShare, s.WarmthShare = r.degrees(32, 62), r.between(0.4, 0.6), r.about(0.05, 0.12)
		s.ShadowShare, s.ShadowEdge = r.between(0.12, 0.35), r.between(0.3, 0.7)
		return "day"
	case 1:
		s.LightHeight, s.AmbientShare, s.WarmthShare = r.degrees(50, 75), r.between(0.6, 0.8), r.about(0.05, 0.12)
		s.ShadowShare, s.ShadowEdge = r.between(0, 0.12), r.between(0.7, 1.3)
		return "soft"
	}
	s.LightHeight, s.AmbientShare, s.WarmthShare = r.degrees(28, 52), r.between(0.25, 0.4), r.between(0.05, 0.28)
	s.ShadowShare, s.ShadowEdge = r.between(0.3, 0.6), r.between(0.06, 0.25)
	return "lamp"
}

// frame is the size of the picture, 0.7 to 2.4 million pixels.
func (r chance) frame() image.Point {
	long := r.between(1200, 1700)
	short := long / []float64{1, 4. / 3, 1.5, 16. / 9, 2}[r.among(0.12, 0.34, 0.2, 0.22, 0.12)]
	if r.IntN(5) < 2 {
		long, short = short, long
	}
	return image.Pt(int(long), int(short))
}
