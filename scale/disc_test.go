package scale

import (
	"errors"
	"image"
	"math"
	"testing"
)

func whyOf(err error) Why {
	var r *Refusal
	if errors.As(err, &r) {
		return r.Why
	}
	return ""
}

// bright is white ground.
func bright(x, y float64) float64 { return 80 + table(x, y) }

func TestFindDisc(t *testing.T) {
	for _, tt := range []struct {
		name        string
		w, h        int
		ground      shade
		at          Point
		long, short float64
		turn        float64
	}{
		{"on a table", 900, 700, table, Point{600.3, 250.8}, 230.6, 230.6, 0},
		{"large", 900, 700, bright, Point{430, 360}, 611.2, 611.2, 0},
		{"small", 1200, 900, table, Point{301.5, 640.2}, 90.7, 90.7, 0},
		{"on a weave", 1000, 800, cloth, Point{702.2, 300}, 180.4, 180.4, 0},
		{"a little aslant", 900, 700, table, Point{400, 300}, 260, 250, 0.6},
		{"cut by the picture's edge", 900, 700, table, Point{820, 300}, 220, 220, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d, err := FindDisc(paint(tt.w, tt.h, coin(tt.ground, tt.at, tt.long, tt.short, tt.turn)), image.Rectangle{})
			if err != nil {
				t.Fatal(err)
			}
			want := math.Sqrt(tt.long * tt.short)
			if off := math.Abs(d.Diameter.Value - want); off > 0.004*want+0.3 || off > 3*d.Diameter.SD {
				t.Errorf("%.2f +- %.2f px across, want %.2f", d.Diameter.Value, d.Diameter.SD, want)
			}
			if math.Hypot(d.Centre.X-tt.at.X, d.Centre.Y-tt.at.Y) > 0.6 {
				t.Errorf("its middle is at %v, want %v", d.Centre, tt.at)
			}
			if math.Abs(d.Ratio()-tt.short/tt.long) > 0.01 {
				t.Errorf("axis ratio %.3f, want %.3f", d.Ratio(), tt.short/tt.long)
			}
		})
	}
}

func TestFindDiscRefuses(t *testing.T) {
	plain := coin(table, Point{250, 300}, 200, 200, 0)
	two := coin(plain, Point{650, 400}, 260, 260, 0)
	for _, tt := range []struct {
		name string
		of   shade
		at   image.Rectangle
		why  Why
	}{
		{"nothing", table, image.Rectangle{}, NothingFound},
		{"a weave", cloth, image.Rectangle{}, NothingFound},
		{"half a coin", coin(table, Point{900, 300}, 220, 220, 0), image.Rectangle{}, NothingFound},
		{"two of different size", two, image.Rectangle{}, Several},
		{"the box is elsewhere", plain, image.Rect(500, 300, 800, 600), NothingFound},
		{"aslant", coin(table, Point{450, 350}, 300, 270, 0.4), image.Rectangle{}, Slanting},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d, err := FindDisc(paint(900, 700, tt.of), tt.at)
			if whyOf(err) != tt.why {
				t.Errorf("found %+v, %v; want it refused as %s", d, err, tt.why)
			}
		})
	}
}

// A box around one of two, or a press on it, says which is meant.
func TestFindDiscWhereTold(t *testing.T) {
	photo := paint(900, 700, coin(coin(table, Point{250, 300}, 200, 200, 0), Point{650, 400}, 260, 260, 0))
	for _, tt := range []struct {
		at   image.Rectangle
		want float64
	}{
		{image.Rect(130, 180, 370, 420), 200},
		{image.Rect(260, 310, 261, 311), 200},
		{image.Rect(500, 250, 800, 550), 260},
		{image.Rect(700, 420, 701, 421), 260},
	} {
		d, err := FindDisc(photo, tt.at)
		if err != nil || math.Abs(d.Diameter.Value-tt.want) > 1 {
			t.Errorf("%v: %.1f px, %v; want %g", tt.at, d.Diameter.Value, err, tt.want)
		}
	}
}

// The outline drawn is that which was found.
func TestDiscOutline(t *testing.T) {
	d, err := FindDisc(paint(700, 600, coin(table, Point{350, 300}, 300, 288, -0.5)), image.Rectangle{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range d.Outline(16) {
		dx, dy := p.X-350, p.Y-300
		sin, cos := math.Sincos(-0.5)
		if s := math.Hypot((dx*cos+dy*sin)/150, (dy*cos-dx*sin)/144); math.Abs(s-1) > 0.006 {
			t.Errorf("%v lies at %.4f of the edge", p, s)
		}
	}
}
