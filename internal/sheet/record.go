package sheet

import "waketwist/plan"

// form is a table to be filled in by hand: what its columns are, and its rows.
type form struct {
	name    string
	columns []string
	rows    []string
}

// forms are what is worth measuring on the way: what goes into the plan, or into
// a swatch or a skein of the journal.
func (c chain) forms() (out []form) {
	switch c.Wish.Fabric {
	case plan.Woven:
		out = append(out, form{"Sample", []string{"on loom", "off it", "washed"},
			[]string{"width", "length", "ends, picks"}})
	case plan.Knitted:
		out = append(out, form{"Swatch", []string{"as knitted", "washed"}, []string{"width", "length", "mass"}})
	}
	steps := []string{"bobbin", "plied", "washed"}
	if c.Wish.Plies == 1 {
		steps = []string{"bobbin", "washed"}
	}
	return append(out, form{"Yarn", steps, []string{"length", "mass", "angle, °"}}, weighings)
}

// weighings is the table of the scale.
var weighings = form{"Weighed", []string{"fibre left", "singles", "length"}, []string{"at first", "date", "date"}}

const washCaution = "Wash in water that hands bear: over 60 °C (140 °F) it scalds in seconds. Keep mains and motors away from it."

// The height of a row to write in, in millimetres; it takes what a page leaves.
const (
	pencil      = 7.5
	widePencil  = 10.5
	rowsOfForms = 3
)

// record draws the lines on which the sheet comes back as data.
func (p *page) record(c chain) {
	forms := c.forms()
	row := pencil
	draw := func(y float64) float64 {
		y = p.heading(side, y, p.inner(), "Write down what you measure, each figure with its unit")
		w := (p.inner() - gutter*float64(len(forms)-1)) / float64(len(forms))
		low := y
		for i, f := range forms {
			low = max(low, p.form(f, row, side+float64(i)*(w+gutter), y, w))
		}
		return p.caution(side, low+1.2, p.inner(), washCaution) + gap
	}
	p.need(p.tall(draw))
	row = min(widePencil, pencil+(p.left()-p.tall(draw))/rowsOfForms)
	p.y = draw(p.y)
}

// form draws a table with empty cells, its rows as high as row.
func (p *page) form(f form, row, x, y, w float64) float64 {
	first := 0.28 * w
	each := (w - first) / float64(len(f.columns))
	head := p.write(strong, x, y, first-1, f.name)
	for i, name := range f.columns {
		head = max(head, p.write(fine, x+first+float64(i)*each+1, y+0.3, each-2, name))
	}
	low := head + 0.5
	for _, name := range f.rows {
		p.rule(rule, 0.2, x, low, x+w, low)
		p.write(fine, x, low+0.7, first-1, name)
		low += row
	}
	p.rule(rule, 0.2, x, low, x+w, low)
	for i := range f.columns {
		at := x + first + float64(i)*each
		p.rule(rule, 0.2, at, head+0.5, at, low)
	}
	return low
}
