package cloth

import (
	"waketwist/estimate"
	"waketwist/unit"
)

// WorkingShare is the part of the closest sett at which cloth is mostly woven:
// three quarters (common practice). It is a choice and has no spread.
const WorkingShare Share = 0.75

// seed makes equal questions get equal answers.
const seed = 7

// Sett is how close ends are set in a weave.
type Sett struct {
	Diameters estimate.Estimate[Diameters]
	Closest   estimate.Estimate[Density[OnLoom]] // threads touch
	Working   estimate.Estimate[Density[OnLoom]] // WorkingShare of it
}

// SettByWeight returns the sett by Ashenhurst's diameters for a yarn of density
// t, above zero, warp and weft alike: diameters times ends over ends and passages
// in a repeat.
func SettByWeight(t unit.LinearDensity, c Character, w Weave) (Sett, error) {
	if err := positive("The yarn", float64(t)); err != nil {
		return Sett{}, err
	}
	s := estimate.NewSampler(drawCount, seed)
	middle := float64(Ashenhurst(t, c))
	return settOf(toDiameters(s.LogNormal(middle, ashenhurstSpread)), w,
		estimate.Flags{estimate.Modelled, CommonPractice, Assumed}), nil
}

// SettByWraps returns the sett by wraps, above zero, which a factor turns into
// contact diameters. At the middle of PriorWrapFactor the working sett is the
// trade's rule: half the wraps in plain weave, two thirds in a 2/2 twill.
func SettByWraps(wraps unit.Wraps, f estimate.Estimate[WrapFactor], w Weave) (Sett, error) {
	if err := positive("The number of wraps", float64(wraps)); err != nil {
		return Sett{}, err
	}
	if !(f.Low > 0 && f.Low <= f.Value && f.Value <= f.High) {
		return Sett{}, refuse("Give it above zero with low under high.", "That is no factor between wraps and diameters.")
	}
	s := estimate.NewSampler(drawCount, seed)
	draws := make([]Diameters, drawCount)
	for i, factor := range drawFactor(s, f) {
		draws[i] = Diameters(float64(factor) * float64(wraps))
	}
	return settOf(draws, w, f.Flags.With(estimate.Modelled)), nil
}

func settOf(d []Diameters, w Weave, flags estimate.Flags) Sett {
	x := w.Intersections()
	if float64(x.MostPerPick) > x.PerPick {
		flags = flags.With(UnevenRows)
	}
	closest := make([]Density[OnLoom], len(d))
	working := make([]Density[OnLoom], len(d))
	for i, v := range d {
		closest[i] = Closest(v, w)
		working[i] = closest[i] * Density[OnLoom](WorkingShare)
	}
	out := Sett{estimate.FromDraws(d), estimate.FromDraws(closest), estimate.FromDraws(working)}
	out.Diameters.Flags, out.Closest.Flags, out.Working.Flags = flags, flags, flags
	return out
}

// Closest returns the density of ends at which the threads of a weave touch.
func Closest(d Diameters, w Weave) Density[OnLoom] {
	return Density[OnLoom](float64(d) * float64(w.EndsShare()))
}

// ClosestPicks returns the same of picks.
func ClosestPicks(d Diameters, w Weave) Density[OnLoom] {
	return Density[OnLoom](float64(d) * float64(w.PicksShare()))
}

func toDiameters(column []float64) []Diameters {
	out := make([]Diameters, len(column))
	for i, v := range column {
		out[i] = Diameters(v)
	}
	return out
}

func positive(what string, v float64) error {
	if !(v > 0) || v > 1e12 {
		return refuse("Measure it and give it with its unit.", "%s is given as nothing or as no number.", what)
	}
	return nil
}
