package rest

import (
	"math"
	"unicode"
	"unicode/utf8"

	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// driedStep is the log of tan dried / tan re-wet: averaged over the bobbins, each
// by its own dried sample or, where it has none, by the prior. seen reports that
// all of them had one.
func driedStep(words []word, prior []float64) (step []float64, seen bool) {
	step, seen = make([]float64, drawCount), true
	for _, w := range words {
		own := w.dried
		if own == nil {
			own, seen = prior, false
		}
		for i, v := range own {
			step[i] += v / float64(len(words))
		}
	}
	return step, seen
}

// dry fills in what comes from the dry samples: the dry look, the share of the
// needed turns that plying to it would give, and the dormant share.
func (a *Answer) dry(words []word) {
	var tan, needed []float64
	var asleep []Share
	var n float64
	for _, w := range words {
		if w.dry == nil {
			continue
		}
		if n == 0 {
			tan, needed, asleep = make([]float64, drawCount), make([]float64, drawCount), make([]Share, drawCount)
		}
		n++
		for i := range drawCount {
			tan[i] += (math.Exp(w.dry[i]) - tan[i]) / n
			needed[i] += (math.Exp(w.centre[i]) - needed[i]) / n
			asleep[i] += (w.dormant[i] - asleep[i]) / Share(n)
		}
	}
	if n == 0 {
		a.Flags = a.Flags.With(NoDry)
		return
	}
	share, look := make([]Share, drawCount), make([]unit.Angle, drawCount)
	for i := range drawCount {
		share[i] = Share(tan[i] / needed[i])
		look[i] = unit.Atan(tan[i] * a.lineRatio(i, 2))
	}
	flags := a.Target.Flags
	s := settle(estimate.FromDraws(share), estimate.Rested, a.Target.N, flags)
	l := settle(estimate.FromDraws(look), estimate.Rested, a.Target.N, flags)
	d := settle(estimate.FromDraws(asleep), estimate.Rested, a.Target.N, flags.With(estimate.Modelled))
	a.TurnShare, a.DryLook, a.Dormant = &s, &l, &d
}

// conclude adds each bobbin's own word, and what the answer as a whole carries.
func (a *Answer) conclude(words []word) {
	a.Flags = a.Flags.With(a.Target.Flags...)
	if a.Direction == yarn.NoDirection {
		a.Flags = a.Flags.With(NoDirectionSet)
	}
	for _, w := range words {
		rewet := make([]unit.Angle, len(w.own))
		for i, y := range w.own {
			rewet[i] = unit.Atan(math.Exp(y))
		}
		answer := BobbinAnswer{Name: w.name, Rewet: settle(estimate.FromDraws(rewet), estimate.Rewet, w.readings, w.flags)}
		if w.dormant != nil {
			d := settle(estimate.FromDraws(w.dormant), estimate.Rested, w.readings, w.flags.With(estimate.Modelled))
			answer.Dormant = &d
		}
		a.Bobbins = append(a.Bobbins, answer)
	}
	switch most, least, gap := a.Apart(); {
	case gap.Value <= PlyShows:
	case gap.Low > 0:
		a.Flags = a.Flags.With(BobbinsDiffer)
	case most.Name != least.Name:
		a.Flags = a.Flags.With(BobbinsMayDiffer)
	}
}

// Apart names the liveliest and the calmest of several bobbins, and how far they
// lie apart, with the interval that holds it nine times in ten: bobbins of which
// little was clipped read apart by the turns of one place alone.
func (a *Answer) Apart() (most, least BobbinAnswer, gap estimate.Estimate[unit.Angle]) {
	most, least = a.Bobbins[0], a.Bobbins[0]
	for _, b := range a.Bobbins[1:] {
		if b.Rewet.Value > most.Rewet.Value {
			most = b
		}
		if b.Rewet.Value < least.Rewet.Value {
			least = b
		}
	}
	gap.Value = most.Rewet.Value - least.Rewet.Value
	gap.SD = unit.Angle(math.Hypot(float64(most.Rewet.SD), float64(least.Rewet.SD)))
	gap.Low, gap.High = gap.Value-estimate.Reach*gap.SD, gap.Value+estimate.Reach*gap.SD
	gap.State, gap.N = estimate.Rewet, most.Rewet.N+least.Rewet.N
	return most, least, gap
}

// Retwist is the twist to add to the singles before plying, so that they balance
// in a wanted ply. Negative values mean that there is too much.
type Retwist struct {
	Share estimate.Estimate[Share]             // of the living turns in the singles
	Turns *estimate.Estimate[yarn.StrandTwist] // per metre of singles; nil without a diameter
}

// Retwist works backwards from a wanted angle of the re-wet ply, on the
// Answer's Line and with its plan. It refuses angles at which no ply can rest.
func (a *Answer) Retwist(wanted unit.Angle) (Retwist, error) {
	n := a.plan.Strands
	middle := a.held.borderRatio(n, 0)
	if a.Line == yarn.StrandCentre {
		middle = 1
	}
	if b := unit.Atan(wanted.Tan() / middle); !(wanted > 0) || yarn.CentreAngle(b) >= balanceEdge*yarn.Limit(n)/yarn.Limit(2) {
		return Retwist{}, refuse("Choose a softer ply.", "A balanced ply of %d strands cannot show %.1f degrees at the %s.", n, wanted.Degrees(), a.Line)
	}
	share, turns := make([]Share, drawCount), make([]yarn.StrandTwist, drawCount)
	for i := range drawCount {
		k := yarn.Stiffness(a.draws.k[i])
		have := living(2, k, angle(a.draws.centre[i]))
		need := living(n, k, yarn.CentreAngle(unit.Atan(wanted.Tan()/a.lineRatio(i, n))))
		share[i] = Share(need/have - 1)
		if d := a.plan.Diameter; d != nil {
			turns[i] = yarn.StrandTwist(float64(need-have) / (math.Pi * d.Metres()))
		}
	}
	flags := a.Target.Flags.With(estimate.Modelled)
	out := Retwist{Share: settle(estimate.FromDraws(share), estimate.Rewet, a.Target.N, flags)}
	if a.plan.Diameter != nil {
		t := settle(estimate.FromDraws(turns), estimate.Rewet, a.Target.N, flags)
		out.Turns = &t
	}
	return out, nil
}

// capital begins a sentence with a name.
func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}
