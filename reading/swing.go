package reading

import (
	"math"

	"waketwist/raster"
)

const (
	swingPatch = 0.04 // standard deviation of the blur over which a lean is taken, in widths
	swingQuiet = 0.3  // of the mean energy of the texture, which tells as much as no swing
)

// swing is the lean along which the fibres' own lean changes to and fro: on singles
// it does so by chance, on a rope from border to border.
func (c *cut) swing(src *source, f fibreLay) borderLean {
	st, luma := c.fineTexture(src, fibreBlur, fibreDetail)
	if st == nil {
		return borderLean{}
	}
	gx, gy := luma.Gradient()
	cos, sin := gx, gy // of twice the gradient's angle, times its energy
	for i, x := range gx.Pix {
		y := gy.Pix[i]
		cos.Pix[i], sin.Pix[i], luma.Pix[i] = x*x-y*y, 2*x*y, x*x+y*y
	}
	for _, p := range [3]*raster.Field{cos, sin, luma} {
		p.BlurRows(swingPatch * c.width / st.step)
		p.BlurColumns(swingPatch * c.width / st.step)
	}
	b := c.body()
	out := &body{main: raster.NewField(b.cols(), bodyRows)}
	for i, place := range b.place {
		z := place / c.strip.along.step
		mid, half := between(b.mid, z), between(b.wide, z)/2
		for j := range bodyRows {
			v := rowAcross(j)
			x, y := place/st.step, (mid+v*half+st.reach)/st.step
			s, c := math.Sincos(2 * math.Atan(math.Tan(f.angle)*math.Sqrt(max(1-v*v, 0))))
			turned := float64(cos.At(x, y))*s - float64(sin.At(x, y))*c
			out.main.Pix[j*b.cols()+i] = float32(turned / (float64(luma.At(x, y)) + swingQuiet*f.energy))
		}
	}
	return out.findBorders()
}

// What passes along the borders of a rope comes round again five times and more in a
// turn. On singles a stripe does so once or twice, and fibres never do.
const (
	strandsRound = 1.3 // correlation times root of the repeats in view: singles come to 1.06
	mostOfTurn   = 3.0 // repeats in a turn, at least
	leastRound   = 4.0 // in view
)

// comesRound is how far what is seen along the borders is like itself one repeat and
// two repeats further on, times the root of how often that was seen; 0 where no repeat
// is short enough for a rope.
func (b *body) comesRound() float64 {
	l := b.borders()
	seen := b.equalised().profile(tanDegrees(l.angle))
	first, n := 1, len(seen)
	for first < n/2 && likeness(seen, first) > 0 {
		first++
	}
	most := math.Pi * colsPerBody / tanDegrees(math.Abs(l.angle)) / mostOfTurn
	best, at := 0.0, 0
	for lag := first; lag < n/leastRound && float64(lag) <= most; lag++ {
		if a := likeness(seen, lag); a > best {
			best, at = a, lag
		}
	}
	if at == 0 {
		return 0
	}
	twice := 0.0
	for lag := 2*at - at/6; lag <= 2*at+at/6; lag++ {
		twice = max(twice, likeness(seen, lag))
	}
	return min(best, twice) * math.Sqrt(float64(n)/float64(at)-1)
}

// profile is the mean along arcs of a tangent, less its own mean, where enough rows
// are in view.
func (e flatBody) profile(tan float64) (out []float64) {
	sum, rows := e.sums(tan, -arcReach, arcReach)
	var mean float64
	for _, c := range sum {
		if c.n >= arcCovered*rows {
			out = append(out, c.v/c.n)
			mean += c.v / c.n
		}
	}
	for i := range out {
		out[i] -= mean / float64(len(out))
	}
	return out
}

// likeness is the correlation of a profile with itself some columns further on.
func likeness(v []float64, lag int) float64 {
	var sum, all float64
	for i, x := range v {
		all += x * x
		if i+lag < len(v) {
			sum += x * v[i+lag]
		}
	}
	n := float64(len(v))
	return sum / (n - float64(lag)) * n / max(all, 1e-9)
}
