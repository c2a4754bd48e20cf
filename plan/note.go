package plan

import (
	"fmt"
	"strings"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// stillLiving is the most twist that a ply in balance is taken to keep living
// after its wash, as the surface angle of it: an assumption.
const stillLiving = 5 * unit.Degree

// notes say what else is worth knowing of the plan.
func (s *solver) notes(r *Result) (out []string) {
	if woven(s.w) {
		for _, note := range []string{s.sley(), s.tracking(r), s.arrangement(), s.loadNote(), s.taylor(r), s.trial(r)} {
			if note != "" {
				out = append(out, note)
			}
		}
	}
	if note := s.w.leftovers(); note != "" {
		out = append(out, note)
	}
	return out
}

// tracking says how likely twist shows in the washed cloth.
func (s *solver) tracking(r *Result) string {
	if !s.known(qEnds) || !s.known(qGrist) {
		return ""
	}
	residual := estimate.Estimate[yarn.SurfaceAngle]{High: yarn.SurfaceAngle(stillLiving), Flags: estimate.Flags{cloth.Assumed}}
	state := "with a ply in balance"
	if s.w.Plies == 1 {
		if !s.known(qSinglesAngle) {
			return ""
		}
		residual, state = typed[yarn.SurfaceAngle](r.estimates[qSinglesAngle]), "with lively singles"
	}
	t := cloth.TrackingRisk(residual, cloth.Share(s.median(qEnds)/s.closest(cloth.Weave.EndsShare)), s.w.Weave)
	note := fmt.Sprintf("Tracking, crinkled lines that the wash wakes: the risk is %s %s.", t.Most, state)
	if t.Most > cloth.LowRisk && t.Open {
		note += " A closer sett or longer floats hide it."
	}
	return note
}

// sley says how the ends go through the reed that is there.
func (s *solver) sley() string {
	if s.w.Reed == 0 || !s.known(qEnds) || !s.known(qEndCount) {
		return ""
	}
	sley, err := cloth.SleyFor(cloth.Density[cloth.OnLoom](s.median(qEnds)), s.w.Reed)
	if err != nil {
		return err.Error()
	}
	order := make([]string, len(sley.Order))
	for i, n := range sley.Order {
		order[i] = fmt.Sprint(n)
	}
	note := fmt.Sprintf("Through the reed: %s in a dent, over and over, in %d dents, for %s.", strings.Join(order, ", "), sley.Dents(int(s.median(qEndCount))), sayDensity(float64(sley.Sett)))
	if off := 100 * float64(sley.Off); off > 0.5 || off < -0.5 {
		note += fmt.Sprintf(" That is %+.0f %% on the sett of the plan.", off)
	}
	return note
}

func (s *solver) arrangement() string {
	warp, weft := s.w.Direction, s.w.WeftTwist
	if weft == yarn.NoDirection {
		weft = warp
	}
	if warp == yarn.NoDirection {
		return ""
	}
	a, err := cloth.Arrange(warp, weft, s.w.Weave)
	if err != nil {
		return ""
	}
	return a.Note()
}

func (s *solver) loadNote() string {
	load, ok := s.load()
	if !ok && s.known(qTension) && s.known(qEndCount) {
		return fmt.Sprintf("Each end bears %s. Hang weights on ten lengths until they break, and put that load into the plan.", masses.say(s.median(qTension)/s.median(qEndCount)))
	}
	if !ok {
		return ""
	}
	return fmt.Sprintf("Each end bears %s and would break at %.1f times that, at %.1f (%.1f to %.1f) times what it bears when the shed opens. Rubbing in reed and heddles comes on top.",
		load.PerEnd, load.Steady.Value, load.AtPeak.Value, load.AtPeak.Low, load.AtPeak.High)
}

// taylor sets the rule for cotton beside a take-up that nobody measured.
func (s *solver) taylor(r *Result) string {
	if s.source[qTakeUp] != Assumed || !s.known(qPicks) || !s.known(qGrist) {
		return ""
	}
	e, err := cloth.TakeUp(s.w.Weave, cloth.Density[cloth.OnLoom](s.median(qPicks)), grist(s.median(qGrist)))
	if err != nil || e.Flags.Has(estimate.Extrapolated) { // it says nothing of coarse wool
		return ""
	}
	return fmt.Sprintf("Taylor's rule, made for cotton, puts the take-up of this weave at %.0f %% (%.0f to %.0f); measure a sample.", 100*float64(e.Value), 100*float64(e.Low), 100*float64(e.High))
}

// trial is the sample worth weaving first.
func (s *solver) trial(r *Result) string {
	if s.source[qWashWidth] == Learnt || s.source[qWashWidth] == Wished && r.estimates[qWashWidth].High == r.estimates[qWashWidth].Low {
		return ""
	}
	return fmt.Sprintf("Weave a sample of %s square before the cloth, measure it on the loom, off it and washed, and put the three into the plan.", cloth.SampleSide)
}

// leftovers says what plying the bobbins in hand straight leaves on each.
func (w *Wish) leftovers() string {
	if w.usable() == 1 {
		return ""
	}
	l, err := Leftovers(w.Strands)
	if err != nil {
		return ""
	}
	left := make([]string, len(l.Left))
	for i, m := range l.Left {
		left[i] = m.String()
		if m == 0 {
			left[i] = "nothing"
		}
	}
	return fmt.Sprintf("Plied straight, the bobbins in hand give %s and leave %s. Shared out evenly before plying, each would hold %s, and nothing would be left.",
		l.Used, enumerate(left, "and"), l.Even)
}
