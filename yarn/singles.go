package yarn

import (
	"math"

	"waketwist/unit"
)

// StrandTwist is turns per metre of strand, in its state when it was spun.
type StrandTwist unit.Twist

// PlyTwist is turns per metre of ply.
type PlyTwist unit.Twist

// WoolDensity is the density of the wool fibre at 65 % relative humidity in
// g/cm3 (Morton and Hearle, Physical Properties of Textile Fibres, table 5.1).
const WoolDensity = 1.31

// SurfaceAngleOf returns the angle of the surface fibres of singles of diameter
// d with u turns per metre: tan a = pi d u.
func SurfaceAngleOf(u StrandTwist, d unit.Length) SurfaceAngle {
	return SurfaceAngle(unit.Atan(math.Pi * d.Metres() * float64(u)))
}

// Twist returns the turns of singles of diameter d whose surface fibres lie at
// angle a. The diameter must be positive.
func (a SurfaceAngle) Twist(d unit.Length) StrandTwist {
	return StrandTwist(unit.Angle(a).Tan() / (math.Pi * d.Metres()))
}

// Diameter returns the diameter of a strand of linear density t in which fibres
// of density rho (g/cm3) fill the share packing (0 to 1) of the cross-section:
// d = sqrt(4 t / (pi packing rho)). Packing is about 0.5-0.6 worsted-spun and
// 0.3-0.4 woollen-spun (Hearle, Grosberg and Backer, from memory), never a
// constant.
func Diameter(t unit.LinearDensity, packing, rho float64) unit.Length {
	// tex is 1e-6 kg/m and g/cm3 is 1000 kg/m3.
	return unit.Length(math.Sqrt(4 * t.Tex() * 1e-9 / (math.Pi * packing * rho)))
}

// Contraction returns untwisted length / twisted length of singles whose
// surface fibres lie at angle a: (1 + sec a)/2 (Treloar; Hearle, Grosberg and
// Backer, from memory).
func (a SurfaceAngle) Contraction() float64 {
	return (1 + 1/math.Cos(float64(a))) / 2
}

// Retraction returns the share of the untwisted length that twisting takes up:
// tan^2(a/2) = 1 - 1/Contraction.
func (a SurfaceAngle) Retraction() float64 {
	t := math.Tan(float64(a) / 2)
	return t * t
}
