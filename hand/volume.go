package hand

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// The most likely point of all parameters together is not the most likely point
// of the shared ones: where wool is stiff, a ply-back tells less of its singles,
// more turns would do as well, and all of these count. The pull of that volume on
// the shared parameters is the slope of half the log determinant of each block,
// its own parameters following (Tierney and Kadane, J. Amer. Statist. Assoc. 81
// (1986) 82).

// volume is the slope of the blocks' half log determinants along the shared
// parameters, from a system that is factored where the fitter stands.
func (f *fitter) volume(s *system) []float64 {
	const h = 1e-3
	out := make([]float64, f.globals)
	mine := make([][]term, len(f.locals))
	for _, t := range f.terms {
		mine[t.block] = append(mine[t.block], t)
	}
	for block, terms := range mine {
		weights := make([]float64, len(terms))
		used := make([]bool, f.globals)
		for i, t := range terms {
			r, slope := f.look(t, f.global, f.locals[block])
			weights[i] = weight(r)
			for j, v := range slope.global {
				used[j] = used[j] || v != 0
			}
		}
		for i, in := range used {
			if in {
				up, down := f.halfLogDet(s, block, terms, weights, i, h), f.halfLogDet(s, block, terms, weights, i, -h)
				out[i] += (up - down) / (2 * h)
			}
		}
	}
	return out
}

// halfLogDet is half the log determinant of a block with one shared parameter
// moved and the block's own following.
func (f *fitter) halfLogDet(s *system, block int, terms []term, weights []float64, moved int, by float64) float64 {
	b := s.blocks[block]
	n := b.own.SymmetricDim()
	local := make([]float64, n)
	for j := range local {
		local[j] = f.locals[block][j] - by*b.back.At(j, moved)
	}
	f.global[moved] += by
	own := identity(n)
	for i, t := range terms {
		_, slope := f.look(t, f.global, local)
		w := weights[i] / square(t.sd*f.scales[t.scale])
		for r, v := range slope.local {
			for c := r; c < n; c++ {
				own.SetSym(r, c, own.At(r, c)+w*v*slope.local[c])
			}
		}
	}
	f.global[moved] -= by
	return logDet(own) / 2
}

// logDet is the log determinant of a positive matrix, which it uses up.
func logDet(m *mat.SymDense) (sum float64) {
	n := m.SymmetricDim()
	for i := range n {
		pivot := m.At(i, i)
		sum += math.Log(pivot)
		for r := i + 1; r < n; r++ {
			by := m.At(i, r) / pivot
			for c := r; c < n; c++ {
				m.SetSym(r, c, m.At(r, c)-by*m.At(i, c))
			}
		}
	}
	return sum
}
