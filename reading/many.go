package reading

// ropes are kinds of more strands than are read. They are looked at only to know
// them for what they are.
var ropes = []kind{{5, 1, round}, {6, 1, round}, {7, 1, round}}

// colouredRopes are the same with strands of several colours. So many colours
// imitate much, and are not held against strands that a person has stated.
var colouredRopes = []kind{{5, 5, round}, {6, 2, round}, {6, 3, round}, {6, 6, round}, {7, 7, round}}

// strands are the kinds that a rope must explain better than: where the strands are
// stated, the solution holds only those.
var strands = []kind{{2, 1, round}, {3, 1, round}, {4, 1, round}}

// many is the score of the rope that explains the yarns best over that of the
// solution, or of any fewer strands, on the same lay.
func (s solution) many(stated bool) float64 {
	rope := s.bestOf(ropes)
	if !stated {
		rope = max(rope, s.bestOf(colouredRopes))
	}
	return rope / max(s.score, s.bestOf(strands))
}

// bestOf is the best mean score of some kinds on the solution's lay.
func (s solution) bestOf(kinds []kind) (best float64) {
	for _, k := range kinds {
		var score float64
		for _, f := range s.fits {
			if m, ok := f.trace.fold.bestPlaced(k, s.key.z); ok {
				score += m.score / float64(len(s.fits))
			}
		}
		best = max(best, score)
	}
	return best
}
