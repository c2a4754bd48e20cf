// Package simulate spins yarn of known truth, for tests that ask whether what
// is inferred from readings holds it. It shares no code with the inference but
// the geometry of a balanced ply.
package simulate

import (
	"math"
	"math/rand/v2"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Habit is how the spinners of a trial come about.
type Habit struct {
	Wide  float64 // the spread of their parameters, 1 as the priors have it
	Wrong float64 // share of readings that are grossly wrong
}

// Spinner is one hand, eye and room with their true values.
type Spinner struct {
	Habit
	EyeSD, PhotographSD unit.Angle
	PlaceCV             float64 // of turns from place to place
	BorderSD            float64 // of this eye's border ratio from the usual, in standard deviations
	Damp                float64 // W
	Residue             float64 // share that a soak leaves asleep
	Humidity            rest.Humidity

	rng       *rand.Rand
	power     float64
	perRH     float64
	stiffness float64 // of the hand, in standard deviations
	time      float64
	most      float64
	singles   float64
	length    map[finish.Preparation]float64
	diameter  map[finish.Preparation]float64
}

// Fibre is how one fibre in these hands behaves.
type Fibre struct {
	Name      string
	Stiffness yarn.Stiffness
	time      float64 // log10 hours
	most      float64 // logit
}

// New draws a spinner.
func New(seed uint64, h Habit) *Spinner {
	s := &Spinner{Habit: h, rng: rand.New(rand.NewPCG(seed, 77)), length: map[finish.Preparation]float64{}, diameter: map[finish.Preparation]float64{}}
	s.EyeSD = rest.EyeSD * unit.Angle(math.Exp(0.25*s.z()))
	s.PhotographSD = rest.PhotographSD * unit.Angle(math.Exp(0.25*s.z()))
	s.PlaceCV = rest.PlaceCV * math.Exp(0.25*s.z())
	s.BorderSD = s.z()
	damp := finish.WashOf(finish.Unknown).Damp
	s.Damp = s.within(damp)
	s.Residue = 0.1 * s.rng.Float64()
	s.Humidity = rest.Humidity(35 + 35*s.rng.Float64())
	s.power = 0.35 * math.Exp(0.3*s.z())
	for s.perRH = -1; s.perRH < 0; {
		s.perRH = 0.03 + 0.02*s.z()
	}
	s.stiffness, s.time, s.most, s.singles = s.z(), s.z(), s.z(), s.z()
	for p := finish.Unknown; p <= finish.Woollen; p++ {
		s.length[p], s.diameter[p] = s.z(), s.z()
	}
	return s
}

// z is a standard normal number, as wide as the habit has it.
func (s *Spinner) z() float64 { return s.Wide * s.rng.NormFloat64() }

// within draws a factor of which 90 % lies in a range.
func (s *Spinner) within(r finish.Range) float64 { return at(r, s.z()) }

func at(r finish.Range, z float64) float64 {
	return math.Sqrt(r.Low*r.High) * math.Exp(z*math.Log(r.High/r.Low)/(2*estimate.Reach))
}

// NewFibre draws a fibre: part of each spread is the hand's, part the fibre's.
func (s *Spinner) NewFibre(name string) Fibre {
	return Fibre{
		Name:      name,
		Stiffness: yarn.Stiffness(0.7 * math.Exp(1.12*(0.89*s.stiffness+0.45*s.z()))),
		time:      1.68 + 0.9*(0.86*s.time+0.46*s.z()),
		most:      1.1 + 0.87*s.most + 0.49*s.z(),
	}
}

// Wash draws what one skein's wash does: L and D.
func (s *Spinner) Wash(p finish.Preparation) (length, diameter float64) {
	w := finish.WashOf(p)
	return at(w.Length, 0.8*s.length[p]+0.6*s.z()), at(w.Diameter, 0.8*s.diameter[p]+0.6*s.z())
}
