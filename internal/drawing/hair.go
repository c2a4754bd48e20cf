package drawing

import (
	"math"
	"math/rand/v2"
)

// coat is one kind of hair that a finish leaves on the yarn. Lengths are in
// outer diameters, angles in radians.
type coat struct {
	density float64 // hairs per outer diameter of yarn, at hairiness 1
	length  float64
	lean    float64 // how steeply a hair leaves the yarn, standard deviation
	lift    float64 // how fast it turns away from the yarn, per outer diameter
	wave    float64 // how fast it turns at random, per outer diameter
	cover   float64 // how solid it is drawn
	inset   float64 // how far inside the edge it may start, share of the half width
}

// coats lists, for each finish, short fuzz first and stray hair after it.
var coats = map[Finish][]coat{
	Dry: {
		{density: 150, length: 0.11, lean: 0.5, lift: 3, wave: 4, cover: 0.3, inset: 0.12},
		{density: 14, length: 0.6, lean: 0.25, lift: 0.7, wave: 2.2, cover: 0.55, inset: 0.6},
	},
	Wet: {
		{density: 9, length: 0.6, lean: 0.08, wave: 0.5, cover: 0.5, inset: 0.7},
	},
	Felted: {
		{density: 700, length: 0.16, lean: 1, lift: 2, wave: 8, cover: 0.3, inset: 0.3},
		{density: 500, length: 0.22, lean: 1, lift: 0, wave: 9, cover: 0.3, inset: 1},
		{density: 20, length: 0.5, lean: 0.6, lift: 1, wave: 5, cover: 0.5, inset: 0.6},
	},
	Washed: {
		{density: 420, length: 0.2, lean: 0.8, lift: 2, wave: 6, cover: 0.32, inset: 0.25},
		{density: 110, length: 0.32, lean: 0.7, lift: 1, wave: 6, cover: 0.28, inset: 0.95},
		{density: 24, length: 0.65, lean: 0.4, lift: 1, wave: 4.5, cover: 0.6, inset: 0.6},
	},
}

// combing draws hair on a painted strip.
type combing struct {
	strip *strip
	paint []paint
	dyes  *dyeing
	outer float64 // diameter, samples
	rng   *rand.Rand
}

func addHair(s *strip, dyes *dyeing, on []paint) {
	h := &combing{
		strip: s, paint: on, dyes: dyes,
		outer: 2 * s.radius * (1 + s.yarn.centreRatio()),
		rng:   rand.New(rand.NewPCG(s.yarn.Seed, 3)),
	}
	for _, c := range coats[s.yarn.Finish] {
		n := int(c.density * s.yarn.Hairiness * float64(len(s.stations)) / h.outer)
		for range n {
			h.hair(c)
		}
	}
}

// hair draws one hair from a random root.
func (h *combing) hair(c coat) {
	side, way := h.flip(), h.flip()
	column := h.rng.IntN(len(h.strip.stations))
	row, root, face := h.root(column, side, c.inset)
	if root == nil {
		return
	}
	colour := h.colour(root)
	length := h.outer * c.length * math.Exp(0.4*h.rng.NormFloat64())
	step := max(0.5, length/200)
	z, x := float64(column), row
	// A hair starts along the surface fibres, as they are seen at its root.
	heading := way*side*face*float64(surfaceLean(h.strip.yarn)) + math.Abs(c.lean*h.rng.NormFloat64())
	bend := 0.0
	for at := 0.0; at < length; at += step {
		// The bend forgets itself within a third of a diameter, so that a hair
		// waves and does not roll up.
		bend += 3*step/h.outer*(c.lift-bend) + c.wave*h.rng.NormFloat64()*math.Sqrt(6*step/h.outer)
		heading += bend * step / h.outer
		z += way * step * math.Cos(heading)
		x += side * step * math.Sin(heading)
		h.dab(z, x, colour, c.cover*step*1.5*(1-0.8*at/length))
	}
}

func (h *combing) flip() float64 {
	return float64(2*h.rng.IntN(2) - 1)
}

// root finds where a hair leaves the yarn near one of its edges: in which
// sample, nil where there is no yarn, and how far the surface there faces the
// viewer.
func (h *combing) root(column int, side, inset float64) (row float64, root *sample, face float64) {
	cells := h.strip.cells[column*h.strip.height:][:h.strip.height]
	from, step := 0, 1
	if side > 0 {
		from, step = len(cells)-1, -1
	}
	for from >= 0 && from < len(cells) && cells[from].strand == 0 {
		from += step
	}
	if from < 0 || from >= len(cells) {
		return 0, nil, 0
	}
	mid := float64(len(cells))/2 - 0.5
	out := 1 - inset*h.rng.Float64()
	row = mid + (float64(from)-mid)*out
	if root = &cells[int(row)]; root.strand == 0 {
		return 0, nil, 0
	}
	return row, root, math.Sqrt(1 - out*out)
}

// colour of a hair is about its strand's: deep enough to show on a light page,
// with a little light shining through so that it shows on a dark one.
func (h *combing) colour(root *sample) paint {
	f, through := float32(0.6+0.35*h.rng.Float64()), float32(0.035)
	if h.strip.yarn.Finish == Wet {
		f, through = 0.5, 0
	}
	c := h.dyes.at(int(root.strand)-1, float64(root.theta), float64(root.along))
	return paint{f*c.r + through, f*c.g + through, f*c.b + through, 1}
}

// dab lays a soft dot of one sample's size.
func (h *combing) dab(z, x float64, colour paint, cover float64) {
	i, j := int(math.Floor(z)), int(math.Floor(x))
	fz, fx := z-float64(i), x-float64(j)
	h.touch(i, j, colour, cover*(1-fz)*(1-fx))
	h.touch(i+1, j, colour, cover*fz*(1-fx))
	h.touch(i, j+1, colour, cover*(1-fz)*fx)
	h.touch(i+1, j+1, colour, cover*fz*fx)
}

func (h *combing) touch(column, row int, colour paint, cover float64) {
	if column < 0 || row < 0 || column >= len(h.strip.stations) || row >= h.strip.height {
		return
	}
	p := &h.paint[column*h.strip.height+row]
	*p = colour.scaled(min(1, cover)).over(*p)
}
