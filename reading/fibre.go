package reading

import (
	"math"

	"waketwist/raster"
)

// fibreRows bounds the part of the yarn's half width that is used: nearer the
// edges the surface turns away too fast.
const fibreRows = 0.8

// A fibreLay is the lean of surface fibres along a yarn.
type fibreLay struct {
	angle    float64   // radians, positive for Z
	contrast float64   // 0 none, 1 all texture along the fibres
	mirror   float64   // the same for the angle of the opposite sign
	local    []float64 // angle in windows along the yarn
	energy   float64   // mean squared gradient relative to brightness
}

// tensorRow holds summed products of the luma's gradient in one row.
type tensorRow struct{ xx, xy, yy float64 }

// readFibres measures the angle of the surface fibres. Along a helix on a
// round yarn the slope seen at distance v (in radii) from the middle is
// tan a * sqrt(1 - v*v), so each row is compared with its own slope.
func (c *cut) readFibres() fibreLay {
	st, o := c.strip, c.outline
	luma := st.chan_[0].Clone()
	wide := luma.Clone()
	wide.BlurRows(0.6 * c.width / st.step)
	for i := range luma.Pix {
		luma.Pix[i] -= wide.Pix[i]
	}
	luma.BlurRows(0.8)
	luma.BlurColumns(0.8)
	gx, gy := luma.Gradient()
	window := max(int(0.7*c.width/st.along.step), 8)
	windows := max(st.cols()/window, 1)
	sums := make([][fibreBins]tensorRow, windows)
	radius := int(1.5 * c.width / st.along.step)
	top, bottom := smooth(o.top, o.sure, radius), smooth(o.bottom, o.sure, radius)
	for i := range st.cols() {
		w := min(i/window, windows-1)
		mid, half := (top[i]+bottom[i])/2, max((bottom[i]-top[i])/2, 1e-6)
		for j := range st.rows() {
			v := (st.across(j) - mid) / half
			if math.Abs(v) < fibreRows {
				sums[w][int((v+fibreRows)/(2*fibreRows)*fibreBins)].add(gx, gy, j*st.cols()+i)
			}
		}
	}
	return summarise(sums)
}

const fibreBins = 16

func (t *tensorRow) add(gx, gy *raster.Field, k int) {
	x, y := float64(gx.Pix[k]), float64(gy.Pix[k])
	t.xx += x * x
	t.xy += x * y
	t.yy += y * y
}

// along is the gradient energy along fibres of angle a, and over all
// directions, summed over the rows.
func along(rows *[fibreBins]tensorRow, a float64) (e, total float64) {
	t := math.Tan(a)
	for k := range rows {
		v := ((float64(k)+0.5)/fibreBins*2 - 1) * fibreRows
		s := t * math.Sqrt(1-v*v)
		c2 := 1 / (1 + s*s)
		r := &rows[k]
		e += (r.xx + 2*s*r.xy + s*s*r.yy) * c2
		total += r.xx + r.yy
	}
	return e, total
}

// bestFibreAngle is the angle along which the gradient is least, and how far
// below the mean over directions it lies there.
func bestFibreAngle(rows *[fibreBins]tensorRow) (angle, contrast float64) {
	least := math.Inf(1)
	for d := -720; d <= 720; d++ {
		a := float64(d) * 0.1 * math.Pi / 180
		if e, total := along(rows, a); e < least {
			least, angle = e, a
			contrast = 1 - 2*e/max(total, 1e-12)
		}
	}
	return angle, contrast
}

func summarise(sums [][fibreBins]tensorRow) fibreLay {
	var all [fibreBins]tensorRow
	var f fibreLay
	for w := range sums {
		a, _ := bestFibreAngle(&sums[w])
		f.local = append(f.local, a)
		for k := range all {
			all[k].xx += sums[w][k].xx
			all[k].xy += sums[w][k].xy
			all[k].yy += sums[w][k].yy
		}
	}
	f.angle, f.contrast = bestFibreAngle(&all)
	e, total := along(&all, -f.angle)
	f.mirror = 1 - 2*e/max(total, 1e-12)
	f.energy = total
	return f
}
