package reading

import (
	"math"

	"waketwist/raster"
)

// numLayers: luma, two of chroma and the share of yarn in the pixel.
const numLayers = 4

// outlineLayer is the layer that holds the share of yarn.
const outlineLayer = 3

const (
	bodyRows    = 43  // rows of a body, spanning -bodyReach to bodyReach
	bodyReach   = 1.4 // in half widths of the mean silhouette
	colsPerBody = 24  // columns per mean silhouette width
)

// A body is yarn straightened and drawn to equal width: rows are positions
// across in half widths of the local mean silhouette, columns are steps along.
type body struct {
	layer [numLayers]*raster.Field
	step  float64   // photo pixels between columns
	width float64   // mean silhouette width over the body, photo pixels
	local []float64 // mean silhouette width near each column
	off   []float64 // middle of the silhouette from the strip's axis
	main  *raster.Field
	gain  [3]float64 // main is the projection of the three channels on gain

	// variance is the strand-scale variance of each layer in the units of a
	// fold: the sum over all rows of the squared coefficients.
	variance [numLayers]float64
}

func rowAcross(j int) float64 { return (float64(j)/(bodyRows-1)*2 - 1) * bodyReach }

// newBody straightens a strip by its outline.
func newBody(st *strip, o *outline, evidence *raster.Field) *body {
	n := st.cols()
	mid, wide := make([]float64, n), make([]float64, n)
	var sum, weight float64
	for i := range n {
		mid[i] = (o.top[i] + o.bottom[i]) / 2
		wide[i] = o.bottom[i] - o.top[i]
		sum += wide[i] * o.sure[i]
		weight += o.sure[i]
	}
	b := &body{width: sum / max(weight, 1e-9)}
	radius := int(3 * b.width / st.along.step)
	b.off, b.local = smooth(mid, o.sure, radius), smooth(wide, o.sure, radius)
	for i := range b.local {
		b.local[i] = max(b.local[i], 0.3*b.width)
	}
	b.step = max(b.width/colsPerBody, 1e-6)
	b.sample(st, evidence)
	return b
}

// sample fills the layers.
func (b *body) sample(st *strip, evidence *raster.Field) {
	cols := max(int(st.along.length()/b.step), 1)
	for c := range b.layer {
		b.layer[c] = raster.NewField(cols, bodyRows)
	}
	off, local := make([]float64, cols), make([]float64, cols)
	for i := range cols {
		z := float64(i) * b.step / st.along.step
		k := min(int(z), st.cols()-1)
		off[i], local[i] = b.off[k], b.local[k]
		for j := range bodyRows {
			y := (off[i] + rowAcross(j)*local[i]/2 + st.reach) / st.step
			for c := range 3 {
				b.layer[c].Pix[j*cols+i] = st.chan_[c].At(z, y)
			}
			e := evidence.At(z, y)
			b.layer[3].Pix[j*cols+i] = 1 / (1 + float32(math.Exp(float64(-e))))
		}
	}
	b.off, b.local = off, local
	b.project()
}

func (b *body) cols() int { return b.layer[0].W }

// project finds the mixture of channels that varies most along the yarn at
// the scale of strands, and writes it to main.
func (b *body) project() {
	var cov [3][3]float64
	var coarse [numLayers]*raster.Field
	for c := range coarse {
		f, wide := b.layer[c].Clone(), b.layer[c].Clone()
		f.BlurRows(1.5)
		wide.BlurRows(3 * colsPerBody)
		var sum float64
		for i := range f.Pix {
			f.Pix[i] -= wide.Pix[i]
			sum += float64(f.Pix[i] * f.Pix[i])
		}
		coarse[c] = f
		// A real wave of amplitude a has variance a*a/2 and one coefficient
		// of size a/2 kept, hence the half.
		b.variance[c] = sum/float64(2*b.cols()) + varianceFloor[c]
	}
	for j := bodyRows / 4; j < bodyRows*3/4; j++ {
		for i := 0; i < b.cols(); i += 2 {
			k := j*b.cols() + i
			for c := range 3 {
				for d := range 3 {
					cov[c][d] += float64(coarse[c].Pix[k] * coarse[d].Pix[k])
				}
			}
		}
	}
	b.gain = mainAxis(cov)
	b.main = raster.NewField(b.cols(), bodyRows)
	for i := range b.main.Pix {
		for c := range 3 {
			b.main.Pix[i] += float32(b.gain[c]) * b.layer[c].Pix[i]
		}
	}
}

// varianceFloor keeps noise in a flat layer from counting as a pattern.
var varianceFloor = [numLayers]float64{bodyRows * 2, bodyRows * 1, bodyRows * 1, bodyRows * 0.002}

// mainAxis is the leading unit eigenvector of a covariance, by power iteration.
func mainAxis(cov [3][3]float64) [3]float64 {
	v := [3]float64{1, 0.1, 0.1}
	for range 30 {
		var w [3]float64
		var norm float64
		for c := range 3 {
			for d := range 3 {
				w[c] += cov[c][d] * v[d]
			}
			norm += w[c] * w[c]
		}
		if norm == 0 {
			return [3]float64{1, 0, 0}
		}
		for c := range 3 {
			v[c] = w[c] / math.Sqrt(norm)
		}
	}
	return v
}
