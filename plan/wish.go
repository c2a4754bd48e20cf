package plan

import (
	"maps"
	"math"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/wheel"
	"waketwist/yarn"
)

// Fabric is what the yarn is for.
type Fabric int

// The fabrics.
const (
	NoFabric Fabric = iota // the yarn itself is wanted
	Woven
	Knitted
)

// Wish is what is wanted and what is known on the way there. Give fixes any
// quantity of the chain, to a value or to a range; what is left free is solved
// for. The zero Wish wishes for nothing.
type Wish struct {
	Fabric    Fabric
	Weave     cloth.Weave // of a woven one
	Shafts    int         // of the loom; 0 where not known
	Character cloth.Character
	Reed      cloth.Reed // 0 where not known

	SwatchWidth, SwatchLength unit.Length // washed, of a knitted fabric

	Plies       int            // 1 to 7; 0 leaves them free
	Direction   yarn.Direction // of the ply, or of singles that stay so
	WeftTwist   yarn.Direction // of another yarn as weft; none for the same
	Preparation finish.Preparation
	Start       Start       // what the fibre is when it is bought
	Strands     []unit.Mass // the singles in hand, bobbin by bobbin; nil where not weighed

	Wheel   *Wheel   // nil where not known
	Machine string   // the name of a wheel of the spinner's, from which Wheel is yet to be filled
	Weighed *Weighed // nil before the work begins

	given  map[quantity]entry
	learnt map[quantity]entry
}

// Start is what fibre is when it is bought.
type Start int

// The starts.
const (
	FromPrepared Start = iota // ready to spin
	FromScoured               // clean, to be carded or combed
	FromRaw                   // to be scoured first
)

// Wheel is what is owned to twist with, and the length drawn at a time. Either
// Treadled or Motor is set.
type Wheel struct {
	Treadled *wheel.Treadled
	Whorls   []wheel.Whorl // of which one is chosen; none takes the one set in Treadled
	Motor    *wheel.Motor
	Draw     unit.Length

	driven bool // a motor is wished, whose speed is yet to be given
}

// entry is a quantity as it was given, and how often it was read.
type entry struct {
	estimate.Estimate[float64]
	readings int
}

// Give fixes a quantity. cloth.Exactly gives a value without spread.
func Give[T ~float64](w *Wish, k Key[T], e estimate.Estimate[T]) {
	w.given = put(w.given, k.q, entry{plain(e), e.N})
}

// Learn says what is known of a quantity from so many readings of the spinner's
// own; it stands where the wish leaves the quantity open, in place of common
// practice.
func Learn[T ~float64](w *Wish, k Key[T], e estimate.Estimate[T], readings int) {
	w.learnt = put(w.learnt, k.q, entry{plain(e), readings})
}

func put(m map[quantity]entry, q quantity, e entry) map[quantity]entry {
	m = maps.Clone(m)
	if m == nil {
		m = map[quantity]entry{}
	}
	m[q] = e
	return m
}

// without is the wish with some quantities left free.
func (w Wish) without(free ...quantity) Wish {
	w.given = maps.Clone(w.given)
	for _, q := range free {
		delete(w.given, q)
		if q == qSinglesInHand {
			w.Strands = nil
		}
	}
	return w
}

func (w *Wish) has(q quantity) bool {
	_, ok := w.given[q]
	return ok
}

func plain[T ~float64](e estimate.Estimate[T]) estimate.Estimate[float64] {
	return estimate.Estimate[float64]{
		Value: float64(e.Value), SD: float64(e.SD), Low: float64(e.Low), High: float64(e.High),
		N: e.N, State: e.State, Load: e.Load, Flags: e.Flags,
	}
}

func typed[T ~float64](e estimate.Estimate[float64]) estimate.Estimate[T] {
	return estimate.Estimate[T]{
		Value: T(e.Value), SD: T(e.SD), Low: T(e.Low), High: T(e.High),
		N: e.N, State: e.State, Load: e.Load, Flags: e.Flags,
	}
}

// SpinningLoss is what spinning and plying prepared fibre wastes where nothing is
// known: 2 to 5 %, and SamplingLoss what samples take: 10 to 15 % (common
// practice).
func SpinningLoss() estimate.Estimate[cloth.Loss] { return cloth.UsualBetween(0.02, 0.05) }

// SamplingLoss is described at SpinningLoss.
func SamplingLoss() estimate.Estimate[cloth.Loss] { return cloth.UsualBetween(0.10, 0.15) }

// PreparingLoss is what carding or combing clean fibre wastes where nothing is
// known, 5 to 30 %: carding the least, combing fine fibre the most; and
// ScouringLoss what the wash takes of a raw fleece, 25 to 45 % (common practice).
func PreparingLoss() estimate.Estimate[cloth.Loss] { return cloth.UsualBetween(0.05, 0.30) }

// ScouringLoss is described at PreparingLoss.
func ScouringLoss() estimate.Estimate[cloth.Loss] { return cloth.UsualBetween(0.25, 0.45) }

// YarnWashLoss is what the yarn's own wash is taken to take of its length; see
// finish.WashOf.
func YarnWashLoss(p finish.Preparation) estimate.Estimate[cloth.Loss] {
	kept := finish.WashOf(p).Length
	return cloth.UsualBetween(cloth.Loss(1-kept.High), cloth.Loss(1-kept.Low))
}

// UsualBobbin is what a bobbin is taken to hold where nothing is known: 80 to 120 g
// (common practice, from memory).
func UsualBobbin() estimate.Estimate[unit.Mass] {
	return estimate.Estimate[unit.Mass]{Value: 98 * unit.Gram, Low: 80 * unit.Gram, High: 120 * unit.Gram, Flags: estimate.Flags{cloth.CommonPractice, cloth.FromMemory}}
}

// UsualPace is how fast singles are taken to be spun where nothing is known, and
// UsualPlyPace how fast ply is made: assumptions, wide enough for all hands.
func UsualPace() estimate.Estimate[Pace] {
	return estimate.Estimate[Pace]{Value: 90, Low: 20, High: 400, Flags: estimate.Flags{cloth.Assumed}}
}

// UsualPlyPace is described at UsualPace.
func UsualPlyPace() estimate.Estimate[Pace] {
	return estimate.Estimate[Pace]{Value: 220, Low: 50, High: 1000, Flags: estimate.Flags{cloth.Assumed}}
}

// UsualAngle is the ply angle where none is given: 20 to 30 degrees, an
// assumption.
func UsualAngle() estimate.Estimate[unit.Angle] {
	return estimate.Estimate[unit.Angle]{Value: 25 * unit.Degree, Low: 20 * unit.Degree, High: 30 * unit.Degree, Flags: estimate.Flags{cloth.Assumed}}
}

// usual is what is taken of a quantity that a wish leaves open: what was learnt of
// it, else what is common practice. ok is false where nothing is, or where the
// wish has no place for it.
func (w *Wish) usual(q quantity) (e entry, ok bool) {
	e, ok = w.practice(q)
	if known, taught := w.learnt[q]; taught && w.concerns(q, e) {
		return known, true
	}
	return e, ok
}

// concerns reports whether a wish has a place for what was learnt of a quantity:
// where it takes something of it, and for what is taken of nobody.
func (w *Wish) concerns(q quantity, usual entry) bool {
	switch q {
	case qFactor:
		return true
	case qPace:
		return spun(w)
	case qPlyPace, qPlyTakeUp:
		return plied(w)
	}
	return usual.High != 0
}

// practice is what the trade takes of a quantity.
func (w *Wish) practice(q quantity) (e entry, ok bool) {
	none := cloth.Exactly(0.0)
	switch q {
	case qDrawIn, qTakeUp:
		return entry{Estimate: plain(cloth.WeavingLoss())}, w.Fabric == Woven
	case qWashWidth, qWashLength:
		return entry{Estimate: plain(cloth.WashingLoss())}, w.Fabric == Woven
	case qWaste:
		return entry{Estimate: plain(cloth.LoomWaste())}, w.Fabric == Woven
	case qFringe:
		return entry{Estimate: none}, w.Fabric == Woven
	case qSpare:
		return entry{Estimate: plain(cloth.Exactly(cloth.Spare))}, w.Fabric != NoFabric
	case qPieces:
		return entry{Estimate: cloth.Exactly(1.0)}, w.Fabric == Knitted
	case qWash:
		return entry{Estimate: plain(YarnWashLoss(w.Preparation))}, true
	case qPreparing:
		if w.Start == FromPrepared {
			return entry{Estimate: none}, spun(w)
		}
		return entry{Estimate: plain(PreparingLoss())}, spun(w)
	case qScouring:
		if w.Start != FromRaw {
			return entry{Estimate: none}, spun(w)
		}
		return entry{Estimate: plain(ScouringLoss())}, spun(w)
	case qSpinning:
		return entry{Estimate: plain(SpinningLoss())}, spun(w) || w.Weighed != nil // what is left to spin wastes, too
	case qSampling:
		return entry{Estimate: plain(SamplingLoss())}, spun(w)
	case qStiffness:
		return entry{Estimate: w.stiffness()}, w.Plies > 1
	case qBobbin:
		return entry{Estimate: plain(UsualBobbin())}, !w.has(qYarnInHand)
	}
	return entry{}, false
}

// stiffness is what is assumed of k; see rest.Prior.
func (w *Wish) stiffness() estimate.Estimate[float64] {
	k := rest.Prior(w.Preparation).Stiffness
	reach := math.Exp(estimate.Reach * k.Sigma)
	return estimate.Estimate[float64]{Value: k.Median, Low: k.Median / reach, High: k.Median * reach, Flags: estimate.Flags{cloth.Assumed}}
}

// packing is the part of singles that is fibre (Hearle, Grosberg and Backer,
// Structural Mechanics of Fibers, Yarns, and Fabrics, from memory).
func (w *Wish) packing() entry {
	e := estimate.Estimate[float64]{Low: 0.3, High: 0.6, Flags: estimate.Flags{cloth.FromMemory}}
	switch w.Preparation {
	case finish.Worsted:
		e.Low = 0.5
	case finish.Semi:
		e.Low, e.High = 0.4, 0.5
	case finish.Woollen:
		e.High = 0.4
	}
	e.Value = (e.Low + e.High) / 2
	return entry{Estimate: e}
}
