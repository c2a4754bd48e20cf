package estimate

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"
)

// Occasion is one time at which a quantity was seen, on a scale on which it
// varies evenly to both sides, such as the logarithm of a share. SD is how far
// the reading itself may be off, above zero.
type Occasion struct{ Value, SD float64 }

// Next says what the next occasion will bring: what was seen before, together
// with what is usual. low to high, low < high, is where 90 % lies for all people
// and occasions together.
//
// One person's occasions scatter around her own middle. Which part of the usual
// spread is the scatter, and how far she stands outside of what is usual, is not
// known beforehand: both run over a grid, weighted by how well they explain what
// was seen (exchangeable normal model with known variances of the readings;
// Gelman and others, Bayesian Data Analysis, chapter 5). The usual spread has long
// tails, so that many readings outweigh a usual range that does not suit. The interval is of the quantity
// itself, without the error of reading it, and of one occasion, not of their
// mean. With nothing seen it is low to high. SD is that of a normal distribution
// with the same interval.
func Next(low, high float64, seen []Occasion) Estimate[float64] {
	usual := usualGrid()
	middle, spread := (low+high)/2, (high-low)/2/usual.reach
	var m mixture
	for _, k := range usual.nodes {
		for i := range scatterSteps {
			part := (float64(i) + 0.5) / scatterSteps // of the standard deviation
			own := k.at * spread
			n := belief{mean: middle, variance: own * own * (1 - part*part)}
			scatter := own * own * part * part
			fit := n.learn(seen, scatter)
			m = append(m, component{math.Log(k.weight*part) + fit, n.mean, math.Sqrt(n.variance + scatter)})
		}
	}
	m.normalise()
	e := Estimate[float64]{Value: m.quantile(0.5), Low: m.quantile((1 - Interval) / 2), High: m.quantile((1 + Interval) / 2), N: len(seen)}
	e.SD = (e.High - e.Low) / (2 * Reach)
	return e
}

// belief is a normal distribution of a person's middle.
type belief struct{ mean, variance float64 }

// learn updates the belief, one occasion after the other, and returns the
// logarithm of how likely they were, but for a constant.
func (b *belief) learn(seen []Occasion, scatter float64) (fit float64) {
	for _, o := range seen {
		total := b.variance + scatter + o.SD*o.SD
		off := o.Value - b.mean
		fit -= (math.Log(total) + off*off/total) / 2
		gain := b.variance / total
		b.mean += gain * off
		b.variance *= 1 - gain
	}
	return fit
}

// component is one normal distribution of a mixture; weight is a logarithm until
// the mixture is normalised.
type component struct{ weight, mean, sd float64 }

type mixture []component

func (m mixture) normalise() {
	top, sum := math.Inf(-1), 0.0
	for _, c := range m {
		top = max(top, c.weight)
	}
	for i := range m {
		m[i].weight = math.Exp(m[i].weight - top)
		sum += m[i].weight
	}
	for i := range m {
		m[i].weight /= sum
	}
}

// below is the probability of a value under x.
func (m mixture) below(x float64) (p float64) {
	for _, c := range m {
		p += c.weight * distuv.UnitNormal.CDF((x-c.mean)/c.sd)
	}
	return p
}

// quantile finds the value that a share p lies under, by halving.
func (m mixture) quantile(p float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range m {
		low, high = min(low, c.mean-10*c.sd), max(high, c.mean+10*c.sd)
	}
	for range 60 {
		middle := (low + high) / 2
		if m.below(middle) < p {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// The grid over which Next runs. A large part of the usual spread in a person's
// own scatter is taken to be likelier than a small one, in proportion: few
// readings that agree by chance must not promise much. Assumed.
const (
	scatterSteps = 10
	tailSteps    = 16
	tailShare    = 0.15 // of people whose spread is wider than usual
)

// usual is the grid of factors by which a person's spread may be wider than the
// usual one; reach is the half width of its 90 % interval where the spread is 1.
type usual struct {
	nodes []node
	reach float64
}

type node struct{ at, weight float64 }

// usualGrid gives most people the usual spread, and the others factors up to 60,
// the larger the rarer.
var usualGrid = sync.OnceValue(func() usual {
	u := usual{nodes: []node{{1, 1 - tailShare}}}
	m := mixture{{math.Log(1 - tailShare), 0, 1}}
	for i := range tailSteps {
		at := math.Pow(60, float64(i+1)/tailSteps)
		weight := tailShare * math.Exp2(-float64(i)/2) * (1 - math.Sqrt2/2)
		u.nodes = append(u.nodes, node{at, weight})
		m = append(m, component{math.Log(weight), 0, at})
	}
	m.normalise()
	u.reach = m.quantile((1 + Interval) / 2)
	return u
})
