package yarn

import (
	"fmt"
	"math"
)

// RelativeTorque is the torque of a whole ply of equal strands, in units of C/d
// with C the torsional stiffness and d the diameter of one strand: above zero
// the ply would turn further with the ply, below zero back with the singles.
// Dimensionless.
type RelativeTorque float64

// RelativeTorsion is the torsional stiffness of a whole ply in units of that of
// one of its strands. Dimensionless.
type RelativeTorsion float64

// Torque returns M = C tau, that with which the strand alone untwists: above zero
// against the ply.
func (s Strand) Torque() Torque {
	return Torque(float64(s.Torsion) * float64(s.Living) / (s.Diameter.Metres() / 2))
}

// Turning returns the direction in which the torque of a ply of direction ply
// turns it: with the ply above zero, the other way below, none at zero.
func (m Torque) Turning(ply Direction) Direction {
	switch {
	case m > 0:
		return ply
	case m < 0:
		return ply.Opposite()
	}
	return NoDirection
}

// ResidualTorque returns the torque left in a ply of n strands (2 to 7) with
// living twist t each that is held at helix angle b, free to shorten:
//
//	M = -n (dE/db) / d(sin b/R)/db
//
// with E the energy per length of strand (see Balanced) and sin b/R the turn of
// the ply per length of strand. It is zero at Balanced. It refuses angles from
// ZeroTwist on, which no turning reaches, and values that are no number; it
// panics when n is out of range.
func ResidualTorque(n int, k Stiffness, t Living, b CentreAngle) (RelativeTorque, error) {
	if !(b >= 0) || b >= ZeroTwist(n) {
		return 0, fmt.Errorf("a ply of %d strands cannot be turned to %.1f degrees: it holds most turns at %.1f", n, b.Degrees(), ZeroTwist(n).Degrees())
	}
	if !(k >= 0 && k <= mostStiffness) || !(math.Abs(float64(t)) <= mostLiving) {
		return 0, fmt.Errorf("no torque follows from a stiffness ratio of %g and a living twist of %g: give 0 to 1000 and -10 to 10", float64(k), float64(t))
	}
	return RelativeTorque(torqueAt(n, float64(k), float64(t), float64(b))), nil
}

func torqueAt(n int, k, t, b float64) float64 {
	r, dr := contact(n, b)
	sin, cos := math.Sincos(b)
	// Strands have radius 1 here, so that C/d is 1/2.
	return 0 - 2*float64(n)*moment(n, k, t, b)*r/(cos-sin*dr/r)
}

// TurningStiffness returns the torque that a ply at Balanced loses per radian
// turned into each metre of it, in units of C: a ply of no twist is as stiff as
// its n strands, and grows stiffer as they bend. In units of C/d, a ply turned
// from U* to U turns per metre is left with -TurningStiffness 2 pi (U - U*) d.
// It panics as Balanced does.
func TurningStiffness(n int, k Stiffness, t Living) RelativeTorsion {
	const h = 1e-5
	b := max(float64(Balanced(n, k, t)), h)
	turned := func(b float64) float64 {
		r, _ := contact(n, b)
		return math.Tan(b) / r
	}
	lost := torqueAt(n, float64(k), float64(t), b-h) - torqueAt(n, float64(k), float64(t), b+h)
	return RelativeTorsion(lost / 2 / (turned(b+h) - turned(b-h)))
}
