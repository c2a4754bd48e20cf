package reading

import (
	"math"

	"waketwist/unit"
)

const (
	leastContrast = 0.4  // of the fibres' lean
	leastMargin   = 0.08 // of its contrast over that of the opposite lean

	// The fibres seen lie a little inside the outline, where their helix is
	// flatter in proportion (assumption; loose fibres make the outline).
	surfaceOverSeen = 1.04
)

// readSingles measures the surface fibres of the yarns.
func readSingles(src *source, yarns []*cut) Reading {
	var angle, spread, contrast, mirror, width, cv []float64
	for _, y := range yarns {
		f := y.readFibres(src)
		angle, contrast, mirror = append(angle, f.angle), append(contrast, f.contrast), append(mirror, f.mirror)
		spread = append(spread, f.spread)
		w, v := y.evenness()
		width, cv = append(width, w), append(cv, v)
	}
	if median(contrast) < leastContrast {
		return refuse(NoLay)
	}
	if median(contrast)-median(mirror) < leastMargin {
		return refuse(BothWays)
	}
	a := math.Atan(surfaceOverSeen * math.Tan(median(angle)))
	r := Reading{Readable: true, Structure: Singles, Plies: 1, Direction: S,
		Angle:       interval(unit.Angle(math.Abs(a)), 2*unit.Degree),
		AngleSpread: unit.Angle(median(spread)),
		Width:       Pixels{median(width), 0.02 * median(width)},
		WidthCV:     median(cv)}
	if a > 0 {
		r.Direction = Z
	}
	return r
}

// evenness is the mean width of the outline and its coefficient of variation
// over stretches of about a width.
func (c *cut) evenness() (width, cv float64) {
	o := c.outline
	wide := make([]float64, len(o.top))
	for i := range wide {
		wide[i] = o.bottom[i] - o.top[i]
	}
	wide = smooth(wide, o.sure, int(c.width/c.strip.along.step))
	var sum, sum2 float64
	for _, w := range wide {
		sum += w
		sum2 += w * w
	}
	n := float64(len(wide))
	mean := sum / n
	return mean, math.Sqrt(math.Max(sum2/n/(mean*mean)-1, 0))
}
