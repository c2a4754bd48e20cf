package sheet

import (
	"strings"

	"waketwist/plan"
)

// column is one of the table: its head, its width as a part of the whole, and how
// its text is set.
type column struct {
	head  string
	share float64
	set   style
}

var columns = []column{
	{"", 0.345, fineInk},
	{"value", 0.11, fineOwn},
	{"nine times in ten", 0.165, fineInk},
	{"in other units", 0.11, fineOwn},
	{"nine times in ten", 0.17, fineInk},
	{"", 0.1, fine},
}

const pad = 1.5 // between columns

// marks stand for the sources of a line, beside their words.
var marks = map[plan.Source]string{plan.Wished: "■", plan.Learnt: "▲", plan.Assumed: "○", plan.Follows: "→"}

// chain draws the whole chain, a row for each line. No row is parted between
// pages, and no part's name stands alone.
func (p *page) chain(c chain) {
	if len(c.lines) == 0 {
		return
	}
	if p.y > top && p.left() < p.chainHeight(c.lines) {
		p.turn()
	}
	p.chainHead("From the cloth to the work")
	var part plan.Part
	for _, l := range c.lines {
		draw := func(y float64) float64 { return p.row(l, l.Part != part, y) }
		if p.tall(draw) > p.left() {
			p.turn()
			p.chainHead("From the cloth on, continued")
			part = ""
		}
		p.y = draw(p.y)
		part = l.Part
	}
	p.rule(line, 0.3, side, p.y, p.w-side, p.y)
	p.whole(func(y float64) float64 { return p.legend(side, y+1, p.inner()) + gap - 1 })
}

// chainHeight is how high the table is in one piece.
func (p *page) chainHeight(lines []plan.Line) float64 {
	const around = 26 // its heads and its legend
	high := around * 1.0
	var part plan.Part
	for _, l := range lines {
		high += p.tall(func(y float64) float64 { return p.row(l, l.Part != part, y) })
		part = l.Part
	}
	return high
}

func (p *page) chainHead(text string) {
	x, base := side, p.y+1+headed.ascent()
	p.y = p.heading(side, p.y, p.inner(), text)
	for _, col := range columns {
		p.put(fine, x, base, col.head)
		x += col.share * p.inner()
	}
	p.y += 0.3
}

// row draws a line of the plan, and its part above it where that begins.
func (p *page) row(l plan.Line, first bool, y float64) float64 {
	if first {
		p.rule(rule, 0.3, side, y, p.w-side, y)
		y = p.write(strong, side, y+0.3, p.inner(), string(l.Part))
	} else {
		p.rule(line, 0.15, side, y, p.w-side, y)
	}
	value, same := halves(l.Text)
	span, sameSpan := spans(l.Range)
	x, low := side, y
	for i, text := range []string{stated(l), value, span, same, sameSpan} {
		w := columns[i].share * p.inner()
		low = max(low, p.write(columns[i].set, x, y+0.15, w-pad, text))
		x += w
	}
	p.source(l.Source, x, y+0.15)
	return low + 0.35
}

// stated is the name of a line with the state of what it speaks of.
func stated(l plan.Line) string {
	if l.State == "" || strings.Contains(l.Name, l.State) {
		return l.Name
	}
	return l.Name + ", " + l.State
}

// source draws a mark and a word; below the word a solid rule says measured, a
// dashed one modelled.
func (p *page) source(s plan.Source, x, y float64) {
	const in = 3.6
	p.put(fineInk, x, y+fine.ascent(), marks[s])
	p.put(fine, x+in, y+fine.ascent(), s.String())
	to, at := x+in+p.width(fine, s.String()), y+fine.ascent()+0.5
	switch s {
	case plan.Learnt:
		p.rule(ink, 0.3, x+in, at, to, at)
	case plan.Follows:
		p.dashed(ink, 0.3, x+in, at, to, at)
	}
}

// legend says what the marks mean.
func (p *page) legend(x, y, w float64) float64 {
	says := []struct {
		of   plan.Source
		text string
	}{
		{plan.Wished, ": as you gave it"},
		{plan.Learnt, ": measured by yourself"},
		{plan.Assumed, ": common practice"},
		{plan.Follows, ": modelled"},
	}
	at := x
	for _, one := range says {
		in := 3.6 + p.width(fine, one.of.String())
		wide := in + p.width(fine, one.text) + 4
		if at+wide-4 > x+w {
			at, y = x, y+p.leading(fine)+0.6
		}
		p.source(one.of, at, y)
		p.put(fine, at+in, y+fine.ascent(), one.text)
		at += wide
	}
	return y + p.leading(fine)
}
