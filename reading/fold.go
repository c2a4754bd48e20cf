package reading

import "math"

const (
	foldBins  = 32
	harmonics = 7 // of the fold's period that are compared
)

// A fold is the mean picture of one period of a lay, as Fourier coefficients
// along the phase: coef[layer][k-1][row], harmonics 1 to `harmonics`.
type fold struct {
	re, im  [numLayers][harmonics][bodyRows]float64
	total   [numLayers]float64 // strand-scale variance of the layer, in the same units
	period  float64            // columns
	periods float64            // how many were laid over each other
	crowded bool               // other yarns lie beside
}

// newFold lays the columns in [from, to) over each other by phase.
func (b *body) newFold(phase []float64, from, to int) *fold {
	f := &fold{total: b.variance, crowded: b.cut.abreast > 1}
	to = min(to, b.cols())
	if to-from < 4 {
		return f
	}
	f.periods = math.Abs(phase[to-1]-phase[from]) / (2 * math.Pi)
	f.period = float64(to-1-from) / math.Max(f.periods, 1e-6)
	bin, share := make([]int, to-from), make([]float64, to-from)
	count := [foldBins]float64{}
	for i := from; i < to; i++ {
		p := phase[i] / (2 * math.Pi)
		p = (p - math.Floor(p)) * foldBins
		k := int(p) % foldBins
		bin[i-from], share[i-from] = k, p-math.Floor(p)
		count[k] += 1 - share[i-from]
		count[(k+1)%foldBins] += share[i-from]
	}
	for l := range numLayers {
		for j := range bodyRows {
			f.addRow(l, j, b.layer[l].Row(j)[from:to], bin, share, &count)
		}
	}
	return f
}

var foldSin, foldCos = func() (s, c [harmonics][foldBins]float64) {
	for k := range harmonics {
		for i := range foldBins {
			s[k][i], c[k][i] = math.Sincos(2 * math.Pi * float64((k+1)*i) / foldBins)
		}
	}
	return s, c
}()

// coefficient is the Fourier coefficient of harmonic h+1.
func coefficient(v *[foldBins]float64, h int) (re, im float64) {
	for k, x := range v {
		re += x * foldCos[h][k]
		im -= x * foldSin[h][k]
	}
	return re / foldBins, im / foldBins
}

func (f *fold) addRow(l, j int, row []float32, bin []int, share []float64, count *[foldBins]float64) {
	var sum [foldBins]float64
	for i, v := range row {
		k, s := bin[i], share[i]
		sum[k] += (1 - s) * float64(v)
		sum[(k+1)%foldBins] += s * float64(v)
	}
	var mean, filled float64
	for k := range sum {
		if count[k] > 0.3 {
			sum[k] /= count[k]
			mean += sum[k]
			filled++
		}
	}
	mean /= math.Max(filled, 1)
	for k := range sum {
		if count[k] > 0.3 {
			sum[k] -= mean
		} else {
			sum[k] = 0
		}
	}
	for h := range harmonics {
		f.re[l][h][j], f.im[l][h][j] = coefficient(&sum, h)
	}
}
