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
// borders are as flat says little: those of five strands laid flat are so too.
func (s solution) many(stated bool) float64 {
	kinds := ropes
	if !stated {
		kinds = slices.Concat(ropes, colouredRopes)
	}
	rope, borne := s.bestOf(kinds)
	few, _ := s.bestOf(strands)
	few = max(s.score, few)
	if rope < hardlyMany*few {
		return rope / few
	}
	if s.swells() {
		rope = borne / s.borneOut()
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
// far as the outline bears it out.
func (s solution) bestOf(kinds []kind) (best, borne float64) {
	for _, k := range kinds {
		var score, sure float64
		for _, f := range s.fits {
			if m, ok := f.trace.fold.bestPlaced(k, s.key.z); ok {
				score += m.score / float64(len(s.fits))
				sure += m.score * f.trace.fold.pulses(m) / float64(len(s.fits))
			}
		}
		best, borne = max(best, score), max(borne, sure)
	}
	return best, borne
}

// A rope whose fibres are clear passes for singles, but the borders between its
// strands are steeper than its fibres, which lean back in the strands, and often
// show a rope's lay. What is taken for the lay of a rope on singles are stripes,
// which lie along the fibres.
const (
	ropeOfFibres      = 0.3  // score times root of the periods seen; singles come to 0.2 where the lay is steeper than the fibres
	bordersOverFibres = 1.35 // tangent of borders over that of fibres: singles come to 1.25, most ropes to 1.4 and more
)

// isRope reports whether yarn with such fibres is a rope.
func (b *body) isRope(f fibreLay) bool {
	tan := seenTangent(f)
	l := b.borders()
	if l.clear() && l.share >= leanShare && l.high < mostArc && tanDegrees(l.low) > bordersOverFibres*tan {
		return true
	}
	least := 0.0
	if b.fibresAlone(f) {
		least = slightScore
	}
	for _, y := range b.lays(laysTried) {
		phase, _ := b.follow(y)
		f := b.newFold(phase, 0, b.cols())
		for _, k := range ropes {
			m, ok := f.bestPlaced(k, y.lag > 0)
			if ok && m.score > max(least, ropeOfFibres/math.Sqrt(f.periods)) && math.Tan(m.guess.ply.b) > tan {
				return true
			}
		}
	}
	return false
}

// aloneContrast is the contrast from which nearly all texture runs along fibres.
const aloneContrast = 0.9

// fibresAlone reports whether nearly all texture runs along the fibres and what
// passes for borders is no steeper than they are, and so is fibres as well: the
// fibres of a ply or a rope lean back in its strands.
func (b *body) fibresAlone(f fibreLay) bool {
	l := b.borders()
	return f.contrast >= aloneContrast && l.clear() && l.share >= leanShare &&
		l.angle > 0 == (f.angle > 0) && tanDegrees(l.low) <= seenTangent(f)
}

// seenTangent is the tangent of the surface fibres' angle, without its side.
func seenTangent(f fibreLay) float64 { return surfaceOverSeen * math.Tan(math.Abs(f.angle)) }
