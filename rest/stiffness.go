package rest

import (
	"math"

	"waketwist/unit"
	"waketwist/yarn"
)

// Prior of the stiffness ratio k = B/C, log-normal, and of the surface angle of
// hand-spun singles (90 % between 10 and 50 deg). Assumptions without a source.
const (
	stiffnessMedian = 0.7
	stiffnessSigma  = 1.12
	singlesMean     = 30 * unit.Degree
	singlesSD       = 12.2 * unit.Degree
)

// balanceEdge is the steepest two-strand angle taken as a balance: nearer to 45
// deg the needed twist grows without bound and says nothing.
const balanceEdge = yarn.CentreAngle(44 * unit.Degree)

// soakResidue is the share of the twist that a full soak leaves asleep at most
// (prior).
const soakResidue = 0.1

// FullSoak is the least time in water, in minutes, that wakes the twist but for
// a residue. Common practice: 20 to 30 minutes in cool water.
const FullSoak = 20.0

// ResidueAfter returns the most that a soak of some minutes leaves asleep, where
// a full one leaves full: the shorter the more, up to half of the twist. Zero
// minutes are not recorded and taken as a full soak. An assumption without a
// source.
func ResidueAfter(full Share, minutes float64) Share {
	if !(minutes > 0 && minutes < FullSoak) {
		return full
	}
	return max(full, min(full*Share(FullSoak/minutes), 0.5))
}

// handShare is the part of the variance of the singles' angle that is the hand's and
// not the bobbin's. An assumption without a source.
const handShare = 0.5

// stiffnessCount is the number of equally likely values of k that are weighed.
const stiffnessCount = 160

// balance is a two-strand ply-back at rest, with what is held of the singles in it.
type balance struct {
	at      yarn.CentreAngle
	singles SinglesReading
}

// stiffness draws the k that ply-backs of one wool share: what is held of k,
// weighted by how likely the singles' angles are that it implies. p in (0, 1)
// picks the draw.
func (h held) stiffness(p float64, plied ...balance) yarn.Stiffness {
	var cumulative [stiffnessCount]float64
	var sum float64
	// Several bobbins of one hand lean alike: they tell less than as many hands.
	alike := 1 + handShare*float64(len(plied)-1)
	for i, k := range h.stiffnesses {
		var off float64
		for _, b := range plied {
			a := math.Atan(float64(living(2, yarn.Stiffness(k), b.at)))
			z := (a - float64(b.singles.Angle)) / float64(b.singles.SD)
			off += z * z
		}
		sum += math.Exp(-off/(2*alike)) + 1e-12
		cumulative[i] = sum
	}
	for i, c := range cumulative {
		if p*sum <= c {
			return yarn.Stiffness(h.stiffnesses[i])
		}
	}
	return yarn.Stiffness(h.stiffnesses[stiffnessCount-1])
}

// living is yarn.LivingFor with angles beyond the balanced range held at its
// edge.
func living(n int, k yarn.Stiffness, b yarn.CentreAngle) yarn.Living {
	edge := balanceEdge * yarn.Limit(n) / yarn.Limit(2)
	t, err := yarn.LivingFor(n, k, min(max(b, 1e-4), edge))
	if err != nil { // cannot be: b is held inside
		panic(err)
	}
	return t
}

// sensitivity is d log tan b / d log turns of a balanced two-strand ply-back.
func sensitivity(b yarn.CentreAngle, k yarn.Stiffness) float64 {
	const h = 1e-3
	b = min(max(b, 0.01), balanceEdge-0.01)
	up, down := b+yarn.CentreAngle(h), b-yarn.CentreAngle(h)
	dTan := math.Log(math.Tan(float64(up)) / math.Tan(float64(down)))
	dTurns := math.Log(float64(living(2, k, up) / living(2, k, down)))
	return min(max(dTan/dTurns, 0.1), 2)
}
