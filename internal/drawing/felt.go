package drawing

import "math"

// texelAt is the surface at a sample. On felt, fibres that run every way are laid
// over each other, as many to one side as to the other, so that none lean.
func (s *strip) texelAt(c *sample) *texel {
	p := s.patches[c.strand-1]
	theta, along := float64(c.theta), float64(c.along)
	if s.yarn.Finish != Felted {
		return s.wool.at(p, theta, along)
	}
	var t texel
	for i, slope := range []float64{0.5, -0.5, 2, -2} {
		p.around, p.along = p.around+117, p.along+203*float64(i)
		// Theta runs over a strand's radius, along over its diameter.
		q := s.wool.at(p, (theta+2*slope*along)/math.Hypot(1, slope), (along-0.5*slope*theta)/math.Hypot(1, slope))
		t.tone += q.tone / 2
		t.across += q.across / 2 * float32(math.Copysign(1, slope))
	}
	return &t
}
