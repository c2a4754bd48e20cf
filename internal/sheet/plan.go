package sheet

import (
	"bytes"
	"io"
	"math"
	"time"

	"waketwist/plan"
)

// Head is what stands over a sheet, and what it is printed on. The date is that of
// At in its own zone. Stash says, a sentence each, how far what lies in the stash goes;
// it may be empty.
type Head struct {
	Title string
	At    time.Time
	Paper Paper
	Stash []string
}

// Plan prints a plan as a PDF; o is its outlook, nil before the work begins. The
// error is that of the writer.
func Plan(w io.Writer, head Head, r *plan.Result, o *plan.Outlook) error {
	head.Title = printable(head.Title)
	if head.Title == "" {
		head.Title = "Plan"
	}
	best, total := setting{}, math.MaxInt
	for _, s := range settingsFor(r) {
		if n := layOut(head, s, 0, r, o).pdf.PageNo(); n < total {
			best, total = s, n
		}
		if total <= bothSides {
			break
		}
	}
	return layOut(head, best, total, r, o).pdf.Output(w)
}

// setting is how a plan is set: the distance of lines, in sizes of the type, and
// whether it is only to be read.
type setting struct {
	spacing float64
	toRead  bool // without lists to tick and lines to write on
}

// settingsFor are the settings to try until a plan goes on both sides of a sheet.
// A plan that contradicts itself can be without what the hands need: it is to be
// mended before anything is made by it.
func settingsFor(r *plan.Result) (out []setting) {
	spacings := []float64{1.32, 1.25, 1.18, 1.14}
	for _, s := range spacings {
		out = append(out, setting{s, false})
	}
	if len(r.Conflicts) > 0 {
		for _, s := range spacings {
			out = append(out, setting{s, true})
		}
	}
	return out
}

const bothSides = 2

// layOut draws all pages; total is what their feet say of how many there are.
func layOut(head Head, s setting, total int, r *plan.Result, o *plan.Outlook) *page {
	p := newPage(head, s.spacing, total)
	c := chainOf(r)
	p.turn()
	p.title(c)
	p.troubles(r.Conflicts, o)
	p.wheel(c)
	p.loom(c)
	grounds := groundsOf(r, head.Stash)
	if s.toRead {
		p.leftOut(r)
		p.grounds(grounds)
		p.chain(c)
		return p
	}
	p.lists(r)
	p.record(c)
	p.chain(c)
	p.grounds(grounds)
	return p
}

// chain is a plan with its lines by the fields under which they can be given, and
// by their keys where they have none.
type chain struct {
	*plan.Result
	lines []plan.Line
	by    map[string]plan.Line
}

func chainOf(r *plan.Result) chain {
	c := chain{Result: r, lines: r.Lines(), by: map[string]plan.Line{}}
	for _, l := range c.lines {
		if l.Field == "" {
			l.Field = l.Key
		}
		c.by[l.Field] = l
	}
	return c
}

// Is reports whether the content of a file is a sheet that this package printed.
func Is(content []byte) bool {
	return bytes.HasPrefix(content, []byte("%PDF-")) && bytes.Contains(content, []byte("/Producer ("+maker+")"))
}
