package estimate

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Line is a straight line fitted by least squares: y = Intercept + Slope x.
type Line struct {
	Slope, Intercept     float64
	SlopeSE, InterceptSE float64
	ResidualSD           float64 // n-2 degrees of freedom
	RSquared             float64
	N                    int
}

// FitLine fits a straight line to at least three points that do not share one x.
// Sums are taken about the means, which holds to the digits of the NIST StRD data
// sets for linear regression of lower difficulty.
func FitLine(x, y []float64) (Line, error) {
	n := len(x)
	if n != len(y) || n < 3 {
		return Line{}, errors.New("a line needs three points or more")
	}
	mx, my := Mean(x), Mean(y)
	var sxx, sxy, syy float64
	for i := range x {
		dx, dy := x[i]-mx, y[i]-my
		sxx, sxy, syy = sxx+dx*dx, sxy+dx*dy, syy+dy*dy
	}
	if !(sxx > 0) || math.IsInf(sxx+syy, 0) {
		return Line{}, errors.New("a line needs points at two places or more")
	}
	l := Line{Slope: sxy / sxx, N: n}
	l.Intercept = my - l.Slope*mx
	var rss float64
	for i := range x {
		r := (y[i] - my) - l.Slope*(x[i]-mx)
		rss += r * r
	}
	variance := rss / float64(n-2)
	l.ResidualSD = math.Sqrt(variance)
	l.SlopeSE = math.Sqrt(variance / sxx)
	l.InterceptSE = math.Sqrt(variance * (1/float64(n) + mx*mx/sxx))
	l.RSquared = 1
	if syy > 0 {
		l.RSquared = 1 - rss/syy
	}
	return l, nil
}

// SlopeInterval is the slope with its 90 % interval (Student's t, n-2 degrees of
// freedom). The standard error of a reading known beforehand, in y, bounds the
// scatter from below: few points may lie on a line by chance.
func (l Line) SlopeInterval(readingSD float64) Estimate[float64] {
	t := distuv.StudentsT{Sigma: 1, Nu: float64(l.N - 2)}.Quantile((1 + Interval) / 2)
	se := l.SlopeSE
	if l.ResidualSD > 0 && readingSD > l.ResidualSD {
		se *= readingSD / l.ResidualSD
	}
	return Estimate[float64]{Value: l.Slope, SD: se, Low: l.Slope - t*se, High: l.Slope + t*se, N: l.N}
}
