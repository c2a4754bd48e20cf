package yarn

import "fmt"

// Direction is the direction of twist (ISO 2): held upright, the strands or
// fibres follow the middle stroke of the letter S or Z. Z is a right-hand helix.
type Direction byte

// The two directions, and none where it is not known.
const (
	NoDirection Direction = 0
	S           Direction = 'S'
	Z           Direction = 'Z'
)

// String returns "S", "Z" or nothing.
func (d Direction) String() string {
	if d == NoDirection {
		return ""
	}
	return string(rune(d))
}

// Opposite returns the other direction; none stays none.
func (d Direction) Opposite() Direction {
	switch d {
	case S:
		return Z
	case Z:
		return S
	}
	return NoDirection
}

// ParseDirection reads S or Z, in either case; nothing is NoDirection.
func ParseDirection(letter string) (Direction, error) {
	switch letter {
	case "S", "s":
		return S, nil
	case "Z", "z":
		return Z, nil
	case "":
		return NoDirection, nil
	}
	return NoDirection, fmt.Errorf("twist runs S or Z, not %q: hold the yarn upright and see which letter's middle stroke it follows", letter)
}
