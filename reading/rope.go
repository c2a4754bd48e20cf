package reading

import "math"

// A rope whose fibres are clear passes for singles, but the borders between its
// strands are steeper than its fibres, which lean back in the strands, and often
// show a rope's lay. What is taken for the lay of a rope on singles are stripes,
// which lie along the fibres.
const (
	ropeOfFibres      = 0.3  // score times root of the periods seen; singles come to 0.2 where the lay is steeper than the fibres
	ropeOfStripes     = 0.5  // score of strands in several colours; stripes of singles, which come round once a turn, come to 0.42
	bordersOverFibres = 1.35 // tangent of borders over that of fibres: singles come to 1.25, most ropes to 1.4 and more
)

// isRope reports whether yarn with such fibres, of which lines along it have so much
// in common, is a rope.
func (c *cut) isRope(src *source, f fibreLay, long longLay) bool {
	b := c.body()
	l := b.borders()
	if l.clear() && l.share >= leanShare && l.high < mostArc && tanDegrees(l.low) > bordersOverFibres*seenTangent(f) {
		return true
	}
	least := 0.0
	if b.fibresAlone(f) {
		least = slightScore
	}
	return b.showsRope(seenTangent(f), least) || b.comesRound() > strandsRound || c.steeper(src, f, long) > surelySteeper
}

// showsRope reports whether a rope's lay steeper than a tangent is seen, with so much
// score at least, or a striking one of strands in several colours.
func (b *body) showsRope(tan, least float64) bool {
	for _, y := range b.lays(laysTried) {
		phase, _ := b.follow(y)
		f := b.newFold(phase, 0, b.cols())
		for _, k := range ropes {
			m, ok := f.bestPlaced(k, y.lag > 0)
			if ok && m.score > max(least, ropeOfFibres/math.Sqrt(f.periods)) && math.Tan(m.guess.ply.b) > tan {
				return true
			}
		}
		for _, k := range colouredRopes {
			if m, ok := f.bestPlaced(k, y.lag > 0); ok && m.score > ropeOfStripes {
				return true
			}
		}
	}
	return false
}

// Where no one witness is sure, three are added up that look for something steeper
// than the fibres: what lines along the yarn have in common, the borders, and the
// swing of the fibres' own lean, which is less on the crest of a strand than beside
// its border. Each counts by the logarithm of its tangent over that of the fibres,
// and the last two by how surely they are seen.
const (
	surelySteeper = 1.65 // singles come to 1.5, where they shine; heather ropes to 1.85 and more
	leastSteeper  = -0.4 // what is flatter speaks against a rope, but not beyond this
	sureSteeper   = 2    // standard errors by which a lean beats its own mirror, to count in full
	flattestLong  = 14   // degrees: flatter fibres reach beyond the mean that is taken off lines along the yarn, and are seen as steep as this
)

// steeper is by how much what crosses the yarn is steeper than its fibres, all
// witnesses together: near 0 on singles.
func (c *cut) steeper(src *source, f fibreLay, long longLay) float64 {
	tan := seenTangent(f)
	sum := 0.0
	if long.angle*f.angle > 0 {
		sum = max(math.Log(tanDegrees(math.Abs(long.angle))/max(tan, tanDegrees(flattestLong))), leastSteeper)
	}
	z := f.angle > 0
	swing := c.swing(src, f)
	return sum + c.body().borders().over(tan, z) + swing.over(tan, z)*min(max(swing.share/max(swing.mirror, 1e-9)-1, 0), 1)
}

// over is the logarithm of the tangent of a lean over another to a side, times how
// surely it is seen; 0 where it leans to the other, or may lean more than is looked
// for.
func (l borderLean) over(tan float64, z bool) float64 {
	if l.angle > 0 != z || l.high >= mostArc {
		return 0
	}
	sure := min(max(min(l.sure[0]/sureSteeper, l.sure[1], l.sure[2]), 0), 1)
	return sure * max(math.Log(tanDegrees(math.Abs(l.angle))/tan), leastSteeper)
}

// aloneContrast is the contrast from which nearly all texture runs along fibres.
const aloneContrast = 0.9

// fibresAlone reports whether nearly all texture runs along the fibres and what
// passes for borders is no steeper than they are, and so is fibres as well: the
// fibres of a ply or a rope lean back in its strands.
func (b *body) fibresAlone(f fibreLay) bool {
	l := b.borders()
	return f.contrast >= aloneContrast && l.clear() && l.share >= leanShare &&
		l.angle > 0 == (f.angle > 0) && tanDegrees(l.low) <= seenTangent(f)
}

// seenTangent is the tangent of the surface fibres' angle, without its side.
func seenTangent(f fibreLay) float64 { return surfaceOverSeen * math.Tan(math.Abs(f.angle)) }
