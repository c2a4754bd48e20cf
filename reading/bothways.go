package reading

import (
	"math"
	"slices"
)

// A braid, a chain of loops and knitting lean one way in one half of their width
// and the other way in the other, where strands that are plied pass across the
// whole width one way. What stands out as yarn may be the whole of it or one half.
const (
	halfStep      = 2    // rows apart that are compared
	halfReach     = 0.75 // of the half width that is looked at
	halfHarmonics = 3
	leastHalfLean = 0.25 // how the half that leans less does so, over the other
	besideSteady  = 0.2  // how steadily the neighbour leans, where it is no less
	besideShift   = 0.9  // widths to where the neighbour is looked at
	besideLean    = 0.1  // of the neighbour, over that of the yarn, that is too much
)

// bothWays reports whether half of the yarn, or what lies beside it, leans
// against the lay with the same repeat.
func (b *body) bothWays(m fitting) bool {
	own, _ := m.trace.fold.turning(m, -halfReach, halfReach)
	steady := func(turn, size float64) float64 { return turn * own / math.Max(math.Abs(own)*size, 1e-9) }
	leftTurn, leftSize := m.trace.fold.turning(m, -halfReach, 0)
	rightTurn, rightSize := m.trace.fold.turning(m, 0, halfReach)
	if halting(steady(leftTurn, leftSize), steady(rightTurn, rightSize)) && halting(steady(leftTurn, 1), steady(rightTurn, 1)) {
		return true
	}
	for _, side := range [2]float64{-1, 1} {
		next := b.beside(side)
		if !b.looksLike(next) {
			continue
		}
		turn, size := next.newFold(m.trace.phase, 0, b.cols()).turning(m, -halfReach, halfReach)
		if -steady(turn, size) > besideSteady && math.Abs(turn) > besideLean*math.Abs(own) {
			return true
		}
	}
	return false
}

// halting reports whether one half leans less than the other, or against it. It is asked
// of how steadily they lean and of how much: light ground that shows where the strands
// pass makes one half of a plain ply unsteady, though it leans no less.
func halting(left, right float64) bool { return min(left, right) < leastHalfLean*max(left, right) }

// turning is how much later the fold's pattern comes from row to row, over the
// rows between two places across the fitted yarn in half widths, and how much
// that could be.
func (f *fold) turning(m fitting, from, to float64) (turn, size float64) {
	for j := range bodyRows - halfStep {
		if a, b := m.across(j), m.across(j+halfStep); a < from || b > to {
			continue
		}
		for l := range outlineLayer {
			for h := range halfHarmonics {
				ar, ai, br, bi := f.re[l][h][j], f.im[l][h][j], f.re[l][h][j+halfStep], f.im[l][h][j+halfStep]
				turn += ar*bi - ai*br
				size += math.Hypot(ar, ai) * math.Hypot(br, bi)
			}
		}
	}
	return turn, size
}

// across is where a row of the body lies in the fitted yarn, in half widths.
func (m fitting) across(j int) float64 { return (rowAcross(j) - m.offset) / m.scale }

// beside is the body laid over what lies a yarn's width to one side (-1 or 1).
func (b *body) beside(side float64) *body {
	mid := make([]float64, len(b.mid))
	for i := range mid {
		mid[i] = b.mid[i] + side*besideShift*b.wide[i]
	}
	n := &body{cut: b.cut, width: b.width, local: b.local, place: b.place, mid: mid, wide: b.wide, variance: b.variance}
	n.sample(b.cut, mid, b.wide)
	return n
}

// mostUnlikeYarn is how far, squared and over the variance within the yarn, the
// mean colour of what lies beside may be from the yarn's for both to be one
// thing: a shadow or the ground is farther.
const mostUnlikeYarn = 0.5

// looksLike reports whether two bodies have about the same mean colour.
func (b *body) looksLike(o *body) bool {
	var apart, spread float64
	for l := range outlineLayer {
		mean, variance := b.tone(l)
		other, _ := o.tone(l)
		apart += (mean - other) * (mean - other)
		spread += variance
	}
	return apart < mostUnlikeYarn*spread
}

// tone is the mean and variance of a layer over the middle of the yarn.
func (b *body) tone(l int) (mean, variance float64) {
	var sum, sum2, n float64
	for j := range bodyRows {
		if math.Abs(rowAcross(j)) > halfReach {
			continue
		}
		for _, v := range b.layer[l].Row(j) {
			sum += float64(v)
			sum2 += float64(v) * float64(v)
			n++
		}
	}
	mean = sum / n
	return mean, sum2/n - mean*mean
}

// plainly reports whether texture leans to a side all along.
func (f fibreLay) plainly(z bool) bool {
	return f.angle > 0 == z && f.contrast-f.mirror >= leaningMargin && f.agree >= leaningAgree*f.against
}

// gainsaid reports whether as many of the yarns as this explains are not explained and
// lean plainly to the other side, as one half of a braid does that is taken for two yarns.
func (s solution) gainsaid(src *source, yarns []*cut) bool {
	n := 0
	for _, y := range yarns {
		explained := slices.ContainsFunc(s.of, func(b *body) bool { return b.cut == y })
		if !explained && y.readFibres(src).plainly(!s.key.z) {
			n++
		}
	}
	return n >= len(s.fits)
}
