package cloth

import "waketwist/unit"

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
	m := s.Mass * unit.Mass(width*length/(s.Width*s.Length))
	return m, t.LengthOf(m), nil
}
