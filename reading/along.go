package reading

import (
	"cmp"
	"math"
	"slices"
)

// A person who draws a line along the yarn says where it runs and where it may be
// read, but not how wide it is: yarn of many widths is followed along the line, a
// little to either side of it, and what is clearest is read. What runs across a
// line, or leaves it, is not what was meant.
const (
	narrowestAlong = 0.02 // of the line's length: the least width tried
	widerAlong     = 1.2  // each width tried over the one before
	longAlong      = 3    // widths that a line is long at least
	besideLine     = 0.5  // widths by which the middle of the yarn may lie beside the line
	mostBeside     = 0.25 // of the length, that may lie as far beside as that
	stepAside      = 0.1  // widths more, once the edges are found
	mostAside      = 0.1  // of the length, that may lie farther still
	asideCounts    = 8    // how much less it counts beside the line: with its shadow, yarn is wider, but not in its middle
	widthsFinished = 4    // of those tried, that are cut out with care until one is found that follows the line
	leastFollowed  = 0.6  // of the line's length, over which the yarn must be seen
	turnsAlong     = 2    // turns of a ply in view: with less, none is seen twice
)

// A drawnLine is a person's line with what lies along it.
type drawnLine struct {
	line   *axis
	m      *cueMap
	traced []tracedYarn
}

// A tracedYarn is yarn of a width followed along a drawn line.
type tracedYarn struct {
	followedStrand
	contrast float64 // along it, relative to noise
}

// readAlong reads the yarn along the line that a person has drawn.
func readAlong(src *source, opt Options) finding {
	line := curveAlong(opt.Along)
	if line == nil {
		return refuse(OffLine)
	}
	d := &drawnLine{line: line, m: makeCueMap(src, line.bounds())}
	d.m.boxed = false // the box around a line says nothing of the yarn's width
	d.follow(src)
	// The line may have been laid on anything, so more is asked than of what stands
	// out in the picture by itself, unless the strands are stated as well.
	src.asked = laterScore
	if opt.Plies > 1 {
		src.asked = vouchedScore
	}
	r := d.read(src, opt)
	if opt.Plies != 1 && (r.Reason.leansUnseen() || r.Reason == OffLine) {
		if leaning, ok := d.readLean(src, opt.Plies); ok {
			leaning.addFlags(opt)
			return finding{Reading: leaning}
		}
	}
	return r
}

// follow follows yarn of every width along the line.
func (d *drawnLine) follow(src *source) {
	w, h := src.photo.Size()
	long := d.line.length()
	most := min(long/longAlong, float64(min(w, h)))
	var widths []float64
	for v := max(narrowestAlong*long, leastWidth/widerAlong); v <= most; v *= widerAlong {
		widths = append(widths, v)
	}
	all := make([]tracedYarn, len(widths))
	abreast(len(widths), func(i int) { all[i] = d.m.traceAlong(src, d.line, widths[i]) })
	d.traced = slices.DeleteFunc(all, func(t tracedYarn) bool { return t.along == nil })
}

// traceAlong follows yarn of a width along the line, at most besideLine of it to
// either side. The result has no line where the yarn would be too short, or where
// nothing stands out all along.
func (m *cueMap) traceAlong(src *source, line *axis, width float64) (out tracedYarn) {
	step := width / rowsPerWidth
	a := line.moved(make([]float64, line.len()), step)
	if a == nil {
		return out
	}
	t := &tracer{strip: src.sampler(step).straighten(a, (besideLine+1.3)*width, step), width: rowsPerWidth, hop: rowsPerWidth / 2}
	t.fillScores(src.sampler(step), m)
	if t.nodes < standParts {
		return out
	}
	path, beside := t.bestPathWithin(besideLine * rowsPerWidth)
	if beside > mostBeside || t.standing(func(n int) int { return path[n] }) < leastStand {
		return out
	}
	for n, j := range path {
		out.contrast += t.score[n][j] / float64(t.nodes)
	}
	out.width, out.along = width, t.axisFrom(path, 0, t.nodes)
	return out
}

// bestPathWithin is the best path that keeps within reach rows of the middle, and
// the share of it that lies as far beside as that.
func (t *tracer) bestPathWithin(reach float64) (path []int, beside float64) {
	const never = -1e6
	half := float64(t.strip.rows()-1)/2 + 0.5
	off := func(j int) float64 { return math.Abs(float64(j) - half) }
	for _, row := range t.score {
		for j := range row {
			if off(j) > reach {
				row[j] = never
			}
		}
	}
	path = t.bestPath()
	for _, j := range path {
		if off(j) > reach-1 {
			beside += 1 / float64(len(path))
		}
	}
	return path, beside
}

// read reads what is clearest along the line.
func (d *drawnLine) read(src *source, opt Options) finding {
	all := make([]*candidate, len(d.traced))
	abreast(len(all), func(i int) {
		t := d.traced[i]
		if c := cutOut(src, t.along, t.width, 1); c != nil && c.width > 0 {
			far, _ := c.follows(d.line)
			all[i] = &candidate{cut: c, contrast: t.contrast, strength: c.strength(), bulk: c.likeBulk(d.m),
				central: 1 / (1 + asideCounts*far*far)}
		}
	})
	all = slices.DeleteFunc(all, func(c *candidate) bool { return c == nil })
	if len(all) == 0 {
		return refuse(OffLine)
	}
	slices.SortStableFunc(all, func(a, b *candidate) int { return cmp.Compare(b.quality(), a.quality()) })
	for _, c := range all[:min(len(all), widthsFinished)] {
		c.finish(src)
		if y := d.nearest(c.cut.yarns(src)); y != nil && c.strength >= leastSeen {
			return d.readYarn(src, c, y, opt)
		}
	}
	return refuse(OffLine)
}

// nearest is the one of several yarns that lie side by side that lies nearest the
// line; nil where none follows it.
func (d *drawnLine) nearest(yarns []*cut) (best *cut) {
	least := math.Inf(1)
	for _, y := range yarns {
		if far, follows := y.follows(d.line); follows && far < least {
			least, best = far, y
		}
	}
	return best
}

// readYarn reads one yarn of a candidate.
func (d *drawnLine) readYarn(src *source, c *candidate, y *cut, opt Options) finding {
	several := y.abreast > 1
	r := c.readOf(src, []*cut{y}, opt)
	if r.Reason == UnsureReading && src.asked < laterScore {
		// A faint lay that does not hold in both halves may still be borne out by the
		// texture, which is asked where the lay alone is not enough.
		src.asked = laterScore
		r = c.readOf(src, []*cut{y}, opt)
	}
	if r.Readable && several {
		r.StrandsInView = 1 // its neighbours were not asked
		r.Flags = slices.DeleteFunc(r.Flags, func(f Flag) bool { return f == SeveralStrands })
	}
	switch {
	case r.Reason == NoYarn:
		return refuse(OffLine)
	case r.Readable && r.Structure == Ply && y.strip.along.length() < turnsAlong*r.Pitch.Value:
		return refuse(UnsureReading)
	}
	return r
}

// follows is how far beside a line the yarn was cut out, in its widths, and whether
// that is along most of the line and hardly anywhere too far.
func (c *cut) follows(line *axis) (far float64, ok bool) {
	a, middle := c.strip.along, c.middles()
	var all, out float64
	for i := 0; i < a.len(); i += max(a.len()/overlayPoints, 1) {
		off := line.distance(a.at(i, middle[i])) / c.width
		all, far = all+1, far+off
		if off > besideLine+stepAside {
			out++
		}
	}
	return far / max(all, 1), a.length() >= leastFollowed*line.length() && out <= mostAside*all
}

// readLean reads a ply by the lean of its borders along the line, once between edges
// that are found there and once at even widths. False where no lean is seen at two
// widths, or both leans, where neither edges nor three turns are seen, or where the
// strands are not stated and no lean is plain.
func (d *drawnLine) readLean(src *source, plies int) (Reading, bool) {
	var strands []followedStrand
	for _, t := range d.traced {
		if t.width >= leastWidth {
			strands = append(strands, t.followedStrand)
		}
	}
	drawn := leaning(src, strands, func(s followedStrand) *cut { return cutOut(src, s.along, s.width, 2) })
	drawn = slices.DeleteFunc(drawn, func(s leaningStrand) bool {
		_, follows := s.cut.follows(d.line)
		return !follows
	})
	all := append(drawn, leaning(src, strands, func(s followedStrand) *cut { return evenCut(src, s.along, s.width) })...)
	if len(all) < 2 || !agree(all) || plies <= 0 && !slices.ContainsFunc(all, func(s leaningStrand) bool { return s.plain(src) }) {
		return Reading{}, false
	}
	r := leaningPly(all, plies)
	if len(drawn) == 0 && r.Has(FewTurns) {
		return Reading{}, false
	}
	src.seen.found([]*cut{clearest(all).cut})
	return r, true
}
