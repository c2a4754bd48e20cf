package hand

import (
	"slices"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Factor is the ratio of a washed measure to the same at the wheel.
type Factor float64

// HalfTurns are half-turns of a hanging skein about itself: over zero in the
// direction of its singles (too much ply twist), under zero in that of its ply.
type HalfTurns float64

// Forecast is the washed skein that follows, and the way there. Every estimate
// rests on the model. Angles are on Line.
type Forecast struct {
	Line yarn.Line

	Dormant   estimate.Estimate[rest.Share]
	DryLook   estimate.Estimate[unit.Angle] // what rested singles suggest: a dry piece of ply that rests in balance
	Target    estimate.Estimate[unit.Angle] // a re-wet piece of ply in balance
	WheelLook estimate.Estimate[unit.Angle] // the ply at the wheel that washes into balance

	Wheel         estimate.Estimate[unit.Angle] // the ply as asked
	Washed        estimate.Estimate[unit.Angle] // the same washed and dry
	WashedBalance estimate.Estimate[unit.Angle] // where it would rest

	Excess      estimate.Estimate[rest.Share] // ply turns beyond balance, as a share; under zero short of it
	Over, Under rest.Share                    // how likely it is over-plied and under-plied by more than Tolerance
	Verdict     finish.Balance                // the likeliest

	Hangs     yarn.Direction                // in which the skein is likeliest to turn; NoDirection when open or the singles' is not known
	HalfTurns *estimate.Estimate[HalfTurns] // nil without a diameter

	Length, Diameter, Grist estimate.Estimate[Factor] // washed / at the wheel; Grist is of the linear density

	Flags estimate.Flags
}

// Tolerance is the share of its ply turns by which a skein may miss balance and
// still hang open. An assumption without a source.
const Tolerance rest.Share = 0.06

// Forecast answers a question by draws from the posterior. It refuses with a
// *rest.Error questions that make no sense, bobbins that are not in the record,
// and fibres outside the model (rest.OutsideModel).
func (p *Posterior) Forecast(q Question) (*Forecast, error) {
	if err := q.check(); err != nil {
		return nil, err
	}
	stock, err := p.stock(q)
	if err != nil {
		return nil, err
	}
	w := p.weave(q, stock)
	out := &Forecast{Line: q.Line, Flags: p.flags(q)}
	w.balance(out)
	w.wash(out)
	w.hang(out)
	return out, nil
}

// flags are what every number of a forecast carries.
func (p *Posterior) flags(q Question) estimate.Flags {
	flags := estimate.Flags{estimate.Modelled}
	if p.record.Readings() < 3 {
		flags = flags.With(estimate.FewReadings)
	}
	if slices.ContainsFunc(p.Suspects(), func(s Suspect) bool { return slices.Contains(q.Bobbins, s.Of) }) {
		flags = flags.With(rest.OutlyingAngle)
	}
	oldest := time.Duration(0)
	for _, b := range p.record.Bobbins {
		for _, c := range b.Clips {
			oldest = max(oldest, c.Age)
		}
	}
	if oldest > 0 && q.Rested > 4*oldest {
		flags = flags.With(estimate.Extrapolated)
	}
	return flags
}
