package job

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"waketwist/estimate"
	"waketwist/hand"
	"waketwist/internal/journal"
	"waketwist/plan"
	"waketwist/unit"
	"waketwist/wheel"
	"waketwist/yarn"
)

// Known is what a journal has to say to a plan. The zero Known says nothing.
type Known struct {
	Losses   Losses
	Stash    Stash
	Machines []journal.Machine
	Hand     *hand.Posterior // nil where nothing was read
	Midway   *plan.Weighed   // of the project that the plan is of; see MidwayOf
}

// Tell puts it into a wish, where the wish leaves a thing open or names a machine.
// It refuses what FillWheel refuses.
func (k Known) Tell(w *plan.Wish) error {
	Teach(w, k.Losses)
	TeachHand(w, k.Hand)
	if w.Weighed == nil {
		w.Weighed = k.Midway
	}
	return FillWheel(w, k.Machines)
}

// FillWheel puts the machine that a wish names into it: all its whorls that are
// in use, or the one motor setting in use that was timed last, and the first
// bobbin. It refuses with a *journal.Error names that no machine, or several,
// have.
func FillWheel(w *plan.Wish, machines []journal.Machine) error {
	if w.Machine == "" || w.Wheel == nil {
		return nil
	}
	m, err := Named(machines, w.Machine, "machine", MachineLabel)
	if err != nil {
		return err
	}
	h := &plan.Wheel{Draw: w.Wheel.Draw}
	w.Wheel = h
	if m.Kind == wheel.MotorDriven {
		motor, err := motorInUse(*m)
		h.Motor = &motor
		return err
	}
	treadled, err := MachineOf(*m, 0, spoolInUse(*m))
	if err != nil {
		return err
	}
	h.Treadled, h.Whorls = &treadled, WhorlsOf(*m)
	if len(h.Whorls) == 0 {
		return unfit("No whorl of %s has been counted; count one, with a flag over ten slow treadles.", m.Name)
	}
	return nil
}

func motorInUse(m journal.Machine) (wheel.Motor, error) {
	for i := len(m.Settings) - 1; i >= 0; i-- {
		if m.Settings[i].Struck == "" {
			return MotorOf(m, m.Settings[i].ID)
		}
	}
	return wheel.Motor{}, unfit("No setting of %s has been timed; time one, slow enough to count.", m.Name)
}

// spoolInUse is the first bobbin whose size is known, zero for none.
func spoolInUse(m journal.Machine) journal.ID {
	for _, s := range m.Spools {
		if s.Struck == "" && s.Core != nil {
			return s.ID
		}
	}
	return 0
}

// Teach puts what the journal taught into a wish, where it leaves a thing open.
// The demonstration teaches nothing.
func Teach(w *plan.Wish, l Losses) {
	if l.Demo {
		return
	}
	teach(w, plan.Scouring, l.Scouring)
	teach(w, plan.Preparing, l.Preparing)
	teach(w, plan.Sampling, l.Sampling)
	teach(w, plan.Spinning, l.Spinning)
	teach(w, plan.YarnWash, l.YarnWash)
	teach(w, plan.DrawIn, l.DrawIn)
	teach(w, plan.TakeUp, l.TakeUp)
	teach(w, plan.WashWidth, l.WashWidth)
	teach(w, plan.WashLength, l.WashLength)
	teach(w, plan.PlyTakeUp, l.PlyTakeUp)
	teach(w, plan.SpinningPace, l.Pace)
	teach(w, plan.PlyingPace, l.PlyPace)
	teach(w, plan.WrapFactor, l.Wraps)
}

func teach[T ~float64](w *plan.Wish, k plan.Key[T], l Learnt[T]) {
	if l.Readings > 0 {
		plan.Learn(w, k, l.Estimate, l.Readings)
	}
}

// Against is something in the stash, and how likely it covers what a plan needs
// of its kind.
type Against struct {
	Name   string
	Have   unit.Mass
	What   string // what it is: raw fibre, yarn, ...
	Enough float64
}

// SayStash says, a sentence each, how far what lies in the stash goes.
func SayStash(stash []Against) (out []string) {
	for _, s := range stash {
		out = append(out, fmt.Sprintf("%s (%s): %s, suffices with a probability of %s.", s.Name, s.What, s.Have, plan.Chance(s.Enough)))
	}
	return out
}

// AgainstStash sets what a plan needs against what is in hand, the surest first.
// Nothing is said of what the plan does not reach, and the demonstration's own
// stash is left out.
func AgainstStash(r *plan.Result, s Stash) (out []Against) {
	for _, lot := range s.Lots {
		if lot.Demo {
			continue
		}
		for _, stock := range lot.Left {
			if stock.Mass.Value <= 0 { // as good as used up
				continue
			}
			if enough, ok := sufficesAs(r, stock.What, stock.Mass.Value); ok {
				out = append(out, Against{lot.Name, stock.Mass.Value, "fibre, " + string(stock.What), enough})
			}
		}
	}
	for _, skein := range s.Skeins {
		if skein.Mass == nil || skein.Demo {
			continue
		}
		if enough, ok := plan.Suffices(r, plan.YarnMass, *skein.Mass); ok {
			out = append(out, Against{skein.Name, *skein.Mass, "yarn", enough})
		}
	}
	slices.SortStableFunc(out, func(a, b Against) int { return cmp.Compare(b.Enough, a.Enough) })
	return out
}

// sufficesAs asks of fibre in one state of preparation. Fibre as it came may be
// raw or ready to spin, as the plan says.
func sufficesAs(r *plan.Result, what journal.Weighed, have unit.Mass) (float64, bool) {
	switch what {
	case journal.Bought:
		return plan.Suffices(r, plan.Fibre, have)
	case journal.Scoured:
		loss := cmp.Or(plan.Of(r, plan.Preparing).Value, plan.PreparingLoss().Value) // whatever the plan begins with
		return plan.Suffices(r, plan.Prepared, have*unit.Mass(1-loss))
	}
	return plan.Suffices(r, plan.Prepared, have)
}

// TeachHand puts into a wish how stiffly this spinner's wool bends, as the
// readings have it; known may be nil.
func TeachHand(w *plan.Wish, known *hand.Posterior) {
	if known == nil {
		return
	}
	k := known.Knowledge("", w.Preparation)
	reach := yarn.Stiffness(math.Exp(estimate.Reach * k.Stiffness.Sigma))
	median := yarn.Stiffness(k.Stiffness.Median)
	plan.Learn(w, plan.Stiffness, estimate.Estimate[yarn.Stiffness]{Value: median, Low: median / reach, High: median * reach}, k.Readings)
}

// HandOf is what the spinner's own readings teach; nil where there are none. The
// demonstration teaches nothing.
func HandOf(projects []journal.Project) *hand.Posterior {
	record, demo := RecordOf(projects)
	if demo {
		return nil
	}
	return learnFrom(record)
}
