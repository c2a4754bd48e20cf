package reading

import (
	"image"
	"testing"

	"waketwist/unit"
)

// Two yarns that lie against each other are told by a cleft that runs all along them.
// Dips that lie elsewhere from place to place, between streaks of fibres or strands, are
// none.
func TestCleftsRunAllAlong(t *testing.T) {
	pair := drawing(240, 800, drawn{n: 2, degrees: 25, diameter: 60, x: 90}, drawn{n: 2, degrees: 25, diameter: 60, x: 150})
	for _, c := range []struct {
		name     string
		picture  *image.YCbCr
		x, width float64
		want     bool
	}{
		{"two yarns", pair, 120, 120, true},
		{"streaked fibres", heather(8*unit.Degree, 14*unit.Degree, 1), 100, 80, false},
		{"three strands", drawing(200, 800, drawn{n: 3, degrees: 12, diameter: 80, x: 100}), 100, 80, false},
	} {
		src, cut := straightCut(c.picture, c.x, c.width)
		if got := cut.hasClefts(src, 2); got != c.want {
			t.Errorf("%s: two yarns seen %v, want %v", c.name, got, c.want)
		}
	}
}
