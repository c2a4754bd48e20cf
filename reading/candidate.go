package reading

import (
	"math"

	"waketwist/raster"
)

// A candidate is a band that was followed and cut out.
type candidate struct {
	cut      *cut
	contrast float64 // along the traced line, relative to noise
	strength float64 // mean evidence for yarn inside the outline
}

// maxEvidence keeps a few sure pixels from outweighing many doubtful ones.
const maxEvidence = 6

// newCandidate follows a band. It returns nil where nothing hangs together.
func newCandidate(photo *raster.Photo, b band, noise [numCues]float64) *candidate {
	line, contrast := traceBand(photo, b, noise)
	if line == nil {
		return nil
	}
	c := cutOut(photo, line, b.width)
	if c == nil || c.width <= 0 {
		return nil
	}
	return &candidate{cut: c, contrast: contrast, strength: c.strength()}
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
	area := c.cut.width * c.cut.strip.along.length()
	return math.Max(c.strength-1, 0) * math.Min(c.contrast, 10) * math.Pow(area, 0.25)
}

// bestCandidate follows the bands and returns the best, or nil.
func bestCandidate(photo *raster.Photo, bands []band, noise [numCues]float64) *candidate {
	var best *candidate
	for _, b := range bands {
		c := newCandidate(photo, b, noise)
		if c != nil && (best == nil || c.quality() > best.quality()) {
			best = c
		}
	}
	return best
}
