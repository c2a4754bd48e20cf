package reading

import (
	"image"
	"math"
	"slices"
)

// tracer follows a band through the picture, bend by bend.
type tracer struct {
	strip *strip
	width int // of the band, in rows
	hop   int // columns per step of the path
	nodes int
	score [][]float64 // score[node][row of the band's middle]
}

// rowsPerWidth is how many rows of the tracing strip a band's width takes.
const rowsPerWidth = 10

// traceBand returns the middle line of the yarn under a band, or nil when
// nothing hangs together there. The second result is the mean contrast along
// it relative to noise.
func traceBand(src *source, b band, m *cueMap) (*axis, float64) {
	step := b.width / rowsPerWidth
	s := src.sampler(step)
	line := straightAcross(m.view, b, step)
	if line == nil {
		return nil, 0
	}
	reach := max(2.2*b.width, 1.2*b.width+0.06*line.length())
	t := &tracer{strip: s.straighten(line, reach, step), width: rowsPerWidth, hop: rowsPerWidth / 2}
	t.fillScores(s, m)
	path := t.bestPath()
	from, to, mean := t.extent(path)
	if to-from < 4 {
		return nil, 0
	}
	return t.axisFrom(path, from, to), mean
}

// straightAcross is the band's line through a view of the picture.
func straightAcross(view image.Rectangle, b band, step float64) *axis {
	sin, cos := math.Sincos(b.dir)
	dx, dy := cos, -sin
	lo, hi := math.Inf(-1), math.Inf(1)
	clip := func(p, d float64, from, to int) {
		if math.Abs(d) < 1e-9 {
			return
		}
		a, c := (float64(from)-p)/d, (float64(to-1)-p)/d
		lo, hi = max(lo, min(a, c)), min(hi, max(a, c))
	}
	clip(b.x, dx, view.Min.X, view.Max.X)
	clip(b.y, dy, view.Min.Y, view.Max.Y)
	if !(hi-lo > 4*step) {
		return nil
	}
	return newAxis([]float64{b.x + lo*dx, b.x + hi*dx}, []float64{b.y + lo*dy, b.y + hi*dy}, step)
}

// fillScores computes for every node and row how far a band centred there
// stands out from both flanks.
func (t *tracer) fillScores(s *sampler, m *cueMap) {
	st := t.strip
	t.nodes = st.cols() / t.hop
	t.score = make([][]float64, t.nodes)
	var run [mapCues][]float64
	for c := range run {
		run[c] = make([]float64, st.rows()+1)
	}
	inside := make([]float64, st.rows()+1)
	for n := range t.nodes {
		t.score[n] = make([]float64, st.rows())
		t.sumColumns(s, m, &run, inside, n)
		for j := range st.rows() {
			t.score[n][j] = t.standOut(&run, inside, j, &m.noise)
		}
	}
}

// sumColumns fills running sums down the rows over the columns near node n.
func (t *tracer) sumColumns(s *sampler, m *cueMap, run *[mapCues][]float64, inside []float64, n int) {
	st := t.strip
	lo, hi := max(n*t.hop-t.width/4, 0), min((n+1)*t.hop+t.width/4, st.cols())
	for j := range st.rows() {
		var sum [mapCues]float64
		var cnt float64
		for i := lo; i < hi; i++ {
			x, y := st.along.at(i, st.across(j))
			if !s.inside(x, y) {
				continue
			}
			cnt++
			at := j*st.cols() + i
			for c := range 3 {
				sum[c] += float64(st.chan_[c].Pix[at])
			}
			sum[4] += float64(m.unlike(st.chan_[0].Pix[at], st.chan_[1].Pix[at], st.chan_[2].Pix[at]))
			sum[3] += st.unsteadiness(i, j)
		}
		inside[j+1] = inside[j] + cnt
		for c := range run {
			run[c][j+1] = run[c][j] + sum[c]
		}
	}
}

// unsteadiness is how far the luma at column i and row j differs from its
// neighbours' along and across, on both sides alike.
func (st *strip) unsteadiness(i, j int) float64 {
	n := st.cols()
	if i == 0 || j == 0 || i == n-1 || j == st.rows()-1 {
		return 0
	}
	p, at := st.chan_[0].Pix, j*n+i
	v := p[at]
	return 0.5 * float64(max(v-p[at-1], p[at-1]-v)+max(v-p[at+1], p[at+1]-v)+max(v-p[at-n], p[at-n]-v)+max(v-p[at+n], p[at+n]-v))
}

// standOut is the contrast of the band centred on row j with its flanks.
func (t *tracer) standOut(run *[mapCues][]float64, inside []float64, j int, noise *[mapCues]float64) float64 {
	a, b := j-t.width/2, j+(t.width+1)/2
	f := t.width * 2 / 3
	lo, hi := max(a-f, 0), min(b+f, len(inside)-1)
	if a < 1 || b > len(inside)-2 {
		return 0
	}
	in := inside[b] - inside[a]
	l, r := inside[a]-inside[lo], inside[hi]-inside[b]
	full := float64(t.hop + t.width/2)
	if in < 0.5*full*float64(t.width) || l < full || r < full {
		return 0
	}
	var s float64
	for c := range run {
		m := (run[c][b] - run[c][a]) / in
		dl := m - (run[c][a]-run[c][lo])/l
		dr := m - (run[c][hi]-run[c][b])/r
		if dl*dr <= 0 {
			continue
		}
		d := min(math.Abs(dl), math.Abs(dr))
		if c == 3 {
			d = math.Log(1+d) * 0.5 * noise[3]
		}
		s += min(d*d/(noise[c]*noise[c]), 60)
	}
	return math.Sqrt(s)
}

// bestPath finds the chain of rows with the greatest total score that does not
// jump by more than a third of the band's width from node to node.
func (t *tracer) bestPath() []int {
	rows := t.strip.rows()
	jump := max(t.hop*2/3, 2)
	total := make([][]float64, t.nodes)
	from := make([][]int, t.nodes)
	for n := range t.nodes {
		total[n], from[n] = make([]float64, rows), make([]int, rows)
		for j := range rows {
			best, arg := math.Inf(-1), j
			for d := -jump; d <= jump && n > 0; d++ {
				if q := j + d; q >= 0 && q < rows {
					if v := total[n-1][q] - 0.15*float64(d*d); v > best {
						best, arg = v, q
					}
				}
			}
			if n == 0 {
				best = 0
			}
			total[n][j], from[n][j] = best+t.score[n][j], arg
		}
	}
	path := make([]int, t.nodes)
	if t.nodes == 0 {
		return path
	}
	last := total[t.nodes-1]
	for j := range last {
		if last[j] > last[path[t.nodes-1]] {
			path[t.nodes-1] = j
		}
	}
	for n := t.nodes - 1; n > 0; n-- {
		path[n-1] = from[n][path[n]]
	}
	return path
}

// extent returns the longest run of nodes along the path where the band
// stands out, bridging gaps of up to two widths, and the mean score there.
func (t *tracer) extent(path []int) (from, to int, mean float64) {
	if len(path) == 0 {
		return 0, 0, 0
	}
	v := make([]float64, len(path))
	for n, j := range path {
		v[n] = t.score[n][j]
	}
	sorted := slices.Clone(v)
	slices.Sort(sorted)
	floor := max(0.4*sorted[len(sorted)*3/4], 0.8)
	bridge := 2 * t.width / t.hop
	start, lastGood := -1, -1
	for n := 0; n <= len(v); n++ {
		good := n < len(v) && v[n] >= floor
		if good && start < 0 {
			start = n
		}
		if good {
			lastGood = n
		}
		if start >= 0 && (n == len(v) || n-lastGood > bridge) {
			if lastGood+1-start > to-from {
				from, to = start, lastGood+1
			}
			start = -1
		}
	}
	for n := from; n < to; n++ {
		mean += v[n] / float64(to-from)
	}
	return from, to, mean
}

// axisFrom turns the path into an axis.
func (t *tracer) axisFrom(path []int, from, to int) *axis {
	rows, weight := make([]float64, len(path)), make([]float64, len(path))
	for n, j := range path {
		rows[n], weight[n] = float64(j), t.score[n][j]
	}
	rows = smooth(rows[from:to], weight[from:to], 3*t.width/t.hop)
	var x, y []float64
	for n := range rows {
		i := min((from+n)*t.hop+t.hop/2, t.strip.cols()-1)
		if n == 0 && from == 0 {
			i = 0
		}
		if n == len(rows)-1 && to == t.nodes {
			i = t.strip.cols() - 1
		}
		// A band of an even number of rows lies half a row before its row.
		px, py := t.strip.along.at(i, (rows[n]-0.5)*t.strip.step-t.strip.reach)
		x, y = append(x, px), append(y, py)
	}
	return newAxis(x, y, t.strip.step)
}
