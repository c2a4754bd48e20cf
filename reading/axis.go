package reading

import (
	"image"
	"math"
)

// An axis is the middle line of a yarn: points at equal steps of arc length
// with the unit tangent at each. Coordinates are photo pixels, y downwards.
type axis struct {
	step   float64
	x, y   []float64
	tx, ty []float64
}

// at returns the photo point `across` pixels to the side of point i. Positive
// is to the right hand when looking along the axis in a picture whose y runs
// down.
func (a *axis) at(i int, across float64) (x, y float64) {
	return a.x[i] - a.ty[i]*across, a.y[i] + a.tx[i]*across
}

func (a *axis) len() int { return len(a.x) }

func (a *axis) length() float64 { return a.step * float64(max(a.len()-1, 0)) }

// nearest returns the point of a nearest to a place.
func (a *axis) nearest(x, y float64) (at int) {
	best := math.Inf(1)
	for i := range a.x {
		if d := math.Hypot(a.x[i]-x, a.y[i]-y); d < best {
			best, at = d, i
		}
	}
	return at
}

// distance is how far the nearest point of a lies from a place.
func (a *axis) distance(x, y float64) float64 {
	i := a.nearest(x, y)
	return math.Hypot(a.x[i]-x, a.y[i]-y)
}

// near returns the part of a that lies in a box, or passes a box too small to
// hold a length of yarn of the given width: nil where it does not.
func (a *axis) near(box image.Rectangle, width float64) *axis {
	if a == nil {
		return nil
	}
	from, to := a.within(box.Inset(-int(width / 2)))
	if from == to {
		return nil
	}
	if float64(max(box.Dx(), box.Dy())) < leastBox*width {
		return a
	}
	if to-from < 3 {
		return nil
	}
	return a.slice(from, to)
}

// leastBox is how many widths of the yarn a box must be long to say where the
// yarn begins and ends; a shorter one only points at it.
const leastBox = 4

// within returns the first and one past the last point in a box.
func (a *axis) within(box image.Rectangle) (from, to int) {
	for i := range a.x {
		if image.Pt(int(a.x[i]), int(a.y[i])).In(box) {
			if to == 0 {
				from = i
			}
			to = i + 1
		}
	}
	return from, to
}

// slice returns points [from, to) of a.
func (a *axis) slice(from, to int) *axis {
	return &axis{step: a.step, x: a.x[from:to], y: a.y[from:to], tx: a.tx[from:to], ty: a.ty[from:to]}
}

// newAxis lays points at equal steps along the line through (x, y) and sets
// their tangents. It returns nil for lines of less than two steps.
func newAxis(x, y []float64, step float64) *axis {
	a := &axis{step: step}
	if len(x) < 2 {
		return nil
	}
	left := 0.0 // distance still to go to the next point
	for i := 1; i < len(x); i++ {
		dx, dy := x[i]-x[i-1], y[i]-y[i-1]
		d := math.Hypot(dx, dy)
		for left <= d {
			f := 0.0
			if d > 0 {
				f = left / d
			}
			a.x = append(a.x, x[i-1]+f*dx)
			a.y = append(a.y, y[i-1]+f*dy)
			left += step
		}
		left -= d
	}
	if len(a.x) < 3 {
		return nil
	}
	a.setTangents()
	return a
}

func (a *axis) setTangents() {
	n := len(a.x)
	a.tx, a.ty = make([]float64, n), make([]float64, n)
	for i := range n {
		lo, hi := max(i-1, 0), min(i+1, n-1)
		dx, dy := a.x[hi]-a.x[lo], a.y[hi]-a.y[lo]
		d := math.Hypot(dx, dy)
		if d == 0 {
			d, dx = 1, 1
		}
		a.tx[i], a.ty[i] = dx/d, dy/d
	}
}

// moved returns the axis with every point moved sideways by across[i] and laid
// out anew at the given step.
func (a *axis) moved(across []float64, step float64) *axis {
	x, y := make([]float64, a.len()), make([]float64, a.len())
	for i := range x {
		x[i], y[i] = a.at(i, across[i])
	}
	return newAxis(x, y, step)
}

// smooth replaces v by the value of a running straight-line fit over windows of
// about 2*radius+1 values, which keeps slow curves and takes out wobble. Values of
// weight zero are ignored.
func smooth(v, weight []float64, radius int) []float64 {
	out := make([]float64, len(v))
	radius = max(radius, 1)
	for i := range v {
		out[i] = localFit(v, weight, i, radius)
	}
	return out
}

// localFit is the value at i of a weighted straight line through the
// neighbours of i.
func localFit(v, weight []float64, i, radius int) float64 {
	var s0, s1, s2, t0, t1 float64
	stride := max(radius/12, 1) // enough points for a line, however long the window
	add := func(j int) {
		u := float64(j-i) / float64(radius)
		w := (1 - u*u) * (1 - u*u)
		if weight != nil {
			w *= weight[j]
		}
		w += 1e-9
		s0 += w
		s1 += w * u
		s2 += w * u * u
		t0 += w * v[j]
		t1 += w * u * v[j]
	}
	add(i)
	// Outwards from i, so that a line read backwards is smoothed alike.
	for d := stride; d <= radius; d += stride {
		if i-d >= 0 {
			add(i - d)
		}
		if i+d < len(v) {
			add(i + d)
		}
	}
	det := s0*s2 - s1*s1
	if det < 1e-9*s0*s0 {
		return t0 / s0
	}
	return (t0*s2 - t1*s1) / det
}

// winding is by how much, in radians a step, the axis turns to and fro when it is walked
// in steps of some photo pixels: what it turns altogether one way is a bend.
func (a *axis) winding(step float64) float64 {
	var turned, bend float64
	hop := max(int(step/a.step), 1)
	n := 0
	for i := 2 * hop; i < a.len(); i += hop {
		x1, y1 := a.x[i-hop]-a.x[i-2*hop], a.y[i-hop]-a.y[i-2*hop]
		x2, y2 := a.x[i]-a.x[i-hop], a.y[i]-a.y[i-hop]
		turn := math.Atan2(x1*y2-y1*x2, x1*x2+y1*y2)
		turned += math.Abs(turn)
		bend += turn
		n++
	}
	return (turned - math.Abs(bend)) / max(float64(n), 1)
}
