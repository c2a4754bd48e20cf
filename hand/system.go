package hand

import (
	"errors"
	"maps"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// system is the matrix of second derivatives of the model at a point: the
// parameters that all share, a block of its own for each bobbin and each skein,
// and what ties each block to the shared ones. No two blocks touch, so it is
// solved block by block (the arrow form; Golub and Van Loan, Matrix
// Computations, 4th ed., section 4.3.8, for bands around it).
type system struct {
	global *mat.SymDense
	force  []float64 // downhill on the shared parameters
	blocks []corner
	shared mat.Cholesky // of what the shared keep once the blocks are taken out
	spread mat.SymDense // its inverse: their covariance
}

// corner is one block of a system.
type corner struct {
	own   *mat.SymDense
	tie   *mat.Dense // own x shared
	force []float64
	chol  mat.Cholesky
	back  *mat.Dense // own^-1 tie
}

// newSystem holds the priors only: each parameter with a spread of one.
func newSystem(l *layout) *system {
	s := &system{global: identity(l.globals), force: make([]float64, l.globals)}
	for _, size := range l.sizes {
		s.blocks = append(s.blocks, corner{own: identity(size), tie: mat.NewDense(size, l.globals, nil), force: make([]float64, size)})
	}
	return s
}

func identity(n int) *mat.SymDense {
	m := mat.NewSymDense(n, nil)
	for i := range n {
		m.SetSym(i, i, 1)
	}
	return m
}

// add counts a term with the given slope, weight and remaining difference.
func (s *system) add(block int, slope point, weight, difference float64) {
	b := &s.blocks[block]
	for i, v := range slope.global {
		if v == 0 {
			continue
		}
		s.force[i] += weight * v * difference
		for j := i; j < len(slope.global); j++ {
			if slope.global[j] != 0 {
				s.global.SetSym(i, j, s.global.At(i, j)+weight*v*slope.global[j])
			}
		}
	}
	for i, v := range slope.local {
		if v == 0 {
			continue
		}
		b.force[i] += weight * v * difference
		for j := i; j < len(slope.local); j++ {
			b.own.SetSym(i, j, b.own.At(i, j)+weight*v*slope.local[j])
		}
		row := b.tie.RawRowView(i)
		for j, g := range slope.global {
			row[j] += weight * v * g
		}
	}
}

var errSingular = errors.New("hand: the parameters cannot be told apart")

// factor takes the system apart, with damping added to every parameter.
func (s *system) factor(damping float64) error {
	n := s.global.SymmetricDim()
	left := damped(s.global, damping)
	for i := range s.blocks {
		b := &s.blocks[i]
		if !b.chol.Factorize(damped(b.own, damping)) {
			return errSingular
		}
		b.back = mat.NewDense(b.own.SymmetricDim(), n, nil)
		if err := b.chol.SolveTo(b.back, b.tie); err != nil {
			return errSingular
		}
		var taken mat.Dense
		taken.Mul(b.tie.T(), b.back)
		for r := range n {
			for c := r; c < n; c++ {
				left.SetSym(r, c, left.At(r, c)-taken.At(r, c))
			}
		}
	}
	if !s.shared.Factorize(left) {
		return errSingular
	}
	return nil
}

func damped(m *mat.SymDense, by float64) *mat.SymDense {
	out := mat.NewSymDense(m.SymmetricDim(), nil)
	out.CopySym(m)
	for i := range m.SymmetricDim() {
		out.SetSym(i, i, out.At(i, i)+by)
	}
	return out
}

// step is the way to the minimum from a factored system.
func (s *system) step() (global []float64, locals [][]float64, err error) {
	rest := mat.NewVecDense(len(s.force), nil)
	rest.CopyVec(mat.NewVecDense(len(s.force), s.force))
	for _, b := range s.blocks {
		var taken mat.VecDense
		taken.MulVec(b.back.T(), mat.NewVecDense(len(b.force), b.force))
		rest.SubVec(rest, &taken)
	}
	var g mat.VecDense
	if err := s.shared.SolveVecTo(&g, rest); err != nil {
		return nil, nil, errSingular
	}
	for _, b := range s.blocks {
		var own, taken mat.VecDense
		if err := b.chol.SolveVecTo(&own, mat.NewVecDense(len(b.force), b.force)); err != nil {
			return nil, nil, errSingular
		}
		taken.MulVec(b.back, &g)
		own.SubVec(&own, &taken)
		locals = append(locals, own.RawVector().Data)
	}
	return g.RawVector().Data, locals, nil
}

// settle prepares a factored system for questions of spread.
func (s *system) settle() error {
	if err := s.shared.InverseTo(&s.spread); err != nil {
		return errSingular
	}
	return nil
}

// direction is a slope with the part that blocks' own parameters play for the
// shared ones already folded in.
type direction struct {
	shared *mat.VecDense
	locals map[int]*mat.VecDense // of each block concerned
}

// along is the direction of a number that hangs on the shared parameters and on
// one block, -1 for none.
func (s *system) along(block int, slope point) direction {
	d := direction{mat.NewVecDense(len(slope.global), slices.Clone(slope.global)), map[int]*mat.VecDense{}}
	if block < 0 || len(slope.local) == 0 {
		return d
	}
	local := mat.NewVecDense(len(slope.local), slices.Clone(slope.local))
	d.locals[block] = local
	var taken mat.VecDense
	taken.MulVec(s.blocks[block].back.T(), local)
	d.shared.SubVec(d.shared, &taken)
	return d
}

// plus is the direction of a sum, the other number counted times.
func (d direction) plus(times float64, other direction) direction {
	out := direction{mat.NewVecDense(d.shared.Len(), nil), maps.Clone(d.locals)}
	out.shared.AddScaledVec(d.shared, times, other.shared)
	for block, local := range other.locals {
		both := mat.NewVecDense(local.Len(), nil)
		both.ScaleVec(times, local)
		if own, ok := out.locals[block]; ok {
			both.AddVec(both, own)
		}
		out.locals[block] = both
	}
	return out
}

// covariance of two numbers with the given directions.
func (s *system) covariance(a, b direction) float64 {
	v := mat.Inner(a.shared, &s.spread, b.shared)
	for block, local := range a.locals {
		other, ok := b.locals[block]
		if !ok {
			continue
		}
		var own mat.VecDense
		if err := s.blocks[block].chol.SolveVecTo(&own, other); err == nil {
			v += mat.Dot(local, &own)
		}
	}
	return v
}

// own is the variance of one parameter of a block.
func (s *system) own(block, at int) float64 {
	slope := point{make([]float64, len(s.force)), make([]float64, len(s.blocks[block].force))}
	slope.local[at] = 1
	d := s.along(block, slope)
	return s.covariance(d, d)
}
