package reading

import (
	"math"

	"waketwist/raster"
)

// sampler gives the channels of a photo at a working scale.
type sampler struct {
	photo *raster.Photo
	k     int
	plane [3]*raster.Plane
}

// newSampler reduces the photograph so that structures of about `detail` photo
// pixels keep some pixels of their own.
func newSampler(photo *raster.Photo, detail float64) *sampler {
	k := max(int(detail), 1)
	s := &sampler{photo: photo, k: k}
	for c := range s.plane {
		s.plane[c] = photo.Reduce(raster.Channel(c), k)
	}
	return s
}

// at returns channel c at a photo point.
func (s *sampler) at(c int, x, y float64) float32 {
	half := float64(s.k-1) / 2
	return s.plane[c].At((x-half)/float64(s.k), (y-half)/float64(s.k))
}

// inside reports whether a photo point lies in the picture.
func (s *sampler) inside(x, y float64) bool {
	w, h := s.photo.Size()
	return x >= 0 && y >= 0 && x <= float64(w-1) && y <= float64(h-1)
}

// A strip is the picture straightened along an axis: one column per axis
// point, rows across, from -reach to +reach photo pixels.
type strip struct {
	along *axis
	reach float64
	step  float64 // photo pixels between rows
	chan_ [3]*raster.Field
	out   []bool // column partly outside the picture
}

// straighten samples rows of the given spacing along an axis.
func (s *sampler) straighten(a *axis, reach, step float64) *strip {
	rows := 2*int(math.Ceil(reach/step)) + 1
	st := &strip{along: a, reach: float64(rows/2) * step, step: step, out: make([]bool, a.len())}
	for c := range st.chan_ {
		f := raster.NewField(a.len(), rows)
		for j := range rows {
			across := float64(j)*step - st.reach
			row := f.Row(j)
			for i := range row {
				x, y := a.at(i, across)
				row[i] = s.at(c, x, y)
			}
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
