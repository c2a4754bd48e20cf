package reading

import (
	"math"
	"slices"
)

// Where no lay can be followed from turn to turn, as on soft, shining or half blurred
// yarn, all that crosses the yarn may still lean to one side from end to end. That
// tells the direction and roughly the angle, not the strands. Nobody has said that
// there is yarn, so more is asked than in a box: of the lean itself, and a second
// witness, the texture, whose gradients know nothing of arcs.
const (
	plainSure     = 4   // standard errors by which the lean beats its own mirror
	plainHalfSure = 2   // the same of either half across
	plainOver     = 1.7 // its share over the most of any lean to the other side
	plainWindows  = 10  // widths along which it is seen
	plainMargin   = 0.1
	// Texture that leans hardly anywhere to the other side may be a rope's, stitches', or
	// fibres that could be read.
	plainStripes = 0.7
)

// plain reports whether a lean is believed where no person has pointed.
func (l borderLean) plain() bool {
	return l.believed() && l.windows >= plainWindows && l.share >= plainOver*l.mirror &&
		l.sure[0] >= plainSure && min(l.sure[1], l.sure[2]) >= plainHalfSure
}

// readLeaning reads a ply anywhere in the picture by the lean of its borders alone,
// of several yarns side by side all together. False where none is plain, where
// places lean against each other, or where one was seen to be no ply of up to four.
func readLeaning(src *source, m *cueMap, opt Options, refused []*candidate, wound *wraps) (Reading, bool) {
	for _, c := range refused {
		if c.refused == TooMany || c.refused == BothWays || c.refused == PastLock {
			return Reading{}, false
		}
	}
	var groups [][]*cut
	if wound != nil {
		groups = append(groups, wound.single(src))
	}
	for _, c := range candidates(src, m.findBands(bandsInBox), m) {
		if c.finish(src); c.strength >= leastSeen && m.fits(c.cut.width) {
			groups = append(groups, c.cut.yarns(src))
		}
	}
	var seen []leaningStrand
	for _, yarns := range groups {
		if s, ok := leaningTogether(src, yarns); ok {
			seen = append(seen, s)
		}
	}
	if !slices.ContainsFunc(seen, func(s leaningStrand) bool { return s.lean.plain() }) || !agree(seen) {
		return Reading{}, false
	}
	best := clearest(seen)
	src.seen.found([]*cut{best.cut})
	r := leaningPly(seen, max(opt.Plies, 2))
	r.StrandsInView = best.cut.abreast
	if opt.Plies <= 0 {
		r.Flags = append(r.Flags, UnsurePlies)
	}
	r.addFlags(opt)
	return r, true
}

// leaningTogether is the lean that yarns side by side have in common, where it is
// believed and their texture leans to the same side.
func leaningTogether(src *source, yarns []*cut) (s leaningStrand, ok bool) {
	var bodies []*body
	var along, against, margin, contrast float64
	for _, y := range yarns {
		if y.unfit(src) != NoReason {
			return s, false
		}
		bodies = append(bodies, newBody(y))
	}
	if len(bodies) == 0 {
		return s, false
	}
	s = leaningStrand{yarns[len(yarns)/2], commonBorders(bodies)}
	if !s.lean.believed() {
		return s, false
	}
	n := float64(len(yarns))
	for _, y := range yarns {
		f := y.readFibres(src)
		if (f.angle > 0) != (s.lean.angle > 0) {
			f.contrast, f.mirror, f.agree, f.against = f.mirror, f.contrast, f.against, f.agree
		}
		margin, contrast = margin+(f.contrast-f.mirror)/n, math.Max(contrast, f.contrast)
		along, against = along+f.agree, against+f.against
	}
	return s, margin >= plainMargin && margin <= plainStripes && along >= leaningAgree*against && contrast < clearFibres
}
