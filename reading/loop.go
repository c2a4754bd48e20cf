package reading

import "waketwist/raster"

// Where a yarn ends in a loop, its strands part and ground shows between them.
const (
	openBand   = 0.12 // of the width, to either side of the middle, where ground is looked for
	openLength = 0.25 // widths along the yarn over which it shows
	openReach  = 2.5  // widths from either end within which an eye lies, or within
	openPart   = 3    // this part of the yarn
	openTaper  = 0.5  // widths beyond, over which the strands come together
)

// laid returns the columns [from, to) over which the strands lie together, without
// a loop at either end: there they turn less and lie wider than in the yarn.
func (c *cut) laid() (from, to int) {
	n := c.strip.cols()
	from, to = 0, n
	run := 0
	least := max(int(openLength*c.width/c.strip.along.step), 1)
	taper := int(openTaper * c.width / c.strip.along.step)
	reach := min(int(openReach*c.width/c.strip.along.step), n/openPart)
	middle := c.middles()
	for i := range n {
		if !c.open(i, middle[i]) {
			run = 0
			continue
		}
		if run++; run < least {
			continue
		}
		if i < reach {
			from = i + 1 + taper
		} else if first := i - run + 1; first >= n-reach {
			to = min(to, first-taper)
		}
	}
	if to-from < n/openPart {
		return 0, n
	}
	return from, to
}

// middles is where the middle of the yarn lies at each column, in photo pixels
// across, smoothed over at least one crossing of the strands.
func (c *cut) middles() []float64 {
	mid := make([]float64, c.strip.cols())
	for i := range mid {
		mid[i] = (c.outline.top[i] + c.outline.bottom[i]) / 2
	}
	return smooth(mid, c.outline.sure, int(smoothRadius*c.width/c.strip.along.step))
}

// open reports whether ground shows about a place across a column, between two
// strands: a strand that is taken for ground has yarn to one side at most.
func (c *cut) open(i int, middle float64) bool {
	reach := openBand * c.width
	return c.seen(i, middle-reach, middle+reach) < 0 &&
		c.seen(i, c.outline.top[i], middle-reach) > 0 && c.seen(i, middle+reach, c.outline.bottom[i]) > 0
}

// seen is the evidence for yarn between two places across a column.
func (c *cut) seen(i int, from, to float64) (sum float64) {
	for j := c.row(from); j <= c.row(to); j++ {
		sum += float64(c.evidence.Row(j)[i])
	}
	return sum
}

// withoutLoop is the cut without a loop at either end.
func (c *cut) withoutLoop() *cut {
	from, to := c.laid()
	if from == 0 && to == c.strip.cols() {
		return c
	}
	p := c.columns(from, to)
	p.looped = true
	return p
}

// columns is the part of a cut between two columns [from, to).
func (c *cut) columns(from, to int) *cut {
	st := *c.strip
	st.along, st.out = st.along.slice(from, to), st.out[from:to]
	for k, f := range st.chan_ {
		st.chan_[k] = columnsOf(f, from, to)
	}
	p := *c
	p.straight = nil
	p.strip, p.cues, p.evidence = &st, &[numCues]*raster.Field{}, columnsOf(c.evidence, from, to)
	for k, f := range c.cues {
		p.cues[k] = columnsOf(f, from, to)
	}
	o := c.outline
	p.outline = &outline{top: o.top[from:to], bottom: o.bottom[from:to], sure: o.sure[from:to]}
	p.width, _ = p.outline.mean()
	return &p
}

// columnsOf is the part of a field between two columns [from, to).
func columnsOf(f *raster.Field, from, to int) *raster.Field {
	p := raster.NewField(to-from, f.H)
	for j := range f.H {
		copy(p.Row(j), f.Row(j)[from:to])
	}
	return p
}
