package job

import (
	"math"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/internal/journal"
	"waketwist/unit"
)

// How far a weighing may be off. A scale is taken to be right to within half its
// step, 1 g where it is not known; and fibre weighed on two days takes up and
// gives off moisture, 1.5 % for wool in rooms of unknown air, 1 % where the air
// was measured both times. Assumed.
const (
	usualStep   = unit.Gram
	stepShare   = 0.5
	moistureSD  = 0.015
	measuredAir = 0.01
)

// leastReady is what is left of ready fibre after spinning in any lot that was
// bought ready to spin: a fleece loses more.
const leastReady = 0.75

// weight is a sum of weighings with how far it may be off.
type weight struct {
	mass     unit.Mass
	variance float64  // square grams
	air      *float64 // humidity of the one weighing, nil for several or where not known
	n        int
}

func weightOf(w journal.Weighing) weight {
	return weight{mass: w.Net(), variance: scaleVariance(w), air: w.Humidity, n: 1}
}

// beforeOf is the weight that something came from, on the same scale.
func beforeOf(w journal.Weighing) weight {
	w.Tare = nil
	return weight{mass: *w.Before, variance: scaleVariance(w), n: 1}
}

func scaleVariance(w journal.Weighing) float64 {
	step := usualStep
	if w.Step != nil {
		step = *w.Step
	}
	sd := stepShare * step.Grams()
	if w.Tare != nil {
		return 2 * sd * sd
	}
	return sd * sd
}

func (a weight) plus(b weight) weight {
	if a.n == 0 {
		return b
	}
	return weight{mass: a.mass + b.mass, variance: a.variance + b.variance, n: a.n + b.n}
}

func (a weight) minus(b weight) weight {
	b.mass = -b.mass
	return a.plus(b)
}

func total(all []journal.Weighing) (sum weight) {
	for _, w := range all {
		sum = sum.plus(weightOf(w))
	}
	return sum
}

// leftOf is the occasion on which before became after. ok is false where nothing
// can be told: a weight is missing, or the two are no step of the work.
func leftOf(before, after weight) (o estimate.Occasion, ok bool) {
	if !(before.mass > 0 && after.mass > 0) {
		return o, false
	}
	air := moistureSD
	m, n := before.mass, after.mass
	if before.air != nil && after.air != nil {
		air = measuredAir
		m = finish.Conditioned(m, finish.WoolRegain(*before.air).Value, finish.StandardRegain)
		n = finish.Conditioned(n, finish.WoolRegain(*after.air).Value, finish.StandardRegain)
	}
	o.Value = math.Log(float64(n / m))
	o.SD = math.Sqrt(before.variance/square(m.Grams()) + after.variance/square(n.Grams()) + air*air)
	return o, o.Value > math.Log(0.05) && o.Value < math.Log(1.25)
}

func square(v float64) float64 { return v * v }

// weighed sorts the weighings in force by what was weighed.
func weighed(all []journal.Weighing) map[journal.Weighed][]journal.Weighing {
	out := map[journal.Weighed][]journal.Weighing{}
	for _, w := range all {
		if w.Counts() {
			out[w.What] = append(out[w.What], w)
		}
	}
	return out
}

// stepsOf are the occasions of one step: each weighing that says what it came
// from, and all others together against all of what was there before.
func stepsOf(before, after []journal.Weighing) (out []estimate.Occasion) {
	add := func(from, to weight) {
		if o, ok := leftOf(from, to); ok {
			out = append(out, o)
		}
	}
	rest, whole := total(before), weight{}
	for _, w := range after {
		if w.Before == nil {
			whole = whole.plus(weightOf(w))
			continue
		}
		add(beforeOf(w), weightOf(w))
		rest = rest.minus(beforeOf(w))
	}
	add(rest, whole)
	return out
}

// addLot learns from the weighings of a lot and of the bobbins spun from it.
func (o *occasions) addLot(l journal.Lot, bobbins []journal.Bobbin) {
	by := weighed(l.Weighings)
	o.scouring = append(o.scouring, stepsOf(by[journal.Bought], by[journal.Scoured])...)
	o.preparing = append(o.preparing, preparingOf(by)...)
	ready := readyOf(by)
	o.sampling = append(o.sampling, samplingOf(ready, by[journal.Sampled])...)
	o.spinning = append(o.spinning, spinningOf(ready, by, bobbins)...)
}

// preparingOf compares with the clean fibre, else with what was carded or combed
// and its waste together.
func preparingOf(by map[journal.Weighed][]journal.Weighing) []estimate.Occasion {
	prepared, waste := by[journal.Prepared], by[journal.Waste]
	if len(by[journal.Scoured]) > 0 || len(waste) == 0 {
		return stepsOf(by[journal.Scoured], prepared)
	}
	for _, w := range prepared {
		if w.Before != nil {
			return stepsOf(nil, prepared)
		}
	}
	return stepsOf(append(append([]journal.Weighing(nil), prepared...), waste...), prepared)
}

// readyOf is what was ready to spin: prepared, or bought so.
func readyOf(by map[journal.Weighed][]journal.Weighing) weight {
	switch {
	case len(by[journal.Prepared]) > 0:
		return total(by[journal.Prepared])
	case len(by[journal.Scoured]) > 0:
		return weight{}
	}
	return total(by[journal.Bought])
}

// samplingOf compares what went into samples with what there was.
func samplingOf(ready weight, sampled []journal.Weighing) (out []estimate.Occasion) {
	add := func(before, gone weight) {
		if o, ok := goneOf(before, gone); ok {
			out = append(out, o)
		}
	}
	var rest weight
	for _, w := range sampled {
		if w.Before != nil {
			add(beforeOf(w), weightOf(w))
		} else {
			rest = rest.plus(weightOf(w))
		}
	}
	add(ready, rest)
	return out
}

// goneOf is the occasion on which a part was taken away, where that part itself
// was weighed: moisture then moves the part alone.
func goneOf(before, gone weight) (o estimate.Occasion, ok bool) {
	share := float64(gone.mass / before.mass)
	if !(share > 0 && share < 0.9) {
		return o, false
	}
	off := math.Sqrt(gone.variance/square(gone.mass.Grams()) + before.variance/square(before.mass.Grams()) + moistureSD*moistureSD)
	return estimate.Occasion{Value: math.Log1p(-share), SD: share / (1 - share) * off}, true
}

// spinningOf compares singles with the fibre weighed out for them, else all
// singles of a lot with what was ready less what is left.
func spinningOf(ready weight, by map[journal.Weighed][]journal.Weighing, bobbins []journal.Bobbin) (out []estimate.Occasion) {
	apart := false
	for _, b := range bobbins {
		w := latest(b.Weighings)
		if w == nil || w.Before == nil {
			continue
		}
		apart = true
		if o, ok := leftOf(beforeOf(*w), weightOf(*w)); ok {
			out = append(out, o)
		}
	}
	left := latest(by[journal.Left])
	if apart || left == nil {
		return out
	}
	spun, all := spunUntil(*left, bobbins)
	o, ok := leftOf(ready.minus(total(by[journal.Sampled])).minus(weightOf(*left)), spun)
	if all && ok && o.Value > math.Log(leastReady) {
		out = append(out, o)
	}
	return out
}

// spunUntil is the weight of the singles that were spun when what is left was
// weighed; all is false where one of the bobbins was not weighed.
func spunUntil(left journal.Weighing, bobbins []journal.Bobbin) (spun weight, all bool) {
	for _, b := range bobbins {
		if spunAfter(b, left) {
			continue
		}
		w := latest(b.Weighings)
		if w == nil {
			return spun, false
		}
		spun = spun.plus(weightOf(*w))
	}
	return spun, true
}

// spunAfter reports whether a bobbin was spun after a weighing: by its days of
// spinning, for which noon stands, else by when it was recorded.
func spunAfter(b journal.Bobbin, w journal.Weighing) bool {
	if last := b.SpunUntil(); !last.IsZero() {
		return last.After(w.At.Add(12 * time.Hour))
	}
	return b.Recorded.After(w.At)
}

// latest is the weighing in force that was made last, nil without one.
func latest(all []journal.Weighing) (last *journal.Weighing) {
	for i := range all {
		if w := &all[i]; w.Counts() && (last == nil || !w.At.Before(last.At)) {
			last = w
		}
	}
	return last
}

func bobbinsOfLots(projects []journal.Project) map[journal.ID][]journal.Bobbin {
	out := map[journal.ID][]journal.Bobbin{}
	for _, p := range projects {
		for _, b := range p.Bobbins {
			if b.Lot != nil {
				out[b.Lot.ID] = append(out[b.Lot.ID], b)
			}
		}
	}
	return out
}
