package yarn

import (
	"fmt"
	"math"
)

// Strand returns the ply as one strand of a cable, approximately:
//
//   - it is round, solid and as thick as its Envelope;
//   - it twists like a rod of torsional stiffness C = Stiffness, and its living
//     twist is that which gives this rod the ply's Torque, so that a balanced ply
//     has none and an over-plied one works against its own direction. The torque
//     at the start is exact, how it falls as the cable forms is linear;
//   - it bends like its strands would as coil springs beside each other that
//     slide freely, each with 2 cos b/((1 + cos^2 b)/B + sin^2 b/C) (bending of a
//     helix averaged over a turn, own derivation).
//
// It refuses a ply that does not hold together as a rod: one with a loose
// strand, or so steep that it has no stiffness left.
func (p Ply) Strand() (Strand, error) {
	if !(p.Stiffness > 0) || p.Envelope <= 0 {
		return Strand{}, fmt.Errorf("this ply has no stiffness against turning left: ply it at a flatter angle before cabling it")
	}
	var bending float64
	for i, s := range p.Strands {
		if s.Loose {
			return Strand{}, fmt.Errorf("strand %d of a ply stands off in loops: feed it less before cabling the ply", i+1)
		}
		bending += s.springBending()
	}
	tau := -float64(p.Torque) / float64(p.Stiffness)
	return Strand{
		Diameter:  p.Envelope,
		Living:    Living(tau * p.Envelope.Metres() / 2),
		Stiffness: Stiffness(bending / float64(p.Stiffness)),
		Torsion:   p.Stiffness,
	}, nil
}

// springBending returns the bending stiffness of the strand per length of ply.
func (s PliedStrand) springBending() float64 {
	if s.Stiffness == 0 {
		return 0
	}
	c := float64(s.Torsion)
	sin, cos := math.Sincos(float64(s.Angle))
	return 2 * cos / ((1+cos*cos)/(float64(s.Stiffness)*c) + sin*sin/c)
}

// Cabled returns the cable in which plies, laid together against the direction
// of their own turns, come to rest: BalanceOf of Strand of each. Turns and
// angles are those of the cable; the living twist left in its strands is that of
// the plies against their own balance. Balanced plies stay Unplied: to be
// cabled, plies must be over-plied first (see Forced).
func Cabled(plies []Ply, feed Feed) (Ply, error) {
	strands := make([]Strand, len(plies))
	for i, p := range plies {
		var err error
		if strands[i], err = p.Strand(); err != nil {
			return Ply{}, fmt.Errorf("ply %d: %w", i+1, err)
		}
	}
	return BalanceOf(strands, feed)
}
