package reading

import "math"

// Of strands of several colours one may look like the ground, or like its shadow, and
// the outline then goes to and fro across the yarn with those that do not. Yarn itself
// swells and shrinks to both sides of its middle.
const (
	mostSway      = 0.1  // of the width, as a standard deviation: whole outlines come to 0.05
	swayReach     = 2.5  // widths to either side over which the edges are looked for
	swayOutermost = 0.15 // of the places there, that reach as far or farther
)

// sway is how far the middle of the outline goes to and fro, over its width, as a
// standard deviation.
func (c *cut) sway() float64 {
	slow := c.middles()
	from, to := c.steady()
	var sum float64
	for i := from; i < to; i++ {
		d := (c.outline.top[i]+c.outline.bottom[i])/2 - slow[i]
		sum += d * d
	}
	return math.Sqrt(sum/float64(to-from)) / max(c.width, 1e-9)
}

// encloseStrands lays the outline around all the strands where it goes to and fro with
// some of them, which stand out clearly. It must then not lie amid other yarns.
func (c *cut) encloseStrands(ground bulk) {
	if c.sway() < mostSway || c.strength() < leastClear {
		return
	}
	was, width := *c.outline, c.width
	c.enclose()
	if c.enclosed = !c.amidOthers(ground); !c.enclosed {
		*c.outline, c.width = was, width
	}
}

// enclose moves each edge out to where it lies at the outermost of the places near.
func (c *cut) enclose() {
	slow, o := c.middles(), c.outline
	n := len(slow)
	reach := max(int(swayReach*c.width/c.strip.along.step), 1)
	top, bottom := make([]float64, n), make([]float64, n)
	for i := range n {
		var up, down []float64
		for d := 0; d <= reach; d += max(reach/24, 1) {
			for _, k := range [2]int{i - d, i + d} { // outwards, so that yarn read backwards is cut alike
				if k >= 0 && k < n {
					up, down = append(up, o.top[k]-slow[k]), append(down, o.bottom[k]-slow[k])
				}
			}
		}
		top[i] = slow[i] + quantile(up, swayOutermost)
		bottom[i] = slow[i] + quantile(down, 1-swayOutermost)
	}
	o.top, o.bottom = top, bottom
	c.width, _ = o.mean()
}
