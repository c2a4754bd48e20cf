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
	spacing, total := 0.0, math.MaxInt
	for _, c := range spacings {
		if n := layOut(head, c, 0, r, o).pdf.PageNo(); n < total {
			spacing, total = c, n
		}
		if total <= bothSides {
			break
		}
	}
	return layOut(head, spacing, total, r, o).pdf.Output(w)
}

// spacings are the distances of lines to try, in sizes of the type, until a
// plan goes on both sides of a sheet.
var spacings = []float64{1.32, 1.25, 1.18, 1.14}

const bothSides = 2

// layOut draws all pages; total is what their feet say of how many there are.
func layOut(head Head, spacing float64, total int, r *plan.Result, o *plan.Outlook) *page {
	p := newPage(head, spacing, total)
	c := chainOf(r)
	p.turn()
	p.title(c)
	p.troubles(r.Conflicts, o)
	p.wheel(c)
	p.loom(c)
	p.lists(r)
	p.record(c)
	p.chain(c)
	p.grounds(groundsOf(r, head.Stash))
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
