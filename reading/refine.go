package reading

import (
	"math"

	"waketwist/raster"
)

// refineEdges moves each edge to where the colour is half way between the yarn
// just inside and the ground just outside, which keeps stray hairs and the
// blur of the lens from widening the yarn. Where a shadow falls outside, the tint
// decides, if yarn and ground differ in it.
func (c *cut) refineEdges() {
	fields := c.edgeFields()
	top, bottom := fields[1:], fields[1:]
	above, below := c.shaded()
	if above {
		top = fields
	}
	if below {
		bottom = fields
	}
	refined := func(of []edgeField, i int, edge, out float64) float64 {
		for _, f := range of {
			if y, ok := f.halfWay(c, i, edge, out); ok {
				return y
			}
		}
		return edge
	}
	for i := range c.strip.cols() {
		c.outline.top[i] = refined(top, i, c.outline.top[i], -1)
		c.outline.bottom[i] = refined(bottom, i, c.outline.bottom[i], 1)
	}
	c.width, _ = c.outline.mean()
}

// shaded reports on which sides the ground just outside the yarn lies in a shadow
// that may pass for yarn, which is nowhere near as dark as dark yarn.
func (c *cut) shaded() (top, bottom bool) {
	width, middle := c.outline.mean()
	luma := c.strip.rowMeans(c.strip.chan_[0])
	lo, hi := c.row(middle-width/2), c.row(middle+width/2)
	ground := groundMean(luma, lo, hi)
	if median(luma[lo:hi+1]) < lightYarn*ground || !c.oneHue(lo, hi) {
		return false, false
	}
	beside := func(out float64) float64 {
		return luma[c.row(middle+out*(0.5+besideEdge)*width)]
	}
	return beside(-1) < inShade*ground, beside(1) < inShade*ground
}

// oneHue reports whether yarn in rows [lo, hi) differs from the ground in tint
// about alike all along: strands of several colours do not.
func (c *cut) oneHue(lo, hi int) bool {
	var step2, spread2 float64
	for _, k := range [2]int{cueBlue, cueRed} {
		f := c.cues[k]
		ground := groundMean(c.strip.rowMeans(f), lo, hi)
		var sum, sum2, n float64
		for j := lo + (hi-lo)/4; j < hi-(hi-lo)/4; j++ {
			for _, v := range f.Row(j) {
				d := float64(v) - ground
				sum += d
				sum2 += d * d
				n++
			}
		}
		mean := sum / math.Max(n, 1)
		step2 += mean * mean
		spread2 += sum2/math.Max(n, 1) - mean*mean
	}
	return step2 > leastHue*leastHue && step2 > spread2
}

// besideEdge is how far outside the edge the ground is looked at, in widths; in
// shade it has less than inShade of its light.
const (
	besideEdge = 0.15
	inShade    = 0.9
	lightYarn  = 0.6 // of the ground's light, from which yarn is no darker than shadows
)

// leastStep is the difference between yarn and ground, in levels, below which
// an edge is left where it was. Where they differ in tint by leastHue, the edge is
// found by tint alone, which shadows leave as it is.
const (
	leastStep = 10
	leastHue  = 8
)

// An edgeField is what an edge is looked for in: lightness and chroma, or tint.
type edgeField struct {
	of    []*raster.Field
	least float64
	tint  bool
}

// edgeFields are tried in turn.
func (c *cut) edgeFields() []edgeField {
	soft := func(fields ...*raster.Field) (out []*raster.Field) {
		for _, f := range fields {
			f = f.Clone()
			f.BlurRows(2)
			out = append(out, f)
		}
		return out
	}
	return []edgeField{
		{soft(c.cues[cueBlue], c.cues[cueRed]), leastHue, true},
		{soft(c.strip.chan_[:]...), leastStep, false},
	}
}

// halfWay returns the refined edge of column i on the side out (-1 top, 1
// bottom), or false where yarn and ground do not differ.
func (f edgeField) halfWay(c *cut, i int, edge, out float64) (float64, bool) {
	st := c.strip
	value := func(ch int, across float64) float64 {
		return float64(f.of[ch].At(float64(i), (across+st.reach)/st.step))
	}
	var ground [3]float64
	var norm float64
	for ch := range f.of {
		var yarn float64
		for k := range 4 {
			yarn += value(ch, edge-out*c.width*(0.08+0.05*float64(k))) / 4
			ground[ch] += value(ch, edge+out*c.width*(0.12+0.03*float64(k))) / 4
		}
		norm += (yarn - ground[ch]) * (yarn - ground[ch])
	}
	norm = math.Sqrt(norm)
	if norm < f.least {
		return edge, false
	}
	// Unlike the ground in whichever way: the rim of light yarn may be darker
	// than the ground.
	share := func(across float64) float64 {
		var s float64
		for ch := range f.of {
			v := value(ch, across) - ground[ch]
			s += v * v
		}
		return math.Sqrt(s) / norm
	}
	half := 0.5
	if f.tint {
		half = c.halfTint(i, edge, out)
	}
	prev := 0.0
	for y := edge + out*0.12*c.width; (y-edge)*out > -0.2*c.width; y -= out * st.step / 2 {
		s := share(y)
		if s >= half && share(y-out*0.04*c.width) >= half {
			frac := (s - half) / math.Max(s-prev, 1e-6)
			return y + out*st.step/2*math.Min(frac, 1), true
		}
		prev = s
	}
	return edge, true
}

// washedHalf is the least share of the difference in tint that marks an edge: light
// from the ground takes colour from the rim of the yarn, and from that of dark yarn
// most.
const washedHalf = 0.4

// halfTint is the share of the difference in tint that a point shows which yarn
// and ground fill half each. Tint is chroma over lightness, so the lighter of the
// two colours the mixture more.
func (c *cut) halfTint(i int, edge, out float64) float64 {
	light := func(across float64) float64 {
		return float64(c.cues[cueLuma].At(float64(i), (across+c.strip.reach)/c.strip.step)) + tintFloor
	}
	yarn, ground := light(edge-out*0.08*c.width), light(edge+out*0.12*c.width)
	return max(yarn/(yarn+ground), washedHalf)
}
