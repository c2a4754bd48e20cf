package reading

import (
	"math"
	"slices"
)

// A band is a straight strip of the picture that stands out from both of its
// flanks: the first guess at where yarn lies. Lengths are photo pixels.
type band struct {
	x, y  float64 // a point of the middle line
	dir   float64 // direction of the line, radians counter-clockwise from picture right
	width float64
	score float64
}

// A cell holds the cues of one place of the map, or their sums over places.
type cell struct {
	// whole holds luma and chroma, which are whole numbers of 8 bits, and the
	// number of places, so that one addition adds all four. A line of the map has
	// fewer than the 1,024 places for which there is room.
	whole           uint64
	texture, unlike float64
}

// Bits of a whole: 18 each for the sums of luma and chroma, 10 for the number.
const (
	wholeBits = 18
	wholeMask = 1<<wholeBits - 1
)

// cells lays the cues side by side, for summing them along lines.
func (m *cueMap) cells() []cell {
	out := make([]cell, m.w*m.h)
	for i := range out {
		whole := uint64(1) << (3 * wholeBits)
		for c := range 3 {
			whole |= uint64(m.cue[c][i]) << (c * wholeBits)
		}
		out[i] = cell{whole, float64(m.cue[3][i]), float64(m.cue[4][i])}
	}
	return out
}

// A cueSum is the sum of each cue over some cells and, last, their number.
type cueSum [mapCues + 1]float64

// add adds what a line of the map sums up to.
func (s *cueSum) add(t cell) {
	for c := range 3 {
		s[c] += float64(t.whole >> (c * wholeBits) & wholeMask)
	}
	s[3] += t.texture
	s[4] += t.unlike
	s[mapCues] += float64(t.whole >> (3 * wholeBits))
}

// projection holds running sums of the cues across lines of one direction:
// the total over bins below each.
type projection []cueSum

// bins is how many lines across any direction the map can have.
func (m *cueMap) bins() int { return int(math.Hypot(float64(m.w), float64(m.h))) + 4 }

// origin is the bin in whose middle the middle of the map lies, a fraction where
// the lines run along an even number of rows or columns: these lie in the middle
// of a bin each, so that a mirrored picture has the same sums.
func (m *cueMap) origin(bins int, dir float64) float64 {
	at, side := float64(bins/2), 1
	switch sin, cos := math.Sincos(dir); {
	case math.Abs(sin) < 1e-9:
		side = m.h
	case math.Abs(cos) < 1e-9:
		side = m.w
	}
	return at + float64((side-1)%2)/2
}

// project sums the map along lines of direction dir. Bin i collects points
// whose distance across the lines from the origin is i. The lines are scratch,
// one for each bin.
func (m *cueMap) project(p projection, lines, cells []cell, dir float64) {
	clear(lines)
	sin, cos := math.Sincos(dir)
	half := m.origin(len(lines), dir)
	for y := range m.h {
		off := half + (float64(y)-float64(m.h-1)/2)*cos - float64(m.w-1)/2*sin + 0.5
		row := cells[y*m.w : (y+1)*m.w]
		for i := range row {
			t, c := &lines[int(off)], &row[i]
			off += sin
			t.whole += c.whole
			t.texture += c.texture
			t.unlike += c.unlike
		}
	}
	for b, t := range lines {
		p[b+1] = p[b]
		p[b+1].add(t)
	}
}

// contrast scores bins [a, b) against flanks of f bins: the squared contrast
// in units of the noise, counting only cues that differ to the same side on
// both flanks, times the length of the chord.
func (p projection) contrast(a, b, f int, noise *[mapCues]float64, least float64) float64 {
	lo, hi := a-f, b+f
	if lo < 0 || hi >= len(p) {
		return 0
	}
	l0, a0, b0, h0 := &p[lo], &p[a], &p[b], &p[hi]
	nIn := b0[mapCues] - a0[mapCues]
	nL, nR := a0[mapCues]-l0[mapCues], h0[mapCues]-b0[mapCues]
	if nIn < least*float64(b-a) || nL < 0.4*least*float64(f) || nR < 0.4*least*float64(f) {
		return 0
	}
	var s float64
	perIn, perL, perR := 1/nIn, 1/nL, 1/nR
	for c := range noise {
		in := (b0[c] - a0[c]) * perIn
		l := in - (a0[c]-l0[c])*perL
		r := in - (h0[c]-b0[c])*perR
		if l*r <= 0 {
			continue
		}
		d := min(math.Abs(l), math.Abs(r)) / noise[c]
		s += d * d
	}
	return math.Sqrt(s) * math.Sqrt(nIn/float64(b-a))
}

// narrowestBand is the width in photo pixels below which nothing is followed:
// it could not be read, and thread a little wider is refused as too small.
const narrowestBand = 4

// bandWidths are the widths tried, in map pixels.
var bandWidths = []int{1, 2, 3, 4, 5, 7, 9, 12, 16, 21, 28, 37, 50, 66, 88}

// findBands returns the most outstanding bands, best first.
func (m *cueMap) findBands(limit int) []band {
	bins := m.bins()
	least := 0.3 * float64(min(m.w, m.h))
	cells := m.cells()
	var found [directions][]band
	abreast(2, func(half int) {
		p, lines := make(projection, bins+1), make([]cell, bins)
		for a := half; a < directions; a += 2 {
			dir := float64(a) * math.Pi / directions
			m.project(p, lines, cells, dir)
			found[a] = m.bandsAlong(p, dir, least)
		}
	})
	all := slices.Concat(found[:]...)
	return suppress(slices.DeleteFunc(all, func(b band) bool { return !m.passes(b) }), limit)
}

// directions are searched for bands, at equal steps.
const directions = 120

// bandsAlong returns the bands of one direction.
func (m *cueMap) bandsAlong(p projection, dir, least float64) (found []band) {
	for _, w := range bandWidths {
		if w*m.k < narrowestBand {
			continue
		}
		if w > min(m.w, m.h)*2/3 {
			break
		}
		found = m.bestAcross(found, p, dir, w, least)
	}
	return found
}

// passes reports whether a band runs through the box where yarn must be.
func (m *cueMap) passes(b band) bool {
	if !m.fits(b.width) {
		return false
	}
	sin, cos := math.Sincos(b.dir)
	cx, cy := float64(m.at.Min.X+m.at.Max.X)/2, float64(m.at.Min.Y+m.at.Max.Y)/2
	across := math.Abs((cx-b.x)*sin + (cy-b.y)*cos)
	reach := (math.Abs(sin)*float64(m.at.Dx()) + math.Abs(cos)*float64(m.at.Dy())) / 2
	return across <= max(reach, b.width/2)
}

// bestAcross appends the local maxima of contrast for one direction and width.
func (m *cueMap) bestAcross(found []band, p projection, dir float64, w int, least float64) []band {
	n := len(p) - 1
	f := max(w/2, 2)
	prev, cur := 0.0, p.contrast(0, w, f, &m.noise, least)
	for a := 1; a+w < n; a++ {
		next := p.contrast(a, a+w, f, &m.noise, least)
		if cur > 3 && cur >= prev && cur > next {
			found = append(found, m.bandAt(dir, float64(a-1)+float64(w-1)/2-m.origin(n, dir), float64(w), cur))
		}
		prev, cur = cur, next
	}
	return found
}

// bandAt converts from map to photo pixels.
func (m *cueMap) bandAt(dir, across, w, score float64) band {
	sin, cos := math.Sincos(dir)
	k := float64(m.k)
	cx, cy := float64(m.w-1)/2+across*sin, float64(m.h-1)/2+across*cos
	return band{x: cx*k + (k-1)/2 + float64(m.view.Min.X), y: cy*k + (k-1)/2 + float64(m.view.Min.Y),
		dir: dir, width: w * k, score: score}
}

// suppress keeps the best bands that are not the same place again.
func suppress(found []band, limit int) []band {
	var kept []band
	for len(kept) < limit && len(found) > 0 {
		best := 0
		for i, b := range found {
			if b.score > found[best].score {
				best = i
			}
		}
		k := found[best]
		kept = append(kept, k)
		found = slices.DeleteFunc(found, func(b band) bool { return samePlace(k, b) })
	}
	return kept
}

// samePlace reports whether b adds nothing to k: about the same direction and
// width, with middle lines closer than the band is wide.
func samePlace(k, b band) bool {
	ratio := k.width / b.width
	if ratio > 2.5 || ratio < 0.4 {
		return false
	}
	if turn := math.Abs(k.dir - b.dir); min(turn, math.Pi-turn) > 0.25 {
		return false
	}
	sin, cos := math.Sincos(k.dir)
	across := math.Abs((b.x-k.x)*sin + (b.y-k.y)*cos)
	return across < 0.6*max(k.width, b.width)
}
