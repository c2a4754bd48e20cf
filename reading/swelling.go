package reading

import (
	"math"
	"math/cmplx"
	"slices"
)

// The outline swells where a strand passes, of whatever colour it is and however it
// shines, and each of n strands swells it the less the more there are. Blur and
// hairs leave 0.65 to 1.1 of what the model foretells on yarns that are read. A rope
// taken for three or four strands shows 0.65 to 0.3 of what they would, and next to
// nothing where its colours repeat as often as those of fewer strands do.
const (
	leastSwelling = 0.2  // less is as good as none
	wholeSwelling = 0.55 // the same where a period is a whole turn: its strands are not followed one by one
	mostSwelling  = 1    // more is as good as this
	ropeSwelling  = 0.6  // of a rope whose strands all differ, below which less is to be said for it
	swellingSay   = 1.5  // power with which it counts
	ropeSay       = 0.6  // the same of a rope
	fewSwellings  = 2.5  // periods in view up to which it says nothing, growing to fewPeriods
	deniedStrands = 0.5  // of the weight that is neither for nor against strands: others may be meant
)

// enoughSwelling is half way between a ply and a rope taken for it, by number of
// strands: four leave narrower clefts, which fill sooner.
var enoughSwelling = [maxPlies + 1]float64{3: 0.73, 4: 0.62}

// borneOut is how far the outline bears out the strands of a solution: more than 1
// where they swell it as they should, less where more strands would, and 1 where it
// cannot tell. The fewer periods are in view the less do hairs and shadows average
// out, and the less it says.
func (s solution) borneOut() float64 {
	if !s.swells() {
		return 1
	}
	m := s.fits[0]
	f, n := m.trace.fold, m.guess.ply.n
	least := leastSwelling
	if m.guess.repeat == n {
		least = wholeSwelling
	}
	seen := min(max(f.swelling(m), least), mostSwelling)
	say := swellingSay * min(max((f.periods-fewSwellings)/(fewPeriods-fewSwellings), 0), 1)
	return math.Pow(seen/enoughSwelling[n], say)
}

// swells reports whether the outline can tell strands by how they swell it: those
// pressed flat do so little, two are like no rope, and beside other yarns it is not
// the yarn's own.
func (s solution) swells() bool {
	return s.key.n > 2 && s.key.form == round && !s.fits[0].trace.fold.crowded
}

// pulses is the share of its score that a rope keeps by the outline. So many
// colours imitate any slow change that at least the strands must be seen on it, where
// they all differ.
func (f *fold) pulses(m fitting) float64 {
	if m.guess.repeat < m.guess.ply.n {
		return 1
	}
	return math.Pow(min(max(f.swelling(m), leastSwelling)/ropeSwelling, 1), ropeSay)
}

// swelling is how far either edge moves out and in, in the rhythm of a fit's model and
// at whichever phase that shows most, since light may move the rest of the fit, over
// what the model foretells; or over what the edges move once a strand and seldomer,
// where that is more.
func (f *fold) swelling(m fitting) float64 {
	p := patternFor(m.guess.ply, m.guess.repeat)
	v := f.seen(m.scale, m.offset, m.guess.z)
	var at [shifts]float64
	var foretold, all float64
	for h := range harmonics {
		for side := range 2 {
			model, seen := edgeMoves(&p.re[0][h], &p.im[0][h], side), edgeMoves(&v.re[outlineLayer][h], &v.im[outlineLayer][h], side)
			foretold += energy(model)
			if h < m.guess.repeat {
				all += energy(seen)
			}
			c := seen * cmplx.Conj(model)
			for s := range at {
				at[s] += real(c)*shiftCos[s][h] - imag(c)*shiftSin[s][h]
			}
		}
	}
	return slices.Max(at[:]) / math.Sqrt(foretold*max(foretold, all))
}

// edgeMoves is how far the edge of one side moves, in rows, wherever it lies.
func edgeMoves(re, im *[bodyRows]float64, side int) (c complex128) {
	from := side * (bodyRows + 1) / 2
	for j := from; j < from+bodyRows/2; j++ {
		c += complex(re[j], im[j])
	}
	return c
}

func energy(c complex128) float64 { return real(c)*real(c) + imag(c)*imag(c) }

// likeliest is the solution that explains most; or nearly as much with other strands
// as often, where the outline denies those of the first and bears these out.
func likeliest(all []solution) (best solution) {
	for _, s := range all {
		if s.score > best.score {
			best = s
		}
	}
	if len(best.fits) == 0 || best.borneOut() >= deniedStrands {
		return best
	}
	first := best
	for _, s := range all {
		if s.key.z == first.key.z && s.key.repeat == first.key.repeat && s.score > unsurePlies*first.score && s.borneOut() > max(1, best.borneOut()) {
			best = s
		}
	}
	return best
}
