package yarn

import (
	"math"

	"waketwist/unit"
)

// flat is tan b of a ply without turns: small enough not to be seen, large
// enough to divide by.
const flat = 1e-9

// steepest is the largest tan b of the shortest strand that is looked at; ropes
// of two strands hold most turns at tan b = 1.22, of seven at 1.0.
const steepest = 2.5

// system is a ply of given strands with given lengths: all that is left to move
// is v, tan b of the shortest strand. Lengths are in units of the mean strand
// radius, torsional stiffness in units of the mean.
type system struct {
	ring
	strands   []Strand
	unit      float64 // metres in a unit of length
	mean      float64 // mean torsional stiffness
	even      bool    // all strands have the same length
	share     [MaxStrands]float64
	bend, c   [MaxStrands]float64 // B and C
	tau, half [MaxStrands]float64 // living twist, and strand radius
}

func newSystem(strands []Strand, feed Feed) (*system, error) {
	if err := checkStrands(strands); err != nil {
		return nil, err
	}
	if feed.Slips {
		if err := feed.checkSlip(strands); err != nil {
			return nil, err
		}
	}
	share, err := feed.shares(len(strands))
	if err != nil {
		return nil, err
	}
	s := &system{strands: strands}
	s.n = len(strands)
	for _, one := range strands {
		s.unit += one.Diameter.Metres() / 2 / float64(s.n)
		s.mean += float64(one.Torsion) / float64(s.n)
	}
	for i, one := range strands {
		s.half[i] = one.Diameter.Metres() / 2 / s.unit
		s.c[i] = float64(one.Torsion) / s.mean
		s.bend[i] = s.c[i] * float64(one.Stiffness)
		s.tau[i] = float64(one.Living) / s.half[i]
		for j := range i {
			s.touch[i][j] = s.half[i] + s.half[j]
			s.touch[j][i] = s.touch[i][j]
		}
	}
	s.feed(share)
	return s, nil
}

// feed sets the lengths of the strands relative to the shortest.
func (s *system) feed(share [MaxStrands]float64) {
	s.share, s.even = share, true
	for _, q := range share[:s.n] {
		s.even = s.even && q == 1
	}
}

// moved is the ply at one v: where its strands lie and how its energy W and its
// turns per length of strand move.
type moved struct {
	place
	y      [MaxStrands]float64
	along  float64 // d omega / dv
	force  float64 // dW / dv
	turned float64 // d (omega / sqrt(1 + v^2)) / dv, turns per length of the shortest strand
	press  float64 // dW / d omega at fixed angles; above zero the strands would rather stand apart
}

func (s *system) at(v float64) moved {
	var m moved
	for i := range s.n {
		m.y[i] = v
		if q := s.share[i]; q > 1 {
			m.y[i] = math.Sqrt(q*q*(1+v*v) - 1)
		}
	}
	m.place = s.tightest(&m.y)
	for i := range s.n {
		q := s.share[i]
		dy := q * q * v / m.y[i]
		m.along += m.slope[i] * dy
		tilt, tighten := s.forces(i, m.y[i], m.omega)
		m.force += q * tilt * dy
		m.press += q * tighten
	}
	m.force += m.press * m.along
	m.turned = (m.along - m.omega*v/(1+v*v)) / math.Sqrt(1+v*v)
	return m
}

// energy returns what strand i holds per length, at y and omega.
func (s *system) energy(i int, y, omega float64) float64 {
	curve, twist := omega*y/(1+y*y), s.tau[i]-omega/(1+y*y)
	return s.bend[i]/2*curve*curve + s.c[i]/2*twist*twist
}

// forces returns how the energy of strand i grows with y and with omega.
func (s *system) forces(i int, y, omega float64) (tilt, tighten float64) {
	sec2 := 1 + y*y
	bent, twisted := s.bend[i]*omega*y/sec2, s.c[i]*(s.tau[i]-omega/sec2)
	tilt = (bent*omega*(1-y*y) + twisted*2*omega*y) / (sec2 * sec2)
	return tilt, (bent*y - twisted) / sec2
}

// rest returns the v of least energy with the lengths kept: the first at which
// the energy stops falling as the ply turns in. ok is false where it falls until
// no further turn fits.
func (s *system) rest() (v float64, ok bool) {
	force := func(v float64) float64 { return s.at(v).force }
	if force(flat) >= -1e-12 {
		return flat, true
	}
	lo := flat
	for _, hi := range s.steps() {
		m := s.at(hi)
		if m.force >= 0 {
			v = root(force, lo, hi, 1e-14)
			return v, s.at(v).turned > 0
		}
		lo = hi
	}
	return lo, false
}

// steps are the v between which rest looks. Equal lengths have one place of
// rest, below Limit unless the strands are very unlike; strands of unequal
// length can have two, the first where the shortest is still almost straight.
func (s *system) steps() []float64 {
	if s.even {
		return []float64{unit.Angle(Limit(s.n)).Tan(), 1.2, 1.5, 2, steepest}
	}
	return []float64{1e-4, 1e-3, 0.01, 0.03, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 1, 1.2, 1.5, 2, steepest}
}

// zeroTwist returns the v at which the strands hold most turns for their length
// (Olsen and Bohr, see ZeroTwist).
func (s *system) zeroTwist() float64 {
	turned := func(v float64) float64 { return s.at(v).turned }
	switch {
	case turned(steepest) >= 0:
		return steepest
	case turned(flat) <= 0:
		return flat
	}
	return root(turned, flat, steepest, 1e-12)
}

// torque returns the turning moment of the ply in units of C per length.
func (m moved) torque() float64 { return 0 - m.force/m.turned }

func (s *system) turns(omega float64) float64 { return omega / s.unit / (2 * math.Pi) }

// gives returns the share of a further turn of ply that comes out of the
// strands, weighted by length and stiffness.
func (s *system) gives(m moved, v float64) float64 {
	var out, all float64
	for i := range s.n {
		q := s.share[i]
		y, dy := m.y[i], q*q*v/m.y[i]
		slope := 1/(1+y*y) - 2*m.omega*y*dy/m.along/((1+y*y)*(1+y*y))
		out += q * s.c[i] * slope
		all += q * s.c[i]
	}
	return out / all
}

// ply writes the state at v out.
func (s *system) ply(v float64) Ply {
	m := s.at(v)
	h := 1e-5 * (1 + v)
	from, to := s.at(max(v-h, h/2)), s.at(v+h)
	lost := (from.torque() - to.torque()) / (to.omega - from.omega)
	p := Ply{
		Turns:     PlyTwist(s.turns(m.omega)),
		State:     Plied,
		Torque:    Torque(m.torque() * s.mean / s.unit),
		Stiffness: TorsionalStiffness(lost * s.mean),
		Strands:   make([]PliedStrand, s.n),
	}
	switch {
	case v == flat && s.even:
		p.State, p.Turns = Unplied, 0
	case s.gives(m, v) < 0.01:
		p.State = Locked
	}
	for i, one := range s.strands {
		radius := m.y[i] / m.omega
		p.Envelope = max(p.Envelope, unit.Length(2*(radius+s.half[i])*s.unit))
		p.Strands[i] = PliedStrand{
			Strand:      one,
			HelixRadius: unit.Length(radius * s.unit),
			Angle:       CentreAngle(math.Atan(m.y[i])),
			Share:       LengthShare(math.Sqrt(1 + m.y[i]*m.y[i])),
			LivingLeft:  Living((s.tau[i] - m.omega/(1+m.y[i]*m.y[i])) * s.half[i]),
			Loose:       !m.held[i] || m.press > 0 && s.share[i] > 1,
		}
	}
	return p
}
