package scale

import (
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"

	"waketwist/raster"
	"waketwist/unit"
)

// A rule is a drawn ruler: marks so many pixels apart, of a length by number, on
// a white band with its edge through a point, turned so far.
type rule struct {
	at      Point
	turn    float64
	step    float64
	length  func(n int) float64 // pixels, 0 for none
	breadth float64
	thin    float64 // half the thickness of a mark
}

// metric has longer marks at five and ten.
func metric(short float64) func(int) float64 {
	return func(n int) float64 {
		switch {
		case n%10 == 0:
			return 2 * short
		case n%5 == 0:
			return 1.5 * short
		}
		return short
	}
}

// imperial has longer marks at two, four, eight and sixteen.
func imperial(short float64) func(int) float64 {
	return func(n int) float64 {
		l := short
		for k := 2; k <= 16 && n%k == 0; k *= 2 {
			l *= 1.3
		}
		return l
	}
}

// halves has shorter marks between those of a metric rule.
func halves(n int) float64 {
	if n%2 != 0 {
		return 18
	}
	return metric(28)(n / 2)
}

// every keeps one mark of so many, as blur does with the finest.
func every(k int, of func(int) float64) func(int) float64 {
	return func(n int) float64 {
		if n%k != 0 {
			return 0
		}
		return of(n)
	}
}

func (r rule) on(ground shade) shade {
	sin, cos := math.Sincos(r.turn)
	return func(x, y float64) float64 {
		dx, dy := x-r.at.X, y-r.at.Y
		u, v := dx*cos+dy*sin, dy*cos-dx*sin
		if v < 0 || v > r.breadth {
			return ground(x, y)
		}
		n := math.Round(u / r.step)
		if math.Abs(u-n*r.step) < r.thin && v < r.length(int(n)) {
			return 40
		}
		return 225
	}
}

func TestFindRuler(t *testing.T) {
	for _, tt := range []struct {
		name    string
		rule    rule
		ground  shade
		spacing unit.Length
		longer  int
	}{
		{"along the edge", rule{Point{3, 500}, 0, 17.31, metric(30), 110, 1}, table, unit.Millimetre, 5},
		{"aslant", rule{Point{100, 300}, 0.35, 14.2, metric(26), 90, 1}, table, unit.Millimetre, 5},
		{"steep, on a weave", rule{Point{500, 20}, 1.4, 21.7, metric(40), 130, 1.2}, cloth, unit.Millimetre, 5},
		{"sixteenths", rule{Point{20, 200}, 0.1, 19.4, imperial(20), 100, 1}, table, unit.Inch / 16, 2},
		{"half millimetres", rule{Point{20, 200}, -0.05, 12.8, halves, 100, 0.8}, table, unit.Millimetre / 2, 2},
		{"few and wide", rule{Point{3, 500}, 0, 84.6, metric(40), 110, 3}, table, unit.Millimetre, 5},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r, err := FindRuler(paint(900, 680, tt.rule.on(tt.ground)), image.Rectangle{}, tt.spacing)
			if err != nil {
				t.Fatal(err)
			}
			if off := math.Abs(r.Spacing.Value - tt.rule.step); off > 0.002*tt.rule.step || off > 3*r.Spacing.SD {
				t.Errorf("%.3f +- %.3f px apart, want %.3f", r.Spacing.Value, r.Spacing.SD, tt.rule.step)
			}
			if len(r.Longer) == 0 || r.Longer[0] != tt.longer {
				t.Errorf("every %v is longer, want %d", r.Longer, tt.longer)
			}
			along := math.Atan2(r.To.Y-r.From.Y, r.To.X-r.From.X) - tt.rule.turn
			if math.Abs(math.Remainder(along, math.Pi)) > 0.03 {
				t.Errorf("it lies from %v to %v, want it turned by %.2f", r.From, r.To, tt.rule.turn)
			}
		})
	}
}

func TestFindRulerRefuses(t *testing.T) {
	lower := rule{Point{3, 500}, 0, 17.31, metric(30), 110, 1}
	upper := rule{Point{3, 60}, 0, 27.3, imperial(24), 120, 1}
	plain := func(int) float64 { return 30 }
	for _, tt := range []struct {
		name    string
		of      shade
		spacing unit.Length
		why     Why
	}{
		{"nothing", table, unit.Millimetre, NothingFound},
		{"a weave", cloth, unit.Millimetre, NothingFound},
		{"too few", rule{Point{3, 500}, 0, 190, metric(60), 110, 3}.on(table), unit.Millimetre, NothingFound},
		{"only fives are seen", rule{Point{3, 500}, 0, 3.6, every(5, metric(30)), 110, 1}.on(table), unit.Millimetre, Unsure},
		{"only tens are seen", rule{Point{3, 500}, 0, 2.9, every(10, metric(30)), 110, 1}.on(table), unit.Millimetre, Unsure},
		{"all alike", rule{Point{3, 500}, 0, 17.3, plain, 110, 1}.on(table), unit.Millimetre, Unsure},
		{"inches taken for millimetres", upper.on(table), unit.Millimetre, Unsure},
		{"millimetres taken for inches", lower.on(table), unit.Inch / 16, Unsure},
		{"two of different spacing", lower.on(upper.on(table)), unit.Millimetre, Several},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r, err := FindRuler(paint(900, 680, tt.of), image.Rectangle{}, tt.spacing)
			if whyOf(err) != tt.why {
				t.Errorf("found %+v, %v; want it refused as %s", r, err, tt.why)
			}
		})
	}
}

// A box around one of two rows of marks, or a press on it, says which is meant.
func TestFindRulerWhereTold(t *testing.T) {
	lower := rule{Point{3, 500}, 0, 17.31, metric(30), 110, 1}
	upper := rule{Point{3, 60}, 0, 27.3, imperial(24), 120, 1}
	photo := paint(900, 680, lower.on(upper.on(table)))
	for _, tt := range []struct {
		at      image.Rectangle
		spacing unit.Length
		want    float64
	}{
		{image.Rect(100, 490, 800, 540), unit.Millimetre, 17.31},
		{image.Rect(400, 510, 401, 511), unit.Millimetre, 17.31},
		{image.Rect(100, 50, 800, 110), unit.Inch / 16, 27.3},
	} {
		r, err := FindRuler(photo, tt.at, tt.spacing)
		if err != nil || math.Abs(r.Spacing.Value-tt.want) > 0.01*tt.want {
			t.Errorf("%v: %.2f px, %v; want %g", tt.at, r.Spacing.Value, err, tt.want)
		}
	}
}

// Rendered photographs of known scale: in one the marks run down the side, in one
// yarn lies across them.
func TestFindRulerInPhotographs(t *testing.T) {
	for file, want := range map[string]float64{"marks_13.768.jpg": 13.768, "marks_30.935.jpg": 30.935} {
		f, err := os.Open(filepath.Join("testdata", file))
		if err != nil {
			t.Fatal(err)
		}
		m, err := jpeg.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range []raster.Orientation{1, 4, 6} {
			r, err := FindRuler(raster.NewPhoto(m, o), image.Rectangle{}, unit.Millimetre)
			if off := math.Abs(r.Spacing.Value - want); err != nil || off > 0.002*want || off > 3*r.Spacing.SD {
				t.Errorf("%s, orientation %d: %.3f +- %.3f px a millimetre, %v", file, o, r.Spacing.Value, r.Spacing.SD, err)
			}
		}
	}
}
