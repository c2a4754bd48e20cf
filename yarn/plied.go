package yarn

import (
	"fmt"
	"math"

	"waketwist/unit"
)

// PlyState says how a ply holds together.
type PlyState int

// The states of a ply.
const (
	// Plied strands wind round each other.
	Plied PlyState = iota + 1
	// Unplied strands lie side by side: nothing in them turns them about each
	// other.
	Unplied
	// Locked strands lie so steep that a further turn of ply takes less than a
	// hundredth of a turn out of them, or puts twist in. For two equal strands
	// that is from 44.4 deg.
	Locked
)

var stateNames = [...]string{"", "plied", "unplied", "locked"}

// String returns the state in a word.
func (s PlyState) String() string {
	if s < 0 || int(s) >= len(stateNames) {
		return fmt.Sprintf("PlyState(%d)", int(s))
	}
	return stateNames[s]
}

// LengthShare is metres of strand in one metre of ply, 1 or more, of strand as
// it lies there: Fed tells what it measured before it untwisted.
type LengthShare float64

// PliedStrand is a strand in its ply.
type PliedStrand struct {
	Strand
	HelixRadius unit.Length // of its centre line about the ply's axis
	Angle       CentreAngle
	Share       LengthShare
	// LivingLeft is the living twist it still holds; below zero where the ply
	// has turned it past its own rest.
	LivingLeft Living
	// Loose is true of a strand that has more length than it can take up in
	// contact and stands clear of the others in loops; its radius is then that
	// which its length needs.
	Loose bool
}

// Ply is a ply of strands that need not be alike.
type Ply struct {
	Turns    PlyTwist
	Strands  []PliedStrand
	Envelope unit.Length // diameter of the least cylinder about the axis that holds all strands
	State    PlyState
	// Torque is that with which the ply, free to shorten, would turn itself:
	// above zero further with the ply, below zero back in the direction of the
	// singles. It is zero at balance, save where a strand is Loose.
	Torque Torque
	// Stiffness is the torque lost per radian that is turned into each metre of
	// ply, with the strands' lengths kept and the ply free to shorten. It jumps
	// where a strand comes loose.
	Stiffness TorsionalStiffness
}

// BalanceOf returns the ply in which strands, in their order round the axis,
// come to rest: the least of the sum over the strands of length times
//
//	B/2 (sin^2 b/R)^2 + C/2 (tau - sin b cos b/R)^2
//
// over the turns U of the ply, with tan b = 2 pi U R and all strands as close
// as they touch. Strands that slip also find the split of length, by least
// energy gained per length of strand. Equal strands rest at Balanced; unequal
// twist in strands alike in all else rests at Balanced of the mean twist. Own
// derivation after Thompson, van der Heijden and Neukirch, Proc. R. Soc. A 458
// (2002) 959, from memory.
//
// Strands of equal length without living twist, or whose twist runs with the
// ply, stay Unplied. A strand fed longer than the others can hold is marked Loose;
// the figures are then those of the closest ply, and Torque is that with which
// it would open. It refuses strands and lengths out of range, and strands so
// unlike that they find no rest.
func BalanceOf(strands []Strand, feed Feed) (Ply, error) {
	s, err := newSystem(strands, feed)
	if err != nil {
		return Ply{}, err
	}
	v, err := s.settle(feed)
	if err != nil {
		return Ply{}, err
	}
	return s.ply(v), nil
}

// settle returns the v at which the strands rest. Those that slip take their
// lengths on.
func (s *system) settle(feed Feed) (v float64, err error) {
	v, ok := s.rest()
	if ok && feed.Slips && v > flat {
		v, ok = s.slip(v)
	}
	if !ok {
		return 0, fmt.Errorf("these strands find no rest in a ply: give other lengths, or strands less unlike")
	}
	return v, nil
}

// Forced returns the ply of the strands at the given turns, 0 or more, whatever
// it would rest at, and the torque that is left. Strands that slip keep the
// split of length with which they would rest. It refuses turns that the strands
// cannot hold: more than their length allows, or too few to take up a strand
// that is longer than the others.
func Forced(strands []Strand, feed Feed, turns PlyTwist) (Ply, error) {
	s, err := newSystem(strands, feed)
	if err != nil {
		return Ply{}, err
	}
	if !(turns >= 0) {
		return Ply{}, fmt.Errorf("a ply of %g turns per metre: give 0 or more, in the direction of the ply", float64(turns))
	}
	if feed.Slips {
		if _, err := s.settle(feed); err != nil {
			return Ply{}, err
		}
	}
	omega := 2 * math.Pi * float64(turns) * s.unit
	lo, hi := s.at(flat).omega, s.zeroTwist()
	if most := s.at(hi).omega; omega >= most {
		return Ply{}, fmt.Errorf("these strands hold less than %.0f turns per metre of ply, not %.0f", s.turns(most), float64(turns))
	}
	if omega < lo && !s.even {
		return Ply{}, fmt.Errorf("%.0f turns per metre are too few to take up the longest strand, which needs %.0f: feed it less", float64(turns), s.turns(lo))
	}
	v := root(func(v float64) float64 { return s.at(v).omega - omega }, flat, hi, 1e-15)
	return s.ply(v), nil
}

// FedStrand is what plying makes of one strand's spun twist and length.
type FedStrand struct {
	Left StrandTwist // turns left in each metre of strand; below zero in the direction of the ply
	// TakeUp is metres of ply per metre of strand fed.
	TakeUp float64
}

// Fed returns what plying, with the ends held, makes of strands spun with the
// given turns, dormant or not: Turns cos^2 b are taken from each, and the strand
// lengthens as it untwists (see TakeUp). Turns below zero ran in the direction of
// the ply and grow. There must be one finite figure per strand.
func (p Ply) Fed(spun []StrandTwist) ([]FedStrand, error) {
	if len(spun) != len(p.Strands) {
		return nil, fmt.Errorf("there are %d strands but %d counts of turns: give one per strand", len(p.Strands), len(spun))
	}
	out := make([]FedStrand, len(spun))
	for i, s := range p.Strands {
		if !(math.Abs(float64(spun[i])) <= mostTurns) {
			return nil, fmt.Errorf("strand %d has %g turns per metre: give a count up to %g", i+1, float64(spun[i]), float64(mostTurns))
		}
		left := TwistLeft(spun[i], p.Turns, s.Angle)
		before, after := SurfaceAngleOf(spun[i], s.Diameter), SurfaceAngleOf(left, s.Diameter)
		out[i] = FedStrand{Left: left, TakeUp: TakeUp(s.Angle, before, after)}
	}
	return out, nil
}

// mostTurns per metre is far above what any yarn holds.
const mostTurns = 1e6
