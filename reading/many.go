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

// A suspicion is by how much a rope explains yarns better than a solution does, all
// witnesses together, and by how much it would if the outline were not asked.
type suspicion struct{ all, inside float64 }

// many is the score of the rope that explains the yarns best over that of the
// solution, or of any fewer strands, on the same lay. Two witnesses that do not rest
// on the fold have a say, the outline and the lean of the borders.
func (s solution) many(stated bool) (most suspicion) {
	kinds := ropes
	if !stated {
		kinds = slices.Concat(ropes, colouredRopes)
	}
	few := s.score
	for _, k := range strands {
		few = max(few, s.scoreOf(k))
	}
	for _, k := range kinds {
		over := suspicion{}
		over.inside = s.scoreOf(k) / few
		if over.all = over.inside; over.inside >= hardlyMany {
			over.inside *= s.leansLike(k)
			over.all = over.inside * s.swellsLike(k)
		}
		most = suspicion{max(most.all, over.all), max(most.inside, over.inside)}
	}
	return most
}

// scoreOf is the mean score of a kind on the solution's lay.
func (s solution) scoreOf(k kind) (score float64) {
	for _, f := range s.fits {
		if m, ok := f.trace.fold.bestPlaced(k, s.key.z); ok {
			score += m.score / float64(len(s.fits))
		}
	}
	return score
}

// swellsLike is what the outline says for a rope, as a factor. Where all strands of a
// period differ, those of the rope must be seen on it. Strands that all look alike
// are not asked for against a rope of several colours, since edges move with colour too.
func (s solution) swellsLike(k kind) float64 {
	if !s.swells() {
		return 1
	}
	factor := 1.0
	if k.repeat == 1 || s.key.repeat > 1 {
		factor = 1 / s.borneOut()
	}
	if k.repeat < k.n {
		return factor
	}
	fold := s.fits[0].trace.fold
	m, _ := fold.bestPlaced(k, s.key.z)
	factor *= fold.pulses(m)
	if s.key.repeat == s.key.n {
		factor *= max(1, fold.pulses(m)/fold.pulses(s.fits[0]))
	}
	return factor
}

// What borders must show to speak for or against a count of strands, and how much
// they have to say.
const (
	clearShare  = 0.12 // of what varies, that is alike along them
	clearMirror = 2    // that share over the most of any lean to the other side
	bordersSD   = 0.1  // of the logarithm of their tangent
	mostAmiss   = 3.5  // standard deviations: what lies further off was not measured rightly
	farAmiss    = 2.5  // standard deviations from which another count of strands may be right
	bordersSay  = 0.09 // of their log likelihood, which plies and ropes are told apart by best
)

// seenSteeper is the tangent of the borders that are seen over the model's, by number
// of round strands. The arcs along which they are sought lie on the surface, as the
// borders of flat strands do; the deeper the clefts between strands, the further inside
// them the borders run, and the flatter.
var seenSteeper = [mostStrands + 1]float64{3: 1.2, 4: 1.13, 5: 1.05, 6: 1.05, 7: 1.05}

// leansLike is what the lean of the borders says for a rope, as a factor. It is found
// without the model. n strands that repeat after a length L along the yarn have
// n L tan b = 2 pi R: a rope taken for fewer strands has flatter borders than these
// would. It is 1 where none are seen clearly, and beside two strands, which wind
// too far about each other for borders that cross the yarn along arcs. It does not
// speak for flat strands: a rope's may be flat as well.
func (s solution) leansLike(k kind) float64 {
	l, ok := s.clearBorders()
	if !ok {
		return 1
	}
	mid := s.fits[len(s.fits)/2]
	m, ok := mid.trace.fold.bestPlaced(k, s.key.z)
	if !ok {
		return 1
	}
	few, rope := l.amiss(mid), l.amiss(m)
	factor := math.Exp(bordersSay * (few*few - rope*rope) / 2)
	if s.key.form == flat {
		return max(factor, 1)
	}
	return factor
}

// bordersAmiss reports whether borders are seen clearly, and far from where those of a
// solution of three strands or more would be.
func (s solution) bordersAmiss() bool {
	if s.key.form != round {
		return false
	}
	l, ok := s.clearBorders()
	return ok && l.amiss(s.fits[len(s.fits)/2]) > farAmiss
}

// clearBorders is the lean of the borders of the middle yarn, where these can be compared
// with a solution's: of three strands or more, seen clearly, and to its side.
func (s solution) clearBorders() (l borderLean, ok bool) {
	if s.key.n < 3 {
		return l, false
	}
	l = s.of[len(s.fits)/2].borders()
	return l, l.clear() && (l.angle > 0) == s.key.z
}

// amiss is how many standard deviations borders lie from where those of a fit would
// be seen.
func (l borderLean) amiss(m fitting) float64 {
	want := m.guess.ply.borderAngle().Tan()
	if k := m.key(); k.form == round {
		want *= seenSteeper[k.n]
	}
	return min(math.Abs(math.Log(tanDegrees(l.peak)/want))/bordersSD, mostAmiss)
}

// clear reports whether borders are seen to lean to one side in both halves of the
// yarn.
func (l borderLean) clear() bool {
	return l.share >= max(clearShare, clearMirror*l.mirror) && l.sure[0] >= leanSure && min(l.sure[1], l.sure[2]) >= leanHalfSure
}

func tanDegrees(d float64) float64 { return math.Tan(d * math.Pi / 180) }
