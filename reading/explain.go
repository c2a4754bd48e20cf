package reading

import (
	"cmp"
	"slices"
)

// laysTried is how many candidate lays are followed and folded.
const laysTried = 5

// repeats are the ways in which n strands can repeat along the yarn: all
// alike, in pairs, or each for itself.
var repeats = []kind{{2, 1}, {2, 2}, {3, 1}, {3, 3}, {4, 1}, {4, 2}, {4, 4}}

// A kind of ply: how many strands, and how many of them pass in one period of
// the pattern.
type kind struct{ n, repeat int }

// A trace is a lay followed along a body.
type trace struct {
	phase, strength []float64
	fold            *fold
}

// explain tries every ply on every candidate lay and returns the best fit of
// each kind and direction, best first.
func (b *body) explain(plies int) []fitting {
	best := map[[3]int]fitting{}
	for _, l := range b.lays(laysTried) {
		t := &trace{}
		t.phase, t.strength = b.follow(l)
		t.fold = b.newFold(t.phase, 0, b.cols())
		for _, k := range repeats {
			if plies > 1 && k.n != plies {
				continue
			}
			m, ok := t.fold.bestPlaced(k, l.lag > 0)
			if !ok {
				continue
			}
			m.lay, m.trace = l, t
			if key := m.key(); m.score > best[key].score {
				best[key] = m
			}
		}
	}
	var out []fitting
	for _, m := range best {
		out = append(out, m)
	}
	slices.SortFunc(out, func(x, y fitting) int {
		return cmp.Or(cmp.Compare(y.score, x.score), slices.Compare(keySlice(x), keySlice(y)))
	})
	return out
}

// key identifies the explanation, whatever its size and place.
func (m fitting) key() [3]int {
	z := 0
	if m.guess.z {
		z = 1
	}
	return [3]int{m.guess.ply.n, m.guess.repeat, z}
}

func keySlice(m fitting) []int { k := m.key(); return k[:] }

// placings are the scales tried at first, with the share of the difference by
// which the yarn may lie to either side: the outline may hold shadow, and the
// slot of a yarn in a bundle is wider than the yarn.
var placings = []struct{ scale, side float64 }{
	{1.06, 0}, {1, 0}, {0.92, 0}, {0.84, 0}, {0.92, 1}, {0.92, -1}, {0.84, 1}, {0.84, -1},
}

// bestPlaced fits one guess over a range of widths and places.
func (f *fold) bestPlaced(k kind, z bool) (best fitting, found bool) {
	for _, p := range placings {
		m, ok := f.fit(k.n, k.repeat, z, p.scale, p.side*(1-p.scale))
		if ok && (!found || m.score > best.score) {
			best, found = m, true
		}
	}
	return best, found
}
