// Package overlay draws what was read on a photograph over it, with a caption
// under it, so that a person sees in a second whether the reading is right.
package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"waketwist/internal/job"
)

// The colours are those of the pages: lines in yellow and white, each over a
// dark halo, show on wool of any colour.
var (
	ink   = color.NRGBA{0xff, 0xd2, 0x3f, 0xff}
	white = color.NRGBA{0xff, 0xff, 0xff, 0xff}
	halo  = color.NRGBA{0x10, 0x16, 0x14, 0xa8}
)

// Draw returns photo with the trace and the lines of a scale laid over it and the
// caption set under it. Both are in pixels of the upright photograph, of which photo, upright too,
// is a picture reduced to the given share of its side. An empty trace draws
// nothing. The result shares nothing with photo.
func Draw(photo image.Image, share float64, t job.Trace, scale [][]job.Spot, c Caption) (*image.RGBA, error) {
	size := photo.Bounds().Size()
	strip, err := c.set(size.X)
	if err != nil {
		return nil, err
	}
	out := image.NewRGBA(image.Rect(0, 0, size.X, size.Y+strip.Rect.Dy()))
	draw.Draw(out, image.Rectangle{Max: size}, photo, photo.Bounds().Min, draw.Src)
	draw.Draw(out, image.Rect(0, size.Y, size.X, out.Rect.Dy()), strip, image.Point{}, draw.Src)
	on := out.SubImage(image.Rectangle{Max: size}).(*image.RGBA)
	lay(on, reduced(t, share))
	layDrawn(on, reduced(t, share))
	layScale(on, scale, share)
	return out, nil
}

// layScale draws what gave the scale: the outline of a coin, the line along the
// marks of a ruler, or that between two points.
func layScale(on *image.RGBA, lines [][]job.Spot, share float64) {
	u := thin(on.Rect, 64)
	under, over := newMask(on.Rect), newMask(on.Rect)
	for _, line := range lines {
		spots := reducedSpots(line, share)
		under.polyline(spots, (1+haloMore)*u)
		over.polyline(spots, u)
	}
	under.paint(on, halo)
	over.paint(on, white)
}

// reducedSpots brings points to the scale of a smaller picture. Both count from
// the middle of their first pixel.
func reducedSpots(spots []job.Spot, share float64) []job.Spot {
	out := make([]job.Spot, len(spots))
	for i, s := range spots {
		out[i] = job.Spot{(s[0]+0.5)*share - 0.5, (s[1]+0.5)*share - 0.5}
	}
	return out
}

// reduced brings a trace to the scale of a smaller picture.
func reduced(t job.Trace, share float64) job.Trace {
	all := func(spots []job.Spot) []job.Spot { return reducedSpots(spots, share) }
	strand := all(t.Strand[:])
	return job.Trace{
		Axis: all(t.Axis), Edges: [2][]job.Spot{all(t.Edges[0]), all(t.Edges[1])},
		Strand: [2]job.Spot{strand[0], strand[1]}, Pitch: all(t.Pitch), Drawn: all(t.Drawn),
	}
}

// Lines in units of the thin one.
const (
	strandLine = 2
	haloMore   = 1.5 // how much wider a halo is than its line
	ringRadius = 3.2
	dashOn     = 5
	dashOff    = 4
	dotOn      = 1
	dotOff     = 8
)

// lay draws the lines of a trace.
func lay(on *image.RGBA, t job.Trace) {
	if len(t.Axis) == 0 {
		return
	}
	u := thin(on.Rect, t.Width())
	under, over, strand := newMask(on.Rect), newMask(on.Rect), newMask(on.Rect)
	for _, edge := range t.Edges {
		under.polyline(edge, (1+haloMore)*u)
		over.polyline(edge, u)
	}
	under.polyline(t.Axis, (1+haloMore)*u)
	for _, dash := range dashes(t.Axis, dashOn*u, dashOff*u) {
		over.polyline(dash, u)
	}
	for _, p := range t.Pitch {
		under.ring(p, ringRadius*u, (1+haloMore)*u)
		over.ring(p, ringRadius*u, u)
	}
	under.polyline(t.Strand[:], (strandLine+haloMore)*u)
	strand.polyline(t.Strand[:], strandLine*u)
	under.paint(on, halo)
	over.paint(on, ink)
	strand.paint(on, white)
}

// layDrawn draws the line that a person had drawn along the yarn, dotted.
func layDrawn(on *image.RGBA, t job.Trace) {
	u := thin(on.Rect, 64)
	under, over := newMask(on.Rect), newMask(on.Rect)
	for _, dot := range dashes(t.Drawn, dotOn*u, dotOff*u) {
		under.polyline(dot, (2+haloMore)*u)
		over.polyline(dot, 2*u)
	}
	under.paint(on, halo)
	over.paint(on, white)
}

// thin is the width of a thin line: it grows with the picture, and shrinks where
// it would hide a narrow yarn.
func thin(r image.Rectangle, yarn float64) float64 {
	u := float64(max(r.Dx(), r.Dy())) / 720
	return math.Max(1, math.Min(u, yarn/16))
}
