package reading

import (
	"math"
	"slices"

	"waketwist/raster"
)

// deepShadow is the share of the ground's light below which a row may belong
// to a shadow; clearOfShadow is how much lighter the yarn itself must be.
// A row that has at least ownHue of the clearest hue is yarn.
const (
	deepShadow    = 0.8
	clearOfShadow = 1.25
	ownHue        = 0.75
)

// withoutShadow returns the width and middle of the outline less a shadow
// along an edge, and whether there was one at the top and at the bottom. A shadow cast by yarn is darkest where the two meet and
// fades outwards, so on yarn that is lighter than its shadow the darkest row
// marks the edge.
func (c *cut) withoutShadow() (width, middle float64, at [2]bool) {
	width, middle = c.outline.mean()
	luma := c.strip.rowMeans(c.strip.chan_[0])
	lo, hi := c.row(middle-width/2), c.row(middle+width/2)
	if hi-lo < 12 {
		return width, middle, at
	}
	ground := groundMean(luma, lo, hi)
	yarn := quantile(luma[lo:hi], 0.6)
	tint, hue := c.tint(lo, hi), c.hue(lo, hi)
	own := c.ownHues(hue)
	depth := func(edge, dir int) int {
		return max(shadowDepth(luma, tint, own, edge, dir, hi-lo, ground, yarn), c.greyDepth(luma, hue, lo, hi, edge, dir))
	}
	top, bottom := depth(lo, 1), depth(hi, -1)
	calm := c.calm(luma, hue, lo, hi)
	above, below := max(top, calm.depth(lo, 1, hi-lo)), max(bottom, calm.depth(hi, -1, hi-lo))
	if float64(hi-lo-above-below) > leastYarn*float64(hi-lo) {
		top, bottom = above, below
	}
	width -= float64(top+bottom) * c.strip.step
	middle += float64(top-bottom) / 2 * c.strip.step
	return width, middle, [2]bool{top > 0, bottom > 0}
}

// shadowDepth returns how many rows lie between an edge and the darkest row
// near it, where that row is dark enough to be shadow, but not darker than any, and has
// no hue of its own: beside a broad shadow dark yarn is the darker.
func shadowDepth(luma, tint []float64, own []bool, edge, dir, span int, ground, yarn float64) int {
	darkest := 0
	for d := range span * 45 / 100 {
		if luma[edge+dir*d] < luma[edge+dir*darkest] {
			darkest = d
		}
	}
	at := edge + dir*darkest
	v := luma[at]
	if darkest < span/12 || v > deepShadow*ground || v < deepestShadow*ground || yarn < clearOfShadow*v || tint[at] > 0.6 || own[at] {
		return 0
	}
	return darkest - 1
}

// ownHues says for each row whether it has most of the clearest hue, all along the yarn:
// rows in which strands of several colours follow each other tell nothing.
func (c *cut) ownHues(hue []float64) []bool {
	out := make([]bool, len(hue))
	clearest := slices.Max(hue)
	for j := range out {
		var spread float64
		for _, k := range [2]int{cueBlue, cueRed} {
			spread = math.Hypot(spread, spreadOf(c.strip.row(c.cues[k], j)))
		}
		out[j] = clearest > leastTint && hue[j] > max(ownHue*clearest, spread)
	}
	return out
}

// spreadOf is the standard deviation of a row.
func spreadOf(row []float32) float64 {
	var sum, sum2 float64
	for _, v := range row {
		sum += float64(v)
		sum2 += float64(v) * float64(v)
	}
	n := float64(max(len(row), 1))
	return math.Sqrt(max(sum2/n-sum*sum/(n*n), 0))
}

// A hue that differs from the ground's by clearHue is the yarn's own; what has at
// most bareHue of that difference shows the ground alone.
const (
	clearHue = 30
	bareHue  = 0.15
)

// greyDepth returns how many rows from an edge lie in shadow by their hue: yarn
// with a clear hue of its own nowhere has the ground's, however dark.
func (c *cut) greyDepth(luma, hue []float64, lo, hi, edge, dir int) int {
	most := slices.Max(hue[lo : hi+1])
	depth := 0
	for depth < hi-lo && hue[edge+dir*depth] < bareHue*most {
		depth++
	}
	dark := luma[edge+dir*depth/2] < deepShadow*groundMean(luma, lo, hi)
	if most < clearHue || depth < (hi-lo)/12 || !dark {
		return 0
	}
	return depth
}

// tint says for each row whether its colour, lightness apart, is that of the
// ground (0) or of the yarn (1). It is 0 everywhere where the two are alike.
func (c *cut) tint(lo, hi int) []float64 {
	out := make([]float64, c.strip.rows())
	var norm float64
	for _, k := range [2]int{cueBlue, cueRed} {
		v := c.strip.rowMeans(c.cues[k])
		ground := groundMean(v, lo, hi)
		d := median(v[lo+(hi-lo)/4:hi-(hi-lo)/4]) - ground
		for j := range out {
			out[j] += (v[j] - ground) * d
		}
		norm += d * d
	}
	for j := range out {
		if norm < leastTint*leastTint {
			out[j] = 0
		} else {
			out[j] /= norm
		}
	}
	return out
}

// leastTint is the difference of colour below which yarn and ground count as
// alike.
const leastTint = 6

func (c *cut) row(across float64) int {
	j := int(math.Round((across + c.strip.reach) / c.strip.step))
	return min(max(j, 0), c.strip.rows()-1)
}

// rowMeans averages a field along the strip, as far as it lies in the picture.
func (st *strip) rowMeans(f *raster.Field) []float64 {
	out := make([]float64, f.H)
	for j := range out {
		var s float64
		row := st.row(f, j)
		for _, v := range row {
			s += float64(v)
		}
		out[j] = s / float64(max(len(row), 1))
	}
	return out
}

// groundMean averages row means away from the yarn in rows [lo, hi).
func groundMean(rows []float64, lo, hi int) float64 {
	var s, n float64
	margin := (hi - lo) / 4
	for j, v := range rows {
		if j < lo-margin || j > hi+margin {
			s += v
			n++
		}
	}
	if n == 0 {
		return rows[0]
	}
	return s / n
}

// pastDarkest is how far a shadow reaches, over the way from its outer edge to its
// darkest row, which lies within it: once to twice.
const pastDarkest = 1.5

// shadeLeft is how much wider, in photo pixels, the outline is than the yarn if
// what darkens along an edge of it is shadow and not the rim of the yarn.
func (c *cut) shadeLeft() float64 {
	width, _ := c.outline.mean()
	less, _, _ := c.withoutShadow()
	return pastDarkest * (width - less)
}
