package cloth

import (
	"waketwist/estimate"
	"waketwist/unit"
)

// Margin is a breaking load over the load that is borne: under 1 it breaks.
type Margin float64

// WarpLoad is what each end of a warp bears. Loads are given as the mass that
// would pull as hard.
type WarpLoad struct {
	PerEnd unit.Mass
	Steady estimate.Estimate[Margin] // under the tension of the warp
	AtPeak estimate.Estimate[Margin] // when the shed opens
}

// PeakFactor is the load when the shed opens over the steady one: 3, of which the
// spread from 2 to 4.5 is an assumption and the middle from memory.
func PeakFactor() estimate.Estimate[Margin] {
	return estimate.Estimate[Margin]{Value: 3, SD: 0.75, Low: 2, High: 4.5, Flags: estimate.Flags{FromMemory, Assumed}}
}

// breakSpread is the standard deviation of the logarithm of the breaking load
// from place to place of handspun yarn. Assumed.
const breakSpread = 0.15

// LoadOn returns what each of so many ends bears under a tension on the whole
// warp, against the measured breaking load of one. It refuses with an *Error
// what is not above zero.
func LoadOn(ends int, tension, breaking unit.Mass) (WarpLoad, error) {
	if ends < 1 {
		return WarpLoad{}, refuse("Give the number of ends, 1 or more.", "A warp of %d ends bears nothing.", ends)
	}
	if err := positive("The tension on the warp", float64(tension)); err != nil {
		return WarpLoad{}, err
	}
	if err := positive("The breaking load", float64(breaking)); err != nil {
		return WarpLoad{}, err
	}
	out := WarpLoad{PerEnd: tension / unit.Mass(ends)}
	s := estimate.NewSampler(drawCount, seed)
	peak := s.LogNormal90(float64(PeakFactor().Low), float64(PeakFactor().High))
	steady, atPeak := make([]Margin, drawCount), make([]Margin, drawCount)
	for i, v := range s.LogNormal(float64(breaking/out.PerEnd), breakSpread) {
		steady[i], atPeak[i] = Margin(v), Margin(v/peak[i])
	}
	out.Steady, out.AtPeak = estimate.FromDraws(steady), estimate.FromDraws(atPeak)
	out.Steady.Flags = estimate.Flags{Assumed}
	out.AtPeak.Flags = estimate.Flags{Assumed}.With(PeakFactor().Flags...)
	return out, nil
}
