package reading

import (
	"math"
	"testing"
)

// A line that goes to and fro winds; a straight one and a bend do not.
func TestWinding(t *testing.T) {
	const width = 30.0
	for _, c := range []struct {
		name string
		dir  func(along float64) float64 // radians, at so many widths
		want float64                     // radians a width
	}{
		{"straight", func(float64) float64 { return 0.7 }, 0},
		{"a bend", func(z float64) float64 { return 0.1 * z }, 0},
		{"to and fro, 0.2 a width", func(z float64) float64 { return math.Sin(math.Pi * z / 10) }, 0.2},
	} {
		a := &axis{step: 1}
		x, y := 0.0, 0.0
		for i := range 1200 {
			a.x, a.y = append(a.x, x), append(a.y, y)
			d := c.dir(float64(i) / width)
			x, y = x+math.Cos(d), y+math.Sin(d)
		}
		if got := a.winding(width); math.Abs(got-c.want) > 0.03 {
			t.Errorf("%s: %.3f, want %.3f", c.name, got, c.want)
		}
	}
}
