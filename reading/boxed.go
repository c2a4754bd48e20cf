package reading

import (
	"cmp"
	"math"
	"slices"

	"waketwist/unit"
	"waketwist/yarn"
)

// A person who drags a box and states the strands leaves open where in the box
// the strand runs, how wide it is and to which side its borders lean. Yarn of
// several widths is followed within the box and its borders are asked for their
// lean, once between the edges that are found along it and once at an even width,
// for yarn that touches its neighbours. No lay needs to be seen whole.
const (
	leastBoxAspect = 1.5 // length of such a box over its width
	drawnAlone     = 3   // places with edges that are enough where none is seen at an even width
	leanWidthSD    = 0.2 // of the width, which the box rather suggests than shows
)

// What borders must show to be believed. On boxes laid at random into photographs
// of wood, brick, grass, braids and untwisted stems each of these is passed, but
// not all in two places.
const (
	leanWindows  = 6    // widths along which they are seen
	leanShare    = 0.25 // of what varies, that is alike along them
	leanOver     = 1.2  // that share over the most of any lean to the other side
	leanSure     = 3.5  // standard errors by which the lean beats its own mirror
	leanHalfSure = 1.5  // the same of either half across: braids lean both ways
	leanBeyond   = 0.4  // correlation with the ground beyond, where stripes go on
	flattestLean = 10   // degrees: less may be a line that is not laid along the yarn
	// Stitches of a knitted cord and loops of a chain lie at some 42 degrees, the
	// borders of most plies flatter.
	steepestLean = 36
)

// believed reports whether borders are seen to lean along all the yarn, and in
// both halves of it.
func (l borderLean) believed() bool {
	size := math.Abs(l.angle)
	return l.windows >= leanWindows && size >= flattestLean && size <= steepestLean &&
		l.low > leastArc && l.high < mostArc && // a range without an end says nothing
		l.share >= max(leanShare, leanOver*l.mirror) && l.beyond < leanBeyond &&
		l.sure[0] >= leanSure && min(l.sure[1], l.sure[2]) >= leanHalfSure
}

// A leaningStrand is a strand with borders that are believed.
type leaningStrand struct {
	cut  *cut
	lean borderLean
}

// readBoxed reads a ply of stated strands by the lean of its borders alone. False
// where no lean is seen in two places, or both leans.
func readBoxed(src *source, m *cueMap, plies int) (Reading, bool) {
	strands := boxedStrands(src, m)
	drawn := leaning(src, strands, func(s followedStrand) *cut { return cutOut(src, s.along, s.width, 2) })
	if len(drawn) == 0 {
		return Reading{}, false
	}
	all := append(drawn, leaning(src, strands, func(s followedStrand) *cut { return evenCut(src, s.along, s.width) })...)
	if !agree(all) {
		return Reading{}, false
	}
	if len(drawn) < drawnAlone && len(all) == len(drawn) {
		return Reading{}, false
	}
	src.seen.found([]*cut{clearest(all).cut})
	return leaningPly(all, plies), true
}

// agree reports whether all lean to one side.
func agree(seen []leaningStrand) bool {
	z := seen[0].lean.angle > 0
	return !slices.ContainsFunc(seen, func(s leaningStrand) bool { return (s.lean.angle > 0) != z })
}

// leaning is the strands whose borders are believed when they are cut out so.
func leaning(src *source, strands []followedStrand, cut func(followedStrand) *cut) (out []leaningStrand) {
	for _, s := range strands {
		c := cut(s)
		if c == nil || c.unfit(src) != NoReason {
			continue
		}
		if l := newBody(c).borders(); l.believed() && c.cycles(src) >= goodDetail {
			out = append(out, leaningStrand{c, l})
		}
	}
	return out
}

// leaningPly is the reading of the strand seen best, with an interval that
// holds what the others say. Where the strands are not stated, two are taken.
func leaningPly(seen []leaningStrand, stated int) Reading {
	plies := max(stated, 2)
	best := clearest(seen)
	b := centreOf(math.Abs(best.lean.angle), math.Sqrt(ridges*outermost(plies)))
	width := best.cut.width
	turn := math.Pi * width / outermost(plies) / math.Tan(float64(b))
	r := Reading{Readable: true, Structure: Ply, Plies: plies, Direction: yarn.S, StrandsInView: 1,
		Angle:  interval(b, 0),
		Border: unit.Angle(math.Abs(best.lean.angle)) * unit.Degree,
		Width:  Pixels{width, leanWidthSD * width}}
	if best.lean.angle > 0 {
		r.Direction = yarn.Z
	}
	r.Angle = r.Angle.including(centreOf(best.lean.low, outermost(plies)), leanMargin)
	r.Angle = r.Angle.including(centreOf(best.lean.high, ridges), leanMargin)
	for _, s := range seen {
		size := math.Abs(s.lean.angle)
		r.Angle = r.Angle.including(centreOf(size, outermost(plies)), leanMargin).including(centreOf(size, ridges), leanMargin)
		r.Width.SD = max(r.Width.SD, math.Abs(s.cut.width-width)/nineInTen)
	}
	r.Angle.High = min(r.Angle.High, max(steepestPly, b)) // strands that touch lie no steeper
	r.Pitch = Pixels{turn, turn * math.Hypot(float64(r.Angle.SD)/float64(b), r.Width.SD/width)}
	_, r.WidthCV = best.cut.evenness()
	r.Flags = append(r.Flags, RoughAngle)
	if stated <= 0 {
		r.Flags = append(r.Flags, UnsurePlies)
	}
	if best.cut.strip.along.length() < 3*turn {
		r.Flags = append(r.Flags, FewTurns)
	}
	r.Axis = best.cut.direction()
	r.Overlay = best.cut.overlay(1, r.Angle.Value, r.Direction)
	return r
}

// clearest is the strand with the clearest lean.
func clearest(seen []leaningStrand) leaningStrand {
	return slices.MaxFunc(seen, func(a, b leaningStrand) int { return cmp.Compare(a.lean.margin(), b.lean.margin()) })
}

// margin ranks strands by how clear their lean is.
func (l borderLean) margin() float64 { return (l.share - l.mirror) * math.Sqrt(float64(l.windows)) }

// What is seen to lean may be the borders, whose tangent on the outline is that of
// the centre lines times the width over that of their helix, or the lit ridges of
// the strands, which lean little more than their centre lines: 1.2 times on drawn
// plies. The interval holds both, and the value lies between.
const (
	ridges     = 1.2
	leanMargin = 2 * unit.Degree // beyond
)

// outermost is the tangent of the borders on the outline, over that of the centre
// lines of so many round strands.
func outermost(plies int) float64 {
	touching := packing * touchingRadius(plies)
	return (touching + 1) / touching
}

// centreOf is the angle of centre lines where what leans at an angle, in degrees,
// has so many times their tangent.
func centreOf(lean, times float64) unit.Angle {
	return unit.Atan(math.Tan(lean*math.Pi/180) / times)
}
