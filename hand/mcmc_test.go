package hand

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/samplemv"

	"waketwist/estimate"
	"waketwist/rest"
)

// chain is the posterior without Laplace's shortcut, the scatters held.
type chain struct{ f *fitter }

func (c chain) LogProb(x []float64) float64 {
	global, locals := c.split(x)
	return -c.f.objective(global, locals)
}

func (c chain) split(x []float64) (global []float64, locals [][]float64) {
	global, x = x[:c.f.globals], x[c.f.globals:]
	for _, n := range c.f.sizes {
		locals = append(locals, x[:n])
		x = x[n:]
	}
	return global, locals
}

// proposal is the covariance that the Laplace posterior has for all parameters.
func proposal(p *Posterior) *mat.SymDense {
	f := p.fitter
	var along []direction
	zero := func(block int) point {
		s := point{global: make([]float64, f.globals)}
		if block >= 0 {
			s.local = make([]float64, f.sizes[block])
		}
		return s
	}
	for i := range f.globals {
		s := zero(-1)
		s.global[i] = 1
		along = append(along, p.system.along(-1, s))
	}
	for block, n := range f.sizes {
		for i := range n {
			s := zero(block)
			s.local[i] = 1
			along = append(along, p.system.along(block, s))
		}
	}
	c := mat.NewSymDense(len(along), nil)
	for i := range along {
		for j := range i + 1 {
			c.SetSym(i, j, p.system.covariance(along[i], along[j])*2.4*2.4/float64(len(along)))
		}
	}
	return c
}

// smallRecord is two bobbins and a photograph or two: little enough that the
// posterior leans on its priors.
func smallRecord() Record {
	return Record{Bobbins: []Bobbin{
		{ID: "a", Fibre: "wool", Clips: []Clip{
			{State: estimate.Rested, Age: 4 * day, Room: rest.Steady(55), Place: "x", Readings: photo(21)},
			{State: estimate.Rewet, Place: "x", Soak: 25, Readings: photo(35, 36)},
		}},
		{ID: "b", Fibre: "wool", Clips: []Clip{
			{State: estimate.Rested, Age: 10 * day, Room: rest.Steady(55), Place: "x", Readings: eye(18)},
			{State: estimate.Rewet, Place: "x", Soak: 25, Readings: eye(37, 38, 36)},
		}},
	}}
}

// A long Metropolis-Hastings chain over the full posterior agrees with Laplace's
// method: means within 0.45 of a standard deviation (log k is skewed, its mean
// lies off its peak), standard deviations within 30 %. It checks the curvature
// and the pull of the volume together.
func TestLaplaceAgreesWithMetropolisHastings(t *testing.T) {
	p := mustFit(t, smallRecord())
	f := p.fitter
	f.pull = make([]float64, f.globals) // the chain has the volume by itself
	start := append([]float64{}, f.global...)
	for _, l := range f.locals {
		start = append(start, l...)
	}
	src := rand.NewPCG(1, 2)
	step, ok := samplemv.NewProposalNormal(proposal(p), src)
	if !ok {
		t.Fatal("the Laplace covariance is not positive")
	}
	mh := samplemv.MetropolisHastingser{Initial: start, Target: chain{f}, Proposal: step, Src: src, BurnIn: 5000, Rate: 20}
	batch := mat.NewDense(8000, len(start), nil)
	mh.Sample(batch)

	asked := map[string]quantity{
		"log k":               p.logStiffness("wool"),
		"border":              p.eye(),
		"log tan of bobbin a": p.wake(0, "wool"),
		"log tan of bobbin b": p.wake(1, "wool"),
		"logit asleep a":      p.asleep(0, "wool", sighting{age: 4 * day, room: rest.Steady(55)}),
		"logit asleep b":      p.asleep(1, "wool", sighting{age: 10 * day, room: rest.Steady(55)}),
		"log10 T":             p.curveOf("wool")[0],
	}
	for name, q := range asked {
		mean, sd := p.spread(q)
		values := make([]float64, 8000)
		for i := range values {
			global, locals := chain{f}.split(batch.RawRowView(i))
			at, slope := point{global: global}, point{global: make([]float64, f.globals)}
			if q.block >= 0 {
				at.local, slope.local = locals[q.block], make([]float64, f.sizes[q.block])
			}
			values[i] = q.value(&f.context, at, slope)
		}
		wantMean, wantSD := stat.MeanStdDev(values, nil)
		t.Logf("%-20s Laplace %.3f ± %.3f, chain %.3f ± %.3f", name, mean, sd, wantMean, wantSD)
		if math.Abs(mean-wantMean) > 0.45*wantSD {
			t.Errorf("%s: mean %.3f, by the chain %.3f ± %.3f", name, mean, wantMean, wantSD)
		}
		if ratio := sd / wantSD; ratio < 0.7 || ratio > 1.3 {
			t.Errorf("%s: standard deviation %.3f, by the chain %.3f", name, sd, wantSD)
		}
	}
}
