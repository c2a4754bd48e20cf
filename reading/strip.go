package reading

import (
	"math"
	"sync"

	"waketwist/raster"
)

// A source is a photograph with the reductions of it made so far.
type source struct {
	photo    *raster.Photo
	base     int                // no reduction by less than this: the photograph is large
	levels   [3][]*raster.Plane // reduced by 2, 4, 8 and so on, as far as was needed
	mu       sync.Mutex         // of samplers
	samplers map[int]*sampler
	plain    *source // the same photograph as it is, where it is looked at in another tone
	tone     tone
	finest   int // no reduction by less than this, while candidates are compared
	seen     *witness
	ground   bulk    // what most of the picture looks like
	asked    float64 // score asked of a ply: less where a person has boxed the yarn and stated its strands
}

// longestBase is the longer side, in pixels, beyond which a photograph is never
// looked at as it is, but reduced.
const longestBase = 2400

func newSource(photo *raster.Photo) *source {
	s := &source{photo: photo, base: 1, samplers: map[int]*sampler{}}
	for w, h := photo.Size(); max(w, h) > longestBase*s.base; {
		s.base *= 2
	}
	return s
}

// sampler gives the channels of a photo at a working scale.
type sampler struct {
	w, h  int // of the photo
	k     [3]int
	plane [3]*raster.Plane
}

// sampler returns the photograph reduced so that structures of about `detail`
// photo pixels keep a pixel of their own. Chroma is kept no finer than it is
// stored.
func (s *source) sampler(detail float64) *sampler {
	detail = max(detail, float64(s.finest))
	k := 1
	for k*2 <= int(detail) {
		k *= 2
	}
	if k*3/2 <= int(detail) && k > 1 {
		k = k * 3 / 2
	}
	if k > s.base {
		k = k / s.base * s.base
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if have := s.samplers[k]; have != nil {
		return have
	}
	out := &sampler{}
	out.w, out.h = s.photo.Size()
	for c := range out.plane {
		out.k[c] = k
		if step := s.photo.ChromaStep(); c > 0 && k%step != 0 {
			out.k[c] = (k/step + 1) * step
		}
		out.plane[c] = s.reduced(c, out.k[c])
	}
	s.samplers[k] = out
	return out
}

// reduced returns a channel reduced by k, through halves where k is even. One
// channel must not be reduced twice at the same time.
func (s *source) reduced(c, k int) *raster.Plane {
	if s.plain != nil {
		return s.tone.of(c, s.plain.reduced(c, k))
	}
	level, by := 0, 1
	for k%(2*by) == 0 {
		by *= 2
		level++
	}
	if level == 0 {
		return s.photo.Reduce(raster.Channel(c), k)
	}
	for have := len(s.levels[c]); have < level; have++ {
		var next *raster.Plane
		if have == 0 {
			next = s.photo.Reduce(raster.Channel(c), 2)
		} else {
			next = s.levels[c][have-1].Reduce(2)
		}
		s.levels[c] = append(s.levels[c], next)
	}
	return s.levels[c][level-1].Reduce(k / by)
}

// even rounds k to what is quick to reduce by: of a large photograph, a multiple
// of four times the least reduction.
func (s *source) even(k int) int {
	if s.base == 1 {
		return k
	}
	step := 4 * s.base
	if k < 2*step {
		step = s.base
	}
	return max((k+step/2)/step*step, s.base)
}

// at returns channel c at a photo point.
func (s *sampler) at(c int, x, y float64) float32 {
	return s.plane[c].At(s.on(c, x), s.on(c, y))
}

// on is a coordinate of the photo as one of channel c's plane.
func (s *sampler) on(c int, v float64) float64 {
	k := float64(s.k[c])
	return (v - (k-1)/2) / k
}

// inside reports whether a photo point lies in the picture.
func (s *sampler) inside(x, y float64) bool {
	return x >= 0 && y >= 0 && x <= float64(s.w-1) && y <= float64(s.h-1)
}

// A strip is the picture straightened along an axis: one column per axis
// point, rows across, from -reach to +reach photo pixels.
type strip struct {
	along *axis
	reach float64
	step  float64 // photo pixels between rows
	chan_ [3]*raster.Field
	out   []bool // column partly outside the picture
	seen  []span // what of each row lies in the picture, where that was asked: nil for all
}

// A span is the columns [from, to) of a row.
type span struct{ from, to int }

// see finds what of each row lies in the picture, along an axis that is straight.
func (st *strip) see(s *sampler) {
	st.seen = make([]span, st.rows())
	for j := range st.seen {
		r := &st.seen[j]
		for i := range st.cols() {
			if s.inside(st.along.at(i, st.across(j))) {
				if r.to == 0 {
					r.from = i
				}
				r.to = i + 1
			}
		}
	}
}

// row is row j of a field of the strip, or what of it is known to lie in the
// picture.
func (st *strip) row(f *raster.Field, j int) []float32 {
	if st.seen == nil {
		return f.Row(j)
	}
	return f.Row(j)[st.seen[j].from:st.seen[j].to]
}

// straighten samples rows of the given spacing along an axis.
func (s *sampler) straighten(a *axis, reach, step float64) *strip {
	rows := 2*int(math.Ceil(reach/step)) + 1
	st := &strip{along: a, reach: float64(rows/2) * step, step: step, out: make([]bool, a.len())}
	x, y := make([]float64, a.len()), make([]float64, a.len())
	for c := range st.chan_ {
		f := raster.NewField(a.len(), rows)
		for j := range rows {
			across := float64(j)*step - st.reach
			for i := range x {
				atX, atY := a.at(i, across)
				x[i], y[i] = s.on(c, atX), s.on(c, atY)
			}
			s.plane[c].Sample(f.Row(j), x, y)
		}
		st.chan_[c] = f
	}
	for i := range st.out {
		x0, y0 := a.at(i, -st.reach)
		x1, y1 := a.at(i, st.reach)
		st.out[i] = !s.inside(x0, y0) || !s.inside(x1, y1)
	}
	return st
}

func (st *strip) rows() int { return st.chan_[0].H }
func (st *strip) cols() int { return st.chan_[0].W }

// across returns the distance of row j from the axis in photo pixels.
func (st *strip) across(j int) float64 { return float64(j)*st.step - st.reach }
