package reading

import (
	"math"
	"testing"

	"waketwist/raster"
)

// Whatever way a drawn ply is stored, mirrored or turned, what is answered
// agrees: S and Z swap where it is mirrored, and the angles agree within their
// intervals.
func TestEveryOrientationAgrees(t *testing.T) {
	for _, d := range []drawn{
		{n: 2, degrees: 15, z: true, diameter: 44, x: 97},
		{n: 2, degrees: 27, diameter: 61, x: 150},
		{n: 2, degrees: 36, z: true, diameter: 52, x: 211},
		{n: 3, degrees: 21, diameter: 57, x: 120},
		{n: 3, degrees: 33, z: true, diameter: 68, x: 164},
		{n: 4, degrees: 28, diameter: 66, x: 190},
	} {
		img := drawing(301, 420, d)
		first := Read(raster.NewPhoto(img, 1), Options{})
		for _, o := range []raster.Orientation{1, 2, 3, 4, 6} {
			r := Read(raster.NewPhoto(img, o), Options{})
			want := d
			if o == 2 || o == 4 {
				want.z = !d.z
			}
			if !r.Readable || r.Direction != want.direction() {
				t.Errorf("%d strands stored as %d: %v (%v), want %v", d.n, o, r.Direction, r.Reason, want.direction())
			} else if !overlaps(r.Angle, first.Angle) {
				t.Errorf("%d strands stored as %d: %.1f degrees after %.1f", d.n, o, r.Angle.Value.Degrees(), first.Angle.Value.Degrees())
			}
		}
	}
}

// A map of an even or odd number of rows and columns has the same sums when it
// is mirrored, in reverse order.
func TestProjectionIsSymmetric(t *testing.T) {
	for _, size := range [][2]int{{40, 30}, {41, 30}, {40, 31}, {41, 31}} {
		m, mirrored := mapOf(size[0], size[1], false), mapOf(size[0], size[1], true)
		for _, dir := range []float64{0, math.Pi / 2} {
			a, b := m.sums(dir), mirrored.sums(math.Mod(math.Pi-dir, math.Pi))
			shift := int(math.Round(2 * m.origin(len(a), dir)))
			for i, v := range a {
				j := i // along the rows, mirroring leaves the lines where they are
				if dir != 0 {
					j = shift - i
				}
				if j >= 0 && j < len(b) && b[j] != v {
					t.Fatalf("%v at %.2f: bin %d holds %v, mirrored %v", size, dir, i, v, b[j])
				}
			}
		}
	}
}

// mapOf is a map whose luma differs in every cell.
func mapOf(w, h int, mirrored bool) *cueMap {
	m := &cueMap{w: w, h: h}
	for c := range m.cue {
		m.cue[c] = make([]float32, w*h)
	}
	for y := range h {
		for x := range w {
			k := x
			if mirrored {
				k = w - 1 - x
			}
			m.cue[0][y*w+x] = float32((k*7 + y*13) % 251)
		}
	}
	return m
}

// sums are the sums of luma by bins.
func (m *cueMap) sums(dir float64) []float64 {
	bins := m.bins()
	p := make(projection, bins+1)
	m.project(p, make([]cell, bins), m.cells(), dir)
	out := make([]float64, bins)
	for i := range out {
		out[i] = p[i+1][0] - p[i][0]
	}
	return out
}
