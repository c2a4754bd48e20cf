package reading

import (
	"math"
	"slices"

	"waketwist/unit"
)

// Where few periods of a lay are in view, laying them over each other averages
// little out, and one half cannot be compared with the other. There the borders of
// the strands are asked as well: they cross the yarn to the side of the lay, and next
// to nothing crosses it to the other. Of what is not twisted nothing was seen to do so.
const (
	fewPeriods   = 5
	twicePeriods = 1.25             // in view: less shows nothing twice
	borderShare  = 0.4              // of what varies, that is alike along the borders
	borderOver   = 4                // times as much as along any lean to the other side
	borderSure   = 1                // standard errors by which the lean beats its own mirror
	flatLay      = 24 * unit.Degree // at most: a steeper one shows more turns in any stretch of yarn
	borderTimes  = 2.5              // times the tangent of the model's border, at most, or the other way about
	borderLeast  = 0.75             // the same at least, where the pitch is unsure: what is seen on the outline leans more than the model's mean
	borderMost   = 1.6              // the same at most, of the flattest that may be seen: plies come to 1.4
)

// few reports whether so few periods of the lay are in view.
func (m fitting) few() bool { return m.trace.fold.periods < fewPeriods }

// once reports whether so little is in view that nothing is seen twice: the lay may be
// sure by then, but its pitch and the number of strands rest on slow changes.
func (m fitting) once() bool { return m.trace.fold.periods < twicePeriods }

// once reports whether so little of every yarn is in view.
func (s solution) once() bool {
	return !slices.ContainsFunc(s.fits, func(f fitting) bool { return !f.once() })
}

// bordered reports whether the borders of a single yarn bear out a lay of which
// few periods are in view. Three colours and more imitate any slow change, and so the
// lay of a rope of fewer.
func (s solution) bordered() bool {
	if len(s.fits) != 1 || s.of[0].cut.abreast > 1 {
		return false
	}
	f := s.fits[0]
	if !f.few() || s.once() || f.key().repeat > 2 || s.score*math.Sqrt(s.periods()) < vouchedScore || s.angle() > flatLay {
		return false
	}
	return s.of[0].bears(f)
}

// bears reports whether the borders of the strands are seen to bear a lay out, from end
// to end of the yarn.
func (b *body) bears(m fitting) bool {
	l := b.borders()
	times := m.borderTimes(l.angle)
	return l.angle > 0 == m.guess.z && l.share >= max(borderShare, borderOver*l.mirror) && l.sure[0] >= borderSure &&
		times < borderTimes && times > 1/borderTimes
}

// borderTimes is the tangent of borders seen to lean by so many degrees over that of
// the model's.
func (m fitting) borderTimes(degrees float64) float64 {
	return tanDegrees(math.Abs(degrees)) / m.guess.ply.borderAngle().Tan()
}

// denied reports whether what crosses the yarn is seen to lean against a lay, in both
// halves across: the lay is then a slow change of light or colour. Nor may it lean
// far more than the borders of the model (those of two strands wind too far for arcs),
// as where a line along the cut meets one yarn after another, or, where nothing is seen
// twice, less.
func (b *body) denied(m fitting) bool {
	l := b.borders()
	if l.angle > 0 != m.guess.z {
		return min(l.sure[1], l.sure[2]) >= leanHalfSure
	}
	return m.key().n > 2 && m.borderTimes(l.low) > borderMost || m.once() && m.borderTimes(l.angle) < borderLeast
}
