package plan

import (
	"cmp"
	"math"
	"slices"

	"waketwist/cloth"
	"waketwist/estimate"
)

// source is an assumption in words: what it is, and how to know it better.
type source struct{ name, narrow string }

type input struct {
	source
	column []float64
}

// deck deals columns of equally likely values and remembers those with spread.
type deck struct {
	s      *estimate.Sampler
	n      int
	inputs []input
}

func (d *deck) fixed(v float64) []float64 { return slices.Repeat([]float64{v}, d.n) }

func (d *deck) keep(of source, column []float64) []float64 {
	d.inputs = append(d.inputs, input{of, column})
	return column
}

// deal returns a log-normal column of a quantity above zero, 90 % of it within
// the range.
func deal[T ~float64](d *deck, of source, e estimate.Estimate[T]) []float64 {
	if e.Low >= e.High {
		return d.fixed(float64(e.Value))
	}
	return d.keep(of, d.s.LogNormal90(float64(e.Low), float64(e.High)))
}

// loss returns a column of losses: what is left, 1 - loss, is log-normal.
func (d *deck) loss(of source, e estimate.Estimate[cloth.Loss]) []float64 {
	if e.Low >= e.High {
		return d.fixed(float64(e.Value))
	}
	out := d.s.LogNormal90(float64(1-e.High), float64(1-e.Low))
	for i, v := range out {
		out[i] = min(float64(cloth.MostLoss), max(float64(cloth.LeastLoss), 1-v))
	}
	return d.keep(of, out)
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
	for _, in := range d.inputs {
		r := correlation(ranks(in.column), ranked)
		if share := r * r; share >= leastShare {
			out = append(out, Assumption{in.name, share, in.narrow})
		}
	}
	slices.SortStableFunc(out, func(a, b Assumption) int { return cmp.Compare(b.Share, a.Share) })
	return out[:min(mostShown, len(out))]
}

// ranks returns the rank of each value. Equal values, of a total without spread,
// share their mean rank.
func ranks(values []float64) []float64 {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	out := make([]float64, len(values))
	for from := 0; from < len(order); {
		to := from + 1
		for to < len(order) && values[order[to]] == values[order[from]] {
			to++
		}
		for _, i := range order[from:to] {
			out[i] = float64(from+to-1) / 2
		}
		from = to
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
