package reading

// ropes are kinds of more strands than are read. They are looked at only to know
// them for what they are.
var ropes = []kind{{5, 1, round}, {6, 1, round}, {7, 1, round}}

// many is the score of the rope that explains the yarns best over that of the
// solution, on the same lay.
func (s solution) many() float64 {
	var most float64
	for _, k := range ropes {
		var score float64
		for _, f := range s.fits {
			if m, ok := f.trace.fold.bestPlaced(k, s.key.z); ok {
				score += m.score / float64(len(s.fits))
			}
		}
		most = max(most, score)
	}
	return most / s.score
}
