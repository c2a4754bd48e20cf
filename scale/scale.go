// Package scale finds what gives a photograph its scale: a coin or another disc
// of known diameter, or the marks of a ruler. It measures them in photo pixels,
// with the spread of what it measured, and refuses where nothing convinces or
// where several things do and disagree.
//
// Discs are told by lightness and colour, marks by lightness. Pixels are those of the upright photograph,
// counted from its top left corner; what is found lies in the plane in which the
// thing lies, so that the yarn must lie as near to the camera.
package scale

import (
	"image"

	"waketwist/raster"
)

// Point is a place in the upright photograph, in photo pixels.
type Point struct{ X, Y float64 }

// Pixels is a length in photo pixels with its standard deviation.
type Pixels struct{ Value, SD float64 }

// A Refusal says why nothing was found, or nothing sure. It is an error; its
// text is a clause for the person, with what to do.
type Refusal struct {
	Why  Why
	text string
}

// Why is the kind of a refusal.
type Why string

// Kinds of refusals.
const (
	NothingFound Why = "nothing found" // no disc, no marks
	Several      Why = "several"       // several that disagree
	Slanting     Why = "slanting"      // seen too much from the side
	Unsure       Why = "unsure"        // marks, but perhaps not the finest
)

func (r *Refusal) Error() string { return r.text }

// pointed is the side of a box, in pixels, below which it only points at a
// place.
const pointed = 24

// a view is the part of a photograph in which something is looked for: all of
// it, or a box with some ground around it.
type view struct {
	photo *raster.Photo
	part  image.Rectangle // photo pixels
	at    image.Rectangle // what was boxed or pressed; empty for neither
	have  [channels]map[int]*raster.Plane
}

// channels are lightness and two of colour.
const channels = 3

func newView(p *raster.Photo, at image.Rectangle) *view {
	w, h := p.Size()
	v := &view{photo: p, part: image.Rect(0, 0, w, h)}
	for c := range v.have {
		v.have[c] = map[int]*raster.Plane{}
	}
	if v.at = at.Intersect(v.part); min(v.at.Dx(), v.at.Dy()) >= pointed {
		v.part = v.at.Inset(-max(v.at.Dx(), v.at.Dy()) / 4).Intersect(v.part)
	}
	return v
}

// boxed reports whether a box was drawn, rather than a place pressed.
func (v *view) boxed() bool { return v.part != image.Rect(0, 0, v.size().X, v.size().Y) }

func (v *view) size() image.Point {
	w, h := v.photo.Size()
	return image.Pt(w, h)
}

// side is the longer side of the view.
func (v *view) side() int { return max(v.part.Dx(), v.part.Dy()) }

// plane is a channel of the whole photograph reduced by k.
func (v *view) plane(c, k int) *raster.Plane {
	if v.have[c][k] == nil {
		v.have[c][k] = v.reduced(c, k)
	}
	return v.have[c][k]
}

// reduced reduces what is there already, where that can be.
func (v *view) reduced(c, k int) *raster.Plane {
	for by := 2; by <= k; by *= 2 {
		if finer := v.have[c][k/by]; finer != nil && k%by == 0 {
			return finer.Reduce(by)
		}
	}
	return v.photo.Reduce(raster.Channel(c), k)
}

// crop is a channel of the view reduced by k.
func (v *view) crop(c, k int) *raster.Field {
	p := v.plane(c, k)
	x0, y0 := v.part.Min.X/k, v.part.Min.Y/k
	f := raster.NewField(min(v.part.Dx()/k, p.W-x0), min(v.part.Dy()/k, p.H-y0))
	for y := range f.H {
		row := f.Row(y)
		for x, l := range p.Row(y0 + y)[x0 : x0+f.W] {
			row[x] = float32(l)
		}
	}
	return f
}

// fromCrop is the photo point of a place in the view reduced by k.
func (v *view) fromCrop(x, y float64, k int) Point {
	mid := float64(k-1) / 2
	return Point{(x+float64(v.part.Min.X/k))*float64(k) + mid, (y+float64(v.part.Min.Y/k))*float64(k) + mid}
}

// a lens looks at a channel reduced by k at photo points.
type lens struct {
	plane *raster.Plane
	k     float64
}

// lens is one for lightness.
func (v *view) lens(k int) lens { return v.lensOf(0, k) }

// lensOf is one for a channel, of colour no finer than it is stored.
func (v *view) lensOf(c, k int) lens {
	for least := 1; v.size().X*v.size().Y > manyPixels*least*least; {
		least *= 2
		k = (k + least - 1) / least * least
	}
	if step := v.photo.ChromaStep(); c > 0 && k%step != 0 {
		k = step
	}
	return lens{v.plane(c, k), float64(k)}
}

// manyPixels is how many a photograph may have that is looked at as it is; larger
// ones are reduced first, which keeps down the memory.
const manyPixels = 12_500_000

func (l lens) at(x, y float64) float64 {
	return float64(l.plane.At((x-(l.k-1)/2)/l.k, (y-(l.k-1)/2)/l.k))
}

// inside reports whether a photo point lies in the picture.
func (v *view) inside(x, y float64) bool {
	s := v.size()
	return x >= 0 && y >= 0 && x <= float64(s.X-1) && y <= float64(s.Y-1)
}
