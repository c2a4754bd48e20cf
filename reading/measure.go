package reading

import "math"

// solidShare is the share of the outline's width that is left when loose
// fibres, which thicken it all round, are not counted: for the width that is
// reported, which leaves out hairs, and for the helix of the strands, which leaves
// out what lies loosely on them as well (assumptions).
const (
	solidShare  = 0.99
	strandShare = 0.98
)

// slot is how much of the outline's width the yarn fills, as the fit has it, between
// neighbours, where the outline is that of a slot. Where the yarn lies alone the
// outline itself tells: the fit hardly depends on the scale, and what it changes
// about it is chance.
func (m fitting) slot(abreast int) float64 {
	if abreast > 1 {
		return m.scale
	}
	return 1
}

// believed is how much of the outline's width the angle rests on: as much as the fit has
// between neighbours, half way from the outline to the fit where the yarn lies alone.
// Each is about as often the one that errs, by a shadow or by how the strands are lit.
func (m fitting) believed(abreast int) float64 {
	if abreast > 1 {
		return m.scale
	}
	return (1 + m.scale) / 2
}

// refined searches width and place more finely around a fit.
func (m fitting) refined() fitting {
	best := m
	for _, d := range []float64{0.05, 0.025} {
		for _, at := range [][2]float64{{d, 0}, {-d, 0}, {0, d}, {0, -d}} {
			for {
				f, ok := m.trace.fold.fit(m.key().kind, m.guess.z, best.scale+at[0], best.offset+at[1])
				if !ok || f.score <= best.score+1e-9 || f.scale < 0.6 || f.scale > 1.2 {
					break
				}
				f.lay, f.trace = m.lay, m.trace
				best = f
			}
		}
	}
	return best
}

// measure reads angle, width and pitch along a body under a fit, window by
// window, and averages by length. It reports false where the lay is lost
// nearly everywhere.
func (b *body) measure(m fitting) (plyMeasure, bool) {
	n, strands := m.guess.ply.n, float64(m.guess.ply.n)/float64(m.guess.repeat)
	phase, strength := m.trace.phase, m.trace.strength
	usual := median(strength)
	girth := b.girth(m.passing())
	half := max(int(m.period/2), 2)
	var sum, sum2, weight, turns, length, wide, wide2 float64
	for i := half; i+half < b.cols(); i += half {
		lo, hi := i-half, i+half
		dz := b.place[hi] - b.place[lo]
		dp := (phase[hi] - phase[lo]) / (2 * math.Pi) / strands // full turns
		if strength[i] < 0.35*usual || dp <= 0 {
			continue
		}
		q, ok := plyFor(n, m.guess.ply.form, dz/dp, b.local[i]*m.believed(b.cut.abreast)*strandShare)
		if !ok {
			continue
		}
		sum += dz * q.b
		sum2 += dz * q.b * q.b
		weight += dz
		turns += dp
		length += dz
		w := b.local[i] * girth * m.slot(b.cut.abreast) * solidShare * q.envelope() / q.sil
		wide += dz * w
		wide2 += dz * w * w
	}
	if weight == 0 {
		return plyMeasure{}, false
	}
	mean := sum / weight
	w := wide / weight
	return plyMeasure{angle: mean, spread: math.Sqrt(math.Max(sum2/weight-mean*mean, 0)),
		girth: girth, width: w, cv: math.Sqrt(math.Max(wide2/weight/(w*w)-1, 0)),
		turn: length / turns, turns: turns / 2}, true
}
