package reading

import (
	"math"

	"waketwist/raster"
)

const (
	fibreRows    = 0.6 // part of the half width that is used: beyond, the surface turns away
	fibreBins    = 12
	rowsPerFibre = 64   // rows of the finer strip to the yarn's width
	fibreWindow  = 0.5  // length of a window in widths
	fibreDetail  = 0.75 // brightness that varies over more widths than this along the yarn is not fibre
	fibreBlur    = 1.0  // standard deviation of the blur against noise, rows of the strip
	faintBlur    = 1.7  // of a stronger one, where the fibres drown in noise
	faintDetail  = 1.25 // the width that is left in then: the more is taken out, the steeper flat fibres seem
)

// A fibreLay is the lean of surface fibres along a yarn.
type fibreLay struct {
	angle    float64   // radians, positive for Z: the mean of local angles
	spread   float64   // standard deviation of the local angles
	contrast float64   // 0 none, 1 all texture along the fibres
	mirror   float64   // the same for the angle of the opposite sign
	agree    float64   // share of the length whose fibres lean clearly and to the same side
	against  float64   // the same to the other side
	local    float64   // median contrast of the windows
	windows  int       // how many there are of each yarn
	energy   float64   // mean squared difference of brightness between neighbouring points
	faint    bool      // seen only through the second blur
	each     []float64 // the angle of each yarn
}

// tensorRow holds summed products of the luma's gradient in one row, over n
// points.
type tensorRow struct{ xx, xy, yy, n float64 }

// fibreTensor is the structure tensor of a piece of yarn, row by row across.
type fibreTensor [fibreBins]tensorRow

// readFibres measures the angle of the surface fibres. Along a helix on a
// round yarn the slope seen at distance v (in radii) from the middle is
// tan a * sqrt(1 - v*v), so each row is compared with its own slope. Where the
// fibres drown in noise they are looked at once more through a stronger blur:
// real ones, which are long, come out clearer then.
func (c *cut) readFibres(src *source) fibreLay { return readFibres(src, []*cut{c}) }

// readFibres measures the fibres of yarns side by side, which are one yarn wrapped
// several times, as along one yarn.
func readFibres(src *source, yarns []*cut) fibreLay {
	f := fibresOf(src, yarns, fibreBlur, fibreDetail)
	if f.doubt() == NoReason || f.windows < leastWindows || f.energy > clearTexture {
		return f
	}
	if faint := faintFibres(src, yarns); faint.doubt() == NoReason {
		return faint
	}
	return f
}

// faintFibres are the fibres seen through the stronger blur.
func faintFibres(src *source, yarns []*cut) fibreLay {
	f := fibresOf(src, yarns, faintBlur, faintDetail)
	f.faint = true
	return f
}

// fibresOf measures the fibres through a blur of so many rows of the strip.
func fibresOf(src *source, yarns []*cut, blur, detail float64) fibreLay {
	var all []fibreTensor
	var each []float64
	for _, c := range yarns {
		own := c.windowsOf(src, blur, detail)
		each = append(each, summarise(own).angle)
		all = append(all, own...)
	}
	f := summarise(all)
	f.windows, f.each = len(all)/len(yarns), each
	return f
}

// finely straightens the yarn anew, fine enough for fibres but with no less than
// so many photo pixels between samples. It is nil for yarn of no length.
func (c *cut) finely(src *source, finest float64) *strip {
	step := max(c.width/rowsPerFibre, finest)
	line := c.strip.along.moved(make([]float64, c.strip.cols()), step)
	if line == nil {
		return nil
	}
	return src.sampler(step).straighten(line, c.width, step)
}

// windowsOf sums the products of the gradient through a blur of so many rows of the
// strip.
func (c *cut) windowsOf(src *source, blur, detail float64) []fibreTensor {
	st, luma := c.fineTexture(src, blur, detail)
	if st == nil {
		return nil
	}
	return c.fibreTensors(st, luma)
}

// fineTexture is the luma of the yarn straightened anew, through a blur of so many
// rows of the strip and without what varies over more than so many widths. It is nil
// for yarn of no length.
func (c *cut) fineTexture(src *source, blur, detail float64) (*strip, *raster.Field) {
	st := c.finely(src, 0.7)
	if st == nil {
		return nil, nil
	}
	luma := st.chan_[0]
	wide := luma.Clone()
	wide.BlurRows(detail * c.width / st.step)
	for i := range luma.Pix {
		luma.Pix[i] -= wide.Pix[i]
	}
	luma.BlurRows(blur)
	luma.BlurColumns(blur)
	return st, luma
}

// fibreTensors sums the products of the gradient of a strip's luma, window by
// window.
func (c *cut) fibreTensors(st *strip, luma *raster.Field) []fibreTensor {
	gx, gy := luma.Gradient()
	window := max(int(fibreWindow*c.width/st.step), 8)
	sums := make([]fibreTensor, max(st.cols()/window, 1))
	radius := int(1.5 * c.width / c.strip.along.step)
	top, bottom := smooth(c.outline.top, c.outline.sure, radius), smooth(c.outline.bottom, c.outline.sure, radius)
	for i := range st.cols() {
		k := min(int(float64(i)*st.step/c.strip.along.step), len(top)-1)
		mid, half := (top[k]+bottom[k])/2, max((bottom[k]-top[k])/2, 1e-6)
		sums[min(i/window, len(sums)-1)].addColumn(st, gx, gy, i, mid, half)
	}
	return sums
}

// addColumn adds the products of column i, for a yarn of the given middle and
// half width.
func (t *fibreTensor) addColumn(st *strip, gx, gy *raster.Field, i int, mid, half float64) {
	for j := range st.rows() {
		v := (st.across(j) - mid) / half
		if math.Abs(v) >= fibreRows {
			continue
		}
		r := &t[int((v+fibreRows)/(2*fibreRows)*fibreBins)]
		x, y := float64(gx.Pix[j*gx.W+i]), float64(gy.Pix[j*gx.W+i])
		r.xx += x * x
		r.xy += x * y
		r.yy += y * y
		r.n++
	}
}

// add adds the products of another piece.
func (t *fibreTensor) add(o *fibreTensor) {
	for k, r := range o {
		t[k].xx += r.xx
		t[k].xy += r.xy
		t[k].yy += r.yy
		t[k].n += r.n
	}
}

// slope is the angle to the axis, in radians, of the lines that the row's
// gradients cross.
func (r tensorRow) slope() float64 {
	a := math.Atan2(2*r.xy, r.xx-r.yy)/2 + math.Pi/2
	if a > math.Pi/2 {
		a -= math.Pi
	}
	return a
}

// along is the gradient energy along fibres of angle a, and over all
// directions, summed over the rows.
func (t *fibreTensor) along(a float64) (e, total float64) {
	tan := math.Tan(a)
	for k := range t {
		v := ((float64(k)+0.5)/fibreBins*2 - 1) * fibreRows
		s := tan * math.Sqrt(1-v*v)
		r := &t[k]
		e += (r.xx + 2*s*r.xy + s*s*r.yy) / (1 + s*s)
		total += r.xx + r.yy
	}
	return e, total
}

// lean is the angle along which the gradient is least, and how far below the
// mean over directions it lies there.
func (t *fibreTensor) lean() (angle, contrast float64) {
	const degree = math.Pi / 180
	best, total := math.Inf(1), 0.0
	for d := -72.0; d <= 72; d += 3 {
		if e, sum := t.along(d * degree); e < best {
			best, total, angle = e, sum, d*degree
		}
	}
	for step := 1.5 * degree; step > 0.02*degree; step /= 2 {
		for _, a := range [2]float64{angle - step, angle + step} {
			if e, _ := t.along(a); e < best {
				best, angle = e, a
			}
		}
	}
	return angle, 1 - 2*best/max(total, 1e-12)
}

// summarise averages the windows along the yarn.
func summarise(sums []fibreTensor) fibreLay {
	if len(sums) == 0 {
		return fibreLay{}
	}
	var all fibreTensor
	for w := range sums {
		all.add(&sums[w])
	}
	var points float64
	for _, r := range all {
		points += r.n
	}
	var f fibreLay
	pooled, contrast := all.lean()
	e, total := all.along(-pooled)
	f.contrast, f.mirror, f.energy = contrast, 1-2*e/max(total, 1e-12), total/max(points, 1)
	var angles, locals []float64
	for w := range sums {
		a, local := sums[w].lean()
		locals = append(locals, local)
		switch {
		case local < 0.3:
		case a*pooled < 0:
			f.against += 1 / float64(len(sums))
		default:
			angles = append(angles, a)
		}
	}
	f.windows = len(sums)
	f.agree, f.local = float64(len(angles))/float64(len(sums)), median(locals)
	f.angle = pooled
	if len(angles) > 0 {
		f.angle, f.spread = trimmedMean(angles, 0.1)
	}
	return f
}
