package reading

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestLinesThatCannotBeMeant(t *testing.T) {
	for _, c := range []struct {
		line []Point
		says string
	}{
		{points(10, 10, 200, 30), ""},
		{points(10, 10, 200, 30, 390, 10), ""},
		{points(10, 10, 10, 10, 200, 30), ""}, // pressed twice
		{nil, "one point"},
		{points(10, 10), "one point"},
		{points(10, 10, 15, 15), "7 pixels long"},
		{points(10, 10, 500, 15), "point 2 of the line lies outside the picture, which is 400 pixels"},
		{points(-1, 10, 50, 15), "point 1"},
		{points(10, math.NaN(), 50, 15), "outside"},
		{points(10, 10, 300, 10, 300, 200, 100, 200, 100, 2), "crosses itself"},
		{points(10, 10, 300, 10, 50, 12), "doubles back"},
		{points(10, 10, 300, 10, 300, 200, 200, 10), "crosses itself"}, // touches
		{make([]Point, 101), "at most 100"},
	} {
		switch err := CheckLine(c.line, 400, 300); {
		case c.says == "" && err != nil:
			t.Errorf("%v is refused: %v", c.line, err)
		case c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)):
			t.Errorf("%v: %v, want %q", c.line, err, c.says)
		}
	}
}

// The curve passes through every point of the line, and is not much longer.
func TestCurvePassesThroughItsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.Float64Range(0, 800)
		line := []Point{{number.Draw(t, "x"), number.Draw(t, "y")}}
		for range rapid.IntRange(1, 5).Draw(t, "more") {
			line = append(line, Point{number.Draw(t, "x"), number.Draw(t, "y")})
		}
		if CheckLine(line, 800, 800) != nil {
			return
		}
		a := curveAlong(line)
		straight := 0.0
		for i, p := range line {
			if d := a.distance(p.X, p.Y); d > 2 {
				t.Errorf("the curve passes %v at %.1f pixels", p, d)
			}
			if i > 0 {
				straight += math.Hypot(p.X-line[i-1].X, p.Y-line[i-1].Y)
			}
		}
		if long := a.length(); long < straight-2*float64(len(line)) || long > 1.5*straight+2 {
			t.Errorf("%v: the curve is %.0f pixels long, the line %.0f", line, long, straight)
		}
	})
}
