package estimate

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"
)

// Reach is how many standard deviations a central 90 % interval of a normal
// distribution reaches to each side: the 95 % point of the standard one.
const Reach = 1.6448536269514722

// Sampler makes columns of equally likely values. Every column is stratified:
// one value from each of N slices of equal probability, in an order drawn
// from a fixed seed (Latin hypercube; McKay, Beckman and Conover,
// Technometrics 21 (1979) 239). Medians and quantiles of a single column are
// therefore exact, and equal questions get equal answers.
type Sampler struct {
	n   int
	rng *rand.Rand
}

// NewSampler returns a sampler of columns of n values.
func NewSampler(n int, seed uint64) *Sampler {
	return &Sampler{n: n, rng: rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15))}
}

// Uniform returns a column between low and high.
func (s *Sampler) Uniform(low, high float64) []float64 {
	out := make([]float64, s.n)
	for i, slot := range s.rng.Perm(s.n) {
		out[i] = low + (high-low)*(float64(slot)+0.5)/float64(s.n)
	}
	return out
}

// Normal returns a normally distributed column.
func (s *Sampler) Normal(mean, sd float64) []float64 {
	out := s.Uniform(0, 1)
	for i, p := range out {
		out[i] = mean + sd*distuv.UnitNormal.Quantile(p)
	}
	return out
}

// LogNormal returns a column whose logarithm is normal around log(median) with
// standard deviation sigma.
func (s *Sampler) LogNormal(median, sigma float64) []float64 {
	out := s.Normal(math.Log(median), sigma)
	for i, v := range out {
		out[i] = math.Exp(v)
	}
	return out
}

// LogNormal90 returns a log-normal column of which 90 % lies between low and
// high, both positive.
func (s *Sampler) LogNormal90(low, high float64) []float64 {
	return s.LogNormal(math.Sqrt(low*high), math.Log(high/low)/(2*Reach))
}
