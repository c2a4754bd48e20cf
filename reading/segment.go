package reading

import "waketwist/raster"

// A cut is yarn cut out of the picture along a traced line.
type cut struct {
	strip    *strip
	outline  *outline
	evidence *raster.Field
	width    float64 // mean silhouette width, photo pixels
}

// rowsPerYarn is how many rows of the fine strip the yarn's width takes.
const rowsPerYarn = 32

// cutOut finds the outline of the yarn along a rough middle line. Each round
// learns yarn and ground afresh from where the last one put the edges, and
// lays the strip along the new middle.
func cutOut(photo *raster.Photo, rough *axis, width float64) *cut {
	var c *cut
	for range 3 {
		step := width / rowsPerYarn
		s := newSampler(photo, step)
		fine := rough.moved(make([]float64, rough.len()), step)
		if fine == nil {
			return c
		}
		st := s.straighten(fine, 1.4*width, step)
		start := flatOutline(st.cols(), width)
		cues := st.cueFields()
		l := learn(st, cues, start, 0.32*width, 0.75*width)
		e := l.evidence(cues)
		e.BlurRows(2)
		o := traceOutline(st, e, func(int) float64 { return 0 }, 1.2*width)
		c = &cut{strip: st, outline: o, evidence: e}
		c.width, _ = o.mean()
		if c.width < 0.2*width {
			return c
		}
		rough = c.middleLine()
		if rough == nil {
			return c
		}
		width = c.width
	}
	return c
}

// flatOutline is an outline of equal width about the axis.
func flatOutline(n int, width float64) *outline {
	o := &outline{top: make([]float64, n), bottom: make([]float64, n), sure: make([]float64, n)}
	for i := range n {
		o.top[i], o.bottom[i], o.sure[i] = -width/2, width/2, 1
	}
	return o
}

// middleLine is the axis through the middle of the outline, smoothed over
// about three widths to either side.
func (c *cut) middleLine() *axis {
	n := c.strip.cols()
	mid := make([]float64, n)
	for i := range mid {
		mid[i] = (c.outline.top[i] + c.outline.bottom[i]) / 2
	}
	mid = smooth(mid, c.outline.sure, int(3*c.width/c.strip.along.step))
	return c.strip.along.moved(mid, c.strip.along.step)
}
