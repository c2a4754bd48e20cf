package reading

import (
	"math"
	"slices"
)

// Where no lay can be followed from turn to turn, as on soft, shining or half blurred
// yarn, all that crosses the yarn may still lean to one side from end to end. That
// tells the direction and roughly the angle, not the strands. Nobody need have said
// that there is yarn, so more is asked than in a box: of the lean itself, and a second
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

// plain reports whether the strand's lean is plain and its texture bears it out.
func (s leaningStrand) plain(src *source) bool {
	return s.lean.plain() && textureLeans(src, []*cut{s.cut}, s.lean.angle > 0)
}

// readLeaning reads a ply anywhere in the picture by the lean of its borders alone,
// of several yarns side by side all together. False where none is plain, where
// places lean against each other, or where one was seen to be no ply of up to four or
// shows a rope, whose lay is found sooner than that of few strands.
func readLeaning(src *source, m *cueMap, opt Options, refused []*candidate, wound *wraps) (Reading, bool) {
	noPly := func(r Reason) bool { return r == TooMany || r == BothWays || r == PastLock }
	if slices.ContainsFunc(refused, func(c *candidate) bool { return noPly(c.refused) }) || wound != nil && noPly(wound.refused) {
		return Reading{}, false
	}
	var seen, plain []leaningStrand
	for _, g := range leaningGroups(src, m, wound) {
		s := leaningStrand{g.yarns[len(g.yarns)/2], g.lean}
		if seen = append(seen, s); g.lean.plain() && textureLeans(src, g.whole, g.lean.angle > 0) {
			if b := s.cut.body(); b.comesRound() > strandsRound || b.showsRope(0, 0) {
				return Reading{}, false
			}
			plain = append(plain, s)
		}
	}
	if len(plain) == 0 || !agree(seen) {
		return Reading{}, false
	}
	best := clearest(plain)
	src.seen.found([]*cut{best.cut})
	r := leaningPly(plain, opt.Plies)
	r.StrandsInView = best.cut.abreast
	r.addFlags(opt)
	return r, true
}

// A leaningGroup is yarns side by side that have a lean in common.
type leaningGroup struct {
	bundle       *candidate // that was split into them by its gaps, if one was
	whole, yarns []*cut     // as they were found, and told apart
	lean         borderLean
}

// leaningGroups looks for leans in a bundle, if there is one, and in what stands out as a band.
func leaningGroups(src *source, m *cueMap, wound *wraps) (out []leaningGroup) {
	if wound != nil {
		yarns := wound.single(src)
		if l, ok := leanTogether(src, yarns); ok {
			out = append(out, leaningGroup{nil, yarns, yarns, l})
		}
	}
	var single []*candidate
	for _, c := range candidates(src, m.findBands(bandsInBox), m) {
		if c.finish(src); c.strength < leastSeen || !m.fits(c.cut.width) || c.cut.enclosed {
			continue
		}
		g, ok := c.leaningGroup(src)
		if len(g.whole) == 1 {
			single = append(single, c)
		}
		// The ground between two yarns leans where its grain does, but shows no clefts.
		if ok && !(c.bulk && len(g.yarns) == 1) {
			out = append(out, g)
		}
	}
	return toldApart(out, single)
}

// toldApart leaves out bundles that another candidate shows as a single yarn. What gaps
// tell apart in one band and not in another of the same place are strands, whose fibres
// may lean against their lay.
func toldApart(groups []leaningGroup, single []*candidate) []leaningGroup {
	return slices.DeleteFunc(groups, func(g leaningGroup) bool {
		return g.bundle != nil && slices.ContainsFunc(single, g.bundle.alikeOn)
	})
}

// alikeOn reports whether c lies on another candidate and is about as wide.
func (c *candidate) alikeOn(o *candidate) bool {
	ratio := c.cut.width / o.cut.width
	return ratio > narrower && ratio < 1/narrower && c.sameYarn(o)
}

// leaningGroup is the yarns of a candidate, also such as lie against each other where
// they lean more surely for themselves.
func (c *candidate) leaningGroup(src *source) (g leaningGroup, ok bool) {
	g.whole = c.cut.yarns(src)
	g.yarns = g.whole
	if len(g.whole) > 1 {
		g.bundle = c
	}
	if g.lean, ok = leanTogether(src, g.whole); !ok || len(g.whole) > 1 {
		return g, ok
	}
	for n := 2; n <= mostAgainst; n++ {
		some := c.cut.against(src, n)
		l, leans := leanTogether(src, some)
		if leans && l.sure[0] > g.lean.sure[0] && l.angle*g.lean.angle > 0 {
			g.yarns, g.lean = some, l
		}
	}
	return g, true
}

// leanTogether is the lean that yarns side by side have in common, where it is
// believed. Small yarn may be a strand of what else is there, or a gap.
func leanTogether(src *source, yarns []*cut) (borderLean, bool) {
	var bodies []*body
	for _, y := range yarns {
		if y.width < smallWidth || y.unfit(src) != NoReason {
			return borderLean{}, false
		}
		bodies = append(bodies, y.body())
	}
	if len(bodies) == 0 {
		return borderLean{}, false
	}
	l := commonBorders(bodies)
	return l, l.believed()
}

// textureLeans reports whether the texture of the yarns bears a lean out.
func textureLeans(src *source, yarns []*cut, z bool) bool {
	var along, against, margin, contrast float64
	n := float64(len(yarns))
	for _, y := range yarns {
		f := y.readFibres(src)
		if (f.angle > 0) != z {
			f.contrast, f.mirror, f.agree, f.against = f.mirror, f.contrast, f.against, f.agree
		}
		margin, contrast = margin+(f.contrast-f.mirror)/n, math.Max(contrast, f.contrast)
		along, against = along+f.agree, against+f.against
	}
	return margin >= plainMargin && margin <= plainStripes && along >= leaningAgree*against && contrast < clearFibres
}
