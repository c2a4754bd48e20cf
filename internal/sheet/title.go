package sheet

import (
	"fmt"
	"strings"

	"waketwist/cloth"
	"waketwist/plan"
)

// title draws the mark, the title, the date, and one line of what is planned.
func (p *page) title(c chain) {
	const mark, beside = 9.0, 13.0
	p.mark(side, p.y, mark)
	p.right(fine, p.w-side, p.y+titled.ascent(), p.date())
	p.y = p.write(titled, side+beside, p.y, p.inner()-beside-34, p.head.Title)
	p.y = p.write(lead, side, p.y+1.5, p.inner(), about(c))
	p.y = p.write(fine, side, p.y+0.5, p.inner(), "Each range holds its value nine times in ten. How it is known:")
	p.y = p.legend(side, p.y, p.inner())
	p.y += gap - 2.5
}

// mark draws the workbench's mark: two strands that wind round each other.
func (p *page) mark(x, y, size float64) {
	k := size / 32
	at := func(u, v float64) (float64, float64) { return x + k*u, y + k*v }
	p.pdf.SetFillColor(night.r, night.g, night.b)
	p.pdf.RoundedRect(x, y, size, size, 9*k, "1234", "F")
	p.pdf.SetLineCapStyle("round")
	p.pdf.SetLineWidth(4 * k)
	strand := func(c colour, points ...[2]float64) {
		p.pdf.SetDrawColor(c.r, c.g, c.b)
		p.pdf.MoveTo(at(points[0][0], points[0][1]))
		for i := 1; i < len(points); i += 3 {
			ax, ay := at(points[i][0], points[i][1])
			bx, by := at(points[i+1][0], points[i+1][1])
			ex, ey := at(points[i+2][0], points[i+2][1])
			p.pdf.CurveBezierCubicTo(ax, ay, bx, by, ex, ey)
		}
		p.pdf.DrawPath("D")
	}
	strand(cream, [2]float64{9, 4}, [2]float64{9, 12}, [2]float64{23, 12}, [2]float64{23, 20}, [2]float64{23, 28}, [2]float64{16, 28}, [2]float64{13, 28})
	strand(amber, [2]float64{23, 4}, [2]float64{23, 12}, [2]float64{9, 12}, [2]float64{9, 20}, [2]float64{9, 25}, [2]float64{12, 27}, [2]float64{15, 28})
	strand(cream, [2]float64{12.5, 10.5}, [2]float64{15.5, 13.5}, [2]float64{20, 15}, [2]float64{22, 17.5})
	p.pdf.SetLineCapStyle("butt")
}

// about says in a line what is planned.
func about(c chain) string {
	yarn := fmt.Sprintf("%d-ply yarn", c.Wish.Plies)
	if c.Wish.Plies == 1 {
		yarn = "singles yarn"
	}
	if d := c.Wish.Direction; d.String() != "" {
		yarn = d.String() + "-twisted " + yarn
	}
	switch c.Wish.Fabric {
	case plan.Woven:
		return "A cloth" + weaveName(c.Wish.Weave) + c.sizes("cloth.width", "cloth.length") + ", of " + yarn + "."
	case plan.Knitted:
		knit := "A knitted piece,"
		if n := float64(plan.Of(c.Result, plan.Pieces).Value); n > 1 {
			knit = fmt.Sprintf("%.0f knitted pieces, each", n)
		}
		return knit + strings.TrimPrefix(c.sizes("knit.width", "knit.length"), ",") + ", of " + yarn + "."
	}
	for _, field := range []string{"yarn.length", "yarn.mass"} {
		if l, ok := c.by[field]; ok {
			yarn += ", " + roughly(l)
		}
	}
	if strings.HasPrefix(yarn, "S") { // as it is spoken
		return "An " + yarn + "."
	}
	return "A " + yarn + "."
}

func weaveName(w cloth.Weave) string {
	if w.Ends() == 0 || w.Family() == cloth.OtherWeave {
		return ""
	}
	return " in " + w.Family().String()
}

// sizes says width and length as far as they are known.
func (c chain) sizes(width, length string) (out string) {
	if l, ok := c.by[width]; ok {
		out += ", " + roughly(l) + " wide"
	}
	if l, ok := c.by[length]; ok {
		joint := ", "
		if out != "" {
			joint = " and "
		}
		out += joint + roughly(l) + " long"
	}
	if out != "" {
		out += ", washed"
	}
	return out
}

// roughly says "about" of a value that has a spread.
func roughly(l plan.Line) string {
	if l.Range != "" {
		return "about " + l.Text
	}
	return l.Text
}
