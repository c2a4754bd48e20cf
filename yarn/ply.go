package yarn

import (
	"math"

	"waketwist/unit"
)

// Turns returns the turns per metre of ply of n strands (2 to 7) of diameter d
// whose centre lines run at angle b: U = tan b / (2 pi R).
func Turns(n int, b CentreAngle, d unit.Length) PlyTwist {
	radius := ContactRadius(n, b) * d.Metres() / 2
	return PlyTwist(unit.Angle(b).Tan() / (2 * math.Pi * radius))
}

// AngleOf is the inverse of Turns up to Limit(n): the helix angle of a ply with
// the given turns. ok is false when no ply of these strands can hold them
// without going past the limit; the limit is returned then.
func AngleOf(n int, turns PlyTwist, d unit.Length) (b CentreAngle, ok bool) {
	lo, hi := 0.0, float64(Limit(n))
	if Turns(n, CentreAngle(hi), d) < turns {
		return CentreAngle(hi), false
	}
	for hi-lo > 1e-12 {
		mid := (lo + hi) / 2
		if Turns(n, CentreAngle(mid), d) < turns {
			lo = mid
		} else {
			hi = mid
		}
	}
	return CentreAngle((lo + hi) / 2), true
}

// PlyRatios are the turns of a ply against the turns u per metre of the singles
// it was made from, each per its own length.
type PlyRatios struct {
	PerPlyLength    float64 // U/u, U turns per metre of ply
	PerStrandLength float64 // the same turns per metre of strand fed
	TwistLeft       float64 // share of u left in each strand
}

// Ratios returns the turns of a ply of n strands at helix angle b, plied against
// singles whose surface angle is a. With the ends held, plying takes U cos^2 b
// turns out of each metre of strand (J. Text. Mach. Soc. Japan 14 (1968) 115).
func Ratios(n int, b CentreAngle, a SurfaceAngle) PlyRatios {
	sin, cos := math.Sincos(float64(b))
	ratio := sin / cos / (ContactRadius(n, b) * float64(a.Living()))
	return PlyRatios{
		PerPlyLength:    ratio,
		PerStrandLength: ratio * cos,
		TwistLeft:       1 - ratio*cos*cos,
	}
}

// TwistLeft returns the turns left in each metre of strand after plying at
// angle b with the ends held. Below zero they run in the direction of the ply:
// turns u below zero did so when they were spun, and grow.
func TwistLeft(u StrandTwist, turns PlyTwist, b CentreAngle) StrandTwist {
	cos := math.Cos(float64(b))
	return u - StrandTwist(float64(turns)*cos*cos)
}

// TakeUp returns metres of ply per metre of strand fed: the strands lie at
// angle b, and lengthen as plying takes twist out of them. Their surface angle
// was a before plying and is left after it.
func TakeUp(b CentreAngle, a, left SurfaceAngle) float64 {
	return math.Cos(float64(b)) * a.Contraction() / left.Contraction()
}
