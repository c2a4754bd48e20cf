package yarn

// Torque returns M = C tau, that with which the strand alone untwists: above zero
// against the ply.
func (s Strand) Torque() Torque {
	return Torque(float64(s.Torsion) * float64(s.Living) / (s.Diameter.Metres() / 2))
}

// Turning returns the direction in which the torque of a ply of direction ply
// turns it: with the ply above zero, the other way below, none at zero.
func (m Torque) Turning(ply Direction) Direction {
	switch {
	case m > 0:
		return ply
	case m < 0:
		return ply.Opposite()
	}
	return NoDirection
}
