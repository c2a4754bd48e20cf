package web

import (
	"fmt"
	"math"
	"strings"

	"waketwist/internal/job"
	"waketwist/internal/journal"
)

// overlay is a photograph with what was read laid over it, ready for an SVG.
type overlay struct {
	Photo  string // address of the picture
	W, H   int
	View   string // the part shown
	Axis   string
	Edges  [2]string
	Strand [4]float64
	Marks  [][2]float64
	Mark   float64  // radius of a pitch mark
	Scale  []string // lines of what gave the scale
	Drawn  string   // the line that a person had drawn along the yarn; empty for none
	Box    string   // the box that a person had drawn around it, or a small one where it was pressed; empty for none
	Traced bool
}

func overlayOf(r journal.Reading) *overlay {
	if r.Photo == nil {
		return nil
	}
	o := &overlay{Photo: "/photo/" + r.Photo.Hash, W: r.Photo.Width, H: r.Photo.Height}
	o.View = fmt.Sprintf("0 0 %d %d", o.W, o.H)
	t, ok := job.TraceOf(r)
	o.Drawn, o.Box = polyline(t.Drawn), o.boxed(t.Box)
	if !ok {
		return o
	}
	o.Traced = true
	o.Axis, o.Edges = polyline(t.Axis), [2]string{polyline(t.Edges[0]), polyline(t.Edges[1])}
	o.Strand = [4]float64{t.Strand[0][0], t.Strand[0][1], t.Strand[1][0], t.Strand[1][1]}
	for _, p := range t.Pitch {
		o.Marks = append(o.Marks, p)
	}
	o.frame(t)
	return o
}

// boxed is the outline of the box with the given corners.
func (o *overlay) boxed(corners []job.Spot) string {
	if len(corners) == 0 {
		return ""
	}
	a, b := corners[0], corners[len(corners)-1]
	if a == b {
		reach := float64(max(o.W, o.H)) / 100
		a, b = job.Spot{a[0] - reach, a[1] - reach}, job.Spot{b[0] + reach, b[1] + reach}
	}
	return polyline([]job.Spot{a, {b[0], a[1]}, b, {a[0], b[1]}, a})
}

func polyline(spots []job.Spot) string {
	var s strings.Builder
	for _, p := range spots {
		fmt.Fprintf(&s, "%.1f,%.1f ", p[0], p[1])
	}
	return strings.TrimSpace(s.String())
}

// frame shows the part of the picture around the strand line, wide enough to
// judge the line and to see where in the picture it lies, and the box that a
// person drew.
func (o *overlay) frame(t job.Trace) {
	cx, cy := (t.Strand[0][0]+t.Strand[1][0])/2, (t.Strand[0][1]+t.Strand[1][1])/2
	width := t.Width()
	half := min(max(3.5*width, 60), float64(max(o.W, o.H))/2)
	x0, x1 := window(cx, half*1.5, float64(o.W))
	y0, y1 := window(cy, half, float64(o.H))
	margin := float64(max(o.W, o.H)) / 50
	for _, corner := range t.Box {
		x0, x1 = max(0, min(x0, corner[0]-margin)), min(float64(o.W), max(x1, corner[0]+margin))
		y0, y1 = max(0, min(y0, corner[1]-margin)), min(float64(o.H), max(y1, corner[1]+margin))
	}
	o.View = fmt.Sprintf("%.0f %.0f %.0f %.0f", x0, y0, x1-x0, y1-y0)
	o.Mark = (x1 - x0) / 120
}

// window is a stretch of the given half length about the middle, pushed inside
// 0 to size.
func window(middle, half, size float64) (from, to float64) {
	half = min(half, size/2)
	middle = math.Min(math.Max(middle, half), size-half)
	return middle - half, middle + half
}
