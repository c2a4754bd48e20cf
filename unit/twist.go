package unit

import "math"

var twistRate = rate{
	kind: KindTwist,
	short: map[string]symbol{
		"tpi":  {size: float64(TurnPerInch)},
		"tpm":  {size: float64(TurnPerMetre)},
		"tpcm": {size: 100 * float64(TurnPerMetre)},
	},
	nouns: "t turn turns twist twists",
}

var twistScale = scale{
	kind: KindTwist, read: twistRate.read,
	lo: 0.001, hi: 20000, limits: "0.001 to 20000 turns/m, or 0", zero: true,
}

// ParseTwist reads a twist such as 9 tpi, 350 tpm, 350 t/m, 3.5 turns/cm or
// 12 turns per 4 in. Twists from 0.001 to 20,000 turns/m are accepted, and so
// is zero, an untwisted strand. Negative twist is refused: ISO 2 gives the direction as
// S or Z beside the amount. The error is a *ParseError.
func ParseTwist(text string) (Twist, error) {
	v, err := twistScale.parse(text)
	return Twist(v), err
}

// PerCentimetre returns u in turns per centimetre.
func (u Twist) PerCentimetre() float64 { return float64(u) / 100 }

// Metric returns u in turns per metre, to three significant figures:
// "315 turns/m".
func (u Twist) Metric() string { return figures(u.PerMetre(), 3) + " turns/m" }

// InchPound returns u in turns per inch, to a tenth: "8.0 tpi".
func (u Twist) InchPound() string { return tenth(u.PerInch()) + " tpi" }

// String returns u in both systems: "315 turns/m (8.0 tpi)".
func (u Twist) String() string { return bothSystems(u.Metric(), u.InchPound()) }

// TwistFactor is twist times the square root of linear density, in turns per
// metre times the square root of tex. Yarns of one factor, fibre and density
// have the same surface angle, whatever their thickness; the trade calls it
// twist multiplier, multiple or alpha according to the count system.
type TwistFactor float64

// TwistFactorOf returns the factor of a yarn of density t twisted to u.
func TwistFactorOf(u Twist, t LinearDensity) TwistFactor {
	return TwistFactor(float64(u) * math.Sqrt(float64(t)))
}

// TwistMultiplier returns k in turns per inch over the square root of the cotton
// count.
func (k TwistFactor) TwistMultiplier() float64 { return k.Twist(FromCottonCount(1)).PerInch() }

// AlphaMetric returns k in turns per metre over the square root of the metric
// count.
func (k TwistFactor) AlphaMetric() float64 { return k.Twist(FromNm(1)).PerMetre() }

// PerCentimetreRootTex returns k in turns per centimetre times the square root
// of tex.
func (k TwistFactor) PerCentimetreRootTex() float64 { return float64(k) / 100 }

// Twist returns the twist that gives a yarn of density t, above zero, the
// factor k.
func (k TwistFactor) Twist(t LinearDensity) Twist {
	return Twist(float64(k) / math.Sqrt(float64(t)))
}
