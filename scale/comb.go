package scale

import (
	"math"
	"slices"
)

// A tooth is a mark on a profile.
type tooth struct{ u, depth float64 }

// A comb is a row of teeth at equal steps, some of which may be hidden.
type comb struct {
	teeth  []tooth
	index  []int   // of each tooth, in steps from the first
	period float64 // photo pixels
	rough  float64 // standard deviation of the teeth about equal steps, photo pixels
}

// Limits of what counts as a comb; without a source.
const (
	leastTeeth   = 7
	leastPeriod  = 4.5  // samples
	leastDepth   = 2.0  // steps of lightness
	strayed      = 0.05 // of a step, from where the next tooth is expected,
	strayedAlso  = 0.5  // and so many samples more
	weakest      = 0.4  // of the depth of those before
	strongest    = 2.6  // the same
	mostHidden   = 3    // in a row
	unevenPeriod = 0.06 // standard deviation over the step
	leastPresent = 0.75 // share of the teeth between first and last
)

// teeth are the local tops of how much a profile bends.
func (p profile) teeth(bend []float32, sign float32) (out []tooth) {
	for i := 1; i < len(bend)-1; i++ {
		a, b, c := sign*bend[i-1], sign*bend[i], sign*bend[i+1]
		if b < leastDepth || b < a || b <= c {
			continue
		}
		shift := float64(a-c) / (2 * float64(a-2*b+c))
		out = append(out, tooth{p.u(float64(i) + shift), float64(b)})
	}
	return out
}

// combs finds rows of teeth of like depth at equal steps.
func combs(all []tooth, by float64) (out []comb) {
	taken := make([]float64, len(all)) // the step of the comb that a tooth is in
	for i := range all {
		j := i + 1
		for j < len(all) && all[j].depth < weakest*all[i].depth {
			j++
		}
		if j == len(all) {
			break
		}
		step := all[j].u - all[i].u
		if step < leastPeriod*by || math.Abs(taken[i]-step) < 0.1*step {
			continue
		}
		c, used := grow(all, i, step, by)
		if len(c.teeth) < leastTeeth || !c.settle(by) {
			continue
		}
		for _, k := range used {
			taken[k] = c.period
		}
		out = append(out, c)
	}
	return out
}

// grow follows a row of teeth from its first.
func grow(all []tooth, first int, step, by float64) (c comb, used []int) {
	c = comb{teeth: []tooth{all[first]}, index: []int{0}, period: step}
	used = []int{first}
	depth := all[first].depth
	for hidden := 0; hidden <= mostHidden; {
		n := c.index[len(c.index)-1] + hidden + 1
		want := c.teeth[len(c.teeth)-1].u + float64(hidden+1)*c.period
		k := nearest(all, want)
		t := all[k]
		if math.Abs(t.u-want) > strayed*c.period+strayedAlso*by || t.depth < weakest*depth || t.depth > strongest*depth {
			hidden++
			continue
		}
		if between(all, used[len(used)-1], k, depth) {
			break // teeth as deep in between: the step is another
		}
		c.teeth, c.index, used = append(c.teeth, t), append(c.index, n), append(used, k)
		depth += 0.3 * (t.depth - depth)
		back := max(0, len(c.teeth)-9)
		c.period = (t.u - c.teeth[back].u) / float64(n-c.index[back])
		hidden = 0
	}
	return c, used
}

func nearest(all []tooth, u float64) int {
	k, _ := slices.BinarySearchFunc(all, u, func(t tooth, u float64) int {
		if t.u < u {
			return -1
		}
		return 1
	})
	switch {
	case k == len(all):
		return k - 1
	case k > 0 && u-all[k-1].u < all[k].u-u:
		return k - 1
	}
	return k
}

// between reports whether more than one tooth of like depth lies between two.
func between(all []tooth, from, to int, depth float64) bool {
	n := 0
	for _, t := range all[from+1 : max(to, from+1)] {
		if t.depth >= weakest*depth {
			n++
		}
	}
	return n > 1
}

// settle fits equal steps by least squares, without teeth that stray far from
// the others, which are of what lies on the ruler; it reports whether there are
// enough left and they are even.
func (c *comb) settle(by float64) bool {
	for range 4 {
		offset, period := c.line()
		stray := func(i int) float64 { return math.Abs(c.teeth[i].u - offset - period*float64(c.index[i])) }
		var sum float64
		for i := range c.teeth {
			sum += stray(i) * stray(i)
		}
		c.period, c.rough = period, math.Sqrt(sum/float64(len(c.teeth)-2))
		var teeth []tooth
		var index []int
		for i, t := range c.teeth {
			if stray(i) <= max(2.5*c.rough, 0.02*period, 0.6*by) {
				teeth, index = append(teeth, t), append(index, c.index[i])
			}
		}
		if len(teeth) < leastTeeth {
			return false
		}
		c.teeth, c.index = teeth, index
	}
	for i := len(c.index) - 1; i >= 0; i-- {
		c.index[i] -= c.index[0]
	}
	present := float64(len(c.teeth)) / float64(c.index[len(c.index)-1]+1)
	return c.rough <= unevenPeriod*c.period && present >= leastPresent
}

// line is the place of tooth 0 and the step that fit best.
func (c *comb) line() (offset, period float64) {
	var n, su, sx, sxx, sxu float64
	for i, t := range c.teeth {
		x := float64(c.index[i])
		n, su, sx, sxx, sxu = n+1, su+t.u, sx+x, sxx+x*x, sxu+x*t.u
	}
	period = (n*sxu - sx*su) / (n*sxx - sx*sx)
	return (su - period*sx) / n, period
}

// outweighs reports whether the teeth are deeper than what lies between them the
// other way: light seams beside dark marks are no marks.
func (c *comb) outweighs(others []tooth) bool {
	var own, other float64
	for _, t := range c.teeth {
		own += t.depth
	}
	first, last := c.teeth[0].u, c.teeth[len(c.teeth)-1].u
	n := 0
	for _, t := range others {
		if t.u > first && t.u < last {
			other += t.depth
			n++
		}
	}
	return n == 0 || own/float64(len(c.teeth)) > other/float64(n)
}
