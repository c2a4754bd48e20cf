package reading

import "math"

// A shadow takes light from the ground and leaves its hue and its relative texture;
// yarn has its own. What has the ground's hue and texture, and less light, is shadow.
const (
	calmRow   = 0.2  // of what the yarn varies along it beyond the ground: a row of shadow varies by less
	calmTells = 2    // times as much as the ground the yarn must vary, to tell
	calmHue   = 0.35 // of the yarn's hue: a row of shadow has less
	calmTint  = 3    // levels of hue that are none
	calmSpan  = 0.55 // of the outline: a shadow fills no more
	leastYarn = 0.35 // of the outline: yarn between two shadows fills no less
	calmFine  = 0.03 // widths, between which and the next the variation along the yarn is taken
	calmBroad = 0.3
)

// calmRows says which rows of a cut show ground in shadow.
type calmRows []bool

// calm finds the rows of shadow among rows [lo, hi] of an outline, by the lightness
// and hue of each.
func (c *cut) calm(luma, hue []float64, lo, hi int) calmRows {
	busy := c.busy()
	light, quiet := groundMean(luma, lo, hi), groundMean(busy, lo, hi)
	yarn, own := quantile(busy[lo:hi+1], 0.75), quantile(hue[lo:hi+1], 0.75)
	out := make(calmRows, len(luma))
	if yarn < calmTells*quiet {
		return out
	}
	for j := lo; j <= hi; j++ {
		share := luma[j] / light
		out[j] = busy[j] < quiet+calmRow*(yarn-quiet) && hue[j] < max(calmHue*own, calmTint) &&
			share < deepShadow && share > deepestShadow
	}
	return out
}

// depth is how many rows from an edge the innermost row of shadow lies. The rim of
// the shadow may be busier, where it follows the strands.
func (r calmRows) depth(edge, dir, span int) int {
	depth := 0
	for d := range int(calmSpan * float64(span)) {
		if r[edge+dir*d] {
			depth = d + 1
		}
	}
	if depth < span/12 {
		return 0
	}
	return depth
}

// hue says for each row how far its hue is from that of the ground beside rows
// [lo, hi], in levels.
func (c *cut) hue(lo, hi int) []float64 {
	blue, red := c.strip.rowMeans(c.cues[cueBlue]), c.strip.rowMeans(c.cues[cueRed])
	blue0, red0 := groundMean(blue, lo, hi), groundMean(red, lo, hi)
	for j := range blue {
		blue[j] = math.Hypot(blue[j]-blue0, red[j]-red0)
	}
	return blue
}

// busy says for each row how much the light varies along the yarn, as a standard
// deviation over its mean.
func (c *cut) busy() []float64 {
	fine := c.strip.chan_[0].Clone()
	fine.BlurRows(max(calmFine*c.width/c.strip.step, 0.5))
	broad := fine.Clone()
	broad.BlurRows(calmBroad * c.width / c.strip.step)
	out := c.strip.rowMeans(broad)
	for j := range out {
		var sum float64
		a, b := c.strip.row(fine, j), c.strip.row(broad, j)
		for i := range a {
			d := float64(a[i] - b[i])
			sum += d * d
		}
		out[j] = math.Sqrt(sum/float64(max(len(a), 1))) / (out[j] + tintFloor)
	}
	return out
}
