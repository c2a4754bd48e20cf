// Package job answers the spinner's questions from what the journal holds: what
// to do next, and what ply to hold. It knows neither files nor pages.
package job

import (
	"fmt"
	"slices"
	"time"

	"waketwist/estimate"
	"waketwist/hand"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Coefficients of variation of the singles' diameter, measured and taken from
// wraps: a wrap is not a contact diameter. Assumptions without a source.
const (
	DiameterCV = 0.05
	WrapsCV    = 0.12
)

// Waking is what the samples of a project mean for its ply.
type Waking struct {
	*rest.Answer
	Used    []journal.Bobbin // the bobbins behind it
	Waiting []journal.Bobbin // bobbins without a re-wet reading yet
	Learnt  int              // readings of other bobbins that taught what is not measured here
}

// Wake answers for the given bobbins of a project, all of them when none is
// named. What the samples do not say is taken from the record of the spinner's
// other bobbins. It refuses with a *rest.Error, or a *journal.Error for a bobbin
// that is not the project's.
func Wake(p journal.Project, record hand.Record, chosen ...journal.ID) (*Waking, error) {
	w := &Waking{}
	bobbins, err := pick(p, chosen)
	if err != nil {
		return nil, err
	}
	var evidence []rest.Bobbin
	for _, b := range bobbins {
		e, err := evidenceOf(b)
		if err != nil {
			return nil, err
		}
		if !hasRewet(e) {
			w.Waiting = append(w.Waiting, b)
			continue
		}
		w.Used = append(w.Used, b)
		evidence = append(evidence, e)
	}
	if len(evidence) == 0 {
		return nil, &rest.Error{Problem: "No bobbin has a re-wet reading yet.", Advice: "Cut two lengths, read one dry, soak the other and read it wet."}
	}
	plan := planOf(p, w.Used)
	plan.Known = knownOf(record, w.Used, plan)
	if plan.Known != nil {
		w.Learnt = plan.Known.Readings
	}
	if w.Answer, err = rest.Wake(evidence, plan); err != nil {
		return nil, err
	}
	if w.Turns != nil && ByWraps(w.Used) {
		w.Turns.Flags = w.Turns.Flags.With(estimate.Modelled)
	}
	if slices.ContainsFunc(w.Used, outside) {
		w.Flags = w.Flags.With(OutsideFibre, estimate.Extrapolated)
	}
	return w, nil
}

// OutsideFibre is raised for fibres outside the model's range: rest.OutsideModel.
const OutsideFibre estimate.Flag = "fibre outside the model"

func outside(b journal.Bobbin) bool { return b.Lot != nil && rest.OutsideModel(b.Lot.Fibre) }

// knownOf is what the record teaches without the bobbins in question, which would
// be heard twice; nil when it teaches nothing.
func knownOf(record hand.Record, used []journal.Bobbin, plan rest.Plan) *rest.Knowledge {
	var own []string
	for _, b := range used {
		own = append(own, BobbinKey(b.ID))
	}
	posterior := learnFrom(record.Without(own...))
	if posterior == nil {
		return nil
	}
	known := posterior.Knowledge(fibreOf(used[0]), plan.Preparation)
	return &known
}

func pick(p journal.Project, chosen []journal.ID) ([]journal.Bobbin, error) {
	if len(chosen) == 0 {
		return p.AtWork().Bobbins, nil
	}
	var out []journal.Bobbin
	for _, id := range chosen {
		b := p.Bobbin(id)
		if b == nil {
			return nil, journal.Missing("bobbin", id)
		}
		out = append(out, *b)
	}
	return out, nil
}

// planOf brings the project's plan and its bobbins' thickness and preparation
// together. Bobbins of different preparations are taken as unknown.
func planOf(p journal.Project, bobbins []journal.Bobbin) rest.Plan {
	plan := rest.Plan{
		Strands: p.Plan.Strands, Chain: p.Plan.Chain, Offset: rest.Share(p.Plan.Offset), Preparation: preparation(bobbins),
	}
	plan.Diameter, plan.DiameterCV = thickness(bobbins)
	return plan
}

// thickness is the mean diameter of the bobbins that have one, nil when none.
func thickness(bobbins []journal.Bobbin) (*unit.Length, rest.Share) {
	var sum unit.Length
	var n int
	cv := rest.Share(DiameterCV)
	for _, b := range bobbins {
		d, measured, ok := b.Thickness()
		if !ok {
			continue
		}
		if !measured {
			cv = WrapsCV
		}
		sum += d
		n++
	}
	if n == 0 {
		return nil, 0
	}
	mean := sum / unit.Length(n)
	return &mean, cv
}

// ByWraps reports whether the thickness of some bobbins comes from wraps, which is a
// modelled step: they lie looser than strands that touch, or closer.
func ByWraps(bobbins []journal.Bobbin) bool {
	return slices.ContainsFunc(bobbins, func(b journal.Bobbin) bool { return b.Diameter == nil && b.Wraps != nil })
}

func hasRewet(b rest.Bobbin) bool {
	for _, c := range b.Clips {
		if !c.State.Dry() {
			return true
		}
	}
	return false
}

// evidenceOf is a bobbin's readings in force, as the core takes them.
func evidenceOf(b journal.Bobbin) (rest.Bobbin, error) {
	out := rest.Bobbin{Name: b.Name, Direction: b.Direction}
	if b.Singles != nil {
		out.Singles = &rest.SinglesReading{Angle: yarn.SurfaceAngle(*b.Singles), SD: rest.EyeSD}
	}
	last := lastDry(b)
	for _, s := range b.Samples {
		valid := s.Valid()
		if len(valid) == 0 || s.State.Dry() && !sameSitting(s, last) {
			continue
		}
		clip, err := clipOf(b, s, valid)
		if err != nil {
			return out, err
		}
		out.Clips = append(out.Clips, clip)
	}
	return out, nil
}

// lastDry is the dry sample with readings in force that was recorded last; zero
// without one.
func lastDry(b journal.Bobbin) (last journal.Sample) {
	for _, s := range b.Samples {
		if s.State.Dry() && len(s.Valid()) > 0 && !s.Recorded.Before(last.Recorded) {
			last = s
		}
	}
	return last
}

// sameSitting reports whether a dry sample shows the singles as they were at the
// last one: of the same state, and read within a day of it. Earlier ones show
// twist that has gone dormant since; only package hand, which knows their age,
// learns from them.
func sameSitting(s, last journal.Sample) bool {
	return s.State == last.State && last.Recorded.Sub(s.Recorded) < 24*time.Hour
}

func clipOf(b journal.Bobbin, s journal.Sample, valid []journal.Reading) (rest.Clip, error) {
	clip := rest.Clip{State: s.State, Place: s.Place, Depth: s.Depth}
	if s.Soak != nil {
		clip.Soak = *s.Soak
	}
	for _, r := range valid {
		if r.Structure != journal.Ply {
			return clip, &rest.Error{
				Problem: fmt.Sprintf("A reading of %s (the %s sample) shows singles, not a ply-back.", b.Name, StateWords(s.State)),
				Advice:  "Fold a length back on itself so that it plies up, and read that; strike the reading of the singles.",
			}
		}
		if clip.Direction == yarn.NoDirection {
			clip.Direction = r.Direction
		} else if r.Direction != yarn.NoDirection && r.Direction != clip.Direction {
			return clip, &rest.Error{
				Problem: fmt.Sprintf("The readings of the %s sample of %s disagree: one turns S, another Z.", StateWords(s.State), b.Name),
				Advice:  "Strike the wrong one; some phones mirror the picture of their front camera.",
			}
		}
		clip.Readings = append(clip.Readings, rest.Reading{Angle: r.Angle, Line: r.Line, SD: r.SD})
	}
	return clip, nil
}

// TargetOf is the answer as a target to record.
func TargetOf(p journal.Project, w *Waking) journal.Target {
	t := journal.Target{
		Project: p.ID, Plan: p.Plan, Line: w.Line, Measured: w.Target.Measured(),
		Angle: interval(w.Target), Washed: interval(w.Washed), Wheel: interval(w.WheelLook),
	}
	if w.Turns != nil {
		t.TurnsTPM = &journal.Turns{Value: w.Turns.Value, Low: w.Turns.Low, High: w.Turns.High}
	}
	return t
}

func interval(e estimate.Estimate[unit.Angle]) journal.Interval {
	return journal.Interval{Value: e.Value, Low: e.Low, High: e.High}
}

// StateWords names a state for a person.
func StateWords(s estimate.State) string {
	switch s {
	case estimate.Rewet:
		return "re-wet"
	case estimate.RewetDried:
		return "re-wet and dried"
	case estimate.Washed:
		return "washed and dried"
	}
	return s.String()
}

// Aged is the state of dry singles that came off the wheel a time ago: fresh
// within ten minutes, rested after.
func Aged(rested time.Duration) estimate.State {
	if rested < 10*time.Minute {
		return estimate.Fresh
	}
	return estimate.Rested
}
