package reading

import (
	"cmp"
	"slices"
)

// laysTried is how many candidate lays are followed and folded.
const laysTried = 5

// kinds are the plies tried. n strands can repeat along the yarn all alike, in
// pairs, or each for itself, and be round or flat.
var kinds = []kind{
	{2, 1, round}, {2, 2, round}, {3, 1, round}, {3, 3, round}, {4, 1, round}, {4, 2, round}, {4, 4, round},
	{2, 1, flat}, {2, 2, flat}, {3, 1, flat}, {3, 3, flat}, {4, 1, flat}, {4, 2, flat}, {4, 4, flat},
}

// A kind of ply: how many strands, how many of them pass in one period of the
// pattern, and their form.
type kind struct {
	n, repeat int
	form      form
}

// A trace is a lay followed along a body.
type trace struct {
	phase, strength []float64
	fold            *fold
}

// explain tries every ply on every candidate lay and returns the best fit of
// each kind and direction, best first.
func (b *body) explain(plies int) []fitting {
	best := map[solutionKey]fitting{}
	var tries []func() []fitting
	for _, seen := range b.seenAs() {
		for _, l := range seen.lays(laysTried) {
			tries = append(tries, func() []fitting { return seen.tryLay(l, plies) })
		}
	}
	fits := make([][]fitting, len(tries))
	abreast(len(tries), func(i int) { fits[i] = tries[i]() })
	for _, some := range fits {
		for _, m := range some {
			if m.score > best[m.key()].score {
				best[m.key()] = m
			}
		}
	}
	var out []fitting
	for _, m := range best {
		out = append(out, m)
	}
	slices.SortFunc(out, func(x, y fitting) int {
		return cmp.Or(cmp.Compare(y.score, x.score), x.key().compare(y.key()))
	})
	return out
}

// tryLay fits every kind of ply to one lay.
func (b *body) tryLay(l lay, plies int) (out []fitting) {
	t := &trace{}
	t.phase, t.strength = b.follow(l)
	t.fold = b.newFold(t.phase, 0, b.cols())
	if b.shade && t.fold.periods < fewPeriods {
		return nil
	}
	for _, k := range kinds {
		if plies > 1 && k.n != plies {
			continue
		}
		if m, ok := t.fold.bestPlaced(k, l.lag > 0); ok {
			m.lay, m.trace = l, t
			out = append(out, m)
		}
	}
	return out
}

// A solutionKey identifies an explanation, whatever its size and place.
type solutionKey struct {
	kind
	z bool
}

func (m fitting) key() solutionKey {
	return solutionKey{kind{m.guess.ply.n, m.guess.repeat, m.guess.ply.form}, m.guess.z}
}

// compare orders keys.
func (k solutionKey) compare(o solutionKey) int {
	lay := 0
	if k.z != o.z {
		lay = 1
		if o.z {
			lay = -1
		}
	}
	return cmp.Or(cmp.Compare(k.n, o.n), cmp.Compare(k.repeat, o.repeat), cmp.Compare(k.form, o.form), lay)
}

// placings are the scales tried at first, with the share of the difference by
// which the yarn may lie to either side: the outline may hold shadow, and the
// slot of a yarn in a bundle is wider than the yarn.
var placings = []struct{ scale, side float64 }{
	{1.06, 0}, {1, 0}, {0.92, 0}, {0.84, 0}, {0.92, 1}, {0.92, -1}, {0.84, 1}, {0.84, -1},
}

// leastFlat is the least scale of flat strands: narrower ones pass for round
// strands that turn away at the edges.
const leastFlat = 0.92

// bestPlaced fits one guess over a range of widths and places.
func (f *fold) bestPlaced(k kind, z bool) (best fitting, found bool) {
	for _, p := range placings {
		if k.form == flat && p.scale < leastFlat {
			continue
		}
		m, ok := f.fit(k, z, p.scale, p.side*(1-p.scale))
		if ok && (!found || m.score > best.score) {
			best, found = m, true
		}
	}
	return best, found
}
