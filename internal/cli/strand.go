package cli

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"waketwist/unit"
	"waketwist/yarn"
)

// spun is one strand as it was spun, before it is plied.
type spun struct {
	diameter  unit.Length
	angle     yarn.SurfaceAngle // with all its twist
	direction yarn.Direction
	asleep    float64 // share of its twist
}

// spunForm is a thickness, an angle, and where they are given a direction and a
// share.
var spunForm = regexp.MustCompile(`^(.+?)\s+([\d.,]+)\s*(?:°|deg|degrees)?(?:\s+([SsZz]))?(?:[\s,]+([\d.,]+)\s*%(?:\s*asleep)?)?$`)

// parseSpun reads “0.8 mm 25”, “18 wpi 25 Z” or “0.8 mm 25 Z 40%”.
func parseSpun(typed string) (s spun, err error) {
	parts := spunForm.FindStringSubmatch(strings.TrimSpace(typed))
	if parts == nil {
		return s, fmt.Errorf("“%s” is no strand; give its thickness and its surface angle, as in “0.8 mm 25” or “18 wpi 25 Z”", typed)
	}
	if s.diameter, err = parseThickness(parts[1]); err != nil {
		return s, err
	}
	angle, err := unit.ParseAngle(parts[2])
	if err != nil {
		return s, err
	}
	if angle > steepestSingles {
		return s, fmt.Errorf("%.4g degrees is no angle that singles show; give one up to 75", angle.Degrees())
	}
	s.angle = yarn.SurfaceAngle(angle)
	if s.direction, err = yarn.ParseDirection(parts[3]); err != nil || parts[4] == "" {
		return s, err
	}
	percent, err := parseNumber("the share asleep", text(parts[4]))
	s.asleep = percent / 100
	if err == nil && !(percent <= 100) {
		err = fmt.Errorf("%v %% of the twist cannot sleep; give 0 to 100", percent)
	}
	return s, err
}

// parseThickness reads a length or wraps. Wraps take some room of their own, so
// that a strand is somewhat thinner than they say.
func parseThickness(typed string) (unit.Length, error) {
	q, err := unit.Parse(typed)
	if err != nil {
		return 0, err
	}
	switch v := q.(type) {
	case unit.Length:
		return v, nil
	case unit.Wraps:
		return v.Pitch(), nil
	}
	return 0, fmt.Errorf("“%s” is no thickness; give a length such as 0.8 mm, or wraps such as 18 wpi", typed)
}

// twist is the strand's turns, dormant or not, against a ply of a direction:
// below zero where they run with it.
func (s spun) twist(ply yarn.Direction) yarn.StrandTwist {
	return yarn.StrandTwist(s.sign(ply)) * s.angle.Twist(s.diameter)
}

// sign is -1 where the strand was spun in the direction of the ply, else 1.
func (s spun) sign(ply yarn.Direction) float64 {
	if s.direction != yarn.NoDirection && s.direction == ply {
		return -1
	}
	return 1
}

// strands are what the mechanics of a ply want of them, with torsion that grows
// as in fibres that slide.
func strandsOf(all []spun, k yarn.Stiffness, ply yarn.Direction) (out []yarn.Strand) {
	for _, s := range all {
		out = append(out, yarn.Strand{
			Diameter:  s.diameter,
			Living:    s.angle.Living() * yarn.Living(s.sign(ply)*(1-s.asleep)),
			Stiffness: k,
			Torsion:   yarn.SlidingFibres.Torsion(s.diameter, all[0].diameter),
		})
	}
	return out
}

// plyDirection is that in which the strands would ply by themselves: against the
// livelier of the two directions; none where none is known.
func plyDirection(all []spun) yarn.Direction {
	var z float64
	known := false
	for i, one := range strandsOf(all, 0, yarn.NoDirection) {
		switch all[i].direction {
		case yarn.Z:
			z, known = z+float64(one.Torque()), true
		case yarn.S:
			z, known = z-float64(one.Torque()), true
		}
	}
	switch {
	case !known:
		return yarn.NoDirection
	case z < 0:
		return yarn.Z
	}
	return yarn.S
}

// directions are those of the strands.
func directions(all []spun) (out []yarn.Direction) {
	for _, s := range all {
		out = append(out, s.direction)
	}
	return out
}

// liveliest is the largest torque with which one of the strands untwists by
// itself.
func liveliest(p yarn.Ply) (most yarn.Torque) {
	for _, s := range p.Strands {
		most = max(most, yarn.Torque(math.Abs(float64(s.Torque()))))
	}
	return most
}
