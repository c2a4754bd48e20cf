package drawing

import "math"

// Half the width and half the depth to which a strand's centre line swings in a
// flat braid, in strand radii: strands press into each other a little where they
// cross.
const (
	braidHalfWidth = 1.38
	braidHalfDepth = 1.1
)

// drawBraid draws three strands that pass over and under one another: each swings
// from side to side once in the time in which it comes to the front twice.
func (s *strip) drawBraid() {
	const step = 0.55
	width, depth := braidHalfWidth*s.radius, braidHalfDepth*s.radius
	rate := s.yarn.Angle.Tan() / width // radians per sample along the braid
	around := newCircle(s.radius, step)
	for k := range s.yarn.Plies {
		for z := -2 * s.radius; z < float64(len(s.stations))+2*s.radius; z += step {
			sin, cos := math.Sincos(rate*z + 2*math.Pi*float64(k)/3)
			tangent := vec{z: 1, x: width * rate * cos, y: 2 * depth * rate * (cos*cos - sin*sin)}.unit()
			binormal := vec{y: 1}.add(tangent, -tangent.y).unit()
			g := ring{centre: vec{z: z, x: width * sin, y: 2 * depth * sin * cos}, normal: tangent.cross(binormal), binormal: binormal}
			s.drawHoop(s.radius, g, around, k, 1, 0, z/(2*s.radius))
		}
	}
}
