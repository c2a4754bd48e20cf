package drawing

import (
	"math"
	"slices"
)

// loopReach is how far the centre line of a ply-back's loop goes beyond the
// straight part, in strand radii.
const loopReach = 5

// loopStart is the column of a band where the straight part ends.
func loopStart(columns int, radius float64) int {
	return max(0, columns-int(math.Ceil(radius*(loopReach+1.6))))
}

// vec is a vector: z along the axis, x across it, y towards the viewer.
type vec struct{ z, x, y float64 }

func (a vec) add(b vec, f float64) vec { return vec{a.z + f*b.z, a.x + f*b.x, a.y + f*b.y} }
func (a vec) dot(b vec) float64        { return a.z*b.z + a.x*b.x + a.y*b.y }
func (a vec) unit() vec                { return vec{}.add(a, 1/math.Sqrt(a.dot(a))) }

// cross is right-handed for x to the right, z up and y towards the viewer.
func (a vec) cross(b vec) vec {
	return vec{z: a.y*b.x - a.x*b.y, x: a.z*b.y - a.y*b.z, y: a.x*b.z - a.z*b.x}
}

// ring is the strand's section at one place of the loop's centre line: outward
// normal and binormal span it.
type ring struct {
	centre, normal, binormal vec
	length                   float64 // of centre line since the straight part
}

// drawLoop draws both halves of the loop. The second is the first turned half
// way round the axis.
func (s *strip) drawLoop() {
	const step = 0.55
	end := s.stations[s.end]
	st := &end
	around := newCircle(st.radius, step)
	// The straight part was cut square, so the strands begin a little inside.
	for length := -2 * st.radius; length < 0; length += step {
		s.drawRing(st, s.helixRing(st, length), around)
	}
	// From here on the frame no longer turns with the helix.
	st.curl -= st.sinB * st.cosB / st.centre
	path := s.loopPath(st)
	steps := int(2 * loopReach * st.radius / step)
	var length float64
	last := path[0]
	for i := range steps + 1 {
		r := bezierRing(path, float64(i)/float64(steps))
		gone := r.centre.add(last, -1)
		length += math.Sqrt(gone.dot(gone))
		last = r.centre
		r.length = length
		s.drawRing(st, r, around)
	}
}

// helixRing is the section of strand 0 a length of centre line past the end.
func (s *strip) helixRing(st *station, length float64) ring {
	z := length * st.cosB
	sin, cos := math.Sincos(st.phase + z*st.rate)
	return ring{
		centre:   vec{z: float64(s.end) + z, x: st.centre * sin, y: st.centre * cos},
		normal:   vec{x: sin, y: cos},
		binormal: vec{z: st.sinB, x: -st.cosB * cos, y: st.cosB * sin},
		length:   length,
	}
}

// loopPath holds the control points of one half of the loop's centre line: it
// leaves the straight part, where the strands lie side by side, as the helix
// does, opens to an eye and turns over the tip.
func (s *strip) loopPath(st *station) []vec {
	start := vec{z: float64(s.end), x: st.centre}
	tip := vec{z: float64(s.end) + loopReach*st.radius}
	return []vec{
		start,
		start.add(vec{z: st.cosB, y: -st.sinB}, 1.4*st.radius),
		tip.add(vec{x: 2.5, z: -1.9}, st.radius),
		tip.add(vec{x: 1.8}, st.radius),
		tip,
	}
}

// bezierRing is the section at t of the path, its binormal facing the viewer
// as far as it can, which is how it leaves the helix.
func bezierRing(path []vec, t float64) ring {
	p := slices.Clone(path)
	for n := len(p) - 1; n > 1; n-- { // de Casteljau, down to the last chord
		for i := range n {
			p[i] = p[i].add(p[i+1].add(p[i], -1), t)
		}
	}
	chord := p[1].add(p[0], -1)
	tangent := chord.unit()
	binormal := vec{y: 1}.add(tangent, -tangent.y).unit()
	return ring{centre: p[0].add(chord, t), normal: tangent.cross(binormal), binormal: binormal}
}

// drawRing draws the surface of both halves at one ring.
func (s *strip) drawRing(st *station, g ring, c circle) {
	along := (st.arc + g.length) / (2 * s.radius)
	theta := -st.slip - st.curl*g.length
	for half, turn := range []float64{1, -1} {
		s.drawHoop(st.radius, g, c, half, turn, theta, along)
	}
}

// drawHoop draws the surface of one strand at one ring, turned half way round the
// axis where turn is -1. Theta is where the fibre lies that faces along the
// ring's normal.
func (s *strip) drawHoop(radius float64, g ring, c circle, strand int, turn, theta, along float64) {
	for j := range c.theta {
		n := vec{}.add(g.normal, c.cos[j]).add(g.binormal, c.sin[j])
		p := point{nx: turn * n.x, ny: turn * n.y, nz: n.z, theta: c.theta[j] + theta, along: along}
		r := radius * (1 + s.relief()*s.wool.heightAt(s.patches[strand], p.theta, along))
		at := g.centre.add(n, r)
		p.x, p.y = turn*at.x, turn*at.y
		s.drawPoint(at.z, p, strand)
	}
}

func (s *strip) drawPoint(z float64, p point, strand int) {
	column, row := int(math.Round(z)), int(math.Round(p.x+float64(s.height)/2-0.5))
	if p.ny <= 0 || column < s.end || column >= len(s.stations) || row < 0 || row >= s.height {
		return
	}
	if c := &s.cells[column*s.height+row]; c.strand == 0 || p.y > float64(c.depth) {
		putSample(c, p, strand)
	}
}
