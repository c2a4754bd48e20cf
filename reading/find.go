package reading

import (
	"image"
	"math"
	"slices"

	"waketwist/raster"
)

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
	boxed bool            // whether that was said, or the picture was cut to it
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
		// A picture cut to a length of yarn is as good as a box around it.
		m.at, m.boxed = whole, float64(max(w, h)) >= longBox*float64(min(w, h))
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
	m.setUnlike()
	setNoise(4)
	return m
}

// setUnlike fills the last cue, afresh, from the first three and the bulk.
func (m *cueMap) setUnlike() {
	m.cue[4] = make([]float32, m.w*m.h)
	for i := range m.cue[4] {
		m.cue[4][i] = m.unlike(m.cue[0][i], m.cue[1][i], m.cue[2][i])
	}
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
	return float64(nth(s, len(s)/2))
}

// setTexture fills the fourth cue: the logarithm of the mean absolute
// difference between neighbouring luma pixels in each cell of the map.
func (m *cueMap) setTexture(src *source) {
	step := src.base // a cell needs no more than some 64 samples
	for step*16 <= m.k {
		step *= 2
	}
	luma := src.reduced(0, step)
	x0, y0 := m.view.Min.X/step, m.view.Min.Y/step
	cell := cellsOf(min(m.view.Max.X/step, luma.W-1)-x0, step, m.k, m.w)
	row := cellsOf(min(m.view.Max.Y/step, luma.H-1)-y0, step, m.k, m.h)
	sum, n := make([]int32, m.w*m.h), make([]int32, m.w*m.h)
	for y, j := range row {
		at := j * m.w
		addSteps(sum[at:at+m.w], n[at:at+m.w], cell, luma.Row(y0 + y)[x0:], luma.Row(y0 + y + 1)[x0:])
	}
	m.cue[3] = make([]float32, m.w*m.h)
	for i, s := range sum {
		m.cue[3][i] = logOf(1 + float32(s)/float32(max(n[i], 1)))
	}
}

// cellsOf is the cell, of so many, of each of n places a step apart where a cell
// is k long; what is over counts to the last.
func cellsOf(n, step, k, cells int) []int {
	out := make([]int, max(n, 0))
	for i := range out {
		out[i] = min(i*step/k, cells-1)
	}
	return out
}

// addSteps adds up how far the values of a differ from those to their right
// and from b below, and their number, by cells.
func addSteps(sum, n []int32, cell []int, a, b []uint8) {
	a, b = a[:len(cell)+1], b[:len(cell)]
	for x, i := range cell {
		v := int32(a[x])
		dx, dy := v-int32(a[x+1]), v-int32(b[x])
		sum[i] += max(dx, -dx) + max(dy, -dy)
		n[i]++
	}
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
	return 1.48 * float64(nth(dev, len(dev)/2))
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
	return m.aspect() >= longBox
}

// aspect is the length of the box over its width, 0 where none was drawn.
func (m *cueMap) aspect() float64 {
	if !m.boxed {
		return 0
	}
	return float64(max(m.at.Dx(), m.at.Dy())) / float64(min(m.at.Dx(), m.at.Dy()))
}

// fits reports whether yarn of a width may be what a long box was drawn around.
func (m *cueMap) fits(width float64) bool {
	if !m.longBox() {
		return true
	}
	short := float64(min(m.at.Dx(), m.at.Dy()))
	return width >= leastOfBox*short && width <= mostOfBox*short
}
