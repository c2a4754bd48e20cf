package sheet

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"waketwist/plan"
)

var noon = time.Date(2026, 3, 4, 12, 0, 0, 0, time.UTC)

// plans are the texts of plans of every kind.
var plans = map[string]plan.Text{
	"cushion": {
		"cloth.width": "18 in", "cloth.length": "40 in", "cloth.weave": "2/2-twill", "cloth.shafts": "4", "cloth.sett": "12/in", "cloth.draw-in": "5-10%",
		"yarn.grist": "1500 to 1700 yd/lb", "yarn.plies": "2", "yarn.direction": "S", "yarn.angle": "24 to 28 deg", "fibre.in-hand": "350 g",
		"work.bobbin": "90 to 110 g", "work.pace": "80 to 120 m/h", "work.ratio": "8:1, 12:1", "work.draw": "24 in",
	},
	"too little": {
		"knit.width": "20 cm", "knit.length": "50 cm", "knit.pieces": "2", "knit.swatch": "10 cm, 10 cm", "knit.swatch-mass": "3.2 to 3.4 g",
		"yarn.grist": "350 to 380 m/100g", "yarn.plies": "3", "fibre.in-hand": "40 g", "fibre.scouring": "30-40%",
	},
	"midway": {
		"knit.width": "1 m", "knit.length": "60 cm", "knit.swatch": "15 cm, 15 cm", "knit.swatch-mass": "6 to 6.4 g", "yarn.grist": "500 to 540 m/100g",
		"work.wheel": "motor", "work.speed": "900", "work.draw": "60 cm", "weighed.prepared": "260 g", "weighed.left": "120 g", "weighed.spun": "130 g",
	},
	"singles": {
		"yarn.length": "800 m", "yarn.grist": "900 m/kg", "yarn.plies": "1", "yarn.direction": "Z", "yarn.angle": "20 deg",
		"work.wheel": "bobbin-led", "work.ratio": "9:1", "work.draw": "50 cm", "work.core": "3 cm", "work.full": "9 cm",
	},
	"contradictory": {
		"cloth.width": "60 cm", "cloth.weave": "X.X.X.\n.XXX.X\nX.X.X.\n.X.X.X\nX.XXX.\n.X.X.X", "cloth.sett": "7/cm", "cloth.picks": "7/cm", "cloth.fringe": "24 cm",
		"cloth.draw-in": "6-10%", "cloth.shrink": "8-12%", "yarn.length": "5000 m", "yarn.mass": "200 g", "yarn.plies": "2", "yarn.angle": "18 to 22 deg",
		"yarn.direction": "S", "yarn.preparation": "worsted", "yarn.wash-loss": "4-8%", "singles.grist": "30 to 34 tex", "fibre.breed": "Merino",
		"fibre.from": "raw", "fibre.scouring": "35-45%", "fibre.preparing": "20-30%", "fibre.in-hand": "900 g", "work.time": "60 h",
		"work.pace": "120 to 160 m/h", "work.ply-pace": "300 to 400 m/h", "work.ratio": "14:1, 20:1", "work.draw": "18 in",
	},
	"from hand": {
		"cloth.width": "50 cm", "cloth.weave": "plain", "cloth.sett": "6/cm", "singles.grist": "48 to 52 tex", "fibre.in-hand": "600 g", "work.time": "40 h", "work.pace": "120 m/h",
	},
}

// solved reads and solves a text.
func solved(t testing.TB, text plan.Text) (*plan.Result, *plan.Outlook) {
	t.Helper()
	wish, problems := plan.Read(text)
	for key, err := range problems {
		t.Fatalf("%s: %v", key, err)
	}
	r, err := plan.Solve(wish)
	if err != nil {
		t.Fatal(err)
	}
	o, err := r.Outlook()
	if err != nil {
		t.Fatal(err)
	}
	return r, o
}

func printed(t testing.TB, head Head, r *plan.Result, o *plan.Outlook) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Plan(&out, head, r, o); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// sheets are the plans that were printed already.
var sheets = map[string]document{}

// eachPlan prints every plan on every paper.
func eachPlan(t *testing.T, check func(t *testing.T, r *plan.Result, o *plan.Outlook, d document)) {
	for name, text := range plans {
		r, o := solved(t, text)
		for _, paper := range []Paper{A4, Letter} {
			t.Run(name+" on "+paper.String(), func(t *testing.T) {
				key := name + paper.String()
				d, known := sheets[key]
				if !known {
					d = readBack(t, printed(t, Head{Title: name, At: noon, Paper: paper}, r, o))
					sheets[key] = d
				}
				check(t, r, o, d)
			})
		}
	}
}

// TestWhole finds everything that a plan says on its sheets.
func TestWhole(t *testing.T) {
	eachPlan(t, func(t *testing.T, r *plan.Result, o *plan.Outlook, d document) {
		text := d.text()
		wanted := append([]string{"4 March 2026", wheelCaution, washCaution}, r.Notes...)
		if !strings.Contains(text, "left out until the wishes agree") {
			wanted = append(wanted, r.Shopping()...)
			wanted = append(wanted, r.ToDo()...)
		} else if len(r.Conflicts) == 0 || plan.Of(r, plan.Scouring).High > 0 && !strings.Contains(text, fleeceCaution) {
			t.Error("lists are left out of a plan that agrees, or with them a caution")
		}
		wanted = append(wanted, r.Assumed()...)
		wanted = append(wanted, r.Given()...)
		for _, c := range r.Conflicts {
			wanted = append(wanted, c.Problem, c.Drop)
		}
		for _, s := range r.Stocks {
			wanted = append(wanted, s.Say(r.FromHand))
		}
		for _, b := range r.Width {
			wanted = append(wanted, b.Total, b.Of[0].Name)
		}
		for _, l := range r.MadeLines() {
			wanted = append(wanted, l.Text)
		}
		if o != nil {
			wanted = append(wanted, o.Say())
		}
		for _, want := range wanted {
			if !strings.Contains(text, want) {
				t.Errorf("the sheet does not say “%s”", want)
			}
		}
	})
}

// TestRows finds every line of the chain as a row: its name with its state, its
// value and range in both systems, and where it comes from.
func TestRows(t *testing.T) {
	eachPlan(t, func(t *testing.T, r *plan.Result, _ *plan.Outlook, d document) {
		text := d.text()
		for _, l := range r.Lines() {
			value, same := halves(l.Text)
			span, sameSpan := spans(l.Range)
			row := strings.Fields(strings.Join([]string{stated(l), value, span, same, sameSpan, marks[l.Source], l.Source.String()}, " "))
			if want := strings.Join(row, " "); !strings.Contains(text, want) {
				t.Errorf("the sheet has no row “%s”", want)
			}
		}
	})
}

// TestPages counts the pages, and reads their numbers.
func TestPages(t *testing.T) {
	eachPlan(t, func(t *testing.T, _ *plan.Result, _ *plan.Outlook, d document) {
		if len(d.pages) > bothSides {
			t.Errorf("the plan takes %d pages", len(d.pages))
		}
		for i, page := range d.pages {
			want := fmt.Sprintf("page %d of %d", i+1, len(d.pages))
			if n := page.count(want); n != 1 {
				t.Errorf("“%s” stands %d times on its page", want, n)
			}
		}
	})
}

// TestNothingCollides keeps texts within the margins and off each other.
func TestNothingCollides(t *testing.T) {
	eachPlan(t, func(t *testing.T, _ *plan.Result, _ *plan.Outlook, d document) { collide(t, d) })
}

// collide measures every text as it is set.
func collide(t *testing.T, d document) {
	t.Helper()
	measure := newPage(Head{}, 1, 0)
	const hair = 0.06 // of rounding, in millimetres
	for n, page := range d.pages {
		boxes := make([][4]float64, len(page.runs))
		for i, r := range page.runs {
			high := r.size * point
			boxes[i] = [4]float64{r.x + hair, r.y - 0.7*high, r.x + measure.width(style{bold: r.bold, size: r.size}, r.text) - hair, r.y + 0.15*high}
			if b := boxes[i]; b[0] < side || b[2] > d.w-side || b[1] < top || b[3] > d.h-bottom+8 {
				t.Errorf("page %d: “%s” leaves the margins", n+1, r.text)
			}
			for j := range i {
				a, b := boxes[j], boxes[i]
				if a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3] {
					t.Errorf("page %d: “%s” runs into “%s”", n+1, r.text, page.runs[j].text)
				}
			}
		}
	}
}

// TestGlyphs draws no letter that a font lacks.
func TestGlyphs(t *testing.T) {
	var fonts []*sfnt.Font
	for _, ttf := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(ttf)
		if err != nil {
			t.Fatal(err)
		}
		fonts = append(fonts, f)
	}
	eachPlan(t, func(t *testing.T, _ *plan.Result, _ *plan.Outlook, d document) {
		var buf sfnt.Buffer
		for _, r := range d.text() {
			for _, f := range fonts {
				if g, err := f.GlyphIndex(&buf, r); err != nil || g == 0 {
					t.Errorf("%q is in no font", r)
				}
			}
		}
	})
}

func TestEqualPlansGiveEqualBytes(t *testing.T) {
	r, o := solved(t, plans["cushion"])
	head := Head{Title: "Cushion", At: noon}
	once := printed(t, head, r, o)
	for range 3 {
		if !bytes.Equal(once, printed(t, head, r, o)) {
			t.Fatal("the same plan was printed otherwise")
		}
	}
	head.At = noon.Add(time.Hour)
	if bytes.Equal(once, printed(t, head, r, o)) {
		t.Error("another moment left no trace")
	}
}

func TestIs(t *testing.T) {
	r, o := solved(t, plans["singles"])
	for _, c := range []struct {
		content string
		want    bool
	}{
		{string(printed(t, Head{At: noon}, r, o)), true},
		{"%PDF-1.4\n/Producer (another)", false},
		{"/Producer (Waketwist)", false},
		{"", false},
	} {
		if got := Is([]byte(c.content)); got != c.want {
			t.Errorf("Is(%.30q) = %v", c.content, got)
		}
	}
}

func TestTitles(t *testing.T) {
	r, o := solved(t, plans["singles"])
	for _, c := range []struct{ title, want string }{
		{"", "Plan"},
		{"Grandmother’s “best” shawl, ½ size", "Grandmother’s “best” shawl, ½ size"},
		{"cafe\u0301\tshawl\n", "cafe shawl"},
		{"紡ぐ 🧶 shawl", "?? ? shawl"},
		{strings.Repeat("tea cosy ", 30), "tea cosy tea cosy"},
		{strings.Repeat("w", 300), "www"},
		{`back\slash (and) brackets`, `back\slash (and) brackets`},
	} {
		d := readBack(t, printed(t, Head{Title: c.title, At: noon}, r, o))
		if !strings.Contains(d.text(), c.want) {
			t.Errorf("%.20q is not printed as %q", c.title, c.want)
		}
		collide(t, d)
	}
}

// TestLongPlansFlow prints more than two pages hold: each text stays whole.
func TestLongPlansFlow(t *testing.T) {
	r, o := solved(t, plans["cushion"])
	r.Conflicts = nil
	head := Head{Title: "Long", At: noon}
	for i := range 120 {
		head.Stash = append(head.Stash, fmt.Sprintf("Lot %d of grey fleece from the loft: 200 g (7.05 oz), suffices with a probability of 10 %%.", i))
	}
	for i := range 60 {
		r.Conflicts = append(r.Conflicts, plan.Conflict{Problem: fmt.Sprintf("Wish %d speaks against another one of those that were written down.", i), Drop: "Drop it."})
	}
	d := readBack(t, printed(t, head, r, o))
	if len(d.pages) < 4 {
		t.Fatalf("all that fits on %d pages", len(d.pages))
	}
	for _, s := range head.Stash {
		if !strings.Contains(d.text(), s) {
			t.Errorf("“%s” is not on the sheets", s)
		}
	}
	collide(t, d)
}

// TestRowsStayWhole draws a table that no page holds.
func TestRowsStayWhole(t *testing.T) {
	r, _ := solved(t, plans["cushion"])
	c := chainOf(r)
	for range 3 {
		c.lines = append(c.lines, c.lines...)
	}
	p := newPage(Head{Title: "Table", At: noon}, 1.32, 0)
	p.turn()
	p.chain(c)
	var out bytes.Buffer
	if err := p.pdf.Output(&out); err != nil {
		t.Fatal(err)
	}
	d := readBack(t, out.Bytes())
	if len(d.pages) < 3 {
		t.Fatalf("%d lines fit on %d pages", len(c.lines), len(d.pages))
	}
	rows := 0
	for i, page := range d.pages {
		for source := range marks {
			rows += page.count(source.String())
		}
		for _, l := range r.Lines() {
			value, _ := halves(l.Text)
			names, values := page.count(stated(l)), page.count(value)
			if names > values {
				t.Errorf("page %d has %d times “%s” and %d times its value", i+1, names, stated(l), values)
			}
		}
	}
	if want := len(c.lines) + len(marks); rows != want { // the legend has each word once
		t.Errorf("there are %d sources, want %d", rows, want)
	}
	collide(t, d)
}

func BenchmarkPlan(b *testing.B) {
	r, o := solved(b, plans["cushion"])
	for b.Loop() {
		if err := Plan(io.Discard, Head{Title: "Cushion", At: noon, Paper: Letter}, r, o); err != nil {
			b.Fatal(err)
		}
	}
}
