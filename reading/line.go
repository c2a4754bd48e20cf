package reading

import (
	"fmt"
	"image"
	"math"
	"slices"
)

const (
	mostPoints = 100 // of a drawn line
	// No yarn that could be read is shorter in view than this, in pixels.
	leastLine = leastAspect * leastWidth
	sharpest  = 150 // degrees by which a line may turn at a point
)

// CheckLine says what is wrong with a line along the yarn in an upright picture of
// so many pixels, in one sentence without a full stop: fewer than two points or more
// than a hundred, a point outside the picture, a line shorter than yarn could be wide,
// or one that crosses itself or doubles back. It returns nil for one that can be meant.
func CheckLine(line []Point, w, h int) error {
	switch n := len(line); {
	case n < 2:
		return fmt.Errorf("one point is no line; give two or more, along the middle of the yarn")
	case n > mostPoints:
		return fmt.Errorf("the line has %d points; give at most %d", n, mostPoints)
	}
	length := 0.0
	for i, p := range line {
		if !(p.X >= 0 && p.Y >= 0 && p.X <= float64(w) && p.Y <= float64(h)) {
			return fmt.Errorf("point %d of the line lies outside the picture, which is %d pixels across and %d down", i+1, w, h)
		}
		if i > 0 {
			length += math.Hypot(p.X-line[i-1].X, p.Y-line[i-1].Y)
		}
	}
	if length < leastLine {
		return fmt.Errorf("the line is %.0f pixels long, shorter than yarn that can be read is wide; draw it along the yarn, over at least three times its width", length)
	}
	if crossed(withoutRepeats(line)) {
		return fmt.Errorf("the line crosses itself or doubles back; draw it along one stretch of the yarn, from one end to the other")
	}
	return nil
}

// withoutRepeats drops points that lie within a pixel of the one before, as where a
// place was pressed twice.
func withoutRepeats(line []Point) []Point {
	return slices.CompactFunc(slices.Clone(line), func(a, b Point) bool { return math.Hypot(a.X-b.X, a.Y-b.Y) < 1 })
}

// crossed reports whether a piece of the line crosses a former one, or turns back
// sharply.
func crossed(p []Point) bool {
	for i := 1; i+1 < len(p); i++ {
		ax, ay, bx, by := p[i].X-p[i-1].X, p[i].Y-p[i-1].Y, p[i+1].X-p[i].X, p[i+1].Y-p[i].Y
		if turn := math.Abs(math.Atan2(ax*by-ay*bx, ax*bx+ay*by)); turn > sharpest*math.Pi/180 {
			return true
		}
		for k := 1; k < i; k++ {
			if meet(p[k-1], p[k], p[i], p[i+1]) {
				return true
			}
		}
	}
	return false
}

// meet reports whether two straight pieces cross or touch.
func meet(a, b, c, d Point) bool {
	side := func(p, q, r Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	within := func(p, q, r Point) bool {
		return min(p.X, q.X) <= r.X && r.X <= max(p.X, q.X) && min(p.Y, q.Y) <= r.Y && r.Y <= max(p.Y, q.Y)
	}
	s, t, u, v := side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)
	if s*t < 0 && u*v < 0 {
		return true
	}
	return s == 0 && within(a, b, c) || t == 0 && within(a, b, d) || u == 0 && within(c, d, a) || v == 0 && within(c, d, b)
}

// curvePieces is how many straight pieces the curve between two points is made of.
const curvePieces = 16

// curveAlong is a smooth curve through the points, at steps of one pixel; nil where
// it is shorter than two.
func curveAlong(p []Point) *axis {
	p = withoutRepeats(p)
	var x, y []float64
	for i, b := range p {
		if i == 0 {
			x, y = append(x, b.X), append(y, b.Y)
			continue
		}
		a := p[i-1]
		before, after := mirrored(a, b), mirrored(b, a)
		if i > 1 {
			before = p[i-2]
		}
		if i+1 < len(p) {
			after = p[i+1]
		}
		for k := 1; k <= curvePieces; k++ {
			q := curved(before, a, b, after, float64(k)/curvePieces)
			x, y = append(x, q.X), append(y, q.Y)
		}
	}
	return newAxis(x, y, 1)
}

// mirrored is b mirrored at a.
func mirrored(a, b Point) Point { return Point{2*a.X - b.X, 2*a.Y - b.Y} }

// curved is the place at a share u of the way from b to c on the curve through four
// different points whose pace goes with the root of their distances (centripetal
// Catmull-Rom): it neither loops nor swings far beside them.
func curved(a, b, c, d Point, u float64) Point {
	pace := func(p, q Point) float64 { return math.Sqrt(math.Hypot(q.X-p.X, q.Y-p.Y)) }
	t1 := pace(a, b)
	t2 := t1 + pace(b, c)
	t3 := t2 + pace(c, d)
	t := t1 + u*(t2-t1)
	mix := func(p, q Point, from, to float64) Point {
		f := (t - from) / (to - from)
		return Point{p.X + f*(q.X-p.X), p.Y + f*(q.Y-p.Y)}
	}
	p, q, r := mix(a, b, 0, t1), mix(b, c, t1, t2), mix(c, d, t2, t3)
	return mix(mix(p, q, 0, t2), mix(q, r, t1, t3), t1, t2)
}

// bounds is the smallest box of whole pixels around an axis.
func (a *axis) bounds() image.Rectangle {
	return image.Rect(int(slices.Min(a.x)), int(slices.Min(a.y)), int(slices.Max(a.x))+1, int(slices.Max(a.y))+1)
}
