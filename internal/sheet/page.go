package sheet

import (
	"fmt"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// The margins in millimetres: what home printers keep white, and a hole punch
// takes.
const (
	side   = 15.0
	top    = 12.0
	bottom = 16.0
	gutter = 6.0 // between columns
	gap    = 4.5 // between blocks
)

// page is the sheet as it is drawn, down to y on its last page; all lengths are
// in millimetres.
type page struct {
	pdf     *fpdf.Fpdf
	w, h    float64
	y       float64
	head    Head
	total   int     // pages in all; 0 while they are counted
	drying  bool    // measures, and draws nothing
	spacing float64 // distance of lines, in sizes of the type
}

const family = "go"

func newPage(head Head, spacing float64, total int) *page {
	w, h := head.Paper.size()
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: w, Ht: h}})
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(head.At.UTC())
	pdf.SetModificationDate(head.At.UTC())
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetTitle(head.Title, true)
	pdf.SetCreator(maker, false)
	pdf.SetProducer(maker, false)
	pdf.SetLang("en-GB")
	pdf.AddUTF8FontFromBytes(family, "", goregular.TTF)
	pdf.AddUTF8FontFromBytes(family, "B", gobold.TTF)
	return &page{pdf: pdf, w: w, h: h, head: head, spacing: spacing, total: total}
}

// maker is what a sheet says made it.
const maker = "Waketwist"

// inner is the width between the margins.
func (p *page) inner() float64 { return p.w - 2*side }

// left is what is free below y.
func (p *page) left() float64 { return p.h - bottom - p.y }

// need turns the page where less than h is free.
func (p *page) need(h float64) {
	if h > p.left() {
		p.turn()
	}
}

// turn begins a page, with its foot, and from the second one with a running title.
func (p *page) turn() {
	p.pdf.AddPage()
	p.y = top
	foot := p.h - bottom + 7
	p.put(fine, side, foot, p.clipped(fine, p.head.Title+", "+p.date(), p.inner()-35))
	p.right(fine, p.w-side, foot, fmt.Sprintf("page %d of %d", p.pdf.PageNo(), max(p.total, p.pdf.PageNo())))
}

func (p *page) date() string { return p.head.At.Format("2 January 2006") }

// clipped ends a text that is wider than w with an ellipsis.
func (p *page) clipped(s style, text string, w float64) string {
	p.set(s)
	if p.pdf.GetStringWidth(text) <= w {
		return text
	}
	return text[:p.fitting(text, w-p.pdf.GetStringWidth("…"))] + "…"
}

func (p *page) set(s style) {
	weight := ""
	if s.bold {
		weight = "B"
	}
	p.pdf.SetFont(family, weight, s.size)
}

// put draws a line of text from x on the baseline y.
func (p *page) put(s style, x, y float64, text string) {
	if p.drying || text == "" {
		return
	}
	p.set(s)
	p.pdf.SetTextColor(s.ink.r, s.ink.g, s.ink.b)
	p.pdf.Text(x, y, text)
}

// right draws a line of text that ends at x.
func (p *page) right(s style, x, y float64, text string) {
	p.put(s, x-p.width(s, text), y, text)
}

func (p *page) width(s style, text string) float64 {
	p.set(s)
	return p.pdf.GetStringWidth(text)
}

// write draws a text below y, as wide as w, and returns where it ends.
func (p *page) write(s style, x, y, w float64, text string) float64 {
	for _, one := range p.wrap(s, w, printable(text)) {
		p.put(s, x, y+s.ascent(), one)
		y += p.leading(s)
	}
	return y
}

// tall is how high draw draws.
func (p *page) tall(draw func(y float64) float64) float64 {
	was := p.drying
	p.drying = true
	defer func() { p.drying = was }()
	return draw(0)
}

// whole draws a block that no page parts, and moves below it.
func (p *page) whole(draw func(y float64) float64) {
	p.need(p.tall(draw))
	p.y = draw(p.y)
}

// rule draws a line of some width.
func (p *page) rule(c colour, width, x1, y1, x2, y2 float64) {
	if p.drying {
		return
	}
	p.pdf.SetDrawColor(c.r, c.g, c.b)
	p.pdf.SetLineWidth(width)
	p.pdf.Line(x1, y1, x2, y2)
}

// dashed draws a line of dashes.
func (p *page) dashed(c colour, width, x1, y1, x2, y2 float64) {
	p.pdf.SetDashPattern([]float64{0.9, 0.6}, 0)
	p.rule(c, width, x1, y1, x2, y2)
	p.pdf.SetDashPattern(nil, 0)
}

// fill fills a box.
func (p *page) fill(c colour, x, y, w, h float64) {
	if p.drying {
		return
	}
	p.pdf.SetFillColor(c.r, c.g, c.b)
	p.pdf.Rect(x, y, w, h, "F")
}

// frame draws the outline of a box with round corners.
func (p *page) frame(c colour, width, x, y, w, h, round float64) {
	if p.drying {
		return
	}
	p.pdf.SetDrawColor(c.r, c.g, c.b)
	p.pdf.SetLineWidth(width)
	p.pdf.RoundedRect(x, y, w, h, round, "1234", "D")
}
