package drawing

import (
	"image/color"
	"math"
)

// paint is linear light, multiplied by its cover (alpha).
type paint struct{ r, g, b, a float32 }

// over lays p on top of q.
func (p paint) over(q paint) paint {
	k := 1 - p.a
	return paint{p.r + k*q.r, p.g + k*q.g, p.b + k*q.b, p.a + k*q.a}
}

// scaled thins p out to the share f.
func (p paint) scaled(f float64) paint {
	k := float32(f)
	return paint{k * p.r, k * p.g, k * p.b, k * p.a}
}

// linear turns a colour into light. The exponent 2 is near enough to the
// display's curve for a drawing, and quick to undo.
func linear(c color.NRGBA) paint {
	ch := func(v uint8) float32 { f := float32(v) / 255; return f * f }
	return paint{ch(c.R), ch(c.G), ch(c.B), 1}
}

// light is where the light stands and how the picture answers to it.
type light struct {
	from    vec     // unit vector towards the light, for Z twist
	ambient float64 // share of light from all round
	rim     float64 // brightness of the fuzz seen edge-on
}

// shader turns samples into paint.
type shader struct {
	strip *strip
	light light
	half  vec // between the light and the viewer
	steps []toLight
	outer float64
	dyes  *dyeing
	skin  skin
}

// skin is what a finish does to the surface.
type skin struct {
	bump, mottle float64 // strength of fibre relief and of lighter and darker fibres
	wrap         float64 // how far light creeps round into the shade
	rim          float64 // share of the rim light
	gloss        float64 // strength of highlights
}

var skins = map[Finish]skin{
	Dry:      {bump: 0.9, mottle: 0.22, wrap: 0.28, rim: 1},
	Wet:      {bump: 0.5, mottle: 0.09, wrap: 0.05, rim: 0.1, gloss: 1},
	Washed:   {bump: 0.45, mottle: 0.10, wrap: 0.5, rim: 1.7},
	Felted:   {bump: 0.7, mottle: 0.16, wrap: 0.6, rim: 1.7},
	Polished: {wrap: 0.05, rim: 0.1, gloss: 0.7},
}

func newShader(s *strip, l light) *shader {
	h := &shader{strip: s, light: l, skin: skins[s.yarn.Finish]}
	h.half = l.from.add(vec{y: 1}, 1).unit()
	h.steps = stepsToLight(l.from, s.radius)
	h.outer = s.radius * (1 + s.yarn.centreRatio())
	h.dyes = newDyeing(s)
	return h
}

// paintAll shades every sample of the strip.
func (h *shader) paintAll() []paint {
	s := h.strip
	out := make([]paint, len(s.cells))
	inParallel(len(s.stations), func(from, to int) {
		for i := from; i < to; i++ {
			for j := range s.height {
				if s.cells[i*s.height+j].strand != 0 {
					out[i*s.height+j] = h.paint(i, j)
				}
			}
		}
	})
	return out
}

func (h *shader) paint(column, row int) paint {
	s := h.strip
	c := &s.cells[column*s.height+row]
	t := s.texelAt(c)
	n := h.normal(c, t)
	x := float64(row) - float64(s.height)/2 + 0.5
	open := h.openness(x, float64(c.depth), s.stations[column].radius/s.radius)
	lit := 1.22 * max(0, (n.dot(h.light.from)+h.skin.wrap)/(1+h.skin.wrap)) * h.unshaded(column, row)
	edge := 1 - max(0, n.y)
	body := (h.light.ambient*open + (1-h.light.ambient)*lit*(0.4+0.6*open)) * (1 + h.skin.mottle*float64(t.tone)*0.8)
	fuzz := h.light.rim * h.skin.rim * edge * edge * edge * open
	body += fuzz
	// A trace of light that no dye takes away keeps black wool off a dark page.
	shine := h.shine(n)*(0.4+0.6*open)*lit + 0.06*fuzz + 0.02*h.light.rim*lit*open
	return glaze(h.dyes.at(int(c.strand)-1, float64(c.theta), float64(c.along)), max(0, body), shine)
}

// glaze is the dye under the given light, with white shine on top.
func glaze(dye paint, body, shine float64) paint {
	b, w := float32(body), float32(shine)
	return paint{min(1, dye.r*b+w), min(1, dye.g*b+w), min(1, dye.b*b+w), 1}
}

// normal tilts the surface by the relief of the fibres, across their run.
func (h *shader) normal(c *sample, t *texel) vec {
	n := vec{z: float64(c.nz), x: float64(c.nx)}
	n.y = math.Sqrt(max(0, 1-n.z*n.z-n.x*n.x))
	sin, cos := math.Sincos(float64(surfaceLean(h.strip.yarn)))
	tilt := h.skin.bump * float64(t.across) * 2.2 * n.y
	return n.add(vec{z: -sin, x: cos}, tilt).unit()
}

// openness is how much of the surroundings a point sees: little deep between
// the strands, all on the crests.
func (h *shader) openness(x, y, scale float64) float64 {
	if h.strip.yarn.Plies == 1 {
		return 1
	}
	depth := math.Sqrt(x*x+y*y) / (h.outer * scale)
	t := min(1, max(0, (depth-0.25)/0.6))
	return 0.12 + 0.88*t*t*(3-2*t)
}

// toLight is a step from a surface towards the light: samples along and across
// the strip, and the height gained.
type toLight struct {
	columns, rows int
	up            float64
}

// stepsToLight goes about one strand radius, which is as far as the next strand.
func stepsToLight(from vec, radius float64) []toLight {
	steps := make([]toLight, 5)
	flat := math.Hypot(from.z, from.x)
	for i := range steps {
		d := 0.22 * float64(i+1) * radius / flat
		steps[i] = toLight{int(d * from.z), int(d * from.x), d * from.y}
	}
	return steps
}

// unshaded follows the ray to the light across the strip and returns the share
// of light that the strands in between let through.
func (h *shader) unshaded(column, row int) float64 {
	s := h.strip
	if s.yarn.Plies == 1 {
		return 1
	}
	here := float64(s.cells[column*s.height+row].depth)
	hidden := 0.0
	for _, step := range h.steps {
		col, r := column+step.columns, row+step.rows
		if col < 0 || col >= len(s.stations) || r < 0 || r >= s.height {
			break
		}
		if c := &s.cells[col*s.height+r]; c.strand != 0 {
			hidden = max(hidden, float64(c.depth)-here-step.up)
		}
	}
	return 1 - 0.75*min(1, hidden/(0.3*s.radius))
}

// shine is the highlight of a water film.
func (h *shader) shine(n vec) float64 {
	if h.skin.gloss == 0 {
		return 0
	}
	c := max(0, n.dot(h.half))
	c8 := c * c * c * c * c * c * c * c
	c32 := c8 * c8 * c8 * c8
	return h.skin.gloss * (0.07*c8 + 0.62*c32*c32)
}
