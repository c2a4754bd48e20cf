package reading

import (
	"cmp"
	"math"
	"slices"
)

// A candidate is a band that was followed and cut out.
type candidate struct {
	cut      *cut
	contrast float64 // along the traced line, relative to noise
	strength float64 // mean evidence for yarn inside the outline
	bulk     bool    // looks more like the bulk of the picture than its flanks do
	central  float64 // 1 where it runs through the middle of the box, less beside it
	refused  Reason  // once it has been read, where it could not be
}

// maxEvidence keeps a few sure pixels from outweighing many doubtful ones.
const maxEvidence = 6

// newCandidate follows a band. It returns nil where nothing hangs together.
func newCandidate(src *source, b band, m *cueMap) *candidate {
	line, contrast := traceBand(src, b, m)
	if line = line.near(m.at, b.width); line == nil {
		return nil
	}
	c := cutOut(src, line, b.width, 1)
	if c == nil || c.width <= 0 {
		return nil
	}
	return &candidate{cut: c, contrast: contrast, strength: c.strength(), bulk: c.likeBulk(m),
		central: m.central(c.strip.along)}
}

// likeBulk reports whether the inside is more like the bulk of the picture than
// the flanks are: ground between two other things.
func (c *cut) likeBulk(m *cueMap) bool {
	var sum, n [2]float64
	st := c.strip
	for j := range st.rows() {
		y := st.across(j)
		for i := 0; i < st.cols(); i += 4 {
			k := j*st.cols() + i
			side := 0
			if y > c.outline.top[i] && y < c.outline.bottom[i] {
				side = 1
			}
			sum[side] += float64(m.unlike(st.chan_[0].Pix[k], st.chan_[1].Pix[k], st.chan_[2].Pix[k]))
			n[side]++
		}
	}
	return sum[1]*max(n[0], 1) < sum[0]*max(n[1], 1)
}

// strength is the mean evidence inside the outline.
func (c *cut) strength() float64 {
	var sum, n float64
	for j := range c.strip.rows() {
		y := c.strip.across(j)
		row := c.evidence.Row(j)
		for i, e := range row {
			if y > c.outline.top[i] && y < c.outline.bottom[i] {
				sum += math.Min(float64(e), maxEvidence)
				n++
			}
		}
	}
	return sum / math.Max(n, 1)
}

// quality ranks candidates: clear, contrasting and large.
func (c *candidate) quality() float64 {
	from, to := c.cut.steady()
	area := c.cut.width * c.cut.strip.along.step * float64(to-from)
	q := math.Max(c.strength-1, 0) * math.Min(c.contrast, 10) * math.Pow(area, 0.25) * c.central
	if c.bulk {
		q /= 2
	}
	return q
}

// sameYarn reports whether most of c lies on another candidate.
func (c *candidate) sameYarn(o *candidate) bool {
	a, b := c.cut.strip.along, o.cut.strip.along
	hop := max(a.len()/40, 1)
	var on, all int
	for i := 0; i < a.len(); i += hop {
		all++
		if b.distance(a.x[i], a.y[i]) < max(c.cut.width, o.cut.width)/2 {
			on++
		}
	}
	return 2*on > all
}

// narrower is the share of another's width from which a candidate that lies on it may
// be a strand of it.
const narrower = 0.8

// partOf reports whether c may be a strand of another candidate, or lies on one that
// was seen to lean both ways or to be a rope.
func (c *candidate) partOf(o *candidate) bool {
	return (c.cut.width < narrower*o.cut.width || o.refused == BothWays || o.refused == TooMany) && c.sameYarn(o)
}

// central says how near the middle of the box a line passes, as a weight: a
// person draws a box around the yarn that is meant.
func (m *cueMap) central(a *axis) float64 {
	if !m.boxed {
		return 1
	}
	cx, cy := float64(m.at.Min.X+m.at.Max.X)/2, float64(m.at.Min.Y+m.at.Max.Y)/2
	i := a.nearest(cx, cy)
	reach := (math.Abs(a.ty[i])*float64(m.at.Dx()) + math.Abs(a.tx[i])*float64(m.at.Dy())) / 2
	off := math.Hypot(a.x[i]-cx, a.y[i]-cy) / math.Max(reach, 1)
	return 1 / (1 + besideBox*off*off)
}

// besideBox sets how much less a candidate counts that runs along the side of the
// box.
const besideBox = 8

// finestOfMap is how much finer than the map candidates are looked at.
const finestOfMap = 8

// candidates follows the bands and returns what hangs together, best first.
func candidates(src *source, bands []band, m *cueMap) []*candidate {
	src.finest = m.k / finestOfMap
	defer func() { src.finest = 1 }()
	var out []*candidate
	each := make([]*candidate, len(bands))
	abreast(len(bands), func(i int) { each[i] = newCandidate(src, bands[i], m) })
	for _, c := range each {
		if c != nil && m.fits(c.cut.width) {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b *candidate) int { return cmp.Compare(b.quality(), a.quality()) })
	return out
}

// bundleLeft is the share of the width below which a second look must have
// found something clearer.
const bundleLeft = 0.4

// finish cuts the yarn out with care, which is not worth while for candidates
// that are then dropped.
func (c *candidate) finish(src *source) {
	line := c.cut.middleLine(0)
	if line == nil {
		return
	}
	full := cutOut(src, line, c.cut.width, cutRounds)
	if full == nil || full.width <= 0 {
		return
	}
	if full.width < bundleLeft*c.cut.width && full.strength() <= c.strength {
		if full = full.lessShadow(src, c.cut); full == nil {
			return
		}
	}
	full.enclosed = full.enclosed || c.cut.enclosed
	c.cut, c.strength = full, full.strength()
}

// lessShadow is a yarn that was a small part of a rough cut, cut out once more. A yarn
// of a bundle may be all that is left, cut as if its neighbours were ground, and then
// it is nil; what falls away from a single yarn is its shadow.
func (c *cut) lessShadow(src *source, rough *cut) *cut {
	line := c.middleLine(0)
	if line == nil || len(rough.split(src.sampler(rough.width/bundleRows)).middles) > 1 {
		return nil
	}
	return cutOut(src, line, c.width, cutRounds)
}
