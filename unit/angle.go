package unit

// angleUnits holds the written forms of the units of angle.
var angleUnits = map[string]Angle{
	"°": Degree, "deg": Degree, "degs": Degree, "degree": Degree, "degrees": Degree,
	"rad": Radian, "rads": Radian, "radian": Radian, "radians": Radian,
}

var angleScale = scale{
	kind: KindAngle, read: readAngle,
	lo: 0, hi: float64(90 * Degree), limits: "0° to 90°",
}

// ParseAngle reads a lean from the yarn's axis such as 38, 38°, 38 deg or
// 0.66 rad. A bare number is in degrees. Angles from 0 to 90 degrees are
// accepted; the direction is said by S or Z, never by a sign. The error is a
// *ParseError.
func ParseAngle(text string) (Angle, error) {
	v, err := angleScale.parse(text)
	return Angle(v), err
}

func readAngle(toks []token) (float64, *fault) {
	a, rest, f := takeAmount(toks)
	if f != nil {
		return 0, f
	}
	size := Degree
	if len(rest) > 0 {
		known := false
		if size, known = angleUnits[spell(rest)]; !known {
			return 0, unknownUnit(KindAngle, spell(rest))
		}
	}
	v, f := a.value(false)
	return v * float64(size), f
}

// String returns a in degrees to a tenth: "38.5°".
func (a Angle) String() string { return fixed(a.Degrees(), 1) + "°" }

// Radians returns a in radians.
func (a Angle) Radians() float64 { return float64(a) }
