package wheel

import (
	"math"
	"sort"

	"waketwist/estimate"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// ThumbShare is the turns of a balanced two-ply over those of its singles, each
// per its own length, by the rule of thumb of the trade (common practice). It is no
// law: the balance runs from above 1 for soft strands to 0.4 for hard ones.
const ThumbShare = 2.0 / 3

// SinglesByThumb returns the singles of a two-strand ply-back by ThumbShare, flagged
// RuleOfThumb: it has no interval, for nobody knows how far it is off.
func SinglesByThumb(plyback yarn.PlyTwist) estimate.Estimate[yarn.StrandTwist] {
	return byThumb(yarn.StrandTwist(plyback / ThumbShare))
}

// PlyByThumb returns the balanced two-ply of singles by ThumbShare, flagged as
// SinglesByThumb is.
func PlyByThumb(singles yarn.StrandTwist) estimate.Estimate[yarn.PlyTwist] {
	return byThumb(yarn.PlyTwist(singles * ThumbShare))
}

func byThumb[T ~float64](v T) estimate.Estimate[T] {
	return estimate.Estimate[T]{Value: v, Low: v, High: v, Flags: estimate.Flags{RuleOfThumb, estimate.Modelled}}
}

// Thickness is the diameter of singles as far as it is known.
type Thickness struct {
	Diameter unit.Length
	CV       rest.Share // its coefficient of variation, 0 to 1
}

// SinglesByBalance returns the turns of the singles whose balanced two-ply has the
// given turns, for strands as stiff as k says. The thickness of the singles narrows
// it; nil leaves their surface angle as wide as k has it. It refuses with an *Error
// turns and thicknesses that cannot be meant or that no balanced ply holds.
func SinglesByBalance(plyback yarn.PlyTwist, d *Thickness, k rest.Knowledge) (estimate.Estimate[yarn.StrandTwist], error) {
	none := estimate.Estimate[yarn.StrandTwist]{}
	if err := checkPlyback(unit.Twist(plyback), d, k); err != nil {
		return none, err
	}
	shares := priorShares(k)
	if d != nil {
		if _, ok := resting(plyback, d.Diameter); !ok {
			return none, refuse("Check the turns, and the wraps, which are those of the singles.", "Strands %.3g mm thick hold no balanced ply of %s.", d.Diameter.Millimetres(), unit.Twist(plyback))
		}
		shares = sharesAt(plyback, *d, k)
	}
	return modelled(apply(func(i int) yarn.StrandTwist { return yarn.StrandTwist(float64(plyback) / shares[i]) })), nil
}

// PlyByBalance returns the turns of the balanced two-ply of singles with the given
// turns, all of them living. It is otherwise as SinglesByBalance.
func PlyByBalance(singles yarn.StrandTwist, d *Thickness, k rest.Knowledge) (estimate.Estimate[yarn.PlyTwist], error) {
	none := estimate.Estimate[yarn.PlyTwist]{}
	if err := checkPlyback(unit.Twist(singles), d, k); err != nil {
		return none, err
	}
	shares := priorShares(k)
	if d != nil {
		if a := yarn.SurfaceAngleOf(singles, d.Diameter); a.Degrees() > steepest {
			return none, refuse("Check the turns, and the wraps, which are those of the singles.", "Singles %.3g mm thick with %s lean %.0f degrees, which none do.", d.Diameter.Millimetres(), unit.Twist(singles), a.Degrees())
		}
		s := estimate.NewSampler(rows, 1)
		stiffness, across := stiffnesses(k, s), d.draws(s)
		shares = apply(func(i int) float64 { return share(stiffness[i], yarn.SurfaceAngleOf(singles, across[i])) })
	}
	return modelled(apply(func(i int) yarn.PlyTwist { return yarn.PlyTwist(float64(singles) * shares[i]) })), nil
}

func modelled[T ~float64](draws []T) estimate.Estimate[T] {
	e := estimate.FromDraws(draws)
	e.Flags = e.Flags.With(estimate.Modelled)
	return e
}

// shallowest and steepest bound the surface angle of singles, in degrees.
const shallowest, steepest = 2.0, 70.0

func checkPlyback(u unit.Twist, d *Thickness, k rest.Knowledge) error {
	if err := checkTwist(u); err != nil {
		return err
	}
	if d != nil && !(within(d.Diameter, 10*unit.Micrometre, 50*unit.Millimetre) && within(d.CV, 0, 1)) {
		return refuse("Count the wraps of the singles.", "Singles %.4g mm thick, give or take %.4g of it, are outside 0.01 to 50 mm.", d.Diameter.Millimetres(), float64(d.CV))
	}
	return k.Check()
}

func (d Thickness) draws(s *estimate.Sampler) []unit.Length {
	factor := s.LogNormal(1, math.Sqrt(math.Log1p(float64(d.CV*d.CV))))
	return apply(func(i int) unit.Length { return d.Diameter * unit.Length(factor[i]) })
}

// resting returns the angle of a two-ply; ok is false where so steep a ply does not
// rest.
func resting(u yarn.PlyTwist, d unit.Length) (b yarn.CentreAngle, ok bool) {
	b, ok = yarn.AngleOf(2, u, d)
	return b, ok && b < yarn.Limit(2)*44/45
}

func stiffnesses(k rest.Knowledge, s *estimate.Sampler) []float64 {
	out := s.LogNormal(k.Stiffness.Median, k.Stiffness.Sigma)
	for i, v := range out {
		out[i] = min(v, 1000)
	}
	return out
}

// share is U/u of a balanced two-ply of singles at a surface angle.
func share(k float64, a yarn.SurfaceAngle) float64 {
	b := yarn.Balanced(2, yarn.Stiffness(k), a.Living())
	return yarn.Ratios(2, b, a).PerPlyLength
}

// priorShares are U/u of singles of which nothing is measured.
func priorShares(k rest.Knowledge) []float64 {
	s := estimate.NewSampler(rows, 1)
	stiffness := stiffnesses(k, s)
	angle := s.Normal(float64(k.Singles.Angle), float64(k.Singles.SD))
	return apply(func(i int) float64 {
		degrees := min(max(angle[i]*180/math.Pi, shallowest), steepest)
		return share(stiffness[i], yarn.SurfaceAngle(unit.Angle(degrees)*unit.Degree))
	})
}

// sharesAt are U/u of singles whose two-ply balances with the given turns. Each
// stiffness and thickness asks for an angle of the singles; it is as likely as
// singles of that angle are.
func sharesAt(u yarn.PlyTwist, d Thickness, k rest.Knowledge) []float64 {
	s := estimate.NewSampler(rows, 1)
	stiffness, across := stiffnesses(k, s), d.draws(s)
	shares, sums := make([]float64, rows), make([]float64, rows)
	var sum float64
	for i := range shares {
		a, ok := singlesOf(u, across[i], yarn.Stiffness(stiffness[i]))
		if ok {
			off := (float64(a) - float64(k.Singles.Angle)) / float64(k.Singles.SD)
			sum += math.Exp(-off * off / 2)
			shares[i] = float64(u) / float64(a.Twist(across[i]))
		}
		sums[i] = sum
	}
	if sum < 1e-300 { // singles that k holds for next to impossible: as k has them
		return priorShares(k)
	}
	return resampled(shares, sums)
}

// singlesOf is the surface angle of singles whose two-ply rests with turns u.
func singlesOf(u yarn.PlyTwist, d unit.Length, k yarn.Stiffness) (a yarn.SurfaceAngle, ok bool) {
	b, ok := resting(u, d)
	if !ok {
		return 0, false
	}
	t, err := yarn.LivingFor(2, k, b)
	return yarn.SurfaceAngle(unit.Atan(float64(t))), err == nil
}

// resampled draws as many values as there are, each as often as its part of the
// running sum.
func resampled(values, sums []float64) []float64 {
	total := sums[rows-1]
	return apply(func(i int) float64 {
		at := total * (float64(i) + 0.5) / rows
		return values[min(sort.SearchFloat64s(sums, at), rows-1)]
	})
}
