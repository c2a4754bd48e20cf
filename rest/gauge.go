package rest

import (
	"math"
	"time"

	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// gauge measures how far strands are apart, draw by draw.
type gauge struct {
	strands []Strand
	fibre   [][]Blend // by strand and draw
	draws   int
	room    Room
	tan     []float64 // tangent of each strand's surface angle with all its turns living
	turns   bool      // the turns of all strands are known
	look    lookTable
	flags   estimate.Flags
}

func newGauge(p Pairing) *gauge {
	g := &gauge{strands: p.Strands, room: p.Room, draws: 1, flags: estimate.Flags{estimate.Modelled}}
	var prior []Blend
	for _, s := range p.Strands {
		fibre := s.Fibre
		if fibre == nil && prior == nil {
			prior = Pure(PriorCurves(estimate.NewSampler(sizeOf(p.Strands), 1)))
		}
		if fibre == nil {
			fibre = prior
		}
		g.fibre = append(g.fibre, thin(fibre))
		g.draws = max(g.draws, len(g.fibre[len(g.fibre)-1]))
	}
	g.surfaces()
	k := yarn.Stiffness(stiffnessMedian)
	if p.Stiffness != nil {
		k = *p.Stiffness
	}
	var most float64
	for i, s := range p.Strands {
		for _, at := range []Share{0, 0.5, 1} {
			most = max(most, g.tan[i]*s.kept(s.Wound, at))
		}
	}
	// Between these places the turns may be a little more, where rewinding over
	// the end has changed them.
	g.look = newLookTable(k, 1.2*most)
	return g
}

// sizeOf is the number of draws that strands with curves of their own have.
func sizeOf(strands []Strand) int {
	n := 1
	for _, s := range strands {
		n = max(n, len(s.Fibre))
	}
	if n == 1 {
		return meetDraws
	}
	return n
}

// thin takes every so many of more draws than are needed.
func thin(fibre []Blend) []Blend {
	if len(fibre) <= meetDraws {
		return fibre
	}
	out := make([]Blend, meetDraws)
	for i := range out {
		out[i] = fibre[i*len(fibre)/meetDraws]
	}
	return out
}

// surfaces fills in the strands' surface angles: from turns and diameter where
// all strands have both; else around the usual angle of singles, apart as their
// turns are; else alike.
func (g *gauge) surfaces() {
	g.turns = true
	thick, mean := true, 0.0
	for _, s := range g.strands {
		g.turns = g.turns && s.Turns != nil
		thick = thick && s.Diameter != nil
		if s.Turns != nil {
			mean += float64(*s.Turns) / float64(len(g.strands))
		}
	}
	for _, s := range g.strands {
		tan := singlesMean.Tan()
		switch {
		case g.turns && thick:
			tan = math.Tan(float64(yarn.SurfaceAngleOf(*s.Turns, *s.Diameter)))
		case g.turns:
			tan *= float64(*s.Turns) / mean
		}
		g.tan = append(g.tan, tan)
	}
	if !g.turns {
		g.flags = g.flags.With(AlikeSingles)
	}
}

// blend is a strand's fibre in a draw.
func (g *gauge) blend(strand, draw int) Blend {
	if len(g.fibre[strand]) == 1 {
		return g.fibre[strand][0]
	}
	return g.fibre[strand][draw]
}

// span is the least and the most of some values.
type span struct{ least, most float64 }

func newSpan() span { return span{math.Inf(1), math.Inf(-1)} }

func (s *span) add(v float64) { s.least, s.most = min(s.least, v), max(s.most, v) }

func (s span) width() float64 { return s.most - s.least }

// lookGap is the angle between the dry looks of the strands at a spot in a
// draw, when they will have waited.
func (g *gauge) lookGap(at spot, draw int, wait time.Duration) float64 {
	looks := newSpan()
	for i, age := range at.ages {
		f := g.blend(i, draw).after(g.room, age, wait)
		looks.add(g.look.at(g.tan[i] * at.turns[i] * float64(1-f)))
	}
	return looks.width()
}

// station measures a spot as it stands.
func (g *gauge) station(at spot, fed unit.Length) Station {
	s := Station{Along: at.along, Fed: fed * unit.Length(at.along), Ages: at.ages}
	dormant := make([][]Share, len(g.strands))
	gaps := make([]Share, g.draws)
	living := make([]yarn.StrandTwist, g.draws)
	looks := make([]unit.Angle, g.draws)
	for d := range g.draws {
		shares, turns, look := newSpan(), newSpan(), newSpan()
		for i, age := range at.ages {
			f := g.blend(i, d).DormantIn(g.room, age)
			dormant[i] = append(dormant[i], f)
			shares.add(float64(f))
			awake := at.turns[i] * float64(1-f)
			look.add(g.look.at(g.tan[i] * awake))
			if g.turns {
				turns.add(float64(*g.strands[i].Turns) * awake)
			}
		}
		gaps[d], living[d], looks[d] = Share(shares.width()), yarn.StrandTwist(turns.width()), unit.Angle(look.width())
	}
	for _, f := range dormant {
		s.Dormant = append(s.Dormant, modelled(f, g.flags))
	}
	s.Gap = Gap{Dormant: modelled(gaps, g.flags), Look: modelled(looks, g.flags)}
	if g.turns {
		e := modelled(living, g.flags)
		s.Gap.Living = &e
	}
	return s
}

func modelled[T ~float64](draws []T, flags estimate.Flags) estimate.Estimate[T] {
	return settle(estimate.FromDraws(draws), estimate.Rested, 0, flags)
}

// lookTable holds the angles at which two-strand ply-backs balance, at even
// steps of living twist: the balance itself is too slow for every draw.
type lookTable struct {
	step  float64
	angle [513]float64
}

func newLookTable(k yarn.Stiffness, most float64) (l lookTable) {
	l.step = max(most, 1e-3) / float64(len(l.angle)-1)
	for i := range l.angle {
		l.angle[i] = float64(yarn.Balanced(2, k, yarn.Living(float64(i)*l.step)))
	}
	return l
}

// at is the angle for a living twist, in straight lines between the steps.
func (l *lookTable) at(t float64) float64 {
	x := t / l.step
	i := int(min(x, float64(len(l.angle)-2)))
	return l.angle[i] + (min(x, float64(len(l.angle)-1))-float64(i))*(l.angle[i+1]-l.angle[i])
}
