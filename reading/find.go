package reading

import (
	"image"
	"math"
	"slices"

	"waketwist/raster"
)

// A band is a straight strip of the picture that stands out from both of its
// flanks: the first guess at where yarn lies. Lengths are photo pixels.
type band struct {
	x, y  float64 // a point of the middle line
	dir   float64 // direction of the line, radians counter-clockwise from picture right
	width float64
	score float64
}

// mapCues is the number of channels in which a band may stand out: luma, two
// of chroma, fineness of texture, and unlikeness to the bulk of the picture,
// which a yarn of light and dark strands has where its mean lightness has not.
const mapCues = 5

// cueMap is the picture reduced for the search.
type cueMap struct {
	w, h  int
	k     int             // photo pixels per map pixel
	view  image.Rectangle // the part of the picture that is mapped, photo pixels
	at    image.Rectangle // where the yarn must pass, photo pixels
	boxed bool            // whether that was said
	cue   [mapCues][]float32
	noise [mapCues]float64 // typical deviation from the neighbourhood
	bulk  [3]float64       // median luma and chroma of the picture
}

// searchSide is the longer side of the map on which bands are looked for.
const searchSide = 240

// viewAround returns the part of a picture to search for yarn that passes
// through a box: the box with some ground around it. The whole picture where
// the box is empty or outside.
func viewAround(whole, at image.Rectangle) image.Rectangle {
	if at.Intersect(whole).Empty() {
		return whole
	}
	margin := max(at.Dx()*3/4, at.Dy()*3/4, max(whole.Dx(), whole.Dy())/8)
	return at.Inset(-margin).Intersect(whole)
}

// makeCueMap reduces the photograph, or what lies around the box `at`.
func makeCueMap(src *source, at image.Rectangle) *cueMap {
	w, h := src.photo.Size()
	m := &cueMap{view: viewAround(image.Rect(0, 0, w, h), at), at: at, boxed: true}
	if whole := image.Rect(0, 0, w, h); at.Intersect(whole).Empty() {
		m.at, m.boxed = whole, false
	}
	m.k = src.even(max((max(m.view.Dx(), m.view.Dy())+searchSide-1)/searchSide, 1))
	m.view.Min.X -= m.view.Min.X % m.k
	m.view.Min.Y -= m.view.Min.Y % m.k
	m.w, m.h = m.view.Dx()/m.k, m.view.Dy()/m.k
	floor := [mapCues]float64{2.5, 1.2, 1.2, 0.12, 0.6}
	setNoise := func(c int) { m.noise[c] = math.Hypot(roughness(m.cue[c], m.w, m.h), floor[c]) }
	abreast(3, func(c int) {
		m.setChannel(src, c)
		setNoise(c)
		if c == 0 { // texture is made from luma
			m.setTexture(src)
			setNoise(3)
		}
	})
	for c := range 3 {
		m.bulk[c] = medianOf(m.cue[c])
	}
	m.cue[4] = make([]float32, m.w*m.h)
	for i := range m.cue[4] {
		m.cue[4][i] = m.unlike(m.cue[0][i], m.cue[1][i], m.cue[2][i])
	}
	setNoise(4)
	return m
}

// setChannel fills one of the first three cues.
func (m *cueMap) setChannel(src *source, c int) {
	x0, y0 := m.view.Min.X/m.k, m.view.Min.Y/m.k
	p := src.reduced(c, m.k)
	m.cue[c] = make([]float32, m.w*m.h)
	for y := range m.h {
		for x, v := range p.Row(y0 + y)[x0 : x0+m.w] {
			m.cue[c][y*m.w+x] = float32(v)
		}
	}
}

// mostUnlike bounds unlikeness, in units of noise.
const mostUnlike = 8

// unlike is how far a colour lies from the bulk of the picture.
func (m *cueMap) unlike(y, cb, cr float32) float32 {
	var s float64
	for c, v := range [3]float32{y, cb, cr} {
		d := (float64(v) - m.bulk[c]) / m.noise[c]
		s += d * d
	}
	return float32(min(math.Sqrt(s), mostUnlike))
}

// medianOf is the median of every third value.
func medianOf(v []float32) float64 {
	s := make([]float32, 0, len(v)/3+1)
	for i := 0; i < len(v); i += 3 {
		s = append(s, v[i])
	}
	if len(s) == 0 {
		return 0
	}
	slices.Sort(s)
	return float64(s[len(s)/2])
}

// setTexture fills the fourth cue: the logarithm of the mean absolute
// difference between neighbouring luma pixels in each cell of the map.
func (m *cueMap) setTexture(src *source) {
	step := src.base // a cell needs no more than some 64 samples
	for step*16 <= m.k {
		step *= 2
	}
	luma := src.reduced(0, step)
	sum, n := make([]float32, m.w*m.h), make([]float32, m.w*m.h)
	x0, y0 := m.view.Min.X/step, m.view.Min.Y/step
	x1, y1 := min(m.view.Max.X/step, luma.W-1), min(m.view.Max.Y/step, luma.H-1)
	for y := y0; y < y1; y++ {
		a, b := luma.Row(y), luma.Row(y+1)
		row := min((y-y0)*step/m.k, m.h-1) * m.w
		for x := x0; x < x1; x++ {
			v := int(a[x])
			dx, dy := v-int(a[x+1]), v-int(b[x])
			i := row + min((x-x0)*step/m.k, m.w-1)
			sum[i] += float32(max(dx, -dx) + max(dy, -dy))
			n[i]++
		}
	}
	for i := range sum {
		sum[i] = logOf(1 + sum[i]/max(n[i], 1))
	}
	m.cue[3] = sum
}

// roughness is a robust standard deviation of v about its own blur.
func roughness(v []float32, w, h int) float64 {
	f := &raster.Field{W: w, H: h, Pix: slices.Clone(v)}
	f.BlurRows(6)
	f.BlurColumns(6)
	dev := make([]float32, 0, len(v)/3+1)
	for i := 0; i < len(v); i += 3 {
		d := v[i] - f.Pix[i]
		dev = append(dev, max(d, -d))
	}
	if len(dev) == 0 {
		return 0
	}
	slices.Sort(dev)
	return 1.48 * float64(dev[len(dev)/2])
}

// A cell holds all cues of one place of the map, side by side.
type cell [mapCues]float32

// cells lays the cues side by side, for summing them along lines.
func (m *cueMap) cells() []cell {
	out := make([]cell, m.w*m.h)
	for c := range m.cue {
		for i, v := range m.cue[c] {
			out[i][c] = v
		}
	}
	return out
}

// A cueSum is the sum of each cue over some cells and, last, their number.
type cueSum [mapCues + 1]float64

// projection holds running sums of the cues across lines of one direction:
// the total over bins below each.
type projection []cueSum

// project sums the map along lines of direction dir. Bin i collects points
// whose distance across the lines, offset by half the number of bins, is i.
func (m *cueMap) project(p projection, cells []cell, dir float64) {
	clear(p)
	sin, cos := math.Sincos(dir)
	half := float64(len(p)-1) / 2
	for y := range m.h {
		off := half + (float64(y)-float64(m.h-1)/2)*cos - float64(m.w-1)/2*sin + 0.5
		row := cells[y*m.w : (y+1)*m.w]
		for i := range row {
			t, c := &p[int(off)+1], &row[i]
			off += sin
			t[0] += float64(c[0])
			t[1] += float64(c[1])
			t[2] += float64(c[2])
			t[3] += float64(c[3])
			t[4] += float64(c[4])
			t[mapCues]++
		}
	}
	for b := 1; b < len(p); b++ {
		for c := range p[b] {
			p[b][c] += p[b-1][c]
		}
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
	for c := range noise {
		in := (b0[c] - a0[c]) / nIn
		l := in - (a0[c]-l0[c])/nL
		r := in - (h0[c]-b0[c])/nR
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
	bins := int(math.Hypot(float64(m.w), float64(m.h))) + 4
	least := 0.3 * float64(min(m.w, m.h))
	cells := m.cells()
	var found [directions][]band
	abreast(2, func(half int) {
		p := make(projection, bins+1)
		for a := half; a < directions; a += 2 {
			found[a] = m.bandsAlong(p, cells, float64(a)*math.Pi/directions, least)
		}
	})
	all := slices.Concat(found[:]...)
	return suppress(slices.DeleteFunc(all, func(b band) bool { return !m.passes(b) }), limit)
}

// directions are searched for bands, at equal steps.
const directions = 120

// bandsAlong returns the bands of one direction.
func (m *cueMap) bandsAlong(p projection, cells []cell, dir, least float64) (found []band) {
	m.project(p, cells, dir)
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

// A box drawn around a length of yarn is at least longBox times as long as
// wide, and the yarn takes a share of the box's width between these.
const (
	longBox    = 2.5
	leastOfBox = 0.15
	mostOfBox  = 1.1
)

// longBox reports whether a box was drawn around a length of yarn.
func (m *cueMap) longBox() bool {
	return m.boxed && float64(max(m.at.Dx(), m.at.Dy())) >= longBox*float64(min(m.at.Dx(), m.at.Dy()))
}

// fits reports whether yarn of a width may be what a long box was drawn around.
func (m *cueMap) fits(width float64) bool {
	if !m.longBox() {
		return true
	}
	short := float64(min(m.at.Dx(), m.at.Dy()))
	return width >= leastOfBox*short && width <= mostOfBox*short
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
			found = append(found, m.bandAt(dir, float64(a-1)+float64(w)/2-float64(n)/2, float64(w), cur))
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
	slices.SortStableFunc(found, func(a, b band) int {
		switch {
		case a.score > b.score:
			return -1
		case a.score < b.score:
			return 1
		}
		return 0
	})
	var kept []band
	for _, b := range found {
		if len(kept) == limit {
			break
		}
		if !slices.ContainsFunc(kept, func(k band) bool { return samePlace(k, b) }) {
			kept = append(kept, b)
		}
	}
	return kept
}

// samePlace reports whether b adds nothing to k: about the same direction and
// width, with middle lines closer than the band is wide.
func samePlace(k, b band) bool {
	turn := math.Abs(math.Remainder(k.dir-b.dir, math.Pi))
	ratio := k.width / b.width
	if turn > 0.25 || ratio > 2.5 || ratio < 0.4 {
		return false
	}
	sin, cos := math.Sincos(k.dir)
	across := math.Abs((b.x-k.x)*sin + (b.y-k.y)*cos)
	return across < 0.6*max(k.width, b.width)
}
