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

// SinglesByThumb returns the singles of a two-strand ply-back by ThumbShare.
func SinglesByThumb(plyback yarn.PlyTwist) yarn.StrandTwist {
	return yarn.StrandTwist(plyback / ThumbShare)
}

// PlyByThumb returns the balanced two-ply of singles by ThumbShare.
func PlyByThumb(singles yarn.StrandTwist) yarn.PlyTwist {
	return yarn.PlyTwist(singles * ThumbShare)
}

// SinglesByBalance returns the turns of the singles whose balanced two-ply has the
// given turns, for strands as stiff as k says. A diameter of the singles narrows it;
// nil leaves their surface angle as wide as k has it. It refuses with an *Error
// turns and diameters that cannot be meant or that no balanced ply holds.
func SinglesByBalance(plyback yarn.PlyTwist, d *unit.Length, k rest.Knowledge) (estimate.Estimate[yarn.StrandTwist], error) {
	none := estimate.Estimate[yarn.StrandTwist]{}
	if err := checkPlyback(unit.Twist(plyback), d, k); err != nil {
		return none, err
	}
	shares := priorShares(k)
	if d != nil {
		b, ok := yarn.AngleOf(2, plyback, *d)
		if !ok || b >= yarn.Limit(2)*44/45 {
			return none, refuse("Check the turns, and the wraps, which are those of the singles.", "Strands %.3g mm thick hold no balanced ply of %s.", d.Millimetres(), unit.Twist(plyback))
		}
		shares = sharesAt(b, k)
	}
	e := estimate.FromDraws(apply(func(i int) yarn.StrandTwist {
		return yarn.StrandTwist(float64(plyback) / shares[i])
	}))
	e.Flags = e.Flags.With(estimate.Modelled)
	return e, nil
}

// PlyByBalance returns the turns of the balanced two-ply of singles with the given
// turns, all of them living. It is otherwise as SinglesByBalance.
func PlyByBalance(singles yarn.StrandTwist, d *unit.Length, k rest.Knowledge) (estimate.Estimate[yarn.PlyTwist], error) {
	none := estimate.Estimate[yarn.PlyTwist]{}
	if err := checkPlyback(unit.Twist(singles), d, k); err != nil {
		return none, err
	}
	shares := priorShares(k)
	if d != nil {
		a := yarn.SurfaceAngleOf(singles, *d)
		if a.Degrees() > steepest {
			return none, refuse("Check the turns, and the wraps, which are those of the singles.", "Singles %.3g mm thick with %s lean %.0f degrees, which none do.", d.Millimetres(), unit.Twist(singles), a.Degrees())
		}
		stiffness := stiffnesses(k, estimate.NewSampler(rows, 1))
		shares = apply(func(i int) float64 { return share(stiffness[i], a) })
	}
	e := estimate.FromDraws(apply(func(i int) yarn.PlyTwist { return yarn.PlyTwist(float64(singles) * shares[i]) }))
	e.Flags = e.Flags.With(estimate.Modelled)
	return e, nil
}

// shallowest and steepest bound the surface angle of singles, in degrees.
const shallowest, steepest = 2.0, 70.0

func checkPlyback(u unit.Twist, d *unit.Length, k rest.Knowledge) error {
	if err := checkTwist(u); err != nil {
		return err
	}
	if d != nil && !within(*d, 10*unit.Micrometre, 50*unit.Millimetre) {
		return refuse("Count the wraps of the singles.", "Singles %.4g mm thick are outside 0.01 to 50 mm.", d.Millimetres())
	}
	return k.Check()
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

// sharesAt are U/u of singles that balance at b. Each stiffness asks for an angle
// of the singles; it is as likely as singles of that angle are.
func sharesAt(b yarn.CentreAngle, k rest.Knowledge) []float64 {
	s := estimate.NewSampler(rows, 1)
	shares, sums := make([]float64, rows), make([]float64, rows)
	var sum float64
	for i, stiffness := range stiffnesses(k, s) {
		t, err := yarn.LivingFor(2, yarn.Stiffness(stiffness), b)
		if err != nil { // cannot be: b is under the limit
			panic("wheel: a balance past the limit")
		}
		a := math.Atan(float64(t))
		off := (a - float64(k.Singles.Angle)) / float64(k.Singles.SD)
		sum += math.Exp(-off * off / 2)
		sums[i] = sum
		shares[i] = yarn.Ratios(2, b, yarn.SurfaceAngle(a)).PerPlyLength
	}
	return resampled(shares, sums)
}

// resampled draws as many values as there are, each as often as its part of the
// running sum; all alike where nothing tells them apart.
func resampled(values, sums []float64) []float64 {
	total := sums[rows-1]
	if total < 1e-200 {
		return values
	}
	return apply(func(i int) float64 {
		at := total * (float64(i) + 0.5) / rows
		return values[min(sort.SearchFloat64s(sums, at), rows-1)]
	})
}
