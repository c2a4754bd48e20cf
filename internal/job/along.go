package job

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"waketwist/reading"
)

// ParseLine reads a line along a yarn: its points, each by its place across and down
// in pixels, with commas, semicolons or blanks between the numbers. Nothing is no
// line. The error says what to give, without a full stop.
func ParseLine(text string) ([]reading.Point, error) {
	parts := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(",; \t\r\n", r) })
	if len(parts) == 0 {
		return nil, nil
	}
	var line []reading.Point
	for i, p := range parts {
		v, err := strconv.ParseFloat(p, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, notALine(text)
		}
		if i%2 == 0 {
			line = append(line, reading.Point{X: v})
		} else {
			line[len(line)-1].Y = v
		}
	}
	if len(parts) < 4 || len(parts)%2 != 0 {
		return nil, notALine(text)
	}
	return line, nil
}

func notALine(text string) error {
	const shown = 60
	if r := []rune(text); len(r) > shown {
		text = string(r[:shown]) + "…"
	}
	return fmt.Errorf("“%s” is not a line; give two points or more along the middle of the yarn, each by its place across and down in pixels, as in 120,300, 400,260, 720,310", text)
}
