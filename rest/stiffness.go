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

// stiffnessCount is the number of equally likely values of k that are weighed.
const stiffnessCount = 160

// stiffness draws k for a two-strand ply-back balanced at b: what is held of k,
// weighted by how likely the singles' angle is that it implies. p in (0, 1)
// picks the draw.
func (h held) stiffness(b yarn.CentreAngle, singles SinglesReading, p float64) yarn.Stiffness {
	var cumulative [stiffnessCount]float64
	var sum float64
	for i, k := range h.stiffnesses {
		a := math.Atan(float64(living(2, yarn.Stiffness(k), b)))
		z := (a - float64(singles.Angle)) / float64(singles.SD)
		sum += math.Exp(-z*z/2) + 1e-12
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
