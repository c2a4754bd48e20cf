package sheet

import "waketwist/plan"

const fleeceCaution = "Raw fleece: wash your hands, mind dust and ticks; pregnant people keep away from it."

// lists draws what to have and what to do, each with a box to tick.
func (p *page) lists(r *plan.Result) {
	have, do := r.Shopping(), r.ToDo()
	w := p.inner()
	if len(have) > 0 && len(do) > 0 {
		w = 0.27 * (p.inner() - gutter)
	}
	p.whole(func(y float64) float64 {
		low := y
		if len(have) > 0 {
			low = p.ticks("To have", have, side, y, w)
		}
		done := y
		if len(do) > 0 {
			done = p.ticks("To do", do, p.w-side-p.rest(w), y, p.rest(w))
		}
		if plan.Of(r, plan.Scouring).High > 0 {
			if len(have) == 0 {
				low = done
			}
			low = p.caution(side, low+0.6, w, fleeceCaution)
		}
		low = max(low, done)
		return low + gap - 1.5
	})
}

// leftOut says that a sheet has no lists and no lines to write on, and keeps their
// cautions.
func (p *page) leftOut(r *plan.Result) {
	p.whole(func(y float64) float64 {
		y = p.write(fine, side, y, p.inner(), "Lists to tick and lines to write on are left out until the wishes agree.")
		if plan.Of(r, plan.Scouring).High > 0 {
			y = p.caution(side, y+0.6, p.inner(), fleeceCaution)
		}
		return p.caution(side, y+0.6, p.inner(), washCaution) + gap - 1.5
	})
}

// rest is what a column of some width leaves of the page.
func (p *page) rest(w float64) float64 {
	if w == p.inner() {
		return w
	}
	return p.inner() - gutter - w
}

func (p *page) ticks(head string, items []string, x, y, w float64) float64 {
	const box, in = 3.3, 5.6
	y = p.heading(x, y, w, head) + 0.4
	for _, item := range items {
		p.frame(ink, 0.35, x+0.2, y+0.3, box, box, 0.5)
		y = p.write(body, x+in, y, w-in, item) + 1
	}
	return y
}
