package sheet

import "waketwist/plan"

// troubles draws what speaks against the plan before all else.
func (p *page) troubles(conflicts []plan.Conflict, o *plan.Outlook) {
	for i, c := range conflicts {
		head := ""
		if i == 0 {
			head = "These wishes cannot all be had"
		}
		p.aside(stop, head, c.Problem+" "+c.Drop)
	}
	if o != nil {
		p.aside(dye, "Will it suffice?", o.Say())
	}
}

// aside draws a text beside a bar.
func (p *page) aside(c colour, head, text string) {
	p.whole(func(y float64) float64 {
		const bar, in = 1.4, 5.0
		from := y
		if head != "" {
			s := headed
			s.ink = c
			y = p.write(s, side+in, y, p.inner()-in, head)
		}
		y = p.write(body, side+in, y, p.inner()-in, text)
		p.fill(c, side, from, bar, y-from)
		return y + 2.5
	})
}

// caution draws a warning behind a triangle.
func (p *page) caution(x, y, w float64, text string) float64 {
	const size, in = 3.2, 5.0
	if !p.drying {
		p.rule(dye, 0.45, x, y+size+0.4, x+size/2, y+0.5)
		p.rule(dye, 0.45, x+size/2, y+0.5, x+size, y+size+0.4)
		p.rule(dye, 0.45, x+size, y+size+0.4, x, y+size+0.4)
		p.rule(dye, 0.5, x+size/2, y+1.6, x+size/2, y+2.7)
		p.fill(dye, x+size/2-0.25, y+3, 0.5, 0.4)
	}
	return p.write(fineInk, x+in, y, w-in, text)
}

// heading draws the head of a block below y.
func (p *page) heading(x, y, w float64, text string) float64 {
	p.rule(act, 0.5, x, y, x+w, y)
	return p.write(headed, x, y+1, w, text) + 0.5
}
