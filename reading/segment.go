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
	looped   bool    // a loop was cut off at an end: two strands turn back there
	enclosed bool    // the outline is, or was at first, laid around strands that it went to and fro with
	straight *body   // once it was asked for
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
		next.enclosed = next.enclosed || c != nil && c.enclosed
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
	c.encloseStrands(src.ground)
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
