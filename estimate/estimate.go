// Package estimate carries numbers together with what is known about them: how
// far they may be off, the state of the yarn they speak of, how many readings
// stand behind them, and whether a model had a part in them.
//
// Uncertainty is propagated by draws: each uncertain input becomes a column of
// equally likely values, a calculation runs once for each row, and the answer
// is the column that comes out. Non-linear steps stay honest that way.
package estimate

import (
	"math"
	"slices"
)

// Interval is the share of the draws between Low and High of an Estimate.
const Interval = 0.90

// A Flag is a condition of a number that whoever reads it should know.
type Flag string

// Conditions of a number.
const (
	Modelled     Flag = "modelled"       // a modelled step had a part in it
	Extrapolated Flag = "extrapolated"   // outside the range in which the model holds
	FewReadings  Flag = "few readings"   // fewer than three readings stand behind it
	OnePlace     Flag = "one place only" // every reading comes from one place on the bobbin
)

// Flags is a set of flags in the order in which they were raised.
type Flags []Flag

// With returns the set with f added.
func (fs Flags) With(f ...Flag) Flags {
	out := slices.Clone(fs)
	for _, one := range f {
		if !out.Has(one) {
			out = append(out, one)
		}
	}
	return out
}

// Has reports whether f is in the set.
func (fs Flags) Has(f Flag) bool { return slices.Contains(fs, f) }

// Estimate is a quantity as far as it is known. Value is the median; Low and
// High bound the central 90 % interval; SD is the standard deviation; all four
// are in the base unit of T. N counts the readings behind it.
type Estimate[T ~float64] struct {
	Value, SD, Low, High T
	N                    int
	State                State
	Load                 Load
	Flags                Flags
}

// Measured reports whether no modelled step had a part in the number.
func (e Estimate[T]) Measured() bool { return !e.Flags.Has(Modelled) }

// FromDraws summarises equally likely values. It leaves N, State, Load and
// Flags to the caller. An empty column gives NaN throughout, which
// callers must not show.
func FromDraws[T ~float64](draws []T) Estimate[T] {
	if len(draws) == 0 {
		nan := T(math.NaN())
		return Estimate[T]{Value: nan, SD: nan, Low: nan, High: nan}
	}
	sorted := slices.Clone(draws)
	slices.Sort(sorted)
	return Estimate[T]{
		Value: Quantile(sorted, 0.5),
		SD:    T(math.Sqrt(variance(draws))),
		Low:   Quantile(sorted, (1-Interval)/2),
		High:  Quantile(sorted, (1+Interval)/2),
	}
}

// Quantile returns the p-quantile (0 to 1) of values sorted upwards, with
// straight lines between the values (Hyndman and Fan, The American Statistician
// 50 (1996) 361, definition 5). The slice must not be empty.
func Quantile[T ~float64](sorted []T, p float64) T {
	at := p*float64(len(sorted)) - 0.5
	if at <= 0 {
		return sorted[0]
	}
	i := int(at)
	if i >= len(sorted)-1 {
		return sorted[len(sorted)-1]
	}
	share := T(at - float64(i))
	return sorted[i]*(1-share) + sorted[i+1]*share
}

// variance is the two-pass sample variance; zero for fewer than two values.
func variance[T ~float64](values []T) float64 {
	if len(values) < 2 {
		return 0
	}
	mean := Mean(values)
	var sum, rest float64
	for _, v := range values {
		d := float64(v) - mean
		sum += d * d
		rest += d
	}
	n := float64(len(values))
	return (sum - rest*rest/n) / (n - 1)
}

// Mean returns the arithmetic mean; NaN of nothing.
func Mean[T ~float64](values []T) float64 {
	var sum float64
	for _, v := range values {
		sum += float64(v)
	}
	mean := sum / float64(len(values))
	var rest float64
	for _, v := range values {
		rest += float64(v) - mean
	}
	return mean + rest/float64(len(values))
}

// SD returns the sample standard deviation (divisor n-1), zero for fewer than
// two values. It is the two-pass form, which holds to the digits of the NIST
// StRD summary data sets.
func SD[T ~float64](values []T) float64 { return math.Sqrt(variance(values)) }
