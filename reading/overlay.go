package reading

import (
	"math"

	"waketwist/unit"
	"waketwist/yarn"
)

// An Overlay is what was read, as lines to be drawn over the photograph.
type Overlay struct {
	Axis       []Point    // middle line of the yarn read, or of the middle one of several
	Edges      [2][]Point // its outer envelope to either side
	Strand     [2]Point   // a line at the angle read, through the middle of the yarn
	PitchMarks []Point    // points on the axis one full turn apart; none for singles
	Drawn      []Point    // the line that a person had drawn along the yarn, also where nothing was read; none without one
}

// overlayPoints is about how many points each line of an overlay has.
const overlayPoints = 60

// overlay draws the outline of a cut, its width multiplied by swell, and a line
// at the given angle.
func (c *cut) overlay(swell float64, angle unit.Angle, d yarn.Direction) Overlay {
	a, o := c.strip.along, c.outline
	n := a.len()
	radius := int(smoothRadius * c.width / a.step)
	top, bottom := smooth(o.top, o.sure, radius), smooth(o.bottom, o.sure, radius)
	var out Overlay
	hop := max(n/overlayPoints, 1)
	for i := 0; i < n; i += hop {
		mid, half := (top[i]+bottom[i])/2, (bottom[i]-top[i])/2*swell
		out.Axis = append(out.Axis, a.point(i, mid))
		out.Edges[0] = append(out.Edges[0], a.point(i, mid-half))
		out.Edges[1] = append(out.Edges[1], a.point(i, mid+half))
	}
	i := n / 2
	out.Strand = a.leaning(i, (top[i]+bottom[i])/2, (bottom[i]-top[i])/2*swell, angle, d)
	return out
}

// point is a place beside point i of the axis.
func (a *axis) point(i int, across float64) Point {
	x, y := a.at(i, across)
	return Point{x, y}
}

// leaning is a line through a place beside point i at an angle to the axis,
// from edge to edge or three half widths long, whichever is shorter. Held
// upright a Z leans to the right, so along the axis it falls to the right hand.
func (a *axis) leaning(i int, across, half float64, angle unit.Angle, d yarn.Direction) [2]Point {
	sin, cos := math.Sincos(float64(angle))
	reach := math.Min(half/math.Max(sin, 1e-3), 3*half)
	if d == yarn.S {
		sin = -sin
	}
	x, y := a.at(i, across)
	dx := a.tx[i]*cos - a.ty[i]*sin
	dy := a.ty[i]*cos + a.tx[i]*sin
	return [2]Point{{x - dx*reach, y - dy*reach}, {x + dx*reach, y + dy*reach}}
}

// pitchMarks are the points of the axis at which the followed lay has gone
// through whole turns.
func (c *cut) pitchMarks(b *body, m fitting) []Point {
	strands := float64(m.guess.ply.n) / float64(m.guess.repeat)
	var out []Point
	last := math.Floor(m.trace.phase[0] / (2 * math.Pi) / strands)
	for i, p := range m.trace.phase {
		turn := math.Floor(p / (2 * math.Pi) / strands)
		if turn > last {
			k := min(int(b.place[i]/c.strip.along.step), c.strip.along.len()-1)
			mid := (c.outline.top[k] + c.outline.bottom[k]) / 2
			out = append(out, c.strip.along.point(k, mid))
			last = turn
		}
	}
	return out
}
