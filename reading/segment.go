package reading

import (
	"math"

	"waketwist/raster"
)

// A cut is yarn cut out of the picture along a traced line.
type cut struct {
	strip    *strip
	outline  *outline
	cues     *[numCues]*raster.Field
	evidence *raster.Field
	width    float64 // mean silhouette width, photo pixels
	abreast  int     // yarns side by side, of which this is one
}

// rowsPerYarn is how many rows of the fine strip the yarn's width takes, and
// rowsPerRough how many while it is still being looked for.
const (
	rowsPerYarn  = 32
	rowsPerRough = 20
)

// finestStep is the least distance between samples, in photo pixels: the
// picture holds no more.
const finestStep = 0.4

// cutRounds is how often yarn and ground are learnt afresh in the end.
const cutRounds = 3

// cutOut finds the outline of the yarn along a rough middle line. Each round
// learns yarn and ground afresh from where the last one put the edges, and
// lays the strip along the new middle.
func cutOut(src *source, rough *axis, width float64, rounds int) *cut {
	var c *cut
	limit := [2]float64{1.2, 1.2}
	for round := range rounds {
		rows := float64(rowsPerRough)
		if round > 0 && round == rounds-1 {
			rows = rowsPerYarn
		}
		next := cutOnce(src, rough, width, rows, limit)
		if next == nil || next.width < 0.2*width {
			return c
		}
		c = next
		if round == rounds-1 {
			break
		}
		w, mid, shadow := c.withoutShadow()
		for side, s := range shadow {
			if s {
				limit[side] = besideShadow
			}
		}
		_, was := c.outline.mean()
		rough = c.middleLine(mid - was)
		if rough == nil {
			return c
		}
		width = w
	}
	c.refineEdges()
	return c
}

// besideShadow is how far from the middle the edge may lie, in widths, where
// a shadow follows it.
const besideShadow = 0.56

// cutOnce learns yarn from near the line and ground from well outside, and
// traces the outline within limit widths of the line to either side.
func cutOnce(src *source, rough *axis, width, rows float64, limit [2]float64) *cut {
	step := max(width/rows, finestStep)
	s := src.sampler(step)
	fine := rough.moved(make([]float64, rough.len()), step)
	if fine == nil {
		return nil
	}
	st := s.straighten(fine, 1.4*width, step)
	cues := st.cueFields()
	l := learn(st, cues, around(0.32*width, 0.75*width))
	e := l.evidence(cues)
	e.BlurRows(1.5)
	c := &cut{strip: st, cues: cues, evidence: e, abreast: 1}
	c.outline = traceOutline(st, e, limit[0]*width, limit[1]*width, math.Inf(1))
	c.width, _ = c.outline.mean()
	return c
}

// middleLine is the axis through the middle of the outline, moved sideways by
// shift and smoothed over about three widths to either side, where it runs
// steadily.
func (c *cut) middleLine(shift float64) *axis {
	n := c.strip.cols()
	mid := make([]float64, n)
	for i := range mid {
		mid[i] = (c.outline.top[i]+c.outline.bottom[i])/2 + shift
	}
	mid = smooth(mid, c.outline.sure, int(3*c.width/c.strip.along.step))
	from, to := c.steady()
	return c.strip.along.slice(from, to).moved(mid[from:to], c.strip.along.step)
}

// steady returns the longest run of columns in which the outline is clear,
// about as wide as elsewhere, and does not jump sideways: a loop or a frayed
// end is left out.
func (c *cut) steady() (from, to int) {
	n := c.strip.cols()
	w := max(int(c.width/c.strip.along.step), 1)
	o := c.outline
	good := func(i int) bool {
		lo, hi := max(i-w/2, 0), min(i+w/2, n-1)
		jump := (o.top[hi] + o.bottom[hi] - o.top[lo] - o.bottom[lo]) / 2
		wide := (o.bottom[lo] - o.top[lo] + o.bottom[hi] - o.top[hi] + 2*(o.bottom[i]-o.top[i])) / 4
		return o.sure[i] > 0.4 && math.Abs(jump) < 0.5*c.width && wide > 0.4*c.width && wide < 1.9*c.width
	}
	start, last := -1, -1
	for i := 0; i <= n; i++ {
		ok := i < n && good(i)
		if ok && start < 0 {
			start = i
		}
		if ok {
			last = i
		}
		if start >= 0 && (i == n || i-last > w/2) {
			if last+1-start > to-from {
				from, to = start, last+1
			}
			start = -1
		}
	}
	if to-from < 3 {
		return 0, n
	}
	return from, to
}

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
	luma := rowMeans(c.strip.chan_[0])
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
		ground := groundMean(rowMeans(f), lo, hi)
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
	hueHalf   = 0.4 // light from the ground takes colour from the rim of the yarn
)

// An edgeField is what an edge is looked for in: lightness and chroma, or tint.
type edgeField struct {
	of    []*raster.Field
	least float64
	half  float64 // share of the difference that marks the edge
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
		{soft(c.cues[cueBlue], c.cues[cueRed]), leastHue, hueHalf},
		{soft(c.strip.chan_[:]...), leastStep, 0.5},
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
	prev := 0.0
	for y := edge + out*0.12*c.width; (y-edge)*out > -0.2*c.width; y -= out * st.step / 2 {
		s := share(y)
		if s >= f.half && share(y-out*0.04*c.width) >= f.half {
			frac := (s - f.half) / math.Max(s-prev, 1e-6)
			return y + out*st.step/2*math.Min(frac, 1), true
		}
		prev = s
	}
	return edge, true
}
