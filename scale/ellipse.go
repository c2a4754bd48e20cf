package scale

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// An ellipse is that of the equation 1/r(t)^2 = a + b cos 2t + c sin 2t about its
// middle, in photo pixels.
type ellipse struct{ x, y, a, b, c float64 }

func circular(c circle) ellipse { return ellipse{x: c.x, y: c.y, a: 1 / (c.r * c.r)} }

// radius is how far the outline lies from the middle in a direction.
func (e ellipse) radius(t float64) float64 {
	return 1 / math.Sqrt(e.a+e.b*math.Cos(2*t)+e.c*math.Sin(2*t))
}

// axes are the longer and the shorter half axis and the direction of the longer.
func (e ellipse) axes() (long, short, turn float64) {
	d := math.Hypot(e.b, e.c)
	return 1 / math.Sqrt(e.a-d), 1 / math.Sqrt(e.a+d), math.Atan2(-e.c, -e.b) / 2
}

// sound reports whether it is an ellipse, and not far longer than wide.
func (e ellipse) sound() bool { return e.a > 0 && math.Hypot(e.b, e.c) < 0.6*e.a }

// mean is the radius of the circle of its area.
func (e ellipse) mean() float64 {
	long, short, _ := e.axes()
	return math.Sqrt(long * short)
}

// times is the outline so many times as large.
func (e ellipse) times(s float64) ellipse {
	e.a, e.b, e.c = e.a/(s*s), e.b/(s*s), e.c/(s*s)
	return e
}

// at is the point of the outline in a direction, if its radius is taken so many
// times.
func (e ellipse) at(t, times float64) Point {
	r := times * e.radius(t)
	return Point{e.x + r*math.Cos(t), e.y + r*math.Sin(t)}
}

// fitEllipse fits an ellipse by least squares, from a first one. Where the
// middle is a little off, 1/r^2 leans by its first harmonic; it is moved until
// it does not.
func fitEllipse(e ellipse, points []Point) (ellipse, bool) {
	if len(points) < 12 {
		return e, false
	}
	for range 5 {
		unit := e.a // keeps the sums near one
		var sum [5][5]float64
		var rhs [5]float64
		for _, p := range points {
			dx, dy := p.X-e.x, p.Y-e.y
			r2 := dx*dx + dy*dy
			cos, sin := dx/math.Sqrt(r2), dy/math.Sqrt(r2)
			row := [5]float64{1, cos*cos - sin*sin, 2 * sin * cos, cos, sin}
			for i, v := range row {
				for j, w := range row {
					sum[i][j] += v * w
				}
				rhs[i] += v / (r2 * unit)
			}
		}
		out, ok := solve(sum, rhs)
		if !ok {
			return e, false
		}
		e.a, e.b, e.c = out[0]*unit, out[1]*unit, out[2]*unit
		if !e.sound() {
			return e, false
		}
		lean := math.Pow(e.a, -1.5) / 2 * unit
		e.x -= lean * out[3]
		e.y -= lean * out[4]
	}
	return e, true
}

// solve solves normal equations.
func solve(sum [5][5]float64, rhs [5]float64) (out [5]float64, ok bool) {
	m := mat.NewSymDense(5, nil)
	for i := range 5 {
		for j := i; j < 5; j++ {
			m.SetSym(i, j, sum[i][j])
		}
	}
	var c mat.Cholesky
	if !c.Factorize(m) || c.Cond() > 1e8 {
		return out, false
	}
	return out, c.SolveVecTo(mat.NewVecDense(5, out[:]), mat.NewVecDense(5, rhs[:])) == nil
}

// off is how far a point lies outside the outline, along the line to the middle.
func (e ellipse) off(p Point) float64 {
	dx, dy := p.X-e.x, p.Y-e.y
	return math.Hypot(dx, dy) - e.radius(math.Atan2(dy, dx))
}
