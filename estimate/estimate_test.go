package estimate

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// column reads one column of numbers of a data file of testdata.
func column(t *testing.T, file string, col int) []float64 {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []float64
	for _, row := range rows {
		if v, err := strconv.ParseFloat(row[col], 64); err == nil {
			out = append(out, v)
		}
	}
	return out
}

// Certified values: NIST Statistical Reference Datasets, univariate summary.
func TestSummaryMeetsNIST(t *testing.T) {
	numAcc2 := []float64{1.2}
	for i := range 1000 {
		numAcc2 = append(numAcc2, 1.1+0.2*float64(i%2))
	}
	tests := []struct {
		name         string
		values       []float64
		mean, sd, to float64
	}{
		{"Michelso", column(t, "testdata/michelso.csv", 0), 299.8524, 0.0790105478190518, 1e-12},
		{"Mavro", column(t, "testdata/mavro.csv", 0), 2.001856, 0.000429123454003053, 1e-12},
		{"Lew", column(t, "testdata/lew.csv", 0), -177.435, 277.332168044316, 1e-11},
		{"NumAcc1", []float64{10000001, 10000003, 10000002}, 10000002, 1, 1e-12},
		{"NumAcc2", numAcc2, 1.2, 0.1, 1e-14},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := Mean(tt.values); math.Abs(got-tt.mean) > tt.to*math.Abs(tt.mean) {
				t.Errorf("mean %.15g, certified %.15g", got, tt.mean)
			}
			if got := SD(tt.values); math.Abs(got-tt.sd) > tt.to {
				t.Errorf("sd %.15g, certified %.15g", got, tt.sd)
			}
		})
	}
}

func TestSamplerColumnsHaveExactQuantiles(t *testing.T) {
	s := NewSampler(2000, 1)
	e := FromDraws(s.Normal(10, 2))
	for _, c := range []struct{ got, want, to float64 }{
		{e.Value, 10, 1e-9}, {e.Low, 10 - 2*Reach, 0.01}, {e.High, 10 + 2*Reach, 0.01}, {e.SD, 2, 0.01},
	} {
		if math.Abs(c.got-c.want) > c.to {
			t.Errorf("got %v, want %v", c.got, c.want)
		}
	}
	w := FromDraws(s.LogNormal90(0.87, 1))
	if math.Abs(w.Low-0.87) > 1e-3 || math.Abs(w.High-1) > 1e-3 {
		t.Errorf("90 %% of the column lies in %v to %v, want 0.87 to 1", w.Low, w.High)
	}
}

func TestSamplerColumnsAreUncorrelated(t *testing.T) {
	s := NewSampler(4000, 7)
	a, b := s.Normal(0, 1), s.Normal(0, 1)
	var sum float64
	for i := range a {
		sum += a[i] * b[i]
	}
	if r := sum / 4000; math.Abs(r) > 0.06 {
		t.Errorf("correlation of two columns %v", r)
	}
}

func TestQuantileIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := FromDraws(rapid.SliceOfN(rapid.Float64Range(-1e6, 1e6), 1, 50).Draw(t, "draws"))
		if e.Low > e.Value || e.Value > e.High {
			t.Fatalf("low %v, value %v, high %v are out of order", e.Low, e.Value, e.High)
		}
	})
}

func TestStateWordsRoundTrip(t *testing.T) {
	for s := Fresh; s <= Washed; s++ {
		if got, err := ParseState(s.String()); err != nil || got != s {
			t.Errorf("ParseState(%q) = %v, %v", s, got, err)
		}
	}
	if _, err := ParseState(""); err == nil {
		t.Error("an empty state was accepted")
	}
	for l := Free; l <= AtWheel; l++ {
		if got, err := ParseLoad(l.String()); err != nil || got != l {
			t.Errorf("ParseLoad(%q) = %v, %v", l, got, err)
		}
	}
}

func TestFlagsAreASet(t *testing.T) {
	fs := Flags{}.With(Modelled, FewReadings).With(Modelled)
	if len(fs) != 2 || !fs.Has(FewReadings) || fs.Has(OnePlace) {
		t.Errorf("flags %v", fs)
	}
	if (Estimate[float64]{Flags: fs}).Measured() {
		t.Error("a modelled number calls itself measured")
	}
}
