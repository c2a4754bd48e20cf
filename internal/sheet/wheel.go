package sheet

import (
	"fmt"

	"waketwist/plan"
	"waketwist/yarn"
)

// card is how the wheel is set for one yarn.
type card struct {
	name  string
	turn  string // the way it is twisted; empty where not known
	first plan.Line
	unit  string // in which the first line counts; empty where its text says it
	more  string // behind the range of the first line
	facts []plan.Line
}

const wheelCaution = "Hair tied back, sleeves and scarf clear of flyer, hooks and band; stop the wheel, and unplug a motor, before you reach in."

// wheel draws the settings large enough to be read from the stool.
func (p *page) wheel(c chain) {
	cards := c.cards()
	if len(cards) == 0 {
		return
	}
	p.whole(func(y float64) float64 {
		y = p.heading(side, y, p.inner(), "At the wheel")
		w, columns := p.inner(), 4
		if len(cards) == 2 {
			w, columns = (p.inner()-gutter)/2, 2
		}
		low := y
		for i, one := range cards {
			low = max(low, p.card(one, side+float64(i)*(w+gutter), y, w, columns))
		}
		if len(cards) == 2 {
			p.rule(line, 0.3, side+w+gutter/2, y+1, side+w+gutter/2, low-1)
		}
		return p.caution(side, low+1, p.inner(), wheelCaution) + gap
	})
}

// cards are those of singles and ply, as far as their twist is known.
func (c chain) cards() (out []card) {
	spin, ply := yarn.NoDirection, c.Wish.Direction
	if c.Wish.Plies == 1 {
		spin = ply
	} else if ply != yarn.NoDirection {
		spin = ply.Opposite()
	}
	if one, ok := c.card("singles", "Spin the singles", "singles.twist", "singles.grist", "singles.diameter", "singles.length"); ok {
		one.turn = turn(spin)
		out = append(out, one)
	}
	if one, ok := c.card("ply", fmt.Sprintf("Ply %d strands", c.Wish.Plies), "yarn.twist", "yarn.angle", "yarn.grist-at-wheel"); ok && c.Wish.Plies > 1 {
		one.turn = turn(ply)
		out = append(out, one)
	}
	return out
}

func turn(d yarn.Direction) string {
	if d == yarn.NoDirection {
		return ""
	}
	return "twist " + d.String()
}

// card sets a yarn in treadles or seconds where a wheel is known, and else in
// turns.
func (c chain) card(of, name, twist string, facts ...string) (out card, ok bool) {
	out.name = name
	turns, ok := c.by[twist]
	if !ok {
		return out, false
	}
	out.first = turns
	for _, s := range c.Settings {
		if s.Of == of {
			out.set(c, s)
			facts = append([]string{twist}, facts...)
		}
	}
	for _, f := range facts {
		if l, known := c.by[f]; known {
			out.facts = append(out.facts, l)
		}
	}
	return out, true
}

// set puts the treadles, or the seconds, first.
func (d *card) set(c chain, s plan.Setting) {
	draw := "a draw of " + s.Draw.String()
	if s.Hold != nil {
		d.first, d.unit = c.by[s.Of+"_hold_s"], "for "+draw
		return
	}
	d.first, d.unit = c.by[s.Of+"_treadles"], s.Strokes+" "+draw+", whorl "+s.Whorl
	if s.Strokes == "flicks" {
		d.unit = s.Strokes + " " + draw + ", " + s.Whorl
	}
	if s.Full != nil {
		d.more = fmt.Sprintf(", with the bobbin empty; when it is full, %.3g treadles, %.3g to %.3g",
			float64(s.Full.Value), float64(s.Full.Low), float64(s.Full.High))
	}
}

func (p *page) card(d card, x, y, w float64, columns int) float64 {
	s := figure
	s.ink = dye
	p.right(s, x+w, y+figure.ascent(), d.turn)
	y = p.write(figure, x, y, w-p.width(figure, d.turn)-2, d.name) + 0.5
	if d.unit != "" {
		y = p.big(d, x, y, w)
	} else {
		y = p.write(large, x, y, w, d.first.Text)
		y = p.write(fineInk, x, y, w, marked(d.first)+spread(d.first))
	}
	return p.facts(d.facts[:min(columns, len(d.facts))], x, y+1, w, columns)
}

// big draws a figure with its unit beside it.
func (p *page) big(d card, x, y, w float64) float64 {
	value := d.first.Text
	in := p.width(huge, value) + 3
	p.put(huge, x, y+huge.ascent(), value)
	beside := p.write(lead, x+in, y+0.6, w-in, d.unit)
	beside = p.write(fineInk, x+in, beside, w-in, marks[d.first.Source]+" modelled"+spread(d.first)+d.more)
	return max(beside, y+p.leading(huge)-1)
}

// spread is the range of a line as it follows on something, in both systems of
// units.
func spread(l plan.Line) string {
	first, second := spans(l.Range)
	switch {
	case first == "":
		return ""
	case second == "":
		return ", " + first
	}
	return ", " + first + " (" + second + ")"
}

// facts draws lines in columns.
func (p *page) facts(lines []plan.Line, x, y, w float64, columns int) float64 {
	one := (w - gutter/2*float64(columns-1)) / float64(columns)
	for len(lines) > 0 {
		row := lines[:min(columns, len(lines))]
		lines = lines[len(row):]
		low := y
		for i, l := range row {
			low = max(low, p.fact(l, x+float64(i)*(one+gutter/2), y, one))
		}
		y = low + 2
	}
	return y
}

// marked is the name of a line beside wheel or loom, where their states are plain,
// behind the mark of its source.
func marked(l plan.Line) string {
	name := stated(l)
	switch {
	case l.Field == "yarn.grist-at-wheel":
		name = "Weight of the ply for its length"
	case l.State == "at the wheel" || l.State == "on the loom":
		name = l.Name
	}
	return marks[l.Source] + " " + name
}

// fact draws a line with its value large, in both systems of units.
func (p *page) fact(l plan.Line, x, y, w float64) float64 {
	first, second := halves(l.Text)
	firstSpan, secondSpan := spans(l.Range)
	y = p.write(label, x, y, w, marked(l))
	y = p.write(figure, x, y, w, first)
	if firstSpan != "" {
		y = p.write(fineInk, x, y, w, firstSpan)
	}
	if second == "" {
		return y
	}
	if in := p.width(strong, second) + 2; in+p.width(fineInk, secondSpan) <= w {
		p.put(fineInk, x+in, y+strong.ascent(), secondSpan)
		return p.write(strong, x, y, w, second)
	}
	y = p.write(strong, x, y, w, second)
	return p.write(fineInk, x, y, w, secondSpan)
}
