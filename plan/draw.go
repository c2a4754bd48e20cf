package plan

import (
	"cmp"
	"math"
	"slices"

	"waketwist/estimate"
)

// input is a column that was dealt with spread.
type input struct {
	q      quantity
	column []float64
	ranked []float64 // nil until it is asked for
}

// deck deals columns of equally likely values and remembers those with spread.
type deck struct {
	s      *estimate.Sampler
	n      int
	inputs []input
}

// deal returns a column of a quantity, 90 % of it within the range: a loss as
// log-normal in what it leaves, all else log-normal. A range from nothing upwards
// is even. No draw goes beyond what a quantity can be.
func (d *deck) deal(q quantity, e estimate.Estimate[float64]) []float64 {
	if e.Low >= e.High {
		return slices.Repeat([]float64{e.Value}, d.n)
	}
	k := items[q].kind
	var out []float64
	switch {
	case k.loss:
		out = d.s.LogNormal90(1-e.High, 1-e.Low)
		for i, v := range out {
			out[i] = max(k.least, 1-v)
		}
	case e.Low > 0:
		out = d.s.LogNormal90(e.Low, e.High)
	default:
		out = d.s.Uniform(e.Low, e.High)
	}
	for i, v := range out {
		out[i] = min(v, k.most)
	}
	d.inputs = append(d.inputs, input{q: q, column: out})
	return out
}

// Assumption is one input that makes a total wide.
type Assumption struct {
	Name   string
	Share  float64 // of the total's variance, 0 to 1
	Narrow string  // how to know it better
}

const (
	mostShown  = 3
	leastShare = 0.03
)

// blame returns the assumptions that make most of a total's variance, largest
// first: the squared rank correlations, which add up to 1 where the columns act
// independently and each in one direction.
func (d *deck) blame(total []float64) []Assumption {
	var out []Assumption
	ranked := ranks(total)
	for i := range d.inputs {
		in := &d.inputs[i]
		it := items[in.q]
		if it.narrow == "" {
			continue
		}
		if in.ranked == nil {
			in.ranked = ranks(in.column)
		}
		r := correlation(in.ranked, ranked)
		if share := r * r; share >= leastShare {
			out = append(out, Assumption{it.name, share, it.narrow})
		}
	}
	slices.SortStableFunc(out, func(a, b Assumption) int { return cmp.Compare(b.Share, a.Share) })
	return out[:min(mostShown, len(out))]
}

// ranks returns the rank of each value. Equal values, of a total without spread,
// share their mean rank.
func ranks(values []float64) []float64 {
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	out := make([]float64, len(values))
	for i, v := range values {
		from, _ := slices.BinarySearch(sorted, v)
		to, _ := slices.BinarySearch(sorted, math.Nextafter(v, math.Inf(1)))
		out[i] = float64(from+to-1) / 2
	}
	return out
}

// correlation is Pearson's, and 0 where a column has no spread.
func correlation(a, b []float64) float64 {
	ma, mb := estimate.Mean(a), estimate.Mean(b)
	var ab, aa, bb float64
	for i := range a {
		x, y := a[i]-ma, b[i]-mb
		ab, aa, bb = ab+x*y, aa+x*x, bb+y*y
	}
	if aa == 0 || bb == 0 {
		return 0
	}
	return ab / math.Sqrt(aa*bb)
}
