package reading

import "math"

// Two or three yarns that lie against each other show no ground between them,
// but the cleft between two yarns runs along them, where the cleft between two
// strands of one yarn crosses it again and again.
const (
	gapRows   = 60   // rows across the cut in which clefts are looked for
	gapWindow = 0.13 // of the spacing of the yarns, to either side of where a cleft must lie
	gapShare  = 0.85 // of the places along the cut that show every cleft
	gapStep   = 0.06 // of the brightness of the yarns: the least cleft
	gapLean   = 0.5  // of the lean on the yarns: the most at a cleft
)

// mostAgainst is the most yarns lying against each other that are told apart by
// the clefts between them.
const mostAgainst = 3

// against cuts out n yarns that lie against each other. It returns nil where no
// clefts run along the cut.
func (c *cut) against(src *source, n int) []*cut {
	if !c.hasClefts(src, n) {
		return nil
	}
	width, middle := c.outline.mean()
	return c.part(src, evenly(n, width, middle))
}

// singlesAgainst reads two or three singles that lie against each other. Two strands of a
// ply look like them as far as they can be followed, but narrow to both ends. What parts
// the fibres of one yarn may run along it as well, but the texture leans most in its middle,
// and is crossed there.
func (c *cut) singlesAgainst(src *source, evidence float64) (finding, []*cut) {
	if c.tapers() {
		return finding{}, nil
	}
	for n := 2; n <= mostAgainst; n++ {
		some := c.against(src, n)
		if len(some) < n || c.crossed(src, n) {
			continue
		}
		if f, long, _ := singlesFibres(src, some, true); long.bearsOut(f) {
			src.seen.found(some)
			return readSingles(src, some, evidence, true), some
		}
	}
	return finding{}, nil
}

// hasClefts reports whether clefts run along the cut as between n yarns, each
// wide enough to be read.
func (c *cut) hasClefts(src *source, n int) bool {
	width, middle := c.outline.mean()
	return width/float64(n) >= leastWidth && c.persistentGaps(src.sampler(c.width/bundleRows), width, middle, n) >= gapShare
}

// crossed reports whether the texture leans at the clefts between n yarns nearly
// as it does on them. Yarns turn their surfaces away there, and what winds about
// them runs along the cleft; the strands of a rope cross its middle as they lean
// anywhere.
func (c *cut) crossed(src *source, n int) bool {
	st := c.finely(src, finestStep)
	if st == nil {
		return false
	}
	luma := st.chan_[0]
	luma.BlurRows(fibreBlur)
	luma.BlurColumns(fibreBlur)
	var all fibreTensor
	for _, t := range c.fibreTensors(st, luma) {
		all.add(&t)
	}
	var cleft, yarn float64
	for g := range 2*n - 1 {
		v := float64(g+1)/float64(n) - 1 // middles of yarns and clefts by turns
		if math.Abs(v) >= fibreRows {
			continue
		}
		lean := math.Abs(all[int((v+fibreRows)/(2*fibreRows)*fibreBins)].slope())
		if g%2 == 0 {
			yarn = math.Max(yarn, lean)
		} else {
			cleft = math.Max(cleft, lean)
		}
	}
	return cleft > gapLean*yarn
}

// persistentGaps returns the share of places along a cut at which all clefts
// between n yarns of equal width show. It is 0 where they do not show in the mean of all
// places: dips that lie elsewhere from place to place are clefts between strands, fibres
// or noise.
func (c *cut) persistentGaps(s *sampler, width, middle float64, n int) float64 {
	a := c.strip.along
	window := int(0.35 * width / float64(n) / a.step)
	hop := max(window, 1)
	var shown, all float64
	var rows, mean [gapRows]float64
	for i := hop / 2; i < a.len(); i += hop {
		for k := range rows {
			across := middle + ((float64(k)+0.5)/gapRows-0.5)*width
			rows[k] = 0
			var m float64
			for j := max(i-window/2, 0); j <= min(i+window/2, a.len()-1); j += max(window/6, 1) {
				x, y := a.at(j, across)
				rows[k] += float64(s.at(0, x, y))
				m++
			}
			rows[k] /= m
			mean[k] += rows[k]
		}
		all++
		if clefts(rows[:], n) {
			shown++
		}
	}
	if !clefts(mean[:], n) {
		return 0
	}
	return shown / math.Max(all, 1)
}

// clefts reports whether a profile across n yarns has a dark cleft between any
// two of them.
func clefts(rows []float64, n int) bool {
	per := float64(len(rows)) / float64(n)
	last := 0
	crest := func(from, to int) (v float64) {
		for _, r := range rows[from:to] {
			v = max(v, r)
		}
		return v
	}
	var at [4]int
	for g := 1; g < n; g++ {
		lo, hi := int(per*(float64(g)-gapWindow)), int(per*(float64(g)+gapWindow))+1
		at[g] = lo
		for k := lo; k < hi; k++ {
			if rows[k] < rows[at[g]] {
				at[g] = k
			}
		}
	}
	at[n] = len(rows)
	for g := 1; g < n; g++ {
		level := min(crest(last, at[g]), crest(at[g], at[g+1]))
		if level-rows[at[g]] < gapStep*level {
			return false
		}
		last = at[g]
	}
	return true
}
