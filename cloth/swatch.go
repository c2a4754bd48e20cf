package cloth

import (
	"math"

	"waketwist/estimate"
	"waketwist/unit"
)

// Swatch is a washed piece of the fabric that is wanted, knitted or woven.
type Swatch struct {
	Width, Length unit.Length
	Mass          unit.Mass
}

// Yarn returns the mass and the length of yarn, of density t, that a finished
// fabric of so much width and length takes. It refuses with an *Error what is
// not above zero.
func (s Swatch) Yarn(width, length unit.Length, t unit.LinearDensity) (unit.Mass, unit.Length, error) {
	for _, part := range []struct {
		what string
		v    float64
	}{
		{"The width of the swatch", float64(s.Width)}, {"The length of the swatch", float64(s.Length)}, {"The mass of the swatch", float64(s.Mass)},
		{"The width of the fabric", float64(width)}, {"The length of the fabric", float64(length)}, {"The yarn", float64(t)},
	} {
		if err := positive(part.what, part.v); err != nil {
			return 0, 0, err
		}
	}
	if err := s.Check(); err != nil {
		return 0, 0, err
	}
	m := s.Mass * unit.Mass(width*length/(s.Width*s.Length))
	return m, t.LengthOf(m), nil
}

// Bounds of what a fabric weighs, from the thinnest lace to a felted rug: well
// beyond what is usual. Assumed.
const (
	lightest MassPerArea = 10
	heaviest MassPerArea = 5000
)

// MassPerArea returns what the fabric weighs for its size, whose sides must be
// above zero.
func (s Swatch) MassPerArea() MassPerArea {
	return MassPerArea(s.Mass.Grams() / (s.Width.Metres() * s.Length.Metres()))
}

// Check refuses with an *Error a mass for the size that no fabric has: units were
// mixed up.
func (s Swatch) Check() error {
	if m := s.MassPerArea(); !(m >= lightest && m <= heaviest) {
		return refuse("Check the units of its mass and of its sides; 100 to 600 g/m² (3 to 18 oz/yd²) are usual.", "A swatch of %s by %s that weighs %s would be a fabric of %s.", s.Width, s.Length, s.Mass, m)
	}
	return nil
}

// tapeOff is the standard deviation of a side as a tape measures it: an assumption.
const tapeOff = 2 * unit.Millimetre

// Spread returns by which factor the yarn of a fabric may come out higher or
// lower, nine times in ten, as far as the swatch tells it: from the tape along both
// sides, and from a scale that shows so large a step. It is 1 at the least.
func (s Swatch) Spread(step unit.Mass) float64 {
	scale := float64(step/s.Mass) / math.Sqrt(12)
	return math.Exp(estimate.Reach * math.Hypot(scale, math.Hypot(float64(tapeOff/s.Width), float64(tapeOff/s.Length))))
}

// Within is a value that may be off by a factor either way, nine times in ten,
// above zero.
func Within[T ~float64](v T, factor float64) estimate.Estimate[T] {
	low, high := v/T(factor), v*T(factor)
	return estimate.Estimate[T]{Value: v, SD: (high - low) / (2 * estimate.Reach), Low: low, High: high, N: 1, Flags: estimate.Flags{estimate.Modelled}}
}
