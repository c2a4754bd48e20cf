package reading

import (
	"math"

	"waketwist/unit"
	"waketwist/yarn"
)

const (
	leastContrast = 0.66 // of the fibres' lean, in the middle one of the windows
	// Plies side by side cover each other's outlines and pass for singles
	// sooner.
	contrastAbreast = 0.85
	// Over many windows that agree, weaker fibres are enough.
	faintContrast = 0.45
	faintTexture  = 1.5 // from here
	clearTexture  = 20  // to here fibres count as faint
	manyWindows   = 30
	allAgree      = 0.95
	faintMargin   = 0.25
	faintSpread   = 4 * unit.Degree

	softEdge = 0.17 // edge blur over width beyond which a shadow was taken for yarn

	leastWindows = 7    // fewer say little: a braid may lean one way so far
	leastAgree   = 0.85 // share of the length with fibres that lean to one side
	leastMargin  = 0.08 // of the contrast over that of the opposite lean
	leastTexture = 3.0  // of the fibres' mean squared brightness step
	mostSpread   = 14 * unit.Degree
	steepest     = 63 * unit.Degree

	// The fibres seen lie a little inside the outline, where their helix is
	// flatter in proportion (assumption; loose fibres make the outline).
	surfaceOverSeen = 1.04
)

// readSingles measures the surface fibres of the yarns.
func readSingles(src *source, yarns []*cut) Reading {
	var angle, spread, windows, local, width, cv []float64
	for _, y := range yarns {
		f := y.readFibres(src)
		if r := f.doubt(); r != NoReason {
			return refuse(r)
		}
		if y.abreast > 1 && f.local < contrastAbreast || y.edgeBlur() > softEdge*y.width {
			return refuse(UnsureReading)
		}
		angle, spread = append(angle, f.angle), append(spread, f.spread)
		windows, local = append(windows, float64(f.windows)), append(local, f.local)
		w, v := y.evenness()
		width, cv = append(width, w), append(cv, v)
	}
	a := math.Atan(surfaceOverSeen * math.Tan(median(angle)))
	r := Reading{Readable: true, Structure: Singles, Plies: 1, Direction: yarn.S,
		Angle:       interval(unit.Angle(math.Abs(a)), singlesSD(math.Abs(a), median(spread), median(windows), median(local))),
		AngleSpread: unit.Angle(median(spread)),
		Width:       Pixels{median(width), widthSD(median(width), 1)},
		WidthCV:     median(cv)}
	if a > 0 {
		r.Direction = yarn.Z
	}
	r.Overlay = yarns[len(yarns)/2].overlay(1, r.Angle.Value, r.Direction)
	return r
}

// doubt says why the fibres' lean is not to be believed. The strands of a ply,
// hairs and cloth can lean as well, but not so steadily along the yarn.
func (f fibreLay) doubt() Reason {
	switch {
	case f.steady():
		return NoReason
	case f.energy < leastTexture:
		return SmoothSurface
	case f.windows < leastWindows:
		return TooLittle
	case f.local < leastContrast || f.agree < leastAgree:
		return NoLay
	case f.contrast-f.mirror < leastMargin:
		return BothWays
	case unit.Angle(f.spread) > mostSpread || unit.Angle(math.Abs(f.angle)) > steepest:
		return UnsureReading
	}
	return NoReason
}

// steady reports whether faint fibres lean so much alike along so much yarn that
// they are believed.
func (f fibreLay) steady() bool {
	return f.windows >= manyWindows && f.agree >= allAgree && f.local >= faintContrast && f.energy >= faintTexture && f.energy <= clearTexture &&
		f.contrast-f.mirror >= faintMargin && unit.Angle(f.spread) <= faintSpread && unit.Angle(math.Abs(f.angle)) <= steepest
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
