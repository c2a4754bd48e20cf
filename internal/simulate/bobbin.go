package simulate

import (
	"math"
	"time"

	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// layers is the number of layers in which a bobbin's turns are laid down.
const layers = 40

// Bobbin is singles of known twist.
type Bobbin struct {
	Fibre
	Curve   rest.Curve
	Singles yarn.SurfaceAngle // of the whole bobbin: its mean log turns

	s     *Spinner
	drift [layers]float64 // of log turns, in the order in which it comes off
	local map[float64]float64
}

// NewBobbin spins a bobbin of a fibre.
func (s *Spinner) NewBobbin(f Fibre) *Bobbin {
	b := &Bobbin{Fibre: f, s: s, local: map[float64]float64{}}
	b.Curve = rest.Curve{
		Log10Hours: f.time + 0.2*s.z(), Power: min(s.power, 5),
		Most: rest.Share(1 / (1 + math.Exp(-f.most))), PerPercentRH: s.perRH,
	}
	shift := 0.978 * (0.7*s.singles + 0.714*s.z())
	b.Singles = yarn.SurfaceAngle(60 * float64(unit.Degree) / (1 + math.Exp(-shift)))
	b.lay()
	return b
}

// lay lets the turns drift along the bobbin, half of the variance, around their
// mean: an Ornstein-Uhlenbeck walk with a reach of half the bobbin.
func (b *Bobbin) lay() {
	sd := b.s.PlaceCV * math.Sqrt(0.5)
	keep := math.Exp(-1 / (0.5 * layers))
	v, mean := sd*b.s.rng.NormFloat64(), 0.0
	for i := range b.drift {
		b.drift[i] = v
		mean += v / layers
		v = keep*v + sd*math.Sqrt(1-keep*keep)*b.s.rng.NormFloat64()
	}
	for i := range b.drift {
		b.drift[i] -= mean
	}
}

// turns is the living twist at a depth with nothing asleep.
func (b *Bobbin) turns(depth float64) float64 {
	local, ok := b.local[depth]
	if !ok {
		local = b.s.PlaceCV * math.Sqrt(0.5) * b.s.rng.NormFloat64()
		b.local[depth] = local
	}
	i := min(int(depth*layers), layers-1)
	return math.Tan(float64(b.Singles)) * math.Exp(b.drift[i]+local)
}

// Dormant is the dormant share after a rest in the spinner's room.
func (b *Bobbin) Dormant(age time.Duration) rest.Share { return b.Curve.Dormant(age, b.s.Humidity) }

// Dry is the centre angle of a ply-back clipped at a depth after a rest.
func (b *Bobbin) Dry(depth float64, age time.Duration) yarn.CentreAngle {
	return yarn.Balanced(2, b.Stiffness, yarn.Living(b.turns(depth)*(1-float64(b.Dormant(age)))))
}

// Rewet is the centre angle of a soaked ply-back clipped at a depth.
func (b *Bobbin) Rewet(depth float64) yarn.CentreAngle {
	return yarn.Balanced(2, b.Stiffness, yarn.Living(b.turns(depth)*(1-b.s.Residue)))
}

// Target is the centre angle of a re-wet ply of n strands of the whole bobbin.
func (b *Bobbin) Target(n int) yarn.CentreAngle {
	return yarn.Balanced(n, b.Stiffness, yarn.Living(math.Tan(float64(b.Singles))*(1-b.s.Residue)))
}

// Dried is a damp ply's angle once it has dried.
func (s *Spinner) Dried(b yarn.CentreAngle) yarn.CentreAngle { return scaled(b, s.Damp) }

func scaled(b yarn.CentreAngle, tan float64) yarn.CentreAngle {
	return yarn.CentreAngle(math.Atan(math.Tan(float64(b)) * tan))
}

// Shows is the angle that a ply of n strands shows on a line to this eye.
func (s *Spinner) Shows(b yarn.CentreAngle, n int, line yarn.Line) unit.Angle {
	if line == yarn.StrandCentre {
		return unit.Angle(b)
	}
	median, sigma := yarn.BorderRatio(n)
	return unit.Angle(scaled(b, median*math.Exp(sigma*s.BorderSD)))
}

// Read is one reading of what a ply shows; ok is false where nobody would have
// read an angle there.
func (s *Spinner) Read(b yarn.CentreAngle, n int, line yarn.Line) (a unit.Angle, ok bool) {
	sd := s.EyeSD
	if line == yarn.StrandCentre {
		sd = s.PhotographSD
	}
	a = s.Shows(b, n, line) + sd*unit.Angle(s.rng.NormFloat64())
	if s.rng.Float64() < s.Wrong {
		a = unit.Angle(5+65*s.rng.Float64()) * unit.Degree
	}
	return a, a >= 2*unit.Degree && a < 74*unit.Degree
}
