package yarn

import (
	"fmt"

	"waketwist/unit"
)

// Tension is a pull along a yarn in newtons.
type Tension float64

// standardGravity is in m/s2 (ISO 80000-3).
const standardGravity = 9.80665

// Newtons returns t in newtons.
func (t Tension) Newtons() float64 { return float64(t) }

// Mass returns the mass whose weight pulls with t.
func (t Tension) Mass() unit.Mass {
	return unit.Mass(float64(t) / standardGravity * 1000)
}

// SnarlTensionRatio returns the tension below which a rested strand snarls over
// that of the same strand fresh from the wheel, (1 - f)^2 with f the dormant
// share of its twist, 0 to 1: its torque has fallen to 1 - f, and a straight
// strand of bending stiffness B with torque M snarls below M^2/(4B) (Greenhill
// 1883, from memory: bending with wave number q needs B q^2 - M q + T = 0, which
// has no solution above it). How many newtons that is hangs on stiffnesses that
// are hardly ever known; the ratio needs neither.
func SnarlTensionRatio(dormantShare float64) (float64, error) {
	if !(dormantShare >= 0 && dormantShare <= 1) {
		return 0, fmt.Errorf("a dormant share of %g: it lies between 0 and 1", dormantShare)
	}
	return (1 - dormantShare) * (1 - dormantShare), nil
}

// Pretension returns the tension, with its least and most, under which length
// and twist of a yarn of linear density t are measured: 0.5 cN/tex, give or take
// 0.1 (ISO 2061:2010, 10.1.2). Yarn that stretches by 0.5 % or more under it
// wants less, one that stretches it by 0.1 % at most (10.2.2.1).
func Pretension(t unit.LinearDensity) (least, middle, most Tension) {
	const perTex = 0.01
	return Tension(0.4 * perTex * t.Tex()), Tension(0.5 * perTex * t.Tex()), Tension(0.6 * perTex * t.Tex())
}
