package sheet

import (
	"math"
	"regexp"
	"testing"

	"waketwist/cloth"
	"waketwist/plan"
)

// TestGrid draws two repeats of a weave and more, and no square too small to see.
func TestGrid(t *testing.T) {
	for _, c := range []struct {
		weave       string
		ends, picks int
	}{
		{"plain", 12, 12},
		{"2/2-twill", 12, 12},
		{"5-end-satin", 15, 15},
		{"9/9-twill", 36, 36},
		{"30/30-twill", 42, 42},
	} {
		w, err := cloth.Named(c.weave)
		if err != nil {
			t.Fatal(err)
		}
		g := gridFor(w, 42)
		if g.ends != c.ends || g.picks != c.picks || g.cell < 1 || g.cell > 3 || g.cell*float64(max(g.ends, g.picks)) > 42+1e-9 {
			t.Errorf("%s is drawn as %+v", c.weave, g)
		}
	}
}

var filledBox = regexp.MustCompile(`(-?[\d.]+) (-?[\d.]+) ([\d.]+) -?([\d.]+) re f`)

// TestDrawdown fills as many squares as ends lie over picks, where they do.
func TestDrawdown(t *testing.T) {
	r, o := solved(t, plans["cushion"])
	d := readBack(t, printed(t, Head{At: noon}, r, o))
	weave := r.Wish.Weave
	squares := map[[2]int]bool{}
	var left, low float64
	cell := 3 / point
	for _, m := range filledBox.FindAllStringSubmatch(d.pages[0].content, -1) {
		if w, h := number(t, m[3]), number(t, m[4]); math.Abs(w-cell) > 0.02 || math.Abs(h-cell) > 0.02 {
			continue
		}
		x, y := number(t, m[1]), number(t, m[2])-cell // of the lower edge
		if len(squares) == 0 {
			left, low = side/point, y
		}
		squares[[2]int{int(math.Round((x - left) / cell)), int(math.Round((y - low) / cell))}] = true
	}
	for end := range 12 {
		for pick := range 12 {
			if squares[[2]int{end, pick}] != weave.Up(end, pick) {
				t.Errorf("the square of end %d and pick %d is wrong", end, pick)
			}
		}
	}
	if len(squares) != 72 {
		t.Errorf("%d squares are filled, want half of 144", len(squares))
	}
}

// TestFormsName asks on the sheet only for what a plan of that kind takes.
func TestFormsName(t *testing.T) {
	for name, want := range map[string]string{"cushion": "Sample", "midway": "Swatch", "singles": "Yarn"} {
		r, _ := solved(t, plans[name])
		if got := chainOf(r).forms()[0].name; got != want {
			t.Errorf("%s begins with the form %s, want %s", name, got, want)
		}
	}
	r, _ := solved(t, plans["singles"])
	if steps := chainOf(r).forms()[0].columns; r.Wish.Fabric != plan.NoFabric || len(steps) != 2 {
		t.Errorf("singles that are not plied are asked for as %v", steps)
	}
}
