package reading

// strandPeriods are the ways in which n strands can repeat along the yarn: all
// alike, in pairs, or each for itself.
var repeats = [][2]int{{2, 1}, {2, 2}, {3, 1}, {3, 3}, {4, 1}, {4, 2}, {4, 4}}

// explain tries every ply on every candidate lay and returns the fits, best
// first for each number of plies and lay.
func (b *body) explain(plies int) []fitting {
	var out []fitting
	for _, l := range b.lays(6) {
		phase := b.follow(l)
		f := b.newFold(phase, 0, b.cols())
		for _, r := range repeats {
			if plies > 1 && r[0] != plies {
				continue
			}
			if m, ok := f.bestPlaced(r[0], r[1], l.lag > 0); ok {
				m.lay = l
				out = append(out, m)
			}
		}
	}
	return out
}

// bestPlaced fits one guess over a range of widths and places, for the outline
// may hold shadow.
func (f *fold) bestPlaced(n, repeat int, z bool) (best fitting, found bool) {
	for _, scale := range []float64{1, 0.9, 0.8} {
		for side := -1.0; side <= 1; side++ {
			if scale == 1 && side != 0 {
				continue
			}
			if m, ok := f.fit(n, repeat, z, scale, side*(1-scale)); ok && (!found || m.score > best.score) {
				best, found = m, true
			}
		}
	}
	return best, found
}
