package cloth

import (
	"waketwist/estimate"
	"waketwist/unit"
)

// SampleSide is the side of a sample, on the loom, that tells of a cloth: 10 in
// (common practice).
const SampleSide = 10 * unit.Inch

// Measured is one direction of a sample in its three states.
type Measured struct {
	OnLoom, OffLoom, Washed unit.Length
}

// Losses returns what weaving and washing each took of it. Both ends of every
// length are read to within slack, the standard deviation of a reading. It
// refuses with an *Error lengths that are not above zero.
func (m Measured) Losses(slack unit.Length) (weaving, washing estimate.Estimate[Loss], err error) {
	for _, l := range []unit.Length{m.OnLoom, m.OffLoom, m.Washed} {
		if err := positive("A length of the sample", float64(l)); err != nil {
			return weaving, washing, err
		}
	}
	weaving, washing = read(m.OnLoom, m.OffLoom, slack), read(m.OffLoom, m.Washed, slack)
	for _, e := range []estimate.Estimate[Loss]{weaving, washing} {
		if err := e.Value.check("A loss of the sample"); err != nil {
			return weaving, washing, err
		}
	}
	return weaving, washing, nil
}

func read(before, after, slack unit.Length) estimate.Estimate[Loss] {
	l := LossOf(before, after)
	sd := Loss(float64(slack/before) * (1 + float64(after/before)))
	return estimate.Estimate[Loss]{
		Value: l, SD: sd, Low: max(LeastLoss, l-estimate.Reach*sd), High: min(MostLoss, l+estimate.Reach*sd), N: 1,
		State: estimate.Washed, Flags: estimate.Flags{estimate.FewReadings},
	}
}

// Trial is a sample worth weaving before the cloth.
type Trial struct {
	Side  unit.Length
	Setts []Density[OnLoom] // to be woven side by side, openest first
}

// Trials returns the sample that settles a sett: one sett where it is known to
// within a tenth, else three across the interval of it.
func Trials(working estimate.Estimate[Density[OnLoom]]) Trial {
	out := Trial{Side: SampleSide, Setts: []Density[OnLoom]{working.Value}}
	if working.High-working.Low > working.Value/10 {
		out.Setts = []Density[OnLoom]{working.Low, working.Value, working.High}
	}
	return out
}
