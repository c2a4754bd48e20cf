package reading

import (
	"math"

	"waketwist/raster"
)

// outline holds, for each column of a strip, where the yarn ends on either
// side (photo pixels from the axis) and how clear that was (0 to 1).
type outline struct {
	top, bottom []float64
	sure        []float64
}

// evenOutline is an outline of n columns of the same width all along.
func evenOutline(n int, width float64) *outline {
	o := &outline{top: make([]float64, n), bottom: make([]float64, n), sure: make([]float64, n)}
	for i := range n {
		o.top[i], o.bottom[i], o.sure[i] = -width/2, width/2, 1
	}
	return o
}

// widths is the width at each column.
func (o *outline) widths() []float64 {
	out := make([]float64, len(o.top))
	for i := range out {
		out[i] = o.bottom[i] - o.top[i]
	}
	return out
}

// mean returns the mean width and the mean middle, weighted by clarity.
func (o *outline) mean() (width, middle float64) {
	var s float64
	for i, w := range o.sure {
		width += w * (o.bottom[i] - o.top[i])
		middle += w * (o.bottom[i] + o.top[i]) / 2
		s += w
	}
	s = max(s, 1e-9)
	return width / s, middle / s
}

const histBins = 48

// numCues is the number of cues below.
const numCues = 4

// cues of a strip that tell yarn from ground. Colour is divided by lightness,
// so that a shadow changes only the first.
const (
	cueLuma = iota
	cueBlue
	cueRed
	cueTexture
)

// cueFields computes the cues.
func (st *strip) cueFields() *[numCues]*raster.Field {
	var f [numCues]*raster.Field
	f[cueLuma] = st.chan_[0]
	for c := 1; c < 3; c++ {
		g := st.chan_[c].Clone()
		for i, y := range st.chan_[0].Pix {
			g.Pix[i] = tintOf(g.Pix[i], y)
		}
		f[c] = g
	}
	gx, gy := st.chan_[0].Gradient()
	for i, y := range st.chan_[0].Pix {
		g := (max(gx.Pix[i], -gx.Pix[i]) + max(gy.Pix[i], -gy.Pix[i])) / (y + 24)
		gx.Pix[i] = logOf(0.01 + g)
	}
	gx.BlurRows(3)
	gx.BlurColumns(0.7)
	f[cueTexture] = gx
	return &f
}

// tintOf is chroma relative to lightness, which light and shade leave as it is,
// on about the scale of chroma.
func tintOf(chroma, luma float32) float32 { return (chroma - 128) / (luma + tintFloor) * 160 }

// tintFloor is added to lightness, in levels, so that the noise of dark places is
// no tint.
const tintFloor = 24

// logOf is the natural logarithm of a positive number to about 0.01: the
// exponent and a parabola through the mantissa.
func logOf(v float32) float32 {
	bits := math.Float32bits(v)
	exponent := float32(int(bits>>23) - 127)
	m := math.Float32frombits(bits&0x7fffff | 0x3f800000)
	return (exponent - 1.6741 + m*(2.0124-0.3383*m)) * math.Ln2
}

// histogram of one cue for one class, as log probabilities.
type histogram [histBins]float64

// classes holds what yarn and ground look like along one strip.
type classes struct {
	lo, scale    [numCues]float64
	yarn, ground [numCues]histogram
	shade        histogram // luma of the ground where a shadow falls
	// Between these bins of luma, ground may lie in shadow: darkness alone
	// does not speak for yarn.
	night, dusk int
}

// A region says of a place across whether it is surely yarn, surely ground, or
// neither. Across is in photo pixels from the strip's axis.
type region func(across float64) (yarn, ground bool)

// around is yarn within `core` of the axis and ground beyond `far`.
func around(core, far float64) region {
	return func(across float64) (yarn, ground bool) {
		d := math.Abs(across)
		return d <= core, d >= far
	}
}

// learn builds the classes from what lies in the regions.
func learn(st *strip, cues *[numCues]*raster.Field, in region) *classes {
	l := &classes{}
	for c, f := range cues {
		l.setRange(c, f)
		var yarn, ground histogram
		for j := range f.H {
			isYarn, isGround := in(st.across(j))
			h := &yarn
			switch {
			case isGround:
				h = &ground
			case !isYarn:
				continue
			}
			for _, v := range st.row(f, j) {
				h[l.bin(c, v)]++
			}
		}
		if c == cueLuma {
			l.shade = shaded(&ground, l.lo[c], l.scale[c])
			l.setShadow(&ground)
		}
		l.yarn[c], l.ground[c] = yarn.logs(), ground.logs()
	}
	return l
}

func (l *classes) setRange(c int, f *raster.Field) {
	lo, hi := f.Pix[0], f.Pix[0]
	for _, v := range f.Pix { // the built-in min and max also mind NaN and -0, at four times the cost
		if v < lo {
			lo = v
		}
		if v > hi {
			hi = v
		}
	}
	least := [numCues]float64{12, 10, 10, 1}[c]
	l.lo[c] = float64(lo)
	l.scale[c] = (histBins - 1) / max(float64(hi-lo), least)
}

func (l *classes) bin(c int, v float32) int {
	return min(max(int((float64(v)-l.lo[c])*l.scale[c]+0.5), 0), histBins-1)
}

// setShadow finds the range of luma in which shadows on the ground may fall.
func (l *classes) setShadow(ground *histogram) {
	low, median := ground.quantile(0.1), ground.quantile(0.5)
	l.dusk = low
	level := l.lo[cueLuma] + float64(median)/l.scale[cueLuma]
	l.night = int((deepestShadow*level - l.lo[cueLuma]) * l.scale[cueLuma])
}

// quantile returns the bin below which a share q of the counts lies.
func (h *histogram) quantile(q float64) int {
	var sum, run float64
	for _, n := range h {
		sum += n
	}
	for i, n := range h {
		run += n
		if run >= q*sum {
			return i
		}
	}
	return histBins - 1
}

// deepestShadow is the share of its light that ground keeps in shadow.
const deepestShadow = 0.35

// shaded spreads the ground's luma over what it becomes in shadow, from
// the deepest to none.
func shaded(ground *histogram, lo, scale float64) histogram {
	var out histogram
	const steps = 24
	for i, n := range ground {
		luma := lo + float64(i)/scale
		for s := range steps {
			v := luma * (deepestShadow + (1-deepestShadow)*float64(s)/steps)
			k := int((v-lo)*scale + 0.5)
			if k >= 0 {
				out[min(k, histBins-1)] += n / steps
			}
		}
	}
	return out.logs()
}

// logs smooths counts and returns log probabilities.
func (h *histogram) logs() (out histogram) {
	var sum float64
	for i := range h {
		for d := -2; d <= 2; d++ {
			if k := i + d; k >= 0 && k < histBins {
				out[i] += h[k] * float64(3-max(d, -d))
			}
		}
		sum += out[i]
	}
	for i := range out {
		out[i] = math.Log(out[i]/max(sum, 1) + 0.002)
	}
	return out
}

// shadowPrior is the log probability that a piece of ground near yarn lies in
// its shadow.
const shadowPrior = -0.7

// evidence returns at each point the log likelihood of yarn over ground, lit
// or in shadow.
func (l *classes) evidence(cues *[numCues]*raster.Field) *raster.Field {
	out := raster.NewField(cues[0].W, cues[0].H)
	speaks := l.speaks()
	for i := range out.Pix {
		var sum float64
		for c := range speaks {
			sum += speaks[c][l.bin(c, cues[c].Pix[i])]
		}
		out.Pix[i] = float32(sum)
	}
	return out
}

// speaks is how much each bin of each cue speaks for yarn, as a log likelihood.
func (l *classes) speaks() (out [numCues]histogram) {
	for c := range out {
		for b := range histBins {
			ground := l.ground[c][b]
			if c == cueLuma {
				ground = max(ground, l.shade[b]+shadowPrior)
			}
			out[c][b] = clampTo(l.yarn[c][b]-ground, 3)
			if c == cueLuma && b < l.dusk && b > l.night {
				out[c][b] = min(out[c][b], 0)
			}
		}
	}
	return out
}

func clampTo(v, limit float64) float64 { return max(min(v, limit), -limit) }

// traceOutline finds the stretch of each column, containing the axis and
// reaching at most up and down photo pixels from it, in which the evidence for yarn adds up to most.
func traceOutline(st *strip, evidence *raster.Field, up, down, gap float64) *outline {
	n := st.cols()
	o := &outline{top: make([]float64, n), bottom: make([]float64, n), sure: make([]float64, n)}
	for i := range n {
		c := st.rows() / 2
		top, a := farthest(evidence, i, c, -1, int(up/st.step), gap)
		bottom, b := farthest(evidence, i, c, 1, int(down/st.step), gap)
		o.top[i], o.bottom[i] = top*st.step-st.reach, bottom*st.step-st.reach
		o.sure[i] = 1 / (1 + math.Exp(-min(a, b)/4))
		if st.out[i] {
			o.sure[i] *= 0.5
		}
	}
	return o
}

// doubt is taken off the evidence at each point, so that a margin of hairs or
// half-shadow is not taken in.
const doubt = 1.0

// farthest walks from row c in one direction and returns the edge behind the
// greatest running total of evidence, to a fraction of a row, and that total.
// It stops where the total has fallen by gap: what follows is another yarn.
func farthest(e *raster.Field, col, c, dir, limit int, gap float64) (edge, total float64) {
	var sum float64
	best, at := 0.0, c
	for d := 0; d <= limit; d++ {
		j := c + dir*d
		if j < 0 || j >= e.H {
			break
		}
		sum += float64(e.Pix[j*e.W+col]) - doubt
		if sum > best {
			best, at = sum, j
		}
		if sum < best-gap {
			break
		}
	}
	// The edge lies where the evidence crosses zero between two rows.
	next := at + dir
	frac := 0.5
	if next >= 0 && next < e.H {
		a, b := float64(e.Pix[at*e.W+col])-doubt, float64(e.Pix[next*e.W+col])-doubt
		if a > 0 && b < 0 {
			frac = a / (a - b)
		}
	}
	return float64(at) + float64(dir)*frac, best
}
