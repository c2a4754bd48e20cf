package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"waketwist/internal/job"
)

// mask is how far each pixel is covered. Lines that cross cover no more than
// the heavier of them, so joints do not show.
type mask struct{ *image.Alpha }

func newMask(r image.Rectangle) mask { return mask{image.NewAlpha(r)} }

// paint lays a colour on the picture where the mask covers it.
func (m mask) paint(on draw.Image, c color.Color) {
	draw.DrawMask(on, m.Rect, image.NewUniform(c), image.Point{}, m.Alpha, m.Rect.Min, draw.Over)
}

// polyline draws a line through the spots, with round joints and ends.
func (m mask) polyline(spots []job.Spot, width float64) {
	for i := 1; i < len(spots); i++ {
		a, b := spots[i-1], spots[i]
		m.cover(a, b, width, func(x, y float64) float64 { return awayFrom(a, b, x, y) })
	}
}

// ring draws a circle.
func (m mask) ring(c job.Spot, radius, width float64) {
	low, high := job.Spot{c[0] - radius, c[1] - radius}, job.Spot{c[0] + radius, c[1] + radius}
	m.cover(low, high, width, func(x, y float64) float64 {
		return math.Abs(math.Hypot(x-c[0], y-c[1]) - radius)
	})
}

// cover covers what lies within half a width of a shape between two corners,
// whose edge is softened over one pixel.
func (m mask) cover(a, b job.Spot, width float64, away func(x, y float64) float64) {
	reach := width/2 + 1
	r := m.Rect
	left, right := span(a[0], b[0], reach, r.Min.X, r.Max.X)
	top, bottom := span(a[1], b[1], reach, r.Min.Y, r.Max.Y)
	for y := top; y < bottom; y++ {
		for x := left; x < right; x++ {
			share := min(1, width/2+0.5-away(float64(x), float64(y)))
			at := m.PixOffset(x, y)
			if v := uint8(255 * max(0, share)); v > m.Pix[at] {
				m.Pix[at] = v
			}
		}
	}
}

// span is the range of pixels between two places and a reach more, inside from
// to to. It is empty where a place is no number.
func span(a, b, reach float64, from, to int) (int, int) {
	low, high := math.Floor(min(a, b)-reach), math.Ceil(max(a, b)+reach)
	if math.IsNaN(low) || math.IsNaN(high) {
		return from, from
	}
	within := func(v float64) int { return int(min(max(v, float64(from)), float64(to))) }
	return within(low), within(high + 1)
}

// awayFrom is the distance of a place from the stretch between a and b.
func awayFrom(a, b job.Spot, x, y float64) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	along := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		along = min(1, max(0, ((x-a[0])*dx+(y-a[1])*dy)/l))
	}
	return math.Hypot(x-a[0]-along*dx, y-a[1]-along*dy)
}

// longest is longer than any stretch of a line in a picture, in pixels.
const longest = 100_000

// dashes cuts a line into pieces of the length on, with gaps of the length off
// between them.
func dashes(line []job.Spot, on, off float64) (out [][]job.Spot) {
	drawing, left := false, 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := math.Hypot(b[0]-a[0], b[1]-a[1])
		if !(length < longest) {
			return out
		}
		for done := 0.0; done < length; {
			at := func(d float64) job.Spot {
				return job.Spot{a[0] + (b[0]-a[0])*d/length, a[1] + (b[1]-a[1])*d/length}
			}
			if left <= 0 {
				drawing = !drawing
				left = off
				if drawing {
					left = on
					out = append(out, []job.Spot{at(done)})
				}
			}
			step := min(left, length-done)
			done, left = done+step, left-step
			if drawing {
				out[len(out)-1] = append(out[len(out)-1], at(done))
			}
		}
	}
	return out
}
