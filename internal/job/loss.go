package job

import (
	"math"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/internal/journal"
	"waketwist/plan"
)

// Losses is what the journal taught about what is lost, and how fast the work
// goes, pooled over all projects.
type Losses struct {
	Scouring   Learnt[cloth.Loss] // of the weight of raw fibre
	Preparing  Learnt[cloth.Loss] // of the weight of clean fibre
	Sampling   Learnt[cloth.Loss] // of the weight of prepared fibre, gone into samples
	Spinning   Learnt[cloth.Loss] // of the weight of fibre weighed out for spinning
	YarnWash   Learnt[cloth.Loss] // of the yarn's length in its own wash
	DrawIn     Learnt[cloth.Loss] // of the width on the loom
	TakeUp     Learnt[cloth.Loss] // of the length on the loom
	WashWidth  Learnt[cloth.Loss] // of the width off the loom
	WashLength Learnt[cloth.Loss] // of the length off the loom
	PlyTakeUp  Learnt[cloth.Loss] // of the singles' length

	Pace    Learnt[plan.Pace]        // of spinning singles, at the wheel
	PlyPace Learnt[plan.Pace]        // of plying, in ply
	Wraps   Learnt[cloth.WrapFactor] // diameters in a wrap, from skeins of known weight
	Demo    bool                     // only the demonstration taught
}

// Learnt is a quantity as far as the readings teach it: where 90 % of the next
// occasions lie. Readings of 0 is what common practice says or, where it says
// nothing, a zero estimate.
type Learnt[T ~float64] struct {
	Estimate estimate.Estimate[T]
	Readings int
}

// Where nothing but an assumption says what is usual, it stands only behind
// readings: without them the answer is zero, "not known".
var usualPlyTakeUp = cloth.LossBetween(0.01, 0.20)

// LossesOf learns from every project, fibre lot (with its weighings) and swatch.
// What is usual is brought together with every occasion that was weighed or
// measured; the answer is for the next occasion. The demonstration teaches
// nothing as soon as anything of the spinner's own does.
func LossesOf(projects []journal.Project, lots []journal.Lot, swatches []journal.Swatch) Losses {
	own, shown := parted(projects, lots, swatches)
	out := own.learn()
	if out.readings() > 0 {
		return out
	}
	out = shown.learn()
	out.Demo = out.readings() > 0
	return out
}

func (l Losses) readings() int {
	n := l.Pace.Readings + l.PlyPace.Readings + l.Wraps.Readings
	for _, one := range []Learnt[cloth.Loss]{
		l.Scouring, l.Preparing, l.Sampling, l.Spinning, l.YarnWash, l.DrawIn, l.TakeUp, l.WashWidth, l.WashLength, l.PlyTakeUp,
	} {
		n += one.Readings
	}
	return n
}

// evidence is a part of the journal to learn from.
type evidence struct {
	projects []journal.Project
	lots     []journal.Lot
	swatches []journal.Swatch
}

// parted keeps the demonstration apart: its projects, the lots that only it
// spins, and its swatches.
func parted(projects []journal.Project, lots []journal.Lot, swatches []journal.Swatch) (own, shown evidence) {
	into := func(demo bool) *evidence {
		if demo {
			return &shown
		}
		return &own
	}
	demos := map[journal.ID]bool{}
	spunBy := map[journal.ID]map[bool]bool{}
	for _, p := range projects {
		demos[p.ID] = p.Demo
		into(p.Demo).projects = append(into(p.Demo).projects, p)
		for _, b := range p.Bobbins {
			if b.Lot == nil {
				continue
			}
			if spunBy[b.Lot.ID] == nil {
				spunBy[b.Lot.ID] = map[bool]bool{}
			}
			spunBy[b.Lot.ID][p.Demo] = true
		}
	}
	for _, l := range lots {
		e := into(spunBy[l.ID][true] && !spunBy[l.ID][false])
		e.lots = append(e.lots, l)
	}
	for _, s := range swatches {
		e := into(demos[s.Project])
		e.swatches = append(e.swatches, s)
	}
	return own, shown
}

func (e evidence) learn() Losses {
	var seen occasions
	bobbins := bobbinsOfLots(e.projects)
	for _, l := range e.lots {
		seen.addLot(l, bobbins[l.ID])
	}
	for _, p := range e.projects {
		seen.addProject(p)
	}
	for _, s := range e.swatches {
		seen.addSwatch(s)
	}
	return seen.losses()
}

// occasions are the occasions seen, each the logarithm of what was left, of the
// pace, or of the factor.
type occasions struct {
	scouring, preparing, sampling, spinning, yarnWash              []estimate.Occasion
	drawIn, takeUp, washWidth, washLength, plyTakeUp, pace, plying []estimate.Occasion
	wraps                                                          []estimate.Occasion
}

func (o occasions) losses() Losses {
	return Losses{
		Scouring: noGain(lossFrom(plan.ScouringLoss(), o.scouring)), Preparing: noGain(lossFrom(plan.PreparingLoss(), o.preparing)),
		Sampling: noGain(lossFrom(plan.SamplingLoss(), o.sampling)), Spinning: noGain(lossFrom(plan.SpinningLoss(), o.spinning)),
		YarnWash: lossFrom(plan.YarnWashLoss(finish.Unknown), o.yarnWash),
		DrawIn:   noGain(lossFrom(cloth.WeavingLoss(), o.drawIn)), TakeUp: noGain(lossFrom(cloth.WeavingLoss(), o.takeUp)),
		WashWidth: lossFrom(cloth.WashingLoss(), o.washWidth), WashLength: lossFrom(cloth.WashingLoss(), o.washLength),
		PlyTakeUp: assumedLoss(usualPlyTakeUp, o.plyTakeUp),
		Pace:      paceFrom(plan.UsualPace(), o.pace), PlyPace: paceFrom(plan.UsualPlyPace(), o.plying),
		Wraps: factorFrom(cloth.PriorWrapFactor(), o.wraps),
	}
}

// lossFrom brings what is usual together with what was seen, on the logarithm of
// what is left.
func lossFrom(usual estimate.Estimate[cloth.Loss], seen []estimate.Occasion) Learnt[cloth.Loss] {
	if len(seen) == 0 {
		return Learnt[cloth.Loss]{Estimate: usual}
	}
	left := estimate.Next(math.Log(float64(1-usual.High)), math.Log(float64(1-usual.Low)), seen)
	loss := func(log float64) cloth.Loss {
		return min(cloth.MostLoss, max(cloth.LeastLoss, cloth.Loss(-math.Expm1(log))))
	}
	e := learntFrom(loss(left.Value), loss(left.High), loss(left.Low), len(seen))
	return Learnt[cloth.Loss]{e, len(seen)}
}

// noGain ends the interval of a step that cannot add anything at nothing.
func noGain(l Learnt[cloth.Loss]) Learnt[cloth.Loss] {
	e := &l.Estimate
	e.Value, e.Low, e.High = max(0, e.Value), max(0, e.Low), max(0, e.High)
	return l
}

// assumedLoss is lossFrom where nothing is known without readings.
func assumedLoss(usual estimate.Estimate[cloth.Loss], seen []estimate.Occasion) Learnt[cloth.Loss] {
	if len(seen) == 0 {
		return Learnt[cloth.Loss]{}
	}
	return lossFrom(usual, seen)
}

func paceFrom(usual estimate.Estimate[plan.Pace], seen []estimate.Occasion) Learnt[plan.Pace] {
	if len(seen) == 0 {
		return Learnt[plan.Pace]{}
	}
	return factorFrom(usual, seen)
}

// factorFrom does the same for a quantity above zero, on its logarithm.
func factorFrom[T ~float64](usual estimate.Estimate[T], seen []estimate.Occasion) Learnt[T] {
	if len(seen) == 0 {
		return Learnt[T]{Estimate: usual}
	}
	next := estimate.Next(math.Log(float64(usual.Low)), math.Log(float64(usual.High)), seen)
	e := learntFrom(T(math.Exp(next.Value)), T(math.Exp(next.Low)), T(math.Exp(next.High)), len(seen))
	return Learnt[T]{e, len(seen)}
}

// learntFrom says that an estimate is partly what was usual before it was
// learnt, and so modelled.
func learntFrom[T ~float64](value, low, high T, readings int) estimate.Estimate[T] {
	e := estimate.Estimate[T]{
		Value: value, Low: low, High: high, SD: (high - low) / T(2*estimate.Reach), N: readings, Flags: estimate.Flags{estimate.Modelled},
	}
	if readings < 3 {
		e.Flags = e.Flags.With(estimate.FewReadings)
	}
	return e
}
