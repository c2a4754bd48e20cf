package sheet

import (
	"fmt"
	"math"

	"waketwist/cloth"
	"waketwist/plan"
)

// loomFields are what the loom is set up by, in their order.
var loomFields = []string{"cloth.sett", "cloth.ends", "cloth.reed-width", "cloth.warp-length", "cloth.picks", "cloth.length-on"}

// loom draws the weave on point paper, and beside it what the loom is set up by.
func (p *page) loom(c chain) {
	var lines []plan.Line
	for _, f := range loomFields {
		if l, ok := c.by[f]; ok {
			lines = append(lines, l)
		}
	}
	weave := c.Wish.Weave
	if c.Wish.Fabric != plan.Woven || len(lines) == 0 && weave.Ends() == 0 {
		return
	}
	p.whole(func(y float64) float64 {
		y = p.heading(side, y, p.inner(), "At the loom")
		if weave.Ends() == 0 {
			return p.facts(lines, side, y+1, p.inner(), 4) + gap - 2
		}
		const paper = 42.0
		g := gridFor(weave, paper)
		low := p.drawdown(weave, g, side, y+1)
		in := float64(g.ends)*g.cell + gutter
		y = p.facts(lines, side+in, y, p.inner()-in, 3) - 0.5
		y = p.write(fine, side+in, y, p.inner()-in, g.caption(weave, c.Wish.Shafts))
		return max(low, y) + gap
	})
}

// grid is how much of a weave is drawn: threads and the size of a square.
type grid struct {
	ends, picks int
	cell        float64
}

// gridFor draws at least two repeats and at least a dozen threads each way, in
// squares from 1 to 3 mm; of a larger weave, as much as there is room for.
func gridFor(w cloth.Weave, room float64) grid {
	const least, most = 1.0, 3.0
	threads := func(repeat int) int {
		n := repeat * max(2, int(math.Ceil(12/float64(repeat))))
		return min(n, int(room/least))
	}
	g := grid{ends: threads(w.Ends()), picks: threads(w.Picks())}
	g.cell = min(most, room/float64(max(g.ends, g.picks)))
	return g
}

// drawdown draws the weave, and returns where it ends.
func (p *page) drawdown(w cloth.Weave, g grid, x, y float64) float64 {
	width, height := float64(g.ends)*g.cell, float64(g.picks)*g.cell
	low := y + height
	for pick := range g.picks {
		for end := range g.ends {
			if w.Up(end, pick) {
				p.fill(ink, x+float64(end)*g.cell, low-float64(pick+1)*g.cell, g.cell, g.cell)
			}
		}
	}
	for i := range g.ends + 1 {
		p.rule(rule, 0.12, x+float64(i)*g.cell, y, x+float64(i)*g.cell, low)
	}
	for i := range g.picks + 1 {
		p.rule(rule, 0.12, x, y+float64(i)*g.cell, x+width, y+float64(i)*g.cell)
	}
	if w.Ends() <= g.ends && w.Picks() <= g.picks {
		once := float64(w.Picks()) * g.cell
		p.frame(dye, 0.7, x, low-once, float64(w.Ends())*g.cell, once, 0)
	}
	return low
}

// caption says how to read the drawdown.
func (g grid) caption(w cloth.Weave, shafts int) string {
	needs := fmt.Sprintf("%d shafts", w.Shafts())
	if shafts > w.Shafts() {
		needs += fmt.Sprintf(" of your %d", shafts)
	}
	repeat := fmt.Sprintf("repeat of %d ends and %d picks, %s", w.Ends(), w.Picks(), needs)
	if w.Ends() > g.ends || w.Picks() > g.picks {
		return fmt.Sprintf("Filled: the end is over the pick. The lower left %d by %d of a %s.", g.ends, g.picks, repeat)
	}
	return "Filled: the end is over the pick. Framed: the " + repeat + "."
}
