package reading

import (
	"math"
)

// bundleRows is how many rows of the strip a bundle's width takes when it is
// searched for single yarns.
const bundleRows = 96

// A bundle is several yarns side by side: where the middle of each lies from
// the axis and how far apart they are, in photo pixels.
type bundle struct {
	middles []float64
	spacing float64
}

// split looks for gaps that repeat across a cut. It returns a bundle of one
// where there are none.
func (c *cut) split(s *sampler) bundle {
	width, middle := c.outline.mean()
	one := bundle{middles: []float64{middle}, spacing: width}
	if width < 30 {
		return one
	}
	profile := c.gapProfile(s, width, middle)
	cycles, power := gapFrequency(profile)
	if power < leastGapPower || cycles < leastGapCycles {
		return one
	}
	return c.spaced(cycles, width, middle)
}

// spaced lays yarns over a width in which their gaps repeat so many times. The
// width may hold a shadow along one side, so the yarns are put where the evidence
// for yarn swells, not evenly between the edges.
func (c *cut) spaced(cycles, width, middle float64) bundle {
	rows := c.strip.rowMeans(c.evidence)
	var re, im float64
	for k := range bundleRows {
		u := (float64(k)+0.5)/bundleRows - 0.5
		v := rows[c.row(middle+u*width)]
		sin, cos := math.Sincos(2 * math.Pi * cycles * u)
		h := 0.5 + 0.5*math.Cos(2*math.Pi*u)
		re += h * v * cos
		im += h * v * sin
	}
	b := bundle{spacing: width / cycles}
	first := math.Atan2(im, re) / (2 * math.Pi)
	for k := math.Ceil(-cycles/2 - first); ; k++ {
		u := first + k
		if u > cycles/2 {
			break
		}
		if math.Abs(u) <= cycles/2-leastOfYarn {
			b.middles = append(b.middles, middle+u*b.spacing)
		}
	}
	return b
}

// leastOfYarn is how far inside the bundle's edge the middle of its last yarn
// lies at least, in spacings.
const leastOfYarn = 0.3

// evenly lays n yarns side by side over a width.
func evenly(n int, width, middle float64) bundle {
	b := bundle{spacing: width / float64(n)}
	for i := range n {
		b.middles = append(b.middles, middle+((float64(i)+0.5)/float64(n)-0.5)*width)
	}
	return b
}

// A single yarn's own shading repeats up to twice across it; gaps between
// yarns repeat more often and stand out from all lower frequencies.
const (
	leastGapPower  = 1.7
	leastGapCycles = 2.6
)

// mostYarns is how many yarns of a bundle are read at most.
const mostYarns = 6

// yarns cuts single yarns out of a bundle, from its middle outwards.
func (c *cut) yarns(src *source) []*cut {
	b := c.split(src.sampler(c.width / bundleRows))
	if len(b.middles) == 1 {
		return []*cut{c}
	}
	return c.part(src, b)
}

// part cuts out the yarns of a bundle.
func (c *cut) part(src *source, b bundle) []*cut {
	return c.partBy(src, b, c.learnBundle(src, b))
}

// partBy does so with what is known of yarn and ground.
func (c *cut) partBy(src *source, b bundle, classes *classes) []*cut {
	var out []*cut
	for _, mid := range b.inner(mostYarns) {
		if y := c.yarnAt(src, classes, mid, b.spacing); y != nil {
			y.abreast = len(b.middles)
			out = append(out, y)
		}
	}
	return out
}

// inner returns the middles of at most so many yarns, leaving out as many on
// either side.
func (b bundle) inner(most int) []float64 {
	left := max(len(b.middles)-most+1, 0) / 2
	return b.middles[left : len(b.middles)-left]
}

// learnBundle learns yarn from near the middle of each yarn of a bundle, and
// ground from beside the bundle.
func (c *cut) learnBundle(src *source, b bundle) *classes {
	step := b.spacing / rowsPerYarn
	width, middle := c.outline.mean()
	line := c.strip.along.moved(make([]float64, c.strip.along.len()), step)
	st := src.sampler(step).straighten(line, math.Abs(middle)+width/2+b.spacing, step)
	return learn(st, st.cueFields(), func(across float64) (yarn, ground bool) {
		if math.Abs(across-middle) > width/2+0.25*b.spacing {
			return false, true
		}
		return b.nearest(across) < middleOfYarn*b.spacing, false
	})
}

// middleOfYarn is how far from its middle there is surely yarn, in spacings.
const middleOfYarn = 0.22

// nearest is how far away the nearest middle is.
func (b bundle) nearest(across float64) float64 {
	d := math.Inf(1)
	for _, m := range b.middles {
		d = math.Min(d, math.Abs(across-m))
	}
	return d
}

// slotReach is how far from the expected middle the edge of a yarn in a bundle
// may lie, in spacings, at first and in the end.
var slotReach = [2]float64{0.62, 0.5}

// gapDepth is how much evidence against yarn makes a gap between two yarns.
const gapDepth = 6

// yarnAt cuts out the yarn whose middle lies near the given distance from the
// bundle's axis. The first round finds its own middle line.
func (c *cut) yarnAt(src *source, l *classes, middle, spacing float64) *cut {
	shift := make([]float64, c.strip.along.len())
	for i := range shift {
		shift[i] = middle
	}
	step := spacing / rowsPerYarn
	line := c.strip.along.moved(shift, step)
	var y *cut
	for _, reach := range slotReach {
		if line == nil {
			return nil
		}
		st := src.sampler(step).straighten(line, 0.75*spacing, step)
		cues := st.cueFields()
		e := l.evidence(cues)
		e.BlurRows(1.5)
		y = &cut{strip: st, cues: cues, evidence: e}
		y.outline = traceOutline(st, e, reach*spacing, reach*spacing, gapDepth)
		y.width, _ = y.outline.mean()
		if y.width < spacing/3 {
			return nil
		}
		line = y.middleLine(0)
	}
	return y
}

// gapProfile averages lightness and texture along the yarn for each row
// between the edges, in units of their own spread along the yarn.
func (c *cut) gapProfile(s *sampler, width, middle float64) []float64 {
	out := make([]float64, bundleRows)
	a := c.strip.along
	hop := max(a.len()/400, 1)
	var sum2 float64
	var n float64
	for k := range out {
		across := middle + ((float64(k)+0.5)/bundleRows-0.5)*width
		for i := 0; i < a.len(); i += hop {
			x, y := a.at(i, across)
			v := float64(s.at(0, x, y))
			out[k] += v
			sum2 += v * v
			n++
		}
	}
	per := n / bundleRows
	var mean float64
	for k := range out {
		out[k] /= per
		mean += out[k] / bundleRows
	}
	spread := math.Sqrt(math.Max(sum2/n-mean*mean, 4))
	for k := range out {
		out[k] = (out[k] - mean) / spread
	}
	return out
}

// gapFrequency returns the number of cycles across the width at which the
// profile repeats most, and how far that stands out from lower frequencies.
func gapFrequency(profile []float64) (cycles, power float64) {
	var best float64
	amp := func(f float64) float64 {
		var re, im, w float64
		for k, v := range profile {
			u := (float64(k)+0.5)/float64(len(profile)) - 0.5
			h := 0.5 + 0.5*math.Cos(2*math.Pi*u)
			sin, cos := math.Sincos(2 * math.Pi * f * u)
			re += h * v * cos
			im += h * v * sin
			w += h
		}
		return math.Hypot(re, im) / w
	}
	for f := 2.0; f <= 14; f += 0.1 {
		if a := amp(f); a > best {
			best, cycles = a, f
		}
	}
	low := 0.02
	for f := 1.2; f < cycles-1.2; f += 0.2 {
		low = math.Max(low, amp(f))
	}
	return cycles, best / low
}
