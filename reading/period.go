package reading

import (
	"cmp"
	"math"
	"slices"
)

// A lay is a pattern that repeats along the yarn and leans: its period in
// columns, and the phase by which it lags per half width across (radians;
// positive where the pattern at larger rows comes later).
type lay struct {
	period float64
	lag    float64
	energy float64
}

const (
	shortestPeriod = 0.3 // in silhouette widths
	longestPeriod  = 11.0
	periodSteps    = 56
	lagStep        = 0.3
	lagSteps       = 30 // to either side
	middleRows     = 0.8
)

// spectrum is the local Fourier transform of each row at one period.
type spectrum struct {
	period float64
	hop    float64 // columns between windows
	first  float64 // column of the first window's middle
	re, im [][]float64
}

// middleOf is the column in the middle of window w.
func (s *spectrum) middleOf(w int) int { return int(math.Round(s.first + float64(w)*s.hop)) }

// transform computes windowed Fourier sums of the rows of the main layer, one
// Gaussian window of 0.9 periods' standard deviation every `hop` periods.
func (b *body) transform(period, hop float64, rows []int) *spectrum {
	n := b.cols()
	s := &spectrum{period: period, hop: hop * period}
	sigma := 0.9 * period
	half := int(2.2 * sigma)
	wr, wi := make([]float64, 2*half+1), make([]float64, 2*half+1)
	var norm float64
	for d := -half; d <= half; d++ {
		g := math.Exp(-0.5 * float64(d*d) / (sigma * sigma))
		sin, cos := math.Sincos(2 * math.Pi * float64(d) / period)
		wr[d+half], wi[d+half] = g*cos, -g*sin
		norm += g
	}
	windows := int(float64(n-1)/s.hop) + 1
	// As much is left over at either end, so that yarn laid the other way round
	// is read alike.
	s.first = (float64(n-1) - float64(windows-1)*s.hop) / 2
	for w := range windows {
		c := s.middleOf(w)
		re, im := make([]float64, len(rows)), make([]float64, len(rows))
		for r, j := range rows {
			row := b.main.Row(j)
			lo, hi := max(c-half, 0), min(c+half, n-1)
			var mean, sr, si, gr, gi, g float64
			for i := lo; i <= hi; i++ {
				v, a, e := float64(row[i]), wr[i-c+half], wi[i-c+half]
				sr += v * a
				si += v * e
				gr += a
				gi += e
				mean += v
				g++
			}
			mean /= max(g, 1)
			re[r], im[r] = (sr-mean*gr)/norm, (si-mean*gi)/norm
		}
		s.re, s.im = append(s.re, re), append(s.im, im)
	}
	return s
}

// middle returns the rows used to look for the lay and their weights.
func middle() (rows []int, weight []float64) {
	for j := 0; j < bodyRows; j += 2 {
		v := rowAcross(j)
		if math.Abs(v) < middleRows {
			c := math.Cos(v / middleRows * math.Pi / 2)
			rows, weight = append(rows, j), append(weight, c*c)
		}
	}
	return rows, weight
}

// lean sums the rows of window w with the phase lag taken out.
func (s *spectrum) lean(w int, rows []int, weight []float64, lag float64) (re, im float64) {
	for r, j := range rows {
		sin, cos := math.Sincos(lag * rowAcross(j))
		re += weight[r] * (s.re[w][r]*cos - s.im[w][r]*sin)
		im += weight[r] * (s.re[w][r]*sin + s.im[w][r]*cos)
	}
	return re, im
}

// loudWindow is how many times the median energy one window may count for, so
// that one odd place does not drown the yarn.
const loudWindow = 4

// leans returns the mean energy for each lag from -lagSteps to lagSteps.
func (s *spectrum) leans(rows []int, weight []float64) []float64 {
	out := make([]float64, 2*lagSteps+1)
	var total float64
	for _, w := range weight {
		total += w
	}
	loud := make([]float64, len(s.re)) // what each window's energy is divided by
	for w := range s.re {
		for r := range rows {
			loud[w] += s.re[w][r]*s.re[w][r] + s.im[w][r]*s.im[w][r]
		}
	}
	limit := loudWindow * median(loud)
	for w, e := range loud {
		loud[w] = max(e/max(limit, 1e-12), 1)
	}
	cosT, sinT := make([]float64, len(rows)), make([]float64, len(rows))
	for l := range out {
		lag := float64(l-lagSteps) * lagStep
		for r, j := range rows {
			s, c := math.Sincos(lag * rowAcross(j))
			cosT[r], sinT[r] = c*weight[r], s*weight[r]
		}
		for w := range s.re {
			var re, im float64
			for r := range rows {
				re += s.re[w][r]*cosT[r] - s.im[w][r]*sinT[r]
				im += s.re[w][r]*sinT[r] + s.im[w][r]*cosT[r]
			}
			out[l] += (re*re + im*im) / loud[w]
		}
		out[l] /= float64(len(s.re)) * total * total
	}
	return out
}

// lays returns candidates for the pattern of the strands, strongest first.
func (b *body) lays(limit int) []lay {
	rows, weight := middle()
	ratio := math.Pow(longestPeriod/shortestPeriod, 1/float64(periodSteps-1))
	longest := min(longestPeriod, 1.3*float64(b.cols())/colsPerBody)
	var found []lay
	best := make([][2]lay, 0, periodSteps) // by lean to either side
	for i := range periodSteps {
		p := shortestPeriod * math.Pow(ratio, float64(i))
		if p > longest {
			break
		}
		period := p * colsPerBody
		e := b.transform(period, 0.75, rows).leans(rows, weight)
		var pair [2]lay
		for side := range 2 {
			for l := 1; l <= lagSteps; l++ {
				k := lagSteps + l*(2*side-1)
				if e[k] > pair[side].energy {
					pair[side] = lay{period: period, lag: float64(k-lagSteps) * lagStep, energy: e[k]}
				}
			}
		}
		best = append(best, pair)
	}
	for i := range best {
		for side := range 2 {
			c := best[i][side]
			if math.Abs(c.lag) < 2*lagStep {
				continue
			}
			if (i == 0 || c.energy >= best[i-1][side].energy) && (i+1 == len(best) || c.energy > best[i+1][side].energy) {
				found = append(found, c)
			}
		}
	}
	slices.SortStableFunc(found, func(x, y lay) int { return cmp.Compare(y.energy, x.energy) })
	return found[:min(len(found), limit)]
}

// follow returns the phase of the lay at each column, in radians, growing
// along the yarn, and its amplitude there.
func (b *body) follow(l lay) (phase, strength []float64) {
	rows, weight := middle()
	s := b.transform(l.period, 1.0/8, rows)
	drift, amp := make([]float64, len(s.re)), make([]float64, len(s.re))
	prev := 0.0
	for w := range s.re {
		re, im := s.lean(w, rows, weight, l.lag)
		p := math.Atan2(im, re) // phase at the window's middle
		amp[w] = math.Hypot(re, im)
		expect := 2 * math.Pi * float64(s.middleOf(w)) / l.period
		drift[w] = prev + math.Remainder(p-expect-prev, 2*math.Pi)
		prev = drift[w]
	}
	drift = smooth(drift, amp, 8)
	phase, strength = make([]float64, b.cols()), make([]float64, b.cols())
	for i := range phase {
		w := min(max((float64(i)-s.first)/s.hop, 0), float64(len(drift)-1))
		k := int(w)
		d, a := drift[k], amp[k]
		if k+1 < len(drift) {
			u := w - float64(k)
			d += u * (drift[k+1] - d)
			a += u * (amp[k+1] - a)
		}
		phase[i] = 2*math.Pi*float64(i)/l.period + d
		strength[i] = a
	}
	return phase, strength
}
