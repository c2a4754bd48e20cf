package reading

import (
	"math"

	"waketwist/raster"
)

// Borders between strands, and strands that shine, cross the yarn along arcs:
// a helix seen from the side runs as asin v along the axis, v across in half
// widths. Where no whole lay can be followed, the rows across are still laid
// over each other along such arcs: at the right lean they show the same, at the
// mirrored one they do not, which is the control.
const (
	arcReach    = 0.85 // half widths to either side of the middle that are laid over each other
	leastArc    = 8    // degrees at the middle of the yarn
	mostArc     = 60
	arcStep     = 2
	arcAngles   = (mostArc-leastArc)/arcStep + 1
	arcWindow   = colsPerBody // columns that are judged for themselves
	arcSlow     = 1.2         // widths over which what changes is not of single strands
	arcLoudest  = 2.5         // standard deviations that one place may count for: glints are brighter
	arcCovered  = 0.7         // share of the rows that must be in view
	beyondFrom  = 1.1         // half widths from the middle where the ground is looked at
	beyondShift = 4           // columns by which what goes on there may be shifted
)

// A borderLean is how the borders between strands lean.
type borderLean struct {
	angle     float64    // degrees at the middle of the yarn, positive for Z
	peak      float64    // its size where the share would be greatest, between those that were tried
	low, high float64    // of its size: as good but for chance
	share     float64    // of what varies, that is alike along the arcs
	mirror    float64    // the most of it along arcs of the other lean
	sure      [3]float64 // the first less what is alike along its own mirror, over its standard error: whole, either half
	windows   int
	beyond    float64 // correlation with what would go on outside the yarn, on the side where it is less
}

// borders is the lean along which rows repeat best, looked for once.
func (b *body) borders() borderLean {
	if b.lean == nil {
		l := b.findBorders()
		b.lean = &l
	}
	return *b.lean
}

func (b *body) findBorders() borderLean { return commonBorders([]*body{b}) }

// commonBorders is the lean along which the rows of several yarns repeat best.
func commonBorders(of []*body) borderLean {
	var by [2][arcAngles]stack
	flat := make([]flatBody, len(of))
	for i, b := range of {
		flat[i] = b.equalised()
		for s := range by {
			for k := range by[s] {
				by[s][k].join(flat[i].stacked(arcTangent(s, k), -arcReach, arcReach))
			}
		}
	}
	l, side, at := borderLean{}, 0, 0
	for s := range by {
		for k := range by[s] {
			if v := by[s][k].share(); v > l.share {
				l.share, side, at = v, s, k
			}
		}
	}
	for k := range by[1-side] {
		l.mirror = max(l.mirror, by[1-side][k].share())
	}
	l.angle = float64(2*side-1) * (leastArc + arcStep*float64(at))
	l.peak = math.Abs(l.angle) + arcStep*crest(&by[side], at)
	l.low, l.high = asGood(&by[side], at)
	l.sure[0], l.windows = by[side][at].over(by[1-side][at])
	tan := arcTangent(side, at)
	var half [2][2]stack
	for _, e := range flat {
		for h, from := range [2]float64{-arcReach, 0} {
			half[h][0].join(e.stacked(tan, from, from+arcReach))
			half[h][1].join(e.stacked(-tan, from, from+arcReach))
		}
		l.beyond += min(e.beyond(tan, -1), e.beyond(tan, 1)) / float64(len(flat))
	}
	for h := range half {
		l.sure[1+h], _ = half[h][0].over(half[h][1])
	}
	return l
}

// crest is by how many steps the share would be greatest beside the best angle.
func crest(by *[arcAngles]stack, best int) float64 {
	if best == 0 || best == arcAngles-1 {
		return 0
	}
	below, is, above := by[best-1].share(), by[best].share(), by[best+1].share()
	return (above - below) / 2 / max(2*is-above-below, 1e-9)
}

// arcTangent is the tangent of the k-th angle to one side: 0 for S, 1 for Z.
func arcTangent(side, k int) float64 {
	return float64(2*side-1) * math.Tan((leastArc+arcStep*float64(k))*math.Pi/180)
}

// asGood is the range of angles about the best that are behind it by no more than
// chance, in degrees.
func asGood(by *[arcAngles]stack, best int) (low, high float64) {
	lo, hi := best, best
	behind := func(k int) bool {
		t, _ := by[best].over(by[k])
		return t > nineInTen
	}
	for lo > 0 && !behind(lo-1) {
		lo--
	}
	for hi < arcAngles-1 && !behind(hi+1) {
		hi++
	}
	return leastArc + arcStep*float64(lo), leastArc + arcStep*float64(hi)
}

// A flatBody is the main layer of a body without slow changes, at equal contrast
// all along.
type flatBody struct{ *raster.Field }

func (b *body) equalised() flatBody {
	f, slow := b.main.Clone(), b.main.Clone()
	slow.BlurRows(arcSlow * colsPerBody)
	loud, rows := make([]float64, f.W), 0.0
	for j := range bodyRows {
		row, base := f.Row(j), slow.Row(j)
		within := math.Abs(rowAcross(j)) <= 1
		if within {
			rows++
		}
		for i := range row {
			row[i] -= base[i]
			if within {
				loud[i] += float64(row[i] * row[i])
			}
		}
	}
	loud = smooth(loud, nil, 2*colsPerBody)
	for j := range bodyRows {
		row := f.Row(j)
		for i, v := range row {
			sd := math.Sqrt(max(loud[i], 1e-6) / rows)
			row[i] = float32(min(max(float64(v)/sd, -arcLoudest), arcLoudest))
		}
	}
	return flatBody{f}
}

// A stack is rows laid over each other: the square of their mean at each
// column, and the mean of their squares; both 0 where too few rows are in view.
type stack struct{ mean, all []float64 }

// join sets another stack behind one.
func (s *stack) join(o stack) {
	s.mean, s.all = append(s.mean, o.mean...), append(s.all, o.all...)
}

// stacked lays the rows between two places across over each other along arcs
// of a tangent at the middle. Beyond the yarn the arcs go on as straight lines.
func (e flatBody) stacked(tan, from, to float64) stack {
	sum, rows := e.sums(tan, from, to)
	s := stack{make([]float64, e.W), make([]float64, e.W)}
	for i, c := range sum {
		if c.n >= arcCovered*rows {
			m := c.v / c.n
			s.mean[i], s.all[i] = m*m, c.vv/c.n
		}
	}
	return s
}

// columnSum holds sums of the values and of their squares over n rows.
type columnSum struct{ v, vv, n float64 }

func (e flatBody) sums(tan, from, to float64) (sum []columnSum, rows float64) {
	sum = make([]columnSum, e.W)
	for j := range bodyRows {
		v := rowAcross(j)
		if v < from || v > to {
			continue
		}
		rows++
		shift := v
		if math.Abs(v) < 1 {
			shift = math.Asin(v)
		}
		shift *= colsPerBody / 2 / tan
		row, whole := e.Row(j), int(math.Floor(shift))
		part := float32(shift - float64(whole))
		for i := max(-whole, 0); i < min(e.W-1-whole, e.W); i++ {
			x := float64(row[i+whole] + part*(row[i+whole+1]-row[i+whole]))
			c := &sum[i]
			c.v, c.vv, c.n = c.v+x, c.vv+x*x, c.n+1
		}
	}
	return sum, rows
}

// share is how much of what varies is alike in all rows.
func (s stack) share() float64 {
	var mean, all float64
	for i := range s.mean {
		mean += s.mean[i]
		all += s.all[i]
	}
	return mean / max(all, 1e-9)
}

// over is by how many standard errors more is alike in one stack than in another,
// from windows of about a width each.
func (s stack) over(o stack) (t float64, windows int) {
	var sum, sum2, n float64
	first := len(s.mean) % arcWindow / 2 // as much is left over at either end
	for at := first; at+arcWindow <= len(s.mean); at += arcWindow {
		var d, seen float64
		for i := at; i < at+arcWindow; i++ {
			if s.all[i] > 0 && o.all[i] > 0 {
				d += s.mean[i] - o.mean[i]
				seen++
			}
		}
		if 2*seen > arcWindow {
			d /= seen
			sum, sum2, n = sum+d, sum2+d*d, n+1
		}
	}
	if n < 2 {
		return 0, int(n)
	}
	mean := sum / n
	variance := max(sum2/n-mean*mean, 1e-9) * n / (n - 1)
	return mean / math.Sqrt(variance/n), int(n)
}

// beyond is how far what leans in one half of the yarn (-1 or 1) goes on outside
// of it, as stripes of the ground do.
func (e flatBody) beyond(tan, side float64) float64 {
	between := func(a, b float64) []columnSum {
		sum, _ := e.sums(tan, min(side*a, side*b), max(side*a, side*b))
		return sum
	}
	in, out := between(0, arcReach), between(beyondFrom, bodyReach)
	best := 0.0
	for lag := -beyondShift; lag <= beyondShift; lag++ {
		var xy, xx, yy float64
		for i := max(-lag, 0); i < min(len(in)-lag, len(in)); i++ {
			x, y := in[i].v, out[i+lag].v
			xy, xx, yy = xy+x*y, xx+x*x, yy+y*y
		}
		best = max(best, xy/math.Sqrt(max(xx*yy, 1e-9)))
	}
	return best
}
