package rest

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// The turns along a bobbin vary in two ways: half of the variance drifts over a
// good part of the bobbin, half comes and goes from one arm's length to the
// next. The split and the reach of the drift (as a share of the bobbin's depth)
// are assumptions; together they make up the coefficient of variation.
const (
	driftShare = 0.5
	driftReach = 0.5
)

// sight is one sample's word on the bobbin: the log-tangent it shows, the
// standard deviation of its readings, and where it was clipped.
type sight struct {
	y, sd, depth float64
	place        string
}

// driftBetween is the covariance at two depths due to drift, as a share of the
// variance from place to place.
func driftBetween(a, b float64) float64 {
	return driftShare * math.Exp(-math.Abs(a-b)/driftReach)
}

// depths is the grid over which the bobbin is averaged: equal shares of yarn.
var depths = func() (out [20]float64) {
	for i := range out {
		out[i] = (float64(i) + 0.5) / float64(len(out))
	}
	return out
}()

// whole returns the mean log-tangent of the whole bobbin and its standard
// deviation, by generalised least squares with an unknown mean (ordinary
// kriging of the block mean; Cressie, Statistics for Spatial Data, 1993, section
// 3.2). spread is the standard deviation of the log tangent from place to place.
func whole(sights []sight, spread float64) (y, sd float64) {
	n := len(sights)
	k := mat.NewDense(n+1, n+1, nil)
	rhs := mat.NewVecDense(n+1, nil)
	for i, a := range sights {
		for j, b := range sights {
			k.Set(i, j, covariance(a, b, i == j, spread))
		}
		k.Set(i, n, 1)
		k.Set(n, i, 1)
		rhs.SetVec(i, spread*spread*driftToWhole(a.depth))
	}
	rhs.SetVec(n, 1)
	var w mat.VecDense
	if err := w.SolveVec(k, rhs); err != nil {
		return math.NaN(), math.NaN()
	}
	variance := spread*spread*driftOfWhole - w.AtVec(n)
	for i, a := range sights {
		y += w.AtVec(i) * a.y
		variance -= w.AtVec(i) * rhs.AtVec(i)
	}
	return y, math.Sqrt(max(variance, 0))
}

func covariance(a, b sight, same bool, spread float64) float64 {
	c := driftBetween(a.depth, b.depth)
	if a.place == b.place {
		c += 1 - driftShare
	}
	c *= spread * spread
	if same {
		c += a.sd * a.sd
	}
	return c
}

// driftToWhole is the covariance of the drift at a depth with its mean.
func driftToWhole(depth float64) float64 {
	var sum float64
	for _, d := range depths {
		sum += driftBetween(depth, d)
	}
	return sum / float64(len(depths))
}

// driftOfWhole is the variance of the mean of the drift.
var driftOfWhole = func() float64 {
	var sum float64
	for _, d := range depths {
		sum += driftToWhole(d)
	}
	return sum / float64(len(depths))
}()

// PlaceCovariance returns the covariance of the log turns at two depths of a
// bobbin (0 outermost, 1 at the core), each against the mean of the whole
// bobbin, as a share of the squared coefficient of variation from place to
// place. same says that the two are one place, cut side by side.
func PlaceCovariance(a, b float64, same bool) float64 {
	c := driftBetween(a, b) - driftToWhole(a) - driftToWhole(b) + driftOfWhole
	if same {
		c += 1 - driftShare
	}
	return c
}
