package plan

import (
	"fmt"
	"math"

	"waketwist/unit"
)

// Shopping returns what to have before the work begins, by the upper end of its
// interval; what is in hand is taken off.
func (r *Result) Shopping() (list []string) {
	if high := unit.Mass(r.estimates[qFibre].High); high > 0 && !r.FromHand {
		hand := unit.Mass(r.estimates[qFibreInHand].Value)
		what := [...]string{"Fibre, ready to spin", "Fibre, scoured", "Raw fleece"}[r.Wish.Start]
		switch {
		case hand == 0:
			list = append(list, fmt.Sprintf("%s: %s; that much suffices nineteen times in twenty.", what, high))
		case high > hand:
			list = append(list, fmt.Sprintf("%s: %s more; with what is in hand that suffices nineteen times in twenty.", what, high-hand))
		default:
			list = append(list, "Fibre: nothing; what is in hand suffices nineteen times in twenty.")
		}
	}
	if n := r.estimates[qBobbins].Value + r.estimates[qPlyBobbins].Value; n > 0 {
		list = append(list, fmt.Sprintf("Bobbins: %.0f, singles and ply together, or fewer where you wind off.", n))
	}
	return list
}

// inHand reports whether a quantity is a stock, which Stocks tell.
func (q quantity) inHand() bool {
	return q == qYarnInHand || q == qSinglesInHand || q == qFibreInHand || q == qTimeInHand
}

// inHand reports whether yarn or singles are there already.
func (r *Result) inHand(what quantity) bool {
	stock := map[quantity]quantity{qYarn: qYarnInHand, qSingles: qSinglesInHand}[what]
	return r.source[stock] != Unknown
}

// ToDo returns the steps of the work in their order, beginning with what narrows
// the plan most.
func (r *Result) ToDo() (list []string) {
	said := map[string]bool{}
	for _, b := range r.Width {
		for _, a := range b.Of {
			if !said[a.Narrow] && len(said) < mostShown {
				said[a.Narrow] = true
				list = append(list, fmt.Sprintf("To narrow the plan, %s, and put the figure into it.", a.Narrow))
			}
		}
	}
	list = append(append(list, r.preparing()...), r.spinning()...)
	if r.Wish.Fabric == Woven && r.source[qEndCount] != Unknown && r.source[qWarpLength] != Unknown {
		list = append(list, fmt.Sprintf("Wind %.0f ends of %s; keep Z and S yarns apart, they look alike.", math.Round(r.estimates[qEndCount].Value), lengths.say(r.estimates[qWarpLength].Value)))
	}
	return append(list, r.making()...)
}

// making is the cloth or the knitting itself, and the look back at it.
func (r *Result) making() []string {
	e := func(q quantity) string { return items[q].kind.say(r.estimates[q].Value) }
	switch {
	case r.Wish.Fabric == Woven && r.source[qLengthOn] != Unknown && r.source[qEnds] != Unknown && r.source[qPicks] != Unknown:
		return []string{fmt.Sprintf("Weave %s at %s ends and %s picks, the picks counted off the loom; measure the cloth on the loom, off it and washed.", e(qLengthOn), e(qEnds), e(qPicks))}
	case r.Wish.Fabric == Knitted && r.source[qMass] != Unknown:
		return []string{"Knit it as the swatch is knitted; weigh what is done and what is left halfway, and put both into the plan."}
	}
	return nil
}

// preparing is what comes before the spinning, with what may hurt there.
func (r *Result) preparing() (list []string) {
	if r.source[qFibre] == Unknown {
		return nil
	}
	if r.Wish.Start == FromRaw {
		list = append(list, "Scour the fleece, outside or with windows open: wash your hands, mind dust and ticks; pregnant people keep away from raw fleece. Dry it and weigh it again.")
	}
	if r.Wish.Start != FromPrepared {
		list = append(list, "Card or comb it, and weigh what is ready to spin. Points of combs and cards pierce; put them down with the tines away from you.")
	}
	return list
}

func (r *Result) spinning() (list []string) {
	e := func(q quantity) string { return items[q].kind.say(r.estimates[q].Value) }
	plied := r.Wish.Plies > 1
	if !r.inHand(qYarn) && !r.inHand(qSingles) && r.source[qSinglesGrist] != Unknown {
		spin := "Spin singles of " + e(qSinglesGrist)
		if r.source[qSingles] != Unknown {
			spin = fmt.Sprintf("Spin %s of singles, %s", e(qSingles), e(qSinglesGrist))
		}
		spin += ", with " + e(qSinglesTwist) + ". Tie hair and sleeves back from flyer and band."
		if plied {
			spin += " Read a re-wet ply-back before you spin on."
		}
		list = append(list, spin)
	}
	if plied && !r.inHand(qYarn) {
		ply := fmt.Sprintf("Ply %d strands to %s re-wet", r.Wish.Plies, e(qAngle))
		if r.source[qPlyTwist] != Unknown {
			ply += ", " + e(qPlyTwist)
		}
		list = append(list, ply+", and check a re-wet piece.")
	}
	if !r.inHand(qYarn) {
		list = append(list, "Wash and dry the yarn in water that hands bear, and weigh and measure it against the plan.")
	}
	return list
}

// Assumed returns what was taken from common practice, or assumed, because the
// wish left it open; Taught what the spinner's own readings gave in its place.
func (r *Result) Assumed() []string { return r.openly(Assumed) }

// Taught is described at Assumed.
func (r *Result) Taught() []string { return r.openly(Learnt) }

// Given returns what the wish gave of losses, paces and the like, which have no
// line.
func (r *Result) Given() []string { return r.openly(Wished) }

func (r *Result) openly(source Source) (list []string) {
	for q := range quantities {
		e := r.estimates[q]
		if r.source[q] != source || e.High == 0 || source == Assumed && q.background() || source == Wished && (r.shown(q) || q.inHand()) {
			continue
		}
		said := items[q].kind.say(e.Value)
		if span := between(items[q].kind, e); span != "" {
			said = span
		}
		if n := r.Wish.learnt[q].readings; source == Learnt && n > 0 {
			said += ", " + readings(n)
		}
		list = append(list, items[q].name+" "+said)
	}
	return list
}

func readings(n int) string {
	if n == 1 {
		return "1 reading"
	}
	return fmt.Sprintf("%d readings", n)
}

// background reports whether a quantity is assumed so far in the back that a list
// of assumptions would not help anybody.
func (q quantity) background() bool {
	return q == qPieces || q == qPacking || q == qStiffness || q == qFactor
}
