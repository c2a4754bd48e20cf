package reading

import (
	"image"
	"math"
	"testing"

	"waketwist/unit"
	"waketwist/yarn"
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

// abutted draws two singles of given surface angle that lie against each other.
func abutted(h int, a unit.Angle, contrast, noise float64) *image.YCbCr {
	const wide = 60
	apart := shortSingles(2, h, a, contrast, noise)
	m := drawing(6*wide, h)
	for y := range h {
		for k := range 2 {
			from := apart.YOffset(singlesApart*k+(singlesApart-wide)/2, y)
			copy(m.Y[m.YOffset((2+k)*wide, y):], apart.Y[from:from+wide])
		}
	}
	return m
}

// Singles that lie against each other are read each for itself; one yarn with streaked
// fibres, and a ply, are not taken for them.
func TestSinglesAgainstEachOther(t *testing.T) {
	for _, degrees := range []float64{15, 20, -30} {
		src, cut := straightCut(abutted(600, unit.Angle(degrees)*unit.Degree, 14, 8), 180, 120)
		want := yarn.Z
		if degrees < 0 {
			want = yarn.S
		}
		if r, yarns := cut.singlesAgainst(src, 0); len(yarns) != 2 || r.Direction != want {
			t.Errorf("%.0f deg: %d yarns, %v (%v)", degrees, len(yarns), r.Direction, r.Reason)
		}
		r := Read(src.photo, Options{})
		if r.StrandsInView != 2 || r.Direction != want || math.Abs(r.Angle.Value.Degrees()-math.Abs(degrees)) > 3 {
			t.Errorf("%.0f deg: %d yarns, %v, %.1f deg (%v)", degrees, r.StrandsInView, r.Direction, r.Angle.Value.Degrees(), r.Reason)
		}
	}
	for name, m := range map[string]*image.YCbCr{
		"streaked fibres": heather(20*unit.Degree, 14*unit.Degree, 0),
		"four strands":    drawing(200, 800, drawn{n: 4, degrees: 12, diameter: 80, x: 100}),
	} {
		src, cut := straightCut(m, 100, 80)
		if r, yarns := cut.singlesAgainst(src, 0); yarns != nil {
			t.Errorf("%s: %d yarns, %v, %.1f deg", name, len(yarns), r.Direction, r.Angle.Value.Degrees())
		}
	}
}
