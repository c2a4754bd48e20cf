package plan

import (
	"fmt"
	"slices"

	"waketwist/unit"
)

func grist(tex float64) unit.LinearDensity { return unit.LinearDensity(tex) }

// stock is something in hand, and the mass of yarn that it makes.
type stock struct {
	q     quantity
	needs []quantity // beside itself
	makes func(r row) float64
}

var stocks = []stock{
	{qYarnInHand, nil, func(r row) float64 { return r.of(qYarnInHand) }},
	{qSinglesInHand, nil, func(r row) float64 { return r.of(qSinglesInHand) * r.s.w.usable() }},
	{qFibreInHand, []quantity{qScouring, qPreparing, qSampling, qSpinning}, func(r row) float64 {
		return r.of(qFibreInHand) * r.kept(qScouring, qPreparing, qSampling, qSpinning)
	}},
	{qTimeInHand, []quantity{qPace, qPlyTakeUp, qWash, qGrist}, func(r row) float64 {
		return r.of(qTimeInHand) / r.hoursPerMetre() * (1 - r.of(qWash)) * r.of(qGrist) * 1e-3
	}},
}

// hoursPerMetre is what a metre of yarn takes to spin and, where the pace of
// plying is known, to ply.
func (r row) hoursPerMetre() float64 {
	h := float64(r.s.w.Plies) / (1 - r.of(qPlyTakeUp)) / r.of(qPace)
	if r.s.w.Plies > 1 && r.s.known(qPlyPace) {
		h += 1 / r.of(qPlyPace)
	}
	return h
}

// usable is the part of the singles in hand that is plied straight from as many
// bobbins as strands; other numbers are shared out first, and nothing is left.
func (w *Wish) usable() float64 {
	if len(w.Strands) != w.Plies || w.Plies < 2 {
		return 1
	}
	var all unit.Mass
	for _, m := range w.Strands {
		all += m
	}
	return float64(unit.Mass(w.Plies) * slices.Min(w.Strands) / all)
}

func (s *solver) usableStocks() (out []stock) {
	for _, st := range stocks {
		if s.known(st.q) && s.ready(way{in: st.needs}) {
			out = append(out, st)
		}
	}
	return out
}

// fromHand lets what is in hand decide the amount where nothing else does: what
// runs out first bounds it.
func (s *solver) fromHand() bool {
	all := s.usableStocks()
	if s.known(qMass) || s.known(qYarn) || len(all) == 0 {
		return false
	}
	s.seeded = true
	var in []quantity
	for _, st := range all {
		in = append(append(in, st.q), st.needs...)
	}
	s.fire(way{qMass, in, func(r row) float64 {
		least := all[0].makes(r)
		for _, st := range all[1:] {
			least = min(least, st.makes(r))
		}
		return least
	}})
	return true
}

// Stock is something in hand against what the plan takes of it.
type Stock struct {
	Name   string
	Have   string // in both systems of units
	Enough float64
	// Binds is how likely it runs out first, where what is in hand decides the
	// size.
	Binds float64
	q     quantity
}

// stockLines compares what is in hand with what is needed.
func (s *solver) stockLines() (out []Stock) {
	if !s.known(qMass) {
		return nil
	}
	all := s.usableStocks()
	for _, st := range all {
		line := Stock{Name: items[st.q].name, Have: items[st.q].kind.say(s.median(st.q)), q: st.q}
		for i := range s.n {
			r := row{s, i}
			// A hair's breadth, so that rounding does not decide when all is fixed.
			if st.makes(r)*(1+1e-9) >= r.of(qMass) {
				line.Enough += 1 / float64(s.n)
			}
			if first(all, r) == st.q {
				line.Binds += 1 / float64(s.n)
			}
		}
		line.Enough = min(1, line.Enough)
		out = append(out, line)
	}
	return out
}

// first is the stock that runs out first.
func first(all []stock, r row) quantity {
	best := all[0]
	for _, st := range all[1:] {
		if st.makes(r) < best.makes(r) {
			best = st
		}
	}
	return best.q
}

// Say tells what a stock is good for; decides is true where what is in hand
// decided the size.
func (s Stock) Say(decides bool) string {
	if decides {
		return fmt.Sprintf("%s: %s. It is what runs out first with a probability of %s.", capital(s.Name), s.Have, Chance(s.Binds))
	}
	return fmt.Sprintf("%s: %s. It suffices with a probability of %s.", capital(s.Name), s.Have, Chance(s.Enough))
}

// Chance says a probability; draws never make sure.
func Chance(p float64) string {
	switch {
	case p < 0.01:
		return "under 1 %"
	case p > 0.99:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}
