package reading

import (
	"math"
	"slices"

	"waketwist/unit"
	"waketwist/yarn"
)

const (
	leastPlyScore  = 0.55             // of the best fit: log likelihood per point times root of the periods seen
	laterScore     = 0.75             // the same for a place that was not the first to be looked at
	vouchedScore   = 0.3              // the same where a person has boxed the yarn and stated its strands
	vouchedAngle   = 40 * unit.Degree // and the lay is no steeper
	clearFibres    = 0.6              // contrast of fibres beyond which singles are likelier
	parallelFibres = 2.0              // how much more score each unit of that contrast asks
	slightLean     = 12 * unit.Degree // of fibres that may be those of a ply
	slightScore    = 0.25             // of a ply where there are fibres alone: singles come to 0.13, ropes and plies to 0.4 and more
	mostMany       = 1.2              // score of more strands than are read, over that of the best
	fewMany        = 0.95             // up to which it leaves no doubt
	mostMirror     = 0.7              // score of the opposite lay over that of the best
	steepestPly    = 48 * unit.Degree // strands that touch lock at 45
	steepestRival  = 52 * unit.Degree // of what explains the yarn nearly as well: past it there is no ply
	leastTurns     = 0.6              // in view: less may be any slow change of light along the yarn
	unsurePlies    = 0.85             // score of another explanation over the best
	unsureAmiss    = 0.7              // the same where the borders are seen elsewhere than the best has them
	unsureScore    = 0.17             // or as much less score times root of the periods seen
)

// A solution is one way to explain all yarns of a cut: the same kind of ply
// with the same lay.
type solution struct {
	key   solutionKey
	score float64   // mean over the yarns
	fits  []fitting // one for each yarn that this explains
	of    []*body
}

// solutions gathers the fits of all yarns by kind and lay.
func solutions(bodies []*body, plies int) []solution {
	var out []solution
	for _, b := range bodies {
		for _, f := range b.explain(plies) {
			k := f.key()
			at := -1
			for i := range out {
				if out[i].key == k {
					at = i
				}
			}
			if at < 0 {
				out = append(out, solution{key: k})
				at = len(out) - 1
			}
			s := &out[at]
			s.fits, s.of = append(s.fits, f), append(s.of, b)
			s.score += f.score / float64(len(bodies))
		}
	}
	return out
}

// readPly reads the yarns as a ply. It refuses with NoLay where no ply
// explains them.
func readPly(src *source, yarns []*cut, plies int) (r finding) {
	var bodies []*body
	for _, y := range yarns {
		bodies = append(bodies, y.body())
	}
	all := solutions(bodies, plies)
	best := likeliest(all)
	src.seen.weighed(all, best)
	least, evidence := src.asked, best.score*math.Sqrt(best.periods())
	if best.angle() > vouchedAngle {
		least = max(least, leastPlyScore)
	}
	leaning := false
	if !best.significant(src, yarns, least) {
		if leaning = best.bordered() || best.leans(src, yarns); !leaning {
			r = refuse(NoLay)
			r.hint, r.contested = evidence, evidence >= least
			return r
		}
	}
	if why := best.contradicted(src, yarns, all, plies, leaning); why != NoReason {
		return refuse(why)
	}
	many := best.many(plies > 0)
	if many.all > mostMany {
		r = refuse(TooMany)
		r.evidence, r.outlined = evidence, src.asked < laterScore && many.inside <= mostMany
		return r
	}
	if r = best.reading(); !r.Readable {
		return r
	}
	r.evidence = evidence
	if r.allow(best, all) > steepestRival {
		return refuse(PastLock)
	}
	if (many.all > fewMany || best.once()) && !r.Has(UnsurePlies) {
		r.Flags = append(r.Flags, UnsurePlies)
	}
	if best.ofPart(src, r.Reading, plies > 0) {
		return refuse(UnsureReading)
	}
	if leaning || best.once() {
		r.Angle = r.Angle.including(r.Angle.Value, leaningSpread)
	}
	return r
}

// contradicted says what in the yarns contradicts the likeliest of all solutions, which is
// leaning where it was believed by its borders or its texture.
func (s solution) contradicted(src *source, yarns []*cut, all []solution, plies int, leaning bool) Reason {
	mirrored := func(o solution) bool { return o.key.z != s.key.z && o.score > mostMirror*s.score }
	switch {
	case slices.ContainsFunc(all, mirrored):
		return BothWays
	case !leaning && !s.everywhere():
		return UnsureReading
	// Where a person has said that it is a ply, a fold or a slow change of light is soon
	// taken for one of few periods: the texture must not deny it.
	case plies > 1 && s.periods() < fewPeriods && textureLeans(src, yarns, !s.key.z):
		return UnsureReading
	case s.bothWays() || s.gainsaid(src, yarns):
		return BothWays
	}
	return NoReason
}

// ofPart reports whether a reading is likely to be of a part of a yarn, or of what runs
// from yarn to yarn. Hardly a repeat is seen of that, in slices where round strands would
// leave the outline otherwise, or what crosses it is far too steep.
func (s solution) ofPart(src *source, r Reading, stated bool) bool {
	few, unsure := r.Has(FewTurns), r.Has(UnsurePlies)
	return few && unsure && s.key.form == flat && !stated ||
		(unsure || few && s.of[0].cut.abreast > 1) && s.outleaned(src)
}

// allow widens the interval to take in what other explanations that are nearly
// as good would mean, and says so where they differ in the number of strands. It returns
// the steepest of all their angles.
func (r *Reading) allow(best solution, all []solution) (steepest unit.Angle) {
	is, sd := best.angle(), r.Angle.SD
	steepest = r.Angle.Value
	unsure, near := false, unsurePlies
	if best.bordersAmiss() {
		near = unsureAmiss
	}
	for _, s := range all {
		if s.key.z != best.key.z || s.key == best.key || !s.rivals(best, near) {
			continue
		}
		unsure = unsure || s.key.n != best.key.n
		angle := r.Angle.Value + s.angle() - is
		steepest = max(steepest, angle)
		r.Angle = r.Angle.including(angle, nineInTen*sd)
	}
	if unsure {
		r.Flags = append(r.Flags, UnsurePlies)
	}
	return steepest
}

// rivals reports whether a solution explains the yarns nearly as well as the
// best, for which that share of its score is near, or so that chance could have made the
// difference.
func (s solution) rivals(best solution, near float64) bool {
	behind := best.score - s.score
	return s.score > near*best.score || behind*math.Sqrt(best.periods()) < unsureScore
}

// angle is the median angle of the solution's fits.
func (s solution) angle() unit.Angle {
	var b []float64
	for _, f := range s.fits {
		b = append(b, f.guess.ply.b)
	}
	return unit.Angle(median(b))
}

// periods counts the periods of the pattern that the solution was seen over.
func (s solution) periods() (sum float64) {
	for _, f := range s.fits {
		sum += f.trace.fold.periods
	}
	return sum
}

// significant reports whether so good a fit over so many periods is more than
// chance, for which at least so much score is asked. Where the fibres lie in
// clear parallel and lean with the lay, as on singles, it is more, and a slight score
// says nothing however often it is seen where there are fibres alone.
func (s solution) significant(src *source, yarns []*cut, least float64) bool {
	have := s.score * math.Sqrt(s.periods())
	if have < least {
		return false
	}
	if have > least+parallelFibres*(1-clearFibres) {
		return true
	}
	f := yarns[0].readFibres(src)
	if s.score < slightScore && s.of[0].fibresAlone(f) {
		return false
	}
	return s.fits[0].apartFrom(f) || have > least+parallelFibres*math.Max(f.contrast-clearFibres, 0)
}

// fibresApart is the tangent of the fibres over that of the borders below which they are
// apart.
const fibresApart = 0.5

// apartFrom reports whether fibres lie along the yarn, or against a lay, as those of plies
// do: they are then not what was taken for strands.
func (m fitting) apartFrom(f fibreLay) bool {
	along := math.Tan(f.angle)
	if !m.guess.z {
		along = -along
	}
	return along < fibresApart*m.guess.ply.borderAngle().Tan()
}

// A texture that leans to the side of the fitted lay all along the yarn tells
// nothing of the number of strands, but is a second witness to the lay itself.
// Where nearly all texture is parallel, it is stripes or fibres that were fitted.
const (
	leaningScore   = 0.2  // asked of the fit where the texture bears it out
	leaningMargin  = 0.25 // of the texture's contrast along the lay over that along its mirror
	leaningStripes = 0.85
	leaningPeriods = 4 // in view
	leaningAngle   = 35 * unit.Degree
	leaningSpread  = 6 * unit.Degree // by which such an angle is unsure
	leaningAgree   = 4               // places that lean to this side, for each that leans to the other
)

// leans reports whether a single yarn's texture bears out a lay that is seen
// over several periods.
func (s solution) leans(src *source, yarns []*cut) bool {
	periods := s.periods()
	if yarns[0].abreast > 1 || periods < leaningPeriods || s.score*math.Sqrt(periods) < leaningScore || s.angle() > leaningAngle {
		return false
	}
	f := yarns[0].readFibres(src)
	return f.plainly(s.key.z) && f.contrast-f.mirror <= leaningStripes && f.energy >= clearLimits.texture && f.doubt() != NoReason
}

// everywhere reports whether the explanation holds in both halves of most yarns, and
// not because of one odd place, or their borders bear it out from end to end; where too
// little of the pattern shows for that, these must not lean against it.
func (s solution) everywhere() bool {
	good := 0
	for i, f := range s.fits {
		if f.few() && !s.of[i].denied(f) || !f.few() && (s.of[i].holdsInHalves(f) || s.of[i].bears(f)) {
			good++
		}
	}
	return 2*good > len(s.fits)
}

// mostOutleaned is how much more than the model's borders the texture of a yarn may lean,
// as a tangent: of yarns read rightly it comes to 2, where strands or fibres are seen at
// their steepest.
const mostOutleaned = 2.5

// outleaned reports whether what crosses a yarn leans far more to the side of the lay
// than the model's borders. What was cut out is then a part of a yarn, split along it:
// that repeats as often as the whole does, but over less of a width.
func (s solution) outleaned(src *source) bool {
	for i, m := range s.fits {
		f := s.of[i].cut.readFibres(src)
		if f.angle > 0 == s.key.z && f.contrast-f.mirror >= leaningMargin &&
			math.Tan(math.Abs(f.angle)) > mostOutleaned*m.guess.ply.borderAngle().Tan() {
			return true
		}
	}
	return false
}

// bothWays reports whether most of the yarns lean both ways.
func (s solution) bothWays() bool {
	n := 0
	for i, f := range s.fits {
		if s.of[i].bothWays(f) {
			n++
		}
	}
	return 2*n >= len(s.fits)
}

// leastHalf is the share of the whole score that either half must reach which would
// not be believed alone: uneven yarn may fit far better in one half than in the other.
const leastHalf = 0.25

func (b *body) holdsInHalves(m fitting) bool {
	n := b.cols()
	for _, part := range [2][2]int{{0, n / 2}, {n / 2, n}} {
		f := b.newFold(m.trace.phase, part[0], part[1])
		h, ok := f.fit(m.key().kind, m.guess.z, m.scale, m.offset)
		if !ok || h.score < leastHalf*m.score && h.score*math.Sqrt(f.periods) < leastPlyScore {
			return false
		}
	}
	return true
}

// A plyMeasure is what one yarn measures under one fit.
type plyMeasure struct {
	angle, spread float64 // radians
	girth         float64 // the yarn's width over that of its outline
	width, cv     float64 // photo pixels, fraction
	turn          float64 // photo pixels along the axis
	turns         float64 // in view
}

// reading turns the solution into a reading: the median over the yarns.
func (s solution) reading() finding {
	var angle, spread, width, cv, turn, turns, shown []float64
	var middle fitting
	var girth float64
	at := -1
	for i, f := range s.fits {
		f = f.refined()
		m, ok := s.of[i].measure(f)
		if !ok {
			continue
		}
		if at < 0 || i == len(s.fits)/2 {
			at, middle, girth = i, f, m.girth
		}
		angle, spread = append(angle, m.angle), append(spread, m.spread)
		width, cv = append(width, m.width), append(cv, m.cv)
		turn, turns, shown = append(turn, m.turn), append(turns, m.turns), append(shown, f.turns())
	}
	if at < 0 {
		return refuse(NoLay)
	}
	r := finding{Reading: Reading{Readable: true, Structure: Ply, Plies: s.key.n, Direction: yarn.S, StrandsInView: len(angle),
		AngleSpread: unit.Angle(median(spread)),
		Width:       Pixels{median(width), fittedSD(median(width), middle.scale, middle.offset)},
		WidthCV:     median(cv),
		Pitch:       Pixels{median(turn), pitchSD(median(turn), median(turns))},
		Border:      middle.guess.ply.borderAngle()}}
	b := s.of[at]
	q := middle.guess.ply
	mean := unit.Angle(median(angle))
	r.Angle = interval(mean, plySD(q, mean, r.Width, r.Pitch, b.cut.abreast))
	// The angle rests on the fitted width, the width itself on the outline.
	r.Width.SD = b.cut.outlineSD(r.Width.Value, middle.scale, middle.offset)
	if s.key.z {
		r.Direction = yarn.Z
	}
	if r.Angle.Low > steepestPly {
		return refuse(PastLock)
	}
	if median(shown) < leastTurns {
		return refuse(UnsureReading)
	}
	if median(turns) < 3 {
		r.Flags = append(r.Flags, FewTurns)
	}
	r.Overlay = b.cut.overlay(girth*middle.slot(b.cut.abreast)*solidShare*q.envelope()/q.sil, r.Angle.Value, r.Direction)
	r.Overlay.PitchMarks = b.cut.pitchMarks(b, middle)
	return r
}

// turns is how many turns are followed along the yarn. The windows of measure
// leave half a period at either end uncounted, which is much of a yarn that shows
// little more than one.
func (m fitting) turns() float64 {
	return m.trace.fold.periods * float64(m.guess.repeat) / float64(m.guess.ply.n)
}
