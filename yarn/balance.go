package yarn

import (
	"fmt"
	"math"
	"sync"
)

// Stiffness is k = B/C, bending over torsional stiffness of a strand.
type Stiffness float64

// Living is the twist that still works in a strand, as t = tau d/2 with tau the
// effective twist in radians per metre: the tangent of the surface angle that
// the living turns alone would show. Dimensionless.
type Living float64

// Living returns the twist of singles none of whose turns are dormant.
func (a SurfaceAngle) Living() Living { return Living(math.Tan(float64(a))) }

// Balanced returns the helix angle at which a ply of n strands (2 to 7) with
// living twist t each comes to rest: the minimum over b of
//
//	E(b) = k/2 (sin^2 b/R)^2 + 1/2 (tau - sin b cos b/R)^2
//
// the bending and torsional energy per length of strand, R = R(b, n) the
// contact radius. For two strands it is the root of t = s/(1+s^2) (1 + 2 k
// s^2/(1-s^2)), s = tan b. Twist beyond what the ply can take up leaves it at
// Limit. It panics when n is out of range, t is negative, or k is not positive
// or zero.
func Balanced(n int, k Stiffness, t Living) CentreAngle {
	if !(t >= 0) || !(k >= 0) {
		panic("yarn: balance of negative twist or stiffness")
	}
	return CentreAngle(root(func(b float64) float64 {
		return moment(n, float64(k), float64(t), b)
	}, 0, float64(Limit(n)), 1e-12))
}

// moment returns dE/db.
func moment(n int, k, t, b float64) float64 {
	r, dr := contact(n, b)
	sin, cos := math.Sincos(b)
	curve, twist := sin*sin/r, sin*cos/r
	dCurve := (2*sin*cos - curve*dr) / r
	dTwist := (cos*cos - sin*sin - twist*dr) / r
	return k*curve*dCurve - (t-twist)*dTwist
}

// LivingFor is the inverse of Balanced: the living twist each strand must hold
// for the ply to rest at b. It refuses angles at or beyond Limit, at which no
// ply rests in balance.
func LivingFor(n int, k Stiffness, b CentreAngle) (Living, error) {
	if !(b >= 0) || b >= Limit(n) {
		return 0, fmt.Errorf("a ply of %d strands cannot rest in balance at %.1f degrees: up to %.1f can", n, b.Degrees(), Limit(n).Degrees())
	}
	return Living(livingAt(n, float64(k), float64(b))), nil
}

// livingAt is dE/db = 0 solved for t. For two strands below 45 deg this is the
// closed form above.
func livingAt(n int, k, b float64) float64 {
	if b == 0 {
		return 0
	}
	if n == 2 {
		s2 := math.Tan(b) * math.Tan(b)
		return math.Sqrt(s2) / (1 + s2) * (1 + 2*k*s2/(1-s2))
	}
	r, dr := contact(n, b)
	sin, cos := math.Sincos(b)
	curve, twist := sin*sin/r, sin*cos/r
	dCurve := (2*sin*cos - curve*dr) / r
	dTwist := (cos*cos - sin*sin - twist*dr) / r
	return twist + k*curve*dCurve/dTwist
}

// Limit returns the helix angle at which a ply of n strands takes up the most
// twist, sin b cos b/R: a balanced ply stays under it. 45 deg for two strands.
// Forced plies are seen beyond it.
func Limit(n int) CentreAngle {
	if n < 2 || n > MaxStrands {
		panic("yarn: limit of fewer than 2 or more than 7 strands")
	}
	return limits()[n]
}

var limits = sync.OnceValue(func() (out [MaxStrands + 1]CentreAngle) {
	for n := 2; n <= MaxStrands; n++ {
		out[n] = CentreAngle(root(func(b float64) float64 {
			r, dr := contact(n, b)
			sin, cos := math.Sincos(b)
			return cos*cos - sin*sin - sin*cos/r*dr
		}, 0.1, math.Pi/4, 1e-14))
	}
	return out
})

// ZeroTwist returns the helix angle from the axis at which a ply of n strands
// (2 to 7) holds the most turns for the length of its strands, sin b/R: pulled
// there, a rope turns neither way, and no forced ply goes beyond it. 50.62 deg for
// two strands (Olsen and Bohr, arXiv:1003.5358, who measure from the plane
// across the axis). It panics when n is out of range.
func ZeroTwist(n int) CentreAngle {
	if n < 2 || n > MaxStrands {
		panic("yarn: zero twist of fewer than 2 or more than 7 strands")
	}
	return zeroTwists()[n]
}

var zeroTwists = sync.OnceValue(func() (out [MaxStrands + 1]CentreAngle) {
	for n := 2; n <= MaxStrands; n++ {
		out[n] = CentreAngle(root(func(b float64) float64 {
			r, dr := contact(n, b)
			return math.Cos(b) - math.Sin(b)*dr/r
		}, 0.1, 1.4, 1e-14))
	}
	return out
})
