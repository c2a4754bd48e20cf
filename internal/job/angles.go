package job

import (
	"regexp"
	"strings"

	"waketwist/unit"
)

// MaxAngles is how many angles ParseAngles takes from one text: far more than
// anyone reads off one sample.
const MaxAngles = 100

var (
	unitGap    = regexp.MustCompile(`(?i)(\d)\s+(°|deg\b|degrees?\b|rad\b)`)
	looseComma = regexp.MustCompile(`,\s`)
	tightComma = regexp.MustCompile(`,\S`)
)

// ParseAngles reads several angles from one text: "20,21,19", "20 21 19",
// "38°; 39°". Commas separate, unless semicolons or spaces do: then a comma
// between digits is a decimal comma, as in "20,5; 21" and "20,5 21". A comma
// with a space behind it always separates, and a text that has commas with and
// without one is refused, since it can be read both ways.
//
// Single angles are those of unit.ParseAngle. The error is a *unit.ParseError.
func ParseAngles(text string) ([]unit.Angle, error) {
	parts, err := splitAngles(text)
	if err != nil {
		return nil, err
	}
	angles := make([]unit.Angle, len(parts))
	for i, p := range parts {
		if angles[i], err = unit.ParseAngle(p); err != nil {
			return nil, err
		}
	}
	return angles, nil
}

func splitAngles(text string) ([]string, error) {
	joined := unitGap.ReplaceAllString(strings.Trim(text, ", \t\n"), "$1$2")
	var parts []string
	switch loose := looseComma.MatchString(joined); {
	case strings.Contains(joined, ";"):
		parts = trimmed(strings.Split(joined, ";"))
	case loose && tightComma.MatchString(joined):
		return nil, refuseAngles(text, "its commas can be decimal commas or stand between angles", "put semicolons between the angles, as in 20,5; 21")
	case loose:
		parts = strings.FieldsFunc(joined, func(r rune) bool { return r == ',' || r == ' ' || r == '\t' || r == '\n' })
	case len(strings.Fields(joined)) > 1:
		parts = strings.Fields(joined)
	default:
		parts = trimmed(strings.Split(joined, ","))
	}
	switch {
	case len(parts) == 0:
		return nil, refuseAngles(text, "it holds no number", "write the angles in degrees, as in 38, 39, 38")
	case len(parts) > MaxAngles:
		return nil, refuseAngles(text, "it holds more than 100 angles", "three to ten readings of a sample are enough")
	}
	return parts, nil
}

// trimmed drops the empty parts that a separator at an end or a doubled one
// leaves.
func trimmed(parts []string) (out []string) {
	for _, p := range parts {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, p)
		}
	}
	return out
}

func refuseAngles(text, problem, advice string) error {
	return &unit.ParseError{Kind: unit.KindAngle, Text: text, Problem: problem, Advice: advice}
}
