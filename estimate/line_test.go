package estimate

import (
	"math"
	"testing"
)

// Certified values: NIST Statistical Reference Datasets, linear regression, Norris.
func TestFitLineMeetsNIST(t *testing.T) {
	l, err := FitLine(column(t, "testdata/norris.csv", 1), column(t, "testdata/norris.csv", 0))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"slope", l.Slope, 1.00211681802045},
		{"intercept", l.Intercept, -0.262323073774029},
		{"slope se", l.SlopeSE, 0.000429796848199937},
		{"intercept se", l.InterceptSE, 0.232818234301152},
		{"R squared", l.RSquared, 0.999993745883712},
		{"residual mean square", l.ResidualSD * l.ResidualSD, 0.782864662630069},
	} {
		if math.Abs(c.got-c.want) > 1e-10*math.Abs(c.want) {
			t.Errorf("%s %.15g, certified %.15g", c.name, c.got, c.want)
		}
	}
}

func TestFitLineRefuses(t *testing.T) {
	for name, xy := range map[string][2][]float64{
		"two points": {{1, 2}, {1, 2}}, "one place": {{3, 3, 3}, {1, 2, 3}}, "unequal": {{1, 2, 3}, {1, 2}},
		"infinite": {{1, 2, math.Inf(1)}, {1, 2, 3}}, "not a number": {{1, 2, math.NaN()}, {1, 2, 3}},
	} {
		if l, err := FitLine(xy[0], xy[1]); err == nil {
			t.Errorf("%s: %+v", name, l)
		}
	}
}

func TestSlopeIntervalIsNoSharperThanItsReadings(t *testing.T) {
	l, err := FitLine([]float64{0, 1, 2, 3}, []float64{10, 10.01, 9.99, 10})
	if err != nil {
		t.Fatal(err)
	}
	if e := l.SlopeInterval(1.5); e.High-e.Low < 1 || e.Low > e.Value || e.High < e.Value {
		t.Errorf("four readings of 1.5 degrees claim a slope within %.2f", e.High-e.Low)
	}
}
