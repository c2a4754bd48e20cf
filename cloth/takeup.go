package cloth

import (
	"waketwist/estimate"
	"waketwist/unit"
)

// fineCount is the coarsest cotton count for which Taylor's rule is printed with
// an example near it; below it the rule is stretched.
const fineCount = 20

// TakeUp returns the share of the warp's length that weaving takes up: in per
// cent, passages of an end per inch times 4 over the cotton count of the weft
// (Taylor's rule for cotton). t must be above zero. The spread, a quarter, and
// half for yarns coarser than 20s cotton, is an assumption.
func TakeUp(w Weave, picks Density[OnLoom], weft unit.LinearDensity) (estimate.Estimate[Loss], error) {
	if err := positive("The weft", float64(weft)); err != nil {
		return estimate.Estimate[Loss]{}, err
	}
	passages := picks.PerInch() * w.Intersections().PerEnd / float64(w.Picks())
	l := Loss(passages * 4 / weft.CottonCount() / 100)
	if !(l >= 0 && l < MostLoss) {
		return estimate.Estimate[Loss]{}, refuse("Check the picks and the weft.", "So many picks of this weft would take up %.0f %% of the warp.", 100*float64(l))
	}
	reach, flags := Loss(0.25), estimate.Flags{estimate.Modelled, CommonPractice, Assumed}
	if weft.CottonCount() < fineCount {
		reach, flags = 0.5, flags.With(estimate.Extrapolated)
	}
	return estimate.Estimate[Loss]{
		Value: l, SD: l * reach / estimate.Reach, Low: l * (1 - reach), High: min(MostLoss, l*(1+reach)), Flags: flags,
	}, nil
}
