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

// A body is yarn straightened and drawn to equal width and equal expected
// twist: rows are positions across in half widths of the local mean
// silhouette, columns are places along. Twist runs into thin places, nearly as
// the inverse square of the diameter, so columns lie closer together there.
type body struct {
	cut   *cut
	layer [numLayers]*raster.Field
	width float64   // mean silhouette width over the body, photo pixels
	local []float64 // mean silhouette width near each column, photo pixels
	mid   []float64 // middle of the yarn at each point of the strip, photo pixels across
	wide  []float64 // width there
	place []float64 // distance of each column along the strip, photo pixels
	main  *raster.Field
	lean  *borderLean // of the borders, once it was asked for
	shade bool        // main is luma, though colours vary more
	gain  [3]float64  // main is the projection of the three channels on gain

	// variance is the strand-scale variance of each layer in the units of a
	// fold: the sum over all rows of the squared coefficients.
	variance [numLayers]float64
}

func rowAcross(j int) float64 { return (float64(j)/(bodyRows-1)*2 - 1) * bodyReach }

// smoothRadius is how far the middle and width of the outline are smoothed, in
// widths to either side: over at least one crossing of the strands.
const smoothRadius = 3

// body is the cut straightened, once for all who ask. The outline must not change
// after.
func (c *cut) body() *body {
	if c.straight == nil {
		c.straight = newBody(c)
	}
	return c.straight
}

// newBody straightens a cut by its outline.
func newBody(c *cut) *body {
	st, o := c.strip, c.outline
	b := &body{cut: c}
	b.width, _ = o.mean()
	radius := int(smoothRadius * b.width / st.along.step)
	mid := c.middles()
	wide := smooth(o.widths(), o.sure, radius)
	for i := range wide {
		wide[i] = min(max(wide[i], 0.5*b.width), 2*b.width)
	}
	b.mid, b.wide = mid, wide
	b.setPlaces(st, wide)
	b.sample(c, mid, wide)
	b.project()
	return b
}

// setPlaces spreads the columns so that equal numbers of turns are expected
// between them.
func (b *body) setPlaces(st *strip, wide []float64) {
	turns := make([]float64, len(wide))
	rate := func(i int) float64 {
		r := min(max(wide[i]/b.width, 0.75), 1.33)
		return 1 / (r * r)
	}
	for i := 1; i < len(wide); i++ {
		turns[i] = turns[i-1] + (rate(i-1)+rate(i))/2
	}
	cols := max(int(st.along.length()/b.width*colsPerBody), 4)
	b.place, b.local = make([]float64, cols), make([]float64, cols)
	k := 0
	for i := range cols {
		want := turns[len(turns)-1] * float64(i) / float64(cols-1)
		for k < len(turns)-2 && turns[k+1] < want {
			k++
		}
		f := (want - turns[k]) / max(turns[k+1]-turns[k], 1e-9)
		b.place[i] = (float64(k) + f) * st.along.step
		b.local[i] = wide[k] + f*(wide[k+1]-wide[k])
	}
}

// outlineSoftness is the width, in widths of the yarn, over which the outline
// layer goes from ground to yarn.
const outlineSoftness = 0.08

// sample fills the layers.
func (b *body) sample(c *cut, mid, wide []float64) {
	cols := len(b.place)
	for l := range b.layer {
		b.layer[l] = raster.NewField(cols, bodyRows)
	}
	st := c.strip
	for i, place := range b.place {
		z := place / st.along.step
		m, w := between(mid, z), between(wide, z)
		top, bottom := between(c.outline.top, z), between(c.outline.bottom, z)
		for j := range bodyRows {
			across := m + rowAcross(j)*w/2
			y := (across + st.reach) / st.step
			luma := st.chan_[0].At(z, y)
			b.layer[0].Pix[j*cols+i] = luma
			for l := 1; l < 3; l++ {
				b.layer[l].Pix[j*cols+i] = tintOf(st.chan_[l].At(z, y), luma)
			}
			inside := math.Min(across-top, bottom-across) / (outlineSoftness * b.width)
			b.layer[outlineLayer].Pix[j*cols+i] = float32(min(max(0.5+inside, 0), 1))
		}
	}
}

// between is v at a fraction of an index.
func between(v []float64, at float64) float64 {
	k := min(int(at), len(v)-1)
	if k+1 == len(v) {
		return v[k]
	}
	return v[k] + (at-float64(k))*(v[k+1]-v[k])
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

// colourful is the share of luma in the mixture that varies most below which the shades
// are looked at by themselves as well.
const colourful = 0.8

// seenAs is the body as what varies most shows its strands, and as its shades do where
// colours vary more: those of heather are streaks of its fibres, not strands. Few shades
// may be the light's, and are left to the colours.
func (b *body) seenAs() []*body {
	if math.Abs(b.gain[0]) >= colourful {
		return []*body{b}
	}
	shades := *b
	shades.main, shades.lean, shades.shade = b.layer[0], nil, true
	return []*body{b, &shades}
}

// striped is the standard deviation of the lightness at the scale of strands, in
// levels.
func (b *body) striped() float64 { return math.Sqrt(2 * b.variance[0] / bodyRows) }

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
