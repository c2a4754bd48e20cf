package hand

import (
	"math"
)

// Student's t with tail degrees of freedom and a scale sqrt((tail+1)/tail) times
// the standard deviation of ordinary readings: a reading in agreement has a
// weight of one, one six standard deviations off an eighth.
const tail = 4.0

// agreement is the mean of weight times squared deviation of ordinary readings:
// by it their scatter is told from weighted ones.
var agreement = disagreement(0, 1)

// disagreement is the mean of weight times squared deviation of a reading that is
// r standard deviations off, give or take spread for what is not known of the
// parameters (Gauss-Hermite quadrature of seven points).
func disagreement(r, spread float64) (mean float64) {
	nodes := [...]float64{0, 1.154405394739968, 2.366759410734541, 3.750439717725742}
	weights := [...]float64{0.457142857142857 / 2, 0.240123178605013, 0.030757123967586, 0.000548268855972}
	for i, z := range nodes {
		for _, at := range []float64{r - z*spread, r + z*spread} {
			mean += weights[i] * weight(at) * at * at
		}
	}
	return mean
}

// weight is the pull of a reading r standard deviations off.
func weight(r float64) float64 { return (tail + 1) / (tail + 1 + r*r) }

// penalty is its part of the negative log posterior.
func penalty(r float64) float64 { return (tail + 1) / 2 * math.Log1p(r*r/(tail+1)) }

// fitter finds the most likely parameters.
type fitter struct {
	context
	terms  []term
	global []float64
	locals [][]float64
	pull   []float64 // of the volume on the shared parameters
	slopes []point   // one for each block, to save allocation
}

func newFitter(r Record) *fitter {
	l := lay(r)
	f := &fitter{context: context{l, startScales()}, terms: terms(r, l), global: make([]float64, l.globals), pull: make([]float64, l.globals)}
	for _, n := range l.sizes {
		f.locals = append(f.locals, make([]float64, n))
		f.slopes = append(f.slopes, point{make([]float64, l.globals), make([]float64, n)})
	}
	return f
}

// look is the difference of a term from its prediction, in standard deviations,
// with the slope of the prediction.
func (f *fitter) look(t term, global, local []float64) (r float64, slope point) {
	slope = f.slopes[t.block]
	clear(slope.global)
	clear(slope.local)
	v := t.predict(&f.context, point{global, local}, slope)
	return (t.observed - v) / (t.sd * f.scales[t.scale]), slope
}

// objective is the negative log posterior, up to a constant.
func (f *fitter) objective(global []float64, locals [][]float64) float64 {
	sum := 0.0
	for _, v := range append([][]float64{global}, locals...) {
		for _, u := range v {
			sum += u * u / 2
		}
	}
	for i, v := range f.pull {
		sum += v * global[i]
	}
	for _, t := range f.terms {
		r, _ := f.look(t, global, locals[t.block])
		sum += penalty(r)
	}
	return sum
}

// system is the model's curvature where the fitter stands.
func (f *fitter) system() *system {
	s := newSystem(f.layout)
	for i, v := range f.global {
		s.force[i] = -v - f.pull[i]
	}
	for i, local := range f.locals {
		for j, v := range local {
			s.blocks[i].force[j] = -v
		}
	}
	for _, t := range f.terms {
		r, slope := f.look(t, f.global, f.locals[t.block])
		sd := t.sd * f.scales[t.scale]
		s.add(t.block, slope, weight(r)/(sd*sd), r*sd)
	}
	return s
}

// Bounds of the search.
const (
	mostSteps  = 60
	mostRounds = 16
	settled    = 0.02 // change of a scatter's logarithm, or in standard deviations, that no answer shows
	widest     = 4.0  // factor by which a scatter may depart from its starting value
	stride     = 1.7  // of the scatters' updates, which run short by themselves
	farthest   = 8.0  // standard deviations of its prior that a parameter may go
)

// climb finds the most likely parameters with the scatters as they are, by
// Levenberg and Marquardt's method with reweighting.
func (f *fitter) climb() error {
	damping := 1e-3
	now := f.objective(f.global, f.locals)
	for range mostSteps {
		s := f.system()
		moved, better, err := f.tryStep(s, &damping, now)
		if err != nil {
			return err
		}
		if moved < 1e-4 || now-better < 1e-7*(1+math.Abs(now)) {
			return nil
		}
		now = better
	}
	return nil
}

// tryStep moves where that helps, with as much damping as it takes; it returns
// how far it went and the objective there.
func (f *fitter) tryStep(s *system, damping *float64, now float64) (moved, then float64, err error) {
	for *damping < 1e9 {
		if err := s.factor(*damping); err != nil {
			return 0, now, err
		}
		dg, dl, err := s.step()
		if err != nil {
			return 0, now, err
		}
		global, locals := sum(f.global, dg), make([][]float64, len(dl))
		for i := range dl {
			locals[i] = sum(f.locals[i], dl[i])
		}
		if then = f.objective(global, locals); then <= now {
			f.global, f.locals = global, locals
			*damping = max(*damping/10, 1e-9)
			return norm(append(dl, dg)...), then, nil
		}
		*damping *= 8
	}
	return 0, now, nil
}

func sum(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = min(max(a[i]+b[i], -farthest), farthest)
	}
	return out
}

// fit climbs and learns the scatters in turn, until these no longer move.
func (f *fitter) fit() (*system, error) {
	var s *system
	for range mostRounds {
		if err := f.climb(); err != nil {
			return nil, err
		}
		s = f.system()
		if err := s.factor(0); err != nil {
			return nil, err
		}
		if err := s.settle(); err != nil {
			return nil, err
		}
		if max(f.rescale(s), f.repull(s)) < settled {
			break
		}
	}
	return s, nil
}

// repull brings the pull of the volume up to where the fitter stands and returns
// how far that moves a parameter at most, in standard deviations of its posterior.
func (f *fitter) repull(s *system) (change float64) {
	for i, v := range f.volume(s) {
		d := v - f.pull[i]
		change = max(change, math.Abs(d)*math.Sqrt(s.spread.At(i, i)))
		f.pull[i] += 0.7 * d
	}
	return change
}

// rescale learns the scatters from what is left over, the uncertainty of the
// parameters counted in (the EM update; Dempster, Laird and Rubin, J. Roy.
// Statist. Soc. B 39 (1977) 1). Each starting value weighs as its pseudo-count.
// It returns the largest change of a logarithm.
func (f *fitter) rescale(s *system) (change float64) {
	squares, count := f.leftovers(s)
	for k := scale(fixed + 1); k < scaleCount; k++ {
		to := math.Sqrt((squares[k] + pseudoCount[k]) / (count[k] + pseudoCount[k]))
		step := math.Log(min(max(to, 1/widest), widest) / f.scales[k])
		change = max(change, math.Abs(step))
		f.scales[k] = min(max(f.scales[k]*math.Exp(stride*step), 1/widest), widest)
	}
	return change
}

// leftovers sums the squares of what each scatter has to account for, in units
// of its starting value, and how many there are.
func (f *fitter) leftovers(s *system) (squares, count [scaleCount]float64) {
	for _, t := range f.terms {
		r, slope := f.look(t, f.global, f.locals[t.block])
		d := s.along(t.block, slope)
		now := f.scales[t.scale]
		known := s.covariance(d, d) / square(t.sd*now)
		squares[t.scale] += disagreement(r, math.Sqrt(max(known, 0))) / agreement * now * now
		count[t.scale]++
	}
	for i, local := range f.locals {
		for j, u := range local {
			k := f.layout.scales[i][j]
			now := f.scales[k]
			squares[k] += (u*u + s.own(i, j)) * now * now
			count[k]++
		}
	}
	return squares, count
}
