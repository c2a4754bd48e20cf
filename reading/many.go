package reading

import (
	"math"
	"slices"
)

// ropes are kinds of more strands than are read. They are looked at only to know
// them for what they are.
var ropes = []kind{{5, 1, round}, {6, 1, round}, {7, 1, round}}

// colouredRopes are the same with strands of several colours. So many colours
// imitate much, and are not held against strands that a person has stated.
var colouredRopes = []kind{{5, 5, round}, {6, 2, round}, {6, 3, round}, {6, 6, round}, {7, 7, round}}

// strands are the kinds that a rope must explain better than: where the strands are
// stated, the solution holds only those.
var strands = []kind{{2, 1, round}, {3, 1, round}, {4, 1, round}}

// hardlyMany is the score of a rope over that of the solution up to which borders and
// outline are not asked: they are never so much in its favour as to make a rope of it.
const hardlyMany = 0.7

// many is the score of the rope that explains the yarns best over that of the
// solution, or of any fewer strands, on the same lay. Two witnesses that do not rest
// on the fold have a say. The outline is one. The lean of the borders is the other: n
// strands that repeat after a length L along the yarn have n L tan b = 2 pi R, so that
// taking a rope for fewer strands makes their borders steeper than those seen. That
// borders are as flat says little: those of five strands laid flat are so too. Where the
// strands all differ, either explanation imitates any slow change of colour, and how much
// better the edges show those of the rope counts once more.
func (s solution) many(stated bool) float64 {
	kinds := ropes
	if !stated {
		kinds = slices.Concat(ropes, colouredRopes)
	}
	rope, borne, sure := s.bestOf(kinds)
	few, _, _ := s.bestOf(strands)
	few = max(s.score, few)
	if rope < hardlyMany*few {
		return rope / few
	}
	if s.swells() {
		rope = borne / s.borneOut()
		if s.key.repeat == s.key.n {
			rope *= max(1, sure/s.fits[0].trace.fold.pulses(s.fits[0]))
		}
	}
	return rope / few * max(1, math.Pow(s.steeper(), 2))
}

// steeper is the tangent of the borders that the solution means in the middle yarn
// over that of the borders seen there, or nearly as good, which are looked for
// without it. It is 1 where none are seen clearly, and for two strands, which wind
// too far about each other for borders that cross the yarn along arcs.
func (s solution) steeper() float64 {
	if s.key.n < 3 {
		return 1
	}
	i := len(s.fits) / 2
	l := s.of[i].borders()
	if !l.clear() || (l.angle > 0) != s.key.z {
		return 1
	}
	means := s.fits[i].guess.ply.borderAngle().Degrees()
	return tanDegrees(means) / tanDegrees(min(max(means, l.low), l.high))
}

// What borders must show to speak against a count of strands.
const (
	clearShare  = 0.12 // of what varies, that is alike along them
	clearMirror = 2    // that share over the most of any lean to the other side
)

// clear reports whether borders are seen to lean to one side in both halves of the
// yarn.
func (l borderLean) clear() bool {
	return l.share >= max(clearShare, clearMirror*l.mirror) && l.sure[0] >= leanSure && min(l.sure[1], l.sure[2]) >= leanHalfSure
}

func tanDegrees(d float64) float64 { return math.Tan(d * math.Pi / 180) }

// bestOf is the best mean score of some kinds on the solution's lay, and the same as
// far as the outline bears it out; and, where the best of these has strands that all
// differ, the share of its score that is borne out.
func (s solution) bestOf(kinds []kind) (best, borne, share float64) {
	for _, k := range kinds {
		var score, sure float64
		for _, f := range s.fits {
			if m, ok := f.trace.fold.bestPlaced(k, s.key.z); ok {
				score += m.score / float64(len(s.fits))
				sure += m.score * f.trace.fold.pulses(m) / float64(len(s.fits))
			}
		}
		best = max(best, score)
		if sure > borne {
			borne, share = sure, 0
			if k.repeat == k.n {
				share = sure / score
			}
		}
	}
	return best, borne, share
}
