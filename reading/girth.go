package reading

import (
	"math"

	"waketwist/raster"
)

// The outline follows every column by itself: where a hair lies across the edge it
// runs out along it, and where ground is like the yarn, in. What most places of a yarn
// have in common tells its width better.
const (
	girthBins   = 24   // of the passing of a strand
	girthNear   = 0.1  // half widths from what is common, up to which an edge is that of the yarn
	girthReach  = 0.14 // widths to either side of the edge that are looked at, in steps
	girthStep   = 0.01
	girthSeek   = 0.08 // widths to either side within which the light changes most at the edge
	girthMost   = 0.04 // widths by which that moves the edge at most
	girthSmooth = 4    // columns to either side over which the light of yarn and ground is averaged
)

// girth is the width of the yarn over that of its outline: how far out its edge lies
// in most places where a strand passes alike, and where the light of all of them
// together changes most. Passing is the phase in which the strands pass, nil of
// singles.
func (b *body) girth(passing []float64) float64 {
	light, misled := b.cut.light(), b.cut.misled()
	var yarn, outline float64
	for side, edge := range [2][]float64{b.cut.outline.top, b.cut.outline.bottom} {
		e := b.border(edge, float64(2*side-1), passing)
		outline += e.average(e.reach)
		yarn += e.average(e.usual)
		if !misled[side] {
			yarn += b.width * clampTo(fallOff(e.across(light)), girthMost)
		}
	}
	return yarn / max(outline, 1e-9)
}

// A border is one edge of a body: at each column, how far out it reaches from a middle
// and where it usually does, in units.
type border struct {
	*body
	out          float64 // -1 at the top, 1 at the bottom
	middle       []float64
	unit         []float64 // photo pixels
	reach, usual []float64
}

// border is the edge on the side out. That of a ply is taken from the middle of the
// yarn, in half widths, to lay places over each other that may not be as thick; that of
// singles from where the strip was laid, which no hair has moved.
func (b *body) border(edge []float64, out float64, passing []float64) *border {
	n := b.cols()
	e := &border{body: b, out: out, middle: make([]float64, n), unit: make([]float64, n), reach: make([]float64, n)}
	for i, place := range b.place {
		z := place / b.cut.strip.along.step
		e.unit[i] = b.width / 2
		if passing != nil {
			e.middle[i], e.unit[i] = between(b.mid, z), b.local[i]/2
		}
		e.reach[i] = out * (between(edge, z) - e.middle[i]) / e.unit[i]
	}
	e.usual = usually(e.reach, passing)
	return e
}

// misled says on which sides light does not tell where the yarn ends: ground in its
// shadow lies beside yarn that is no lighter than the ground in full light.
func (c *cut) misled() (sides [2]bool) {
	width, middle := c.outline.mean()
	luma := c.strip.rowMeans(c.strip.chan_[0])
	lo, hi := c.row(middle-width/2), c.row(middle+width/2)
	if median(luma[lo:hi+1]) < clearOfShadow*groundMean(luma, lo, hi) {
		sides[0], sides[1] = c.shaded()
	}
	return sides
}

// passing is the phase in which the strands pass, one each turn of it, at each column.
func (m fitting) passing() []float64 {
	out := make([]float64, len(m.trace.phase))
	for i, p := range m.trace.phase {
		out[i] = p * float64(m.guess.repeat)
	}
	return out
}

// average is the mean of a reach over the length, in photo pixels.
func (e *border) average(reach []float64) float64 {
	var sum, length float64
	for i := 1; i < len(reach); i++ {
		dz := e.place[i] - e.place[i-1]
		sum += dz * (reach[i-1]*e.unit[i-1] + reach[i]*e.unit[i]) / 2
		length += dz
	}
	return sum / max(length, 1e-9)
}

// usually is the median of the columns in which a strand passes alike or, where none
// do, of those within a width.
func usually(r, passing []float64) []float64 {
	out := make([]float64, len(r))
	if passing == nil {
		for i := range r {
			out[i] = median(r[max(i-colsPerBody, 0):min(i+colsPerBody+1, len(r))])
		}
		return out
	}
	bin := func(i int) int {
		turn := passing[i] / (2 * math.Pi)
		return min(int((turn-math.Floor(turn))*girthBins), girthBins-1)
	}
	var bins [girthBins][]float64
	for i, v := range r {
		bins[bin(i)] = append(bins[bin(i)], v)
	}
	var common [girthBins]float64
	for k, v := range bins {
		common[k] = median(v)
	}
	for i := range r {
		out[i] = common[bin(i)]
	}
	return out
}

// fullLight is the level of white.
const fullLight = 255

// light is the lightness and chroma of the strip as shares of light. A pixel that yarn
// and ground share has its share of the light of either, which goes with the square
// of the level: half way between the levels, light yarn on dark ground looks wider
// than it is, and dark yarn narrower.
func (c *cut) light() (out [3]*raster.Field) {
	luma := c.strip.chan_[0]
	for k, f := range c.strip.chan_ {
		out[k] = f.Clone()
		for i, y := range luma.Pix {
			if k > 0 {
				out[k].Pix[i] = (f.Pix[i] - 128) * 2 * y / fullLight
			} else {
				out[k].Pix[i] = y * y / fullLight
			}
		}
	}
	return out
}

// across is the share of yarn in the light across the edge, from within it outwards,
// over all columns in which it lies about where it usually does. Each counts by how
// much yarn and ground differ there.
func (e *border) across(light [3]*raster.Field) []float64 {
	st := e.cut.strip
	at := func(f *raster.Field, i int, off float64) float64 {
		across := e.middle[i] + e.out*(e.reach[i]*e.unit[i]+off*e.width)
		return float64(f.At(e.place[i]/st.along.step, (across+st.reach)/st.step))
	}
	n := e.cols()
	p := make([]float64, 2*int(girthReach/girthStep)+1)
	yarn, ground := make([]float64, n), make([]float64, n)
	var norm float64
	for _, f := range light {
		for i := range n {
			yarn[i], ground[i] = 0, 0
			for k := range 4 {
				yarn[i] += at(f, i, -0.06-0.03*float64(k)) / 4
				ground[i] += at(f, i, 0.10+0.03*float64(k)) / 4
			}
		}
		inner, outer := smooth(yarn, nil, girthSmooth), smooth(ground, nil, girthSmooth)
		for i := range n {
			if math.Abs(e.reach[i]-e.usual[i]) > girthNear {
				continue
			}
			d := inner[i] - outer[i]
			norm += d * d
			for k := range p {
				p[k] += d * (at(f, i, float64(k)*girthStep-girthReach) - outer[i])
			}
		}
	}
	for k := range p {
		p[k] /= max(norm, 1e-9)
	}
	return p
}

// fallOff is how far out, in widths, the share of yarn falls most: the middle of what
// is half as steep at least. Among hairs, farther out, it falls slowly. What falls ever
// more steeply away from the edge is something else, a shadow or a neighbour, and
// moves nothing.
func fallOff(p []float64) float64 {
	slope := make([]float64, len(p))
	most := len(p) / 2
	for i := 1; i+1 < len(p); i++ {
		slope[i] = p[i-1] - p[i+1]
		if off := math.Abs(float64(i)*girthStep - girthReach); off < girthSeek && slope[i] > slope[most] {
			most = i
		}
	}
	if slope[most-1] > slope[most] || slope[most+1] > slope[most] {
		return 0
	}
	from, to := most, most+1
	for from > 1 && slope[from-1] > slope[most]/2 {
		from--
	}
	for to+1 < len(p) && slope[to] > slope[most]/2 {
		to++
	}
	var sum, weight float64
	for i := from; i < to; i++ {
		w := slope[i] - slope[most]/2
		sum += w * float64(i)
		weight += w
	}
	if weight <= 0 {
		return 0
	}
	return sum/weight*girthStep - girthReach
}
