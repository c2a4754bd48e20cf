package plan

import (
	"math"
	"slices"

	"waketwist/cloth"
	"waketwist/estimate"
)

// drawCount is how many rows a plan is drawn through, fewCount how many a trial
// takes that only asks what a wish would become, and seed fixes them.
const (
	drawCount = 2000
	fewCount  = 200
	seed      = 5
)

// Source says where a quantity comes from.
type Source int

// The sources.
const (
	Unknown Source = iota
	Wished         // as it was given
	Learnt         // from the spinner's own readings
	Assumed        // from common practice, or an assumption
	Follows        // from others
)

// String returns the source in a word, empty for Unknown.
func (s Source) String() string {
	return [...]string{"", "wished", "learnt", "assumed", "follows"}[s]
}

// chain is every quantity of a plan, as far as it is reached.
type chain struct {
	columns [quantities][]float64 // draws; nil where it is not reached
	source  [quantities]Source
	from    [quantities]basis // the wishes that each rests on
}

// solver works a wish out, column by column.
type solver struct {
	w *Wish
	deck
	*chain
	flags [quantities]estimate.Flags
	used  []bool // relations that gave a quantity
	// seeded is true where what is in hand decided the size.
	seeded bool
	checks []check
}

// basis is a set of quantities.
type basis [2]uint64

func (b basis) with(q quantity) basis {
	b[q/64] |= 1 << (q % 64)
	return b
}

func (b basis) and(o basis) basis { return basis{b[0] | o[0], b[1] | o[1]} }

func (b basis) has(q quantity) bool { return b[q/64]&(1<<(q%64)) != 0 }

// check is a quantity that followed in a second way.
type check struct {
	q      quantity
	column []float64
	from   basis
}

func (s *solver) known(q quantity) bool { return s.columns[q] != nil }

func (s *solver) median(q quantity) float64 {
	sorted := slices.Clone(s.columns[q])
	slices.Sort(sorted)
	return estimate.Quantile(sorted, 0.5)
}

// work deals what is given and what is usual, and lets the rest follow.
func work(w *Wish, n int) *solver {
	s := &solver{w: w, deck: deck{s: estimate.NewSampler(n, seed), n: n}, chain: &chain{}, used: make([]bool, len(relations))}
	if w.Plies == 1 {
		s.take(qPlyTakeUp, cloth.Exactly(0.0), Follows)
	}
	for q := range quantities {
		if e, ok := w.given[q]; ok && !s.known(q) {
			s.take(q, e.Estimate, Wished)
		}
	}
	for q := range quantities {
		s.assume(q)
	}
	for s.follow() || s.decide() {
	}
	s.crossCheck()
	return s
}

func (s *solver) take(q quantity, e estimate.Estimate[float64], source Source) {
	s.columns[q], s.source[q], s.flags[q] = s.deal(q, e), source, e.Flags
	if q == qAngle {
		for i, v := range s.columns[q] {
			s.columns[q][i] = min(v, float64(steepest(s.w.Plies)))
		}
	}
	if source == Wished {
		s.from[q] = s.from[q].with(q)
	}
}

// assume takes what is usual of a quantity that is still open.
func (s *solver) assume(q quantity) bool {
	e, ok := s.w.usual(q)
	if !ok || s.known(q) {
		return false
	}
	source := Assumed
	if e.readings > 0 {
		source = Learnt
	}
	s.take(q, e.Estimate, source)
	return true
}

// follow fires the first relation that gives something new.
func (s *solver) follow() bool {
	for i, rel := range relations {
		if s.used[i] || rel.when != nil && !rel.when(s.w) {
			continue
		}
		for _, way := range rel.ways {
			if !s.known(way.out) && s.ready(way) {
				s.used[i] = true
				s.fire(way)
				return true
			}
		}
	}
	return false
}

func (s *solver) ready(w way) bool {
	for _, q := range w.in {
		if !s.known(q) {
			return false
		}
	}
	return true
}

func (s *solver) fire(w way) {
	s.columns[w.out], s.from[w.out] = s.reckon(w), s.basisOf(w)
	s.source[w.out] = Follows
	s.flags[w.out] = estimate.Flags{estimate.Modelled}
}

func (s *solver) reckon(w way) []float64 {
	out := make([]float64, s.n)
	for i := range out {
		out[i] = w.of(row{s, i})
	}
	return out
}

func (s *solver) basisOf(w way) (b basis) {
	for _, q := range w.in {
		b = b.and(s.from[q])
	}
	return b
}

// decide settles one thing that no relation gives: what is assumed only where it
// is needed, what is a choice of the trade, and last what is in hand.
func (s *solver) decide() bool {
	for _, settle := range []func() bool{
		func() bool { return s.late(qPacking, s.w.packing()) },
		func() bool { return s.late(qFactor, entry{Estimate: plain(cloth.PriorWrapFactor())}) },
		s.usualAngle, s.fromSett, s.fromWeight, s.squarePicks,
		func() bool { return !s.w.has(qHours) && s.usualPace() },
		func() bool { return !s.w.has(qPlyHours) && s.usualPlyPace() },
		s.fromHand, s.fromAmount, s.anyAngle, s.usualPace, s.usualPlyPace,
	} {
		if settle() {
			return true
		}
	}
	return false
}

func (s *solver) late(q quantity, usual entry) bool {
	if s.known(q) {
		return false
	}
	if s.assume(q) {
		return true
	}
	s.take(q, usual.Estimate, Assumed)
	return true
}

// usualAngle takes the usual ply angle unless the twist is wished in some way.
func (s *solver) usualAngle() bool {
	if s.w.has(qSinglesAngle) || s.w.has(qSinglesTwist) || s.w.has(qPlyTwist) {
		return false
	}
	return s.anyAngle()
}

// usualPace is taken of what is still to spin, and where hours are wished only if
// nothing else gives the pace.
func (s *solver) usualPace() bool {
	return spun(s.w) && s.late(qPace, entry{Estimate: plain(UsualPace())})
}

func (s *solver) usualPlyPace() bool {
	return plied(s.w) && !s.w.has(qYarnInHand) && s.late(qPlyPace, entry{Estimate: plain(UsualPlyPace())})
}

func (s *solver) anyAngle() bool {
	return s.late(qAngle, entry{Estimate: plain(UsualAngle())})
}

// fromSett takes the yarn for which the wished sett is the working one.
func (s *solver) fromSett() bool {
	if !woven(s.w) || s.known(qGrist) || !s.known(qEnds) {
		return false
	}
	share := float64(cloth.WorkingShare) * float64(s.w.Weave.EndsShare())
	one := float64(cloth.Ashenhurst(1, s.w.Character))
	s.fire(way{qGrist, []quantity{qEnds}, func(r row) float64 { return math.Pow(one*share/r.of(qEnds), 2) }})
	return true
}

// fromWeight takes the working sett of the yarn: what its middle says, since ends
// are set once.
func (s *solver) fromWeight() bool {
	if !woven(s.w) || s.known(qEnds) || !s.known(qGrist) {
		return false
	}
	ends := float64(s.closest(cloth.Weave.EndsShare)) * float64(cloth.WorkingShare)
	s.columns[qEnds], s.source[qEnds] = slices.Repeat([]float64{ends}, s.n), Follows
	s.from[qEnds], s.flags[qEnds] = s.from[qGrist], estimate.Flags{estimate.Modelled, cloth.CommonPractice}
	return true
}

// fromAmount takes the yarn of which so much makes a cloth of a size, set as it
// works: ends and picks go with the root of the length in a mass, and so does the
// mass with the root of the weight for a length.
func (s *solver) fromAmount() bool {
	in := []quantity{qMass, qReed, qLengthOff, qTakeUp, qWaste, qFringe, qSpare}
	if !woven(s.w) || s.known(qGrist) || s.known(qEnds) || s.known(qPicks) || !s.ready(way{in: in}) {
		return false
	}
	one := float64(cloth.Ashenhurst(1, s.w.Character)) * float64(cloth.WorkingShare)
	ends := one * float64(s.w.Weave.EndsShare())
	picks := min(ends, one*float64(s.w.Weave.PicksShare()))
	s.fire(way{qGrist, in, func(r row) float64 {
		end := r.of(qLengthOff)/(1-r.of(qTakeUp)) + r.of(qWaste) + r.of(qFringe)
		long := r.of(qReed) * (ends*end + picks*r.of(qLengthOff)*(1+float64(cloth.WeftCrimp))) * (1 + r.of(qSpare))
		return math.Pow(r.of(qMass)*1e3/long, 2)
	}})
	return true
}

// closest is the density at which the threads of the middle yarn touch.
func (s *solver) closest(share func(cloth.Weave) cloth.Share) float64 {
	return float64(cloth.Ashenhurst(grist(s.median(qGrist)), s.w.Character)) * float64(share(s.w.Weave))
}

// squarePicks takes as many picks as ends, where the weave has room for them.
func (s *solver) squarePicks() bool {
	if !woven(s.w) || s.known(qPicks) || !s.known(qEnds) {
		return false
	}
	picks := s.median(qEnds)
	if s.known(qGrist) {
		picks = min(picks, s.closest(cloth.Weave.PicksShare)*float64(cloth.WorkingShare))
	}
	s.columns[qPicks], s.source[qPicks] = slices.Repeat([]float64{picks}, s.n), Follows
	s.from[qPicks], s.flags[qPicks] = s.from[qEnds].and(s.from[qGrist]), estimate.Flags{estimate.Modelled}
	return true
}

// crossCheck reckons again what relations that gave nothing say of what was
// wished.
func (s *solver) crossCheck() {
	for i, rel := range relations {
		if s.used[i] || rel.once || rel.when != nil && !rel.when(s.w) {
			continue
		}
		if way, ok := s.second(rel); ok {
			s.checks = append(s.checks, check{way.out, s.reckon(way), s.basisOf(way)})
		}
	}
}

// second is the way of a relation to check by: that of a wish, if one has it.
func (s *solver) second(rel relation) (best way, ok bool) {
	for _, w := range rel.ways {
		if !s.known(w.out) || !s.ready(w) {
			continue
		}
		if !ok || s.source[w.out] == Wished && s.source[best.out] != Wished {
			best, ok = w, true
		}
	}
	return best, ok
}
