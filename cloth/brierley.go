package cloth

import (
	"math"

	"waketwist/estimate"
	"waketwist/unit"
)

// Count is the system in which Brierley's constant is given.
type Count int

// The systems: K = 200 with the cotton count, 134 with the worsted count. The
// first is printed; the second is from memory.
const (
	Cotton Count = iota
	Worsted
)

// Brierley returns the closest square sett, ends and picks alike, of a yarn of
// density t, above zero: sqrt(K count) F^m threads per inch, F the mean float
// and m 0.39 for twills, 0.42 for satins, 0.45 for hopsacks (m and the worsted K
// from memory). For another weave m is taken between those. The spread, 5 %, is
// an assumption.
func Brierley(t unit.LinearDensity, system Count, w Weave) (estimate.Estimate[Density[OnLoom]], error) {
	if err := positive("The yarn", float64(t)); err != nil {
		return estimate.Estimate[Density[OnLoom]]{}, err
	}
	perInch := math.Sqrt(200 * t.CottonCount())
	if system == Worsted {
		perInch = math.Sqrt(134 * t.WorstedCount())
	}
	s := estimate.NewSampler(drawCount, seed)
	low, high := brierleyPower(w.Family())
	power := s.Uniform(low, high)
	draws := make([]Density[OnLoom], drawCount)
	for i, v := range s.LogNormal(perInch, 0.05) {
		draws[i] = PerInch[OnLoom](v * math.Pow(float64(w.PickFloat()), power[i]))
	}
	out := estimate.FromDraws(draws)
	out.Flags = estimate.Flags{estimate.Modelled, Assumed, FromMemory}
	return out, nil
}

// brierleyPower returns the least and the greatest m; of plain weave, whose
// float is 1, it does not matter.
func brierleyPower(f Family) (low, high float64) {
	switch f {
	case Twill:
		return 0.39, 0.39
	case Satin:
		return 0.42, 0.42
	case Hopsack:
		return 0.45, 0.45
	}
	return 0.39, 0.45
}
