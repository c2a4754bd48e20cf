package reading

import (
	"math"

	"waketwist/raster"
	"waketwist/unit"
)

const (
	leastSide   = 32  // pixels of the picture's shorter side
	leastWidth  = 16  // pixels of the yarn
	bandsTried  = 4   // candidates followed
	bandsInBox  = 8   // the same where a box was drawn
	leastAspect = 1.3 // length of yarn in view over its width
	mostBlur    = 0.3 // edge blur over width
	// So soft an edge on yarn wider than this many pixels is a shadow's.
	shadeBlur  = 0.2
	wideYarn   = 60
	leastSeen  = 2.0 // mean evidence inside the outline
	leastClear = 3.0 // the same of what is too short to be seen as yarn
)

func read(photo *raster.Photo, opt Options, seen *witness) finding {
	w, h := photo.Size()
	if min(w, h) < leastSide {
		return refuse(TooSmall)
	}
	src := newSource(photo)
	if src.tooDark() {
		return refuse(TooDark)
	}
	src.seen = seen
	r := readOnce(src, opt)
	if r.Readable || !r.Reason.again() && !(r.Reason == TooMany && r.outlined) {
		return r
	}
	return readAgain(src, opt, r)
}

// readOnce reads a photograph in one tone.
func readOnce(src *source, opt Options) finding {
	if len(opt.Along) > 0 {
		return readAlong(src, opt)
	}
	m := makeCueMap(src, opt.At)
	src.asked, src.ground = leastPlyScore, m.look()
	if opt.Plies > 1 && m.longBox() {
		src.asked = vouchedScore
	}
	all := candidates(src, m.findBands(m.bandsTried()), m)
	r := readCandidates(src, all, m, opt)
	if r.Readable || r.Reason == TooBlurred {
		return r
	}
	wound := m.wraps(src)
	w := readWraps(src, wound, opt, r.Reason)
	if w.Readable {
		return w
	}
	r.amid = r.amid || w.amid
	if opt.Plies != 1 && r.Reason == TooLittle {
		if r := readThing(src, all[0].cut, m, opt); r.Readable {
			return r
		}
	}
	if opt.Plies > 1 && m.aspect() >= leastBoxAspect && r.Reason.leansUnseen() {
		if r, ok := readBoxed(src, m, opt.Plies); ok {
			r.addFlags(opt)
			return finding{Reading: r}
		}
	}
	if opt.Plies != 1 && r.Reason.leansUnseen() {
		if r, ok := readLeaning(src, m, opt, all, wound); ok {
			return finding{Reading: r}
		}
	}
	return r
}

// leansUnseen reports whether a lean may have gone unseen where yarn is refused
// for this reason.
func (r Reason) leansUnseen() bool {
	return r == NoYarn || r == NoLay || r == UnsureReading || r == TooLittle
}

// bandsTried is how many candidates are followed: more where a person has said
// where the yarn lies, so that what else is there need not stand out less.
func (m *cueMap) bandsTried() int {
	if m.boxed {
		return bandsInBox
	}
	return bandsTried
}

// mostWinding is how far, in radians a width, a line winds to and fro that is yarn. One
// that goes from yarn to yarn along their strands winds by 0.26, and yarn by 0.08.
const mostWinding = 0.15

// read cuts the candidate out with care and reads it.
func (c *candidate) read(src *source, m *cueMap, opt Options) finding {
	c.finish(src)
	if c.strength < leastSeen || !m.fits(c.cut.width) {
		return refuse(NoYarn)
	}
	if c.cut.strip.along.winding(c.cut.width) > mostWinding {
		return refuse(UnsureReading)
	}
	return c.readOf(src, c.cut.yarns(src), opt)
}

// readOf reads yarns that were cut out of the candidate.
func (c *candidate) readOf(src *source, yarns []*cut, opt Options) finding {
	if len(yarns) == 0 {
		return refuse(NoYarn)
	}
	if c.cut.strip.along.length() < leastAspect*yarns[0].width {
		if c.strength < leastClear {
			return refuse(NoYarn)
		}
		return refuse(TooLittle)
	}
	if len(yarns) == 1 {
		yarns[0] = yarns[0].withoutLoop()
	}
	r := c.cut.readFit(src, yarns, opt)
	if r.Readable && r.Plies > 2 && opt.Plies <= 0 && c.cut.enclosed {
		// The outline, which tells few strands from a rope, is not that of the strands.
		return refuse(UnsureReading)
	}
	return r
}

// readFit reads yarns of a cut that are large and sharp enough.
func (c *cut) readFit(src *source, yarns []*cut, opt Options) finding {
	src.seen.found(yarns)
	if r := yarns[0].unfit(src); r != NoReason {
		return refuse(r)
	}
	return c.readYarns(src, yarns, opt)
}

// tooDark reports whether hardly any part of the picture is lit.
func (s *source) tooDark() bool {
	w, h := s.photo.Size()
	p := s.reduced(0, s.even(max(max(w, h)/200, 1)))
	var lit int
	for y := range p.H {
		for _, v := range p.Row(y) {
			if v > 36 {
				lit++
			}
		}
	}
	return lit*200 < p.W*p.H
}

// unfit checks the yarn's size and sharpness.
func (c *cut) unfit(src *source) Reason {
	blur := c.edgeBlur() / c.width
	wide := c.width > wideYarn
	switch blank := c.blank(src, blur); {
	case c.width < leastWidth, blank && !wide:
		return TooSmall
	case blank:
		return TooBlurred
	case c.abreast > 1:
		return NoReason
	case blur > mostBlur:
		return TooBlurred
	case blur > shadeBlur && wide:
		return UnsureReading
	}
	return NoReason
}

// edgeBlur is the typical distance in photo pixels over which the picture
// changes from ground to yarn: the step at the edge over its steepest slope.
func (c *cut) edgeBlur() float64 {
	var rise []float64
	for i := 2; i < c.strip.cols()-2; i += 3 {
		for side, edge := range [2]float64{c.outline.top[i], c.outline.bottom[i]} {
			if r := c.riseAt(i, edge, float64(2*side-1)); r > 0 {
				rise = append(rise, r)
			}
		}
	}
	return median(rise)
}

// riseAt is the blur at one edge of one column, 0 where there is no step.
func (c *cut) riseAt(i int, edge, out float64) float64 {
	st := c.strip
	at := func(y float64) float64 {
		return float64(st.chan_[0].At(float64(i), (y+st.reach)/st.step))
	}
	var steep float64
	lo, hi := math.Inf(1), math.Inf(-1)
	for k := -8; k <= 8; k++ {
		y := edge + out*float64(k)/8*0.3*c.width
		a, b := at(y), at(y+out*st.step)
		steep = math.Max(steep, math.Abs(b-a)/st.step)
		lo, hi = math.Min(lo, a), math.Max(hi, a)
	}
	if steep == 0 || hi-lo < 12 {
		return 0
	}
	return (hi - lo) / steep
}

// readYarns reads one yarn or several of a bundle.
func (c *cut) readYarns(src *source, yarns []*cut, opt Options) finding {
	r := refuse(NoLay)
	if opt.Plies != 1 {
		r, yarns = c.readStrands(src, yarns, opt.Plies)
	}
	if !r.Readable && (opt.Plies == 0 || opt.Plies == 1) && r.Reason == NoLay {
		r, yarns = c.readUnplied(src, yarns, opt, r.proof)
	}
	if !r.Readable {
		return r
	}
	r.Axis = yarns[0].direction()
	r.StrandsInView = yarns[0].abreast
	r.addFlags(opt)
	if yarns[0].detail(src) < goodDetail {
		r.doubt()
	}
	return r
}

// doubt marks a reading of yarn that shows so little detail that its strands may
// be others, and its angle theirs.
func (r *Reading) doubt() {
	if r.Structure == Ply && !r.Has(UnsurePlies) && !r.Has(StatedPlies) {
		r.Flags = append(r.Flags, UnsurePlies)
	}
	if !r.Has(NarrowYarn) {
		r.Flags = append(r.Flags, NarrowYarn)
	}
	r.Angle = r.Angle.including(r.Angle.Value, leaningSpread)
}

// readStrands reads a ply, and two or three that lie against each other where
// clefts run along them and they explain the picture better.
func (c *cut) readStrands(src *source, yarns []*cut, plies int) (whole finding, of []*cut) {
	if plies <= 0 && yarns[0].looped {
		plies = 2
	}
	whole = readPly(src, yarns, plies)
	if len(yarns) > 1 || whole.Readable && whole.Plies == 2 || !whole.Readable && whole.Reason != NoLay {
		return whole, yarns
	}
	src.asked = max(src.asked, leastPlyScore)
	for n := 2; n <= mostAgainst; n++ {
		some := c.against(src, n)
		if some == nil {
			continue
		}
		src.seen.found(some)
		if r := readPly(src, some, plies); r.Readable && r.StrandsInView == len(some) && !r.Has(FewTurns) && r.evidence > whole.evidence {
			if c.crossed(src, n) {
				return refuse(UnsureReading), yarns
			}
			return r, some
		}
		src.seen.forget()
		if whole.Readable && plies <= 0 && !whole.Has(UnsurePlies) {
			// It may as well be two yarns of fewer strands.
			whole.Flags = append(whole.Flags, UnsurePlies)
			whole.Angle = whole.Angle.including(whole.Angle.Value, leaningSpread)
		}
	}
	return whole, yarns
}

// direction is the mean direction of the axis.
func (c *cut) direction() unit.Angle {
	a := c.strip.along
	n := a.len() - 1
	d := math.Atan2(-(a.y[n] - a.y[0]), a.x[n]-a.x[0])
	if d < 0 {
		d += math.Pi
	}
	if d >= math.Pi {
		d -= math.Pi
	}
	return unit.Angle(d)
}

// addFlags marks what a person should know.
func (r *Reading) addFlags(opt Options) {
	flag := func(on bool, f Flag) {
		if on {
			r.Flags = append(r.Flags, f)
		}
	}
	flag(r.Width.Value < 25, NarrowYarn)
	flag(r.WidthCV > 0.15, Uneven)
	flag(r.StrandsInView > 1, SeveralStrands)
	flag(opt.Plies > 0, StatedPlies)
	flag(r.Structure == Ply && r.Angle.Value > 45*unit.Degree, SteepTwist)
}
