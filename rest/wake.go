package rest

import (
	"math"
	"slices"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/unit"
	"waketwist/yarn"
)

// Conditions that an Answer may carry beside those of package estimate.
const (
	NoDry          estimate.Flag = "no dry reading"
	NoDormancy     estimate.Flag = "no dormancy seen"
	ShortSoak      estimate.Flag = "short soak"
	OuterOnly      estimate.Flag = "dry reading from the youngest layer"
	PastLimit      estimate.Flag = "steeper than a balanced ply can be"
	BobbinsDiffer  estimate.Flag = "bobbins differ"
	OutlyingAngle  estimate.Flag = "one reading stands apart"
	NoDirectionSet estimate.Flag = "direction not stated"
)

// BobbinsMayDiffer is raised where bobbins read further apart than a ply hides, and
// too little was clipped to tell that from the turns of one place.
const BobbinsMayDiffer estimate.Flag = "bobbins may differ"

// Share is a part of a whole, 0 to 1 where not said otherwise.
type Share float64

// Plan is the ply that is wanted of the singles.
type Plan struct {
	Strands     int          // 2 to 4; a chain-ply has 3
	Chain       bool         // chain-plied from one bobbin
	Offset      Share        // turns beyond balance (over 0) or short of it, -0.5 to 0.5
	Diameter    *unit.Length // of the singles, nil when not known
	DiameterCV  Share        // its coefficient of variation
	Preparation finish.Preparation
	Known       *Knowledge // of this spinner; nil takes Prior(Preparation)
}

// Answer says what the samples mean for the ply. Angles are on Line: the line
// on which the re-wet samples were read, so that like is compared with like.
type Answer struct {
	Line      yarn.Line
	Direction yarn.Direction // in which to ply

	Target    estimate.Estimate[unit.Angle]       // a re-wet piece of the finished ply
	Washed    estimate.Estimate[unit.Angle]       // the ply washed and dried
	WheelLook estimate.Estimate[unit.Angle]       // the ply at the wheel before washing
	Centre    estimate.Estimate[yarn.CentreAngle] // Target on the strand's centre line
	Turns     *estimate.Estimate[yarn.PlyTwist]   // nil when no diameter is known
	DryLook   *estimate.Estimate[unit.Angle]      // what the dry samples show; nil without any
	Dormant   *estimate.Estimate[Share]           // nil without dry samples
	TurnShare *estimate.Estimate[Share]           // turns per length of ply got by plying to the dry look, of those needed
	Stiffness estimate.Estimate[yarn.Stiffness]   // k, as far as the samples tell
	Bobbins   []BobbinAnswer
	Next      *NextClip
	Flags     estimate.Flags

	plan  Plan
	held  held
	draws draws
}

// BobbinAnswer is the word of one bobbin's samples on itself.
type BobbinAnswer struct {
	Name    string
	Rewet   estimate.Estimate[unit.Angle] // two-strand ply-back, on the Answer's Line
	Dormant *estimate.Estimate[Share]
}

// drawCount is the number of rows in every calculation: enough that the ends of
// a 90 % interval repeat to about a tenth of the standard deviation, few enough for a page.
const drawCount = 2000

// draws are the columns from which an answer was made.
type draws struct {
	centre []float64 // log tan b of the balanced two-strand re-wet ply-back
	border []float64 // log of tan border / tan centre of this eye, two strands, in sd from the median
	k      []float64
}

// Wake turns the samples of the bobbins that are to be plied together, dry and
// re-wet, into the ply to hold. Each bobbin gives the same number of strands;
// each must have a re-wet sample, or one re-wet and dried. It refuses with an
// *Error.
//
// For a two-ply the balanced ply of the same singles is the re-wet ply-back
// itself, and the answer is measured; for other counts it goes through
// yarn.Balanced and is modelled, and so is what a soak shorter than FullSoak has
// left asleep.
func Wake(bobbins []Bobbin, plan Plan) (*Answer, error) {
	if err := checkPlan(bobbins, plan); err != nil {
		return nil, err
	}
	s := estimate.NewSampler(drawCount, 1)
	a := &Answer{Line: lineOf(wetOf(bobbins)), Direction: bobbins[0].plyDirection(), plan: plan, held: hold(plan.known())}
	a.draws.border = s.Normal(0, 1)
	damp := a.held.Wash.Damp
	shared := columns{a.draws.border, logs(s.LogNormal90(damp.Low, damp.High)), nil, a.held, s}
	words := make([]word, len(bobbins))
	for i, b := range bobbins {
		w, err := hear(b, a.Line, shared)
		if err != nil {
			return nil, err
		}
		words[i] = w
	}
	shared.k = shared.drawStiffness(bobbins, words)
	for i, b := range bobbins {
		if err := words[i].hearDry(b, a.Line, shared); err != nil {
			return nil, err
		}
	}
	a.draws.k = shared.k
	a.join(words)
	a.answer(words, shared)
	a.Next = next(words)
	return a, nil
}

func checkPlan(bobbins []Bobbin, plan Plan) error {
	if len(bobbins) == 0 {
		return refuse("Give the samples of at least one bobbin.", "There is no bobbin to ply.")
	}
	if plan.Strands < 2 || plan.Strands > 4 {
		return refuse("Choose 2, 3 or 4 strands.", "A ply of %d strands is not covered.", plan.Strands)
	}
	if math.Abs(float64(plan.Offset)) > 0.5 || math.IsNaN(float64(plan.Offset)) {
		return refuse("Keep the offset between -50 and 50 %.", "Going %.0f %% past balance is no longer a ply that holds.", 100*float64(plan.Offset))
	}
	if d := plan.Diameter; d != nil && !(d.Millimetres() > 0.05 && d.Millimetres() < 50) {
		return refuse("Give the singles' diameter, or their wraps per inch or centimetre.", "Singles %s thick are not yarn.", d.Metric())
	}
	if err := plan.known().Check(); err != nil {
		return err
	}
	direction := bobbins[0].plyDirection()
	for _, b := range bobbins {
		if err := b.check(); err != nil {
			return err
		}
		if d := b.plyDirection(); d != yarn.NoDirection && direction != yarn.NoDirection && d != direction {
			return refuse("Plied together they cannot balance: ply each bobbin with one spun the same way.",
				"%s and %s were spun in opposite directions.", bobbins[0].called(), b.called())
		}
	}
	return nil
}

// wetOf are the clips of all bobbins that water has woken.
func wetOf(bobbins []Bobbin) (out []Clip) {
	for _, b := range bobbins {
		out = append(out, b.in(estimate.Rewet, estimate.RewetDried)...)
	}
	return out
}

// lineOf is the visible border when every reading was made on it.
func lineOf(clips []Clip) yarn.Line {
	for _, c := range clips {
		for _, r := range c.Readings {
			if r.Line != yarn.VisibleBorder {
				return yarn.StrandCentre
			}
		}
	}
	return yarn.VisibleBorder
}

// join brings the bobbins to one ply: its strands share the torque, so the
// tangents, which follow the turns, are averaged.
func (a *Answer) join(words []word) {
	a.draws.centre = make([]float64, drawCount)
	for i := range drawCount {
		var tan float64
		for _, w := range words {
			tan += math.Exp(w.centre[i])
		}
		a.draws.centre[i] = math.Log(tan / float64(len(words)))
	}
}

// answer fills in every estimate from the draws.
func (a *Answer) answer(words []word, c columns) {
	wash := a.held.Wash
	length := c.LogNormal90(wash.Length.Low, wash.Length.High)
	width := c.LogNormal90(wash.Diameter.Low, wash.Diameter.High)
	dried, seen := driedStep(words, c.damp)

	target, centre := make([]unit.Angle, drawCount), make([]yarn.CentreAngle, drawCount)
	washed, look := slices.Clone(target), slices.Clone(target)
	for i := range drawCount {
		centre[i] = a.plied(i)
		tan := math.Tan(float64(centre[i])) * a.lineRatio(i, a.plan.Strands)
		target[i] = unit.Atan(tan)
		washed[i] = unit.Atan(tan * math.Exp(dried[i]))
		look[i] = unit.Atan(tan * math.Exp(dried[i]) * length[i] / width[i])
	}
	n, common := a.basis(words)
	undamped := slices.ContainsFunc(words, func(w word) bool { return w.undamped })
	a.Target = settle(estimate.FromDraws(target), estimate.Rewet, n, modelledIf(undamped, common))
	a.Centre = settle(estimate.FromDraws(centre), estimate.Rewet, n, modelledIf(a.Line == yarn.VisibleBorder, a.Target.Flags))
	a.Washed = settle(estimate.FromDraws(washed), estimate.Washed, n, modelledIf(!seen, common))
	a.WheelLook = settle(estimate.FromDraws(look), estimate.Rested, n, modelledIf(true, common))
	a.WheelLook.Load = estimate.AtWheel
	a.Stiffness = settle(estimate.FromDraws(stiffnesses(a.draws.k)), estimate.Unstated, n, modelledIf(true, common))
	a.turns(centre, c.Sampler)
	a.dry(words)
	a.conclude(words)
}

func modelledIf(model bool, flags estimate.Flags) estimate.Flags {
	if model {
		return flags.With(estimate.Modelled)
	}
	return flags
}

// plied is the helix angle of the wanted ply, re-wet, in draw i.
func (a *Answer) plied(i int) yarn.CentreAngle {
	b := yarn.CentreAngle(math.Atan(math.Exp(a.draws.centre[i])))
	n := a.plan.Strands
	if n != 2 {
		k := yarn.Stiffness(a.draws.k[i])
		b = yarn.Balanced(n, k, living(2, k, b))
	}
	if a.plan.Offset == 0 {
		return b
	}
	// The radius hardly moves over an offset: turns go as tan b/R, solved once more.
	tan := math.Tan(float64(b)) * (1 + float64(a.plan.Offset))
	over := yarn.CentreAngle(math.Atan(tan))
	return yarn.CentreAngle(math.Atan(tan * yarn.ContactRadius(n, over) / yarn.ContactRadius(n, b)))
}

// lineRatio is tan on the Answer's Line / tan of the centre line, for a ply of
// n strands in draw i: the same eye sees all of them.
func (a *Answer) lineRatio(i, n int) float64 {
	if a.Line == yarn.StrandCentre {
		return 1
	}
	return a.held.borderRatio(n, a.draws.border[i])
}

// basis counts the readings and says which conditions every angle carries.
func (a *Answer) basis(words []word) (readings int, flags estimate.Flags) {
	places := map[string]bool{}
	for _, w := range words {
		readings += w.readings
		flags = flags.With(w.flags...)
		for _, p := range w.places {
			places[p] = true
		}
	}
	if readings < 3 {
		flags = flags.With(estimate.FewReadings)
	}
	if len(places) == 1 {
		flags = flags.With(estimate.OnePlace)
	}
	if a.plan.Strands != 2 {
		flags = flags.With(estimate.Modelled)
	}
	return readings, flags
}

func settle[T ~float64](e estimate.Estimate[T], state estimate.State, n int, flags estimate.Flags) estimate.Estimate[T] {
	e.State, e.N, e.Flags = state, n, flags
	return e
}

func logs(values []float64) []float64 {
	for i, v := range values {
		values[i] = math.Log(v)
	}
	return values
}

func stiffnesses(k []float64) []yarn.Stiffness {
	out := make([]yarn.Stiffness, len(k))
	for i, v := range k {
		out[i] = yarn.Stiffness(v)
	}
	return out
}

// turns fills in the turns per metre of ply, in the re-wet state.
func (a *Answer) turns(centre []yarn.CentreAngle, s *estimate.Sampler) {
	if a.plan.Diameter == nil {
		return
	}
	off := s.LogNormal(1, max(float64(a.plan.DiameterCV), 1e-6))
	turns := make([]yarn.PlyTwist, drawCount)
	for i, b := range centre {
		turns[i] = yarn.Turns(a.plan.Strands, b, *a.plan.Diameter*unit.Length(off[i]))
	}
	e := settle(estimate.FromDraws(turns), estimate.Rewet, a.Target.N, a.Centre.Flags)
	a.Turns = &e
}
