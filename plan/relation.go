package plan

import (
	"math"

	"waketwist/cloth"
	"waketwist/unit"
	"waketwist/yarn"
)

// row is one draw of every quantity that is known.
type row struct {
	s *solver
	i int
}

func (r row) of(q quantity) float64 { return r.s.columns[q][r.i] }

// way finds one quantity of a relation from its others.
type way struct {
	out quantity
	in  []quantity
	of  func(r row) float64
}

// relation ties quantities together: any one of them that has a way follows from
// the rest. Where all are known otherwise, it is a check.
type relation struct {
	ways []way
	when func(w *Wish) bool // nil for always
	// once relations follow from others and are no check of their own.
	once bool
}

func woven(w *Wish) bool   { return w.Fabric == Woven }
func knitted(w *Wish) bool { return w.Fabric == Knitted }
func plied(w *Wish) bool   { return w.Plies > 1 }

// spun is false where singles or yarn are there already and no fibre is asked
// for.
func spun(w *Wish) bool { return !w.has(qSinglesInHand) && !w.has(qYarnInHand) }

// relations is the chain, from cloth to work.
var relations = flatten(
	clothRelations(), knitRelations(), yarnRelations(), twistRelations(), fibreRelations(), workRelations(),
)

func flatten(parts ...[]relation) (out []relation) {
	for _, part := range parts {
		out = append(out, part...)
	}
	return out
}

// scaled relates whole = part * (1 - loss), both ways.
func scaled(part, whole, loss quantity, when func(*Wish) bool) relation {
	return relation{when: when, ways: []way{
		{whole, []quantity{part, loss}, func(r row) float64 { return r.of(part) / (1 - r.of(loss)) }},
		{part, []quantity{whole, loss}, func(r row) float64 { return r.of(whole) * (1 - r.of(loss)) }},
	}}
}

// product relates c = a * b, three ways.
func product(c, a, b quantity, scale float64, when func(*Wish) bool) relation {
	return relation{when: when, ways: []way{
		{c, []quantity{a, b}, func(r row) float64 { return r.of(a) * r.of(b) * scale }},
		{a, []quantity{c, b}, func(r row) float64 { return r.of(c) / r.of(b) / scale }},
		{b, []quantity{c, a}, func(r row) float64 { return r.of(c) / r.of(a) / scale }},
	}}
}

// outcome is a relation that only ever gives one quantity.
func outcome(when func(*Wish) bool, out quantity, in []quantity, of func(row) float64) relation {
	return relation{when: when, once: true, ways: []way{{out, in, of}}}
}

func clothRelations() []relation {
	return []relation{
		scaled(qWidth, qWidthOff, qWashWidth, woven),
		scaled(qWidthOff, qReed, qDrawIn, woven),
		scaled(qLength, qLengthOff, qWashLength, woven),
		scaled(qLengthOff, qLengthOn, qTakeUp, woven),
		{when: woven, ways: []way{
			{qWarpLength, []quantity{qLengthOn, qWaste, qFringe}, func(r row) float64 { return r.of(qLengthOn) + r.of(qWaste) + r.of(qFringe) }},
			{qLengthOn, []quantity{qWarpLength, qWaste, qFringe}, func(r row) float64 { return max(1e-9, r.of(qWarpLength)-r.of(qWaste)-r.of(qFringe)) }},
		}},
		{when: woven, ways: []way{
			{qEndCount, []quantity{qReed, qEnds}, func(r row) float64 { return max(1, math.Round(r.of(qReed)*r.of(qEnds))) }},
			{qReed, []quantity{qEndCount, qEnds}, func(r row) float64 { return r.of(qEndCount) / r.of(qEnds) }},
			{qEnds, []quantity{qEndCount, qReed}, func(r row) float64 { return r.of(qEndCount) / r.of(qReed) }},
		}},
		clothYarn(),
		outcome(woven, qPickCount, []quantity{qLengthOff, qPicks}, func(r row) float64 { return max(1, math.Round(r.of(qLengthOff)*r.of(qPicks))) }),
		outcome(woven, qWarp, []quantity{qEndCount, qWarpLength}, func(r row) float64 { return r.of(qEndCount) * r.of(qWarpLength) }),
		outcome(woven, qWeft, []quantity{qPicks, qLengthOff, qReed}, weft),
		outcome(woven, qEndsWashed, []quantity{qEnds, qDrawIn, qWashWidth}, func(r row) float64 { return r.of(qEnds) / (1 - r.of(qDrawIn)) / (1 - r.of(qWashWidth)) }),
		outcome(woven, qPicksWashed, []quantity{qPicks, qWashLength}, func(r row) float64 { return r.of(qPicks) / (1 - r.of(qWashLength)) }),
	}
}

// weft is longer than the reed is wide, for it crimps.
func weft(r row) float64 {
	return r.of(qPicks) * r.of(qLengthOff) * r.of(qReed) * (1 + float64(cloth.WeftCrimp))
}

// clothYarn is the yarn of warp and weft, with spare; it is linear in the length
// and in the width, and so goes all ways.
func clothYarn() relation {
	others := []quantity{qTakeUp, qWaste, qFringe, qSpare}
	kept := func(r row) float64 { return r.of(qYarn) / (1 + r.of(qSpare)) }
	crimp := 1 + float64(cloth.WeftCrimp)
	return relation{when: woven, ways: []way{
		{qYarn, append([]quantity{qReed, qLengthOff, qEnds, qPicks}, others...), func(r row) float64 {
			end := r.of(qLengthOff)/(1-r.of(qTakeUp)) + r.of(qWaste) + r.of(qFringe)
			return (max(1, math.Round(r.of(qReed)*r.of(qEnds)))*end + weft(r)) * (1 + r.of(qSpare))
		}},
		{qLengthOff, append([]quantity{qYarn, qReed, qEnds, qPicks}, others...), func(r row) float64 {
			ends := max(1, math.Round(r.of(qReed)*r.of(qEnds)))
			perLength := ends/(1-r.of(qTakeUp)) + r.of(qPicks)*r.of(qReed)*crimp
			return max(1e-9, (kept(r)-ends*(r.of(qWaste)+r.of(qFringe)))/perLength)
		}},
		{qReed, append([]quantity{qYarn, qLengthOff, qEnds, qPicks}, others...), func(r row) float64 {
			end := r.of(qLengthOff)/(1-r.of(qTakeUp)) + r.of(qWaste) + r.of(qFringe)
			return kept(r) / (r.of(qEnds)*end + r.of(qPicks)*r.of(qLengthOff)*crimp)
		}},
		{qEnds, append([]quantity{qYarn, qReed, qLengthOff, qPicks}, others...), func(r row) float64 {
			end := r.of(qLengthOff)/(1-r.of(qTakeUp)) + r.of(qWaste) + r.of(qFringe)
			return max(1, (kept(r)-weft(r))/end) / r.of(qReed)
		}},
	}}
}

// knitRelations scale the swatch: mass goes with area.
func knitRelations() []relation {
	perArea := func(r row) float64 {
		return r.of(qSwatchMass) / float64(r.s.w.SwatchWidth*r.s.w.SwatchLength) * r.of(qPieces) * (1 + r.of(qSpare))
	}
	by := func(other quantity) func(row) float64 {
		return func(r row) float64 { return r.of(qMass) / r.of(other) / perArea(r) }
	}
	with := []quantity{qSwatchMass, qPieces, qSpare}
	return []relation{{when: knitted, ways: []way{
		{qMass, append([]quantity{qKnitWidth, qKnitLength}, with...), func(r row) float64 { return r.of(qKnitWidth) * r.of(qKnitLength) * perArea(r) }},
		{qKnitLength, append([]quantity{qMass, qKnitWidth}, with...), by(qKnitWidth)},
		{qKnitWidth, append([]quantity{qMass, qKnitLength}, with...), by(qKnitLength)},
	}}}
}

// yarnRelations go from washed yarn to singles. The mass stays: what is shorter
// is heavier for its length.
func yarnRelations() []relation {
	n := func(r row) float64 { return float64(r.s.w.Plies) }
	return []relation{
		product(qMass, qGrist, qYarn, 1e-3, nil),
		wrapRelation(),
		scaled(qYarn, qAtWheel, qWash, nil),
		scaled(qGristAtWheel, qGrist, qWash, nil),
		{ways: []way{
			{qSingles, []quantity{qAtWheel, qPlyTakeUp}, func(r row) float64 { return n(r) * r.of(qAtWheel) / (1 - r.of(qPlyTakeUp)) }},
			{qAtWheel, []quantity{qSingles, qPlyTakeUp}, func(r row) float64 { return r.of(qSingles) * (1 - r.of(qPlyTakeUp)) / n(r) }},
		}},
		{ways: []way{
			{qSinglesGrist, []quantity{qGristAtWheel, qPlyTakeUp}, func(r row) float64 { return r.of(qGristAtWheel) * (1 - r.of(qPlyTakeUp)) / n(r) }},
			{qGristAtWheel, []quantity{qSinglesGrist, qPlyTakeUp}, func(r row) float64 { return r.of(qSinglesGrist) * n(r) / (1 - r.of(qPlyTakeUp)) }},
		}},
	}
}

// wrapRelation ties wraps to weight: a wrap holds so many contact diameters.
func wrapRelation() relation {
	diameters := func(r row) float64 {
		return float64(cloth.Ashenhurst(unit.LinearDensity(r.of(qGrist)), r.s.w.Character))
	}
	return relation{ways: []way{
		{qWraps, []quantity{qGrist, qFactor}, func(r row) float64 { return diameters(r) / r.of(qFactor) }},
		{qFactor, []quantity{qGrist, qWraps}, func(r row) float64 { return diameters(r) / r.of(qWraps) }},
		{qGrist, []quantity{qWraps, qFactor}, func(r row) float64 {
			// The diameters go with the root of the length in a mass.
			one := float64(cloth.Ashenhurst(1, r.s.w.Character))
			return math.Pow(one/(r.of(qWraps)*r.of(qFactor)), 2)
		}},
	}}
}

func fibreRelations() []relation {
	return []relation{
		scaled(qMass, qSpun, qSpinning, spun),
		scaled(qSpun, qPrepared, qSampling, spun),
		{when: spun, ways: []way{
			{qFibre, []quantity{qPrepared, qPreparing, qScouring}, func(r row) float64 { return r.of(qPrepared) / r.kept(qPreparing, qScouring) }},
			{qPrepared, []quantity{qFibre, qPreparing, qScouring}, func(r row) float64 { return r.of(qFibre) * r.kept(qPreparing, qScouring) }},
		}},
	}
}

// kept is what losses one after the other leave.
func (r row) kept(losses ...quantity) float64 {
	left := 1.0
	for _, q := range losses {
		left *= 1 - r.of(q)
	}
	return left
}

func workRelations() []relation {
	n := func(r row) float64 { return float64(r.s.w.Plies) }
	return []relation{
		outcome(nil, qBobbins, []quantity{qMass, qBobbin}, func(r row) float64 { return n(r) * math.Ceil(r.of(qMass)/n(r)/r.of(qBobbin)) }),
		outcome(plied, qPlyBobbins, []quantity{qMass, qBobbin}, func(r row) float64 { return math.Ceil(r.of(qMass) / r.of(qBobbin)) }),
		product(qSingles, qHours, qPace, 1, nil),
		product(qAtWheel, qPlyHours, qPlyPace, 1, plied),
	}
}

// fibreDensity is that of wool in grams per cubic centimetre.
const fibreDensity = 1.31

func twistRelations() []relation {
	single := func(w *Wish) bool { return w.Plies == 1 }
	computed := func(w *Wish) bool { return w.Plies > 1 && !w.has(qPlyTakeUp) }
	return []relation{
		{when: single, ways: []way{
			{qSinglesAngle, []quantity{qAngle}, func(r row) float64 { return r.of(qAngle) }},
			{qAngle, []quantity{qSinglesAngle}, func(r row) float64 { return r.of(qSinglesAngle) }},
		}},
		{when: plied, ways: []way{
			{qSinglesAngle, []quantity{qAngle, qStiffness}, func(r row) float64 { return r.singles(r.of(qAngle)) }},
			{qAngle, []quantity{qSinglesAngle, qStiffness}, func(r row) float64 { return r.ply(r.of(qSinglesAngle)) }},
		}},
		outcome(computed, qPlyTakeUp, []quantity{qAngle, qStiffness}, func(r row) float64 { return r.takeUp(r.of(qAngle)) }),
		{ways: []way{
			{qDiameter, []quantity{qSinglesGrist, qPacking}, func(r row) float64 { return thickness(r.of(qSinglesGrist), r.of(qPacking)) }},
			{qSinglesGrist, []quantity{qDiameter, qPacking}, func(r row) float64 {
				return math.Pow(r.of(qDiameter)/thickness(1, r.of(qPacking)), 2)
			}},
			{qPacking, []quantity{qDiameter, qSinglesGrist}, func(r row) float64 {
				return math.Pow(thickness(r.of(qSinglesGrist), 1)/r.of(qDiameter), 2)
			}},
		}},
		{ways: []way{
			{qSinglesTwist, []quantity{qSinglesAngle, qDiameter}, func(r row) float64 {
				return float64(yarn.SurfaceAngle(r.of(qSinglesAngle)).Twist(unit.Length(r.of(qDiameter))))
			}},
			{qSinglesAngle, []quantity{qSinglesTwist, qDiameter}, func(r row) float64 { return r.lean(r.of(qDiameter)) }},
		}},
		{when: plied, ways: []way{
			{qPlyTwist, []quantity{qAngle, qDiameter}, func(r row) float64 {
				return float64(yarn.Turns(r.s.w.Plies, yarn.CentreAngle(r.of(qAngle)), unit.Length(r.of(qDiameter))))
			}},
			{qAngle, []quantity{qPlyTwist, qDiameter}, func(r row) float64 { return r.steep(r.of(qDiameter)) }},
		}},
		// Turns and the yarn's weight leave the angle and what plying takes up to
		// be found together.
		{when: computed, once: true, ways: []way{
			{qAngle, []quantity{qPlyTwist, qGristAtWheel, qPacking, qStiffness}, func(r row) float64 { return r.settle(r.steep) }},
		}},
		{when: computed, once: true, ways: []way{
			{qAngle, []quantity{qSinglesTwist, qGristAtWheel, qPacking, qStiffness}, func(r row) float64 {
				return r.settle(func(d float64) float64 { return r.ply(r.lean(d)) })
			}},
		}},
	}
}

func thickness(grist, packing float64) float64 {
	return float64(yarn.Diameter(unit.LinearDensity(grist), packing, fibreDensity))
}

// lean is the surface angle that the turns give singles of a diameter.
func (r row) lean(d float64) float64 {
	return float64(yarn.SurfaceAngleOf(yarn.StrandTwist(r.of(qSinglesTwist)), unit.Length(d)))
}

// steep is the angle that the turns give a ply of strands of a diameter.
func (r row) steep(d float64) float64 {
	b, _ := yarn.AngleOf(r.s.w.Plies, yarn.PlyTwist(r.of(qPlyTwist)), unit.Length(d))
	return min(float64(b), float64(steepest(r.s.w.Plies)))
}

// ply is the angle at which strands of a surface angle rest in balance.
func (r row) ply(singles float64) float64 {
	n := r.s.w.Plies
	b := yarn.Balanced(n, yarn.Stiffness(r.of(qStiffness)), yarn.SurfaceAngle(singles).Living())
	return min(float64(b), float64(steepest(n)))
}

// singles is the inverse of ply.
func (r row) singles(b float64) float64 {
	n := r.s.w.Plies
	b = min(b, float64(steepest(n)))
	living, err := yarn.LivingFor(n, yarn.Stiffness(r.of(qStiffness)), yarn.CentreAngle(b))
	if err != nil { // no angle up to the steepest is refused
		return math.NaN()
	}
	return math.Atan(float64(living))
}

// takeUp is what plying to an angle takes of the singles' length. It does not
// hang on the thickness.
func (r row) takeUp(angle float64) float64 {
	const d = unit.Millimetre
	n, b := r.s.w.Plies, yarn.CentreAngle(min(angle, float64(steepest(r.s.w.Plies))))
	a := yarn.SurfaceAngle(r.singles(float64(b)))
	left := yarn.SurfaceAngleOf(yarn.TwistLeft(a.Twist(d), yarn.Turns(n, b, d), b), d)
	return 1 - float64(yarn.TakeUp(b, a, left))
}

// settle finds the angle whose take-up makes the singles just so thick that the
// turns give that angle. The take-up moves the thickness by its root only, so
// that a few rounds do.
func (r row) settle(angle func(d float64) float64) float64 {
	b := float64(UsualAngle().Value)
	for range 12 {
		grist := r.of(qGristAtWheel) * (1 - r.takeUp(b)) / float64(r.s.w.Plies)
		b = angle(thickness(grist, r.of(qPacking)))
	}
	return b
}

// steepest is the steepest angle that is planned: a little under that at which a
// balanced ply ends, and of singles that at which they break.
func steepest(plies int) unit.Angle {
	if plies == 1 {
		return 60 * unit.Degree
	}
	return unit.Angle(yarn.Limit(plies)) - unit.Degree
}
