package job

import (
	"encoding/json"
	"image"
	"math"
	"strings"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/raster"
	"waketwist/reading"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Reader names the program's own reader in records.
const Reader = "waketwist reader 1"

// Trace is what was read or drawn on a photograph, in pixels of the upright
// picture, so that a page can lay it over.
type Trace struct {
	Axis   []Spot    `json:"axis,omitempty"`
	Edges  [2][]Spot `json:"edges,omitempty"`
	Strand [2]Spot   `json:"strand"`
	Pitch  []Spot    `json:"pitch,omitempty"`
	Drawn  []Spot    `json:"drawn,omitempty"` // the line that a person had drawn along the yarn
	Box    []Spot    `json:"box,omitempty"`   // upper left and lower right pixel of the box that a person drew around it; one alone for a press on it
	Spans            // zero for a person's own lines
}

// Spot is a place in a photograph, in pixels from its upper left corner.
type Spot [2]float64

// ReadPhoto reads a photograph that is kept under a hash and records what was
// found; the sample is left to the caller.
func ReadPhoto(photo *raster.Photo, hash string, opt reading.Options) journal.Reading {
	w, h := photo.Size()
	return ReadingOf(reading.Read(photo, opt), journal.Photo{Hash: hash, Width: w, Height: h}, opt.At)
}

// ReadingOf records what the reader found on a photograph, and in which box it was
// asked to look, an empty one for anywhere; the sample is left to the caller.
func ReadingOf(r reading.Reading, photo journal.Photo, at image.Rectangle) journal.Reading {
	out := journal.Reading{Method: journal.Photograph, Reader: Reader, Photo: &photo}
	if !r.Readable {
		out.Refused = r.Reason.Sentence()
		if len(r.Overlay.Drawn) > 0 || !at.Empty() {
			out.Trace = Trace{Drawn: spots(r.Overlay.Drawn), Box: corners(at)}.text()
		}
		return out
	}
	out.Structure, out.Line = journal.Ply, yarn.StrandCentre
	if r.Structure == reading.Singles {
		out.Structure, out.Line = journal.Singles, yarn.SurfaceFibre
	}
	out.Plies = r.Plies
	out.Direction = r.Direction
	out.Angle, out.Low, out.High = r.Angle.Value, r.Angle.Low, r.Angle.High
	out.SD = max(r.Angle.SD, rest.PhotographSD)
	trace := TraceRead(r)
	trace.Box = corners(at)
	out.Trace = trace.text()
	for _, f := range r.Flags {
		out.Note = strings.TrimSpace(out.Note + " " + PhotoFlagSentence(f))
	}
	return out
}

// TraceRead is the trace of what the reader found.
func TraceRead(r reading.Reading) Trace {
	o := r.Overlay
	t := Trace{Axis: spots(o.Axis), Pitch: spots(o.PitchMarks), Drawn: spots(o.Drawn), Spans: SpansOf(r)}
	for i := range o.Edges {
		t.Edges[i] = spots(o.Edges[i])
	}
	t.Strand = [2]Spot{{o.Strand[0].X, o.Strand[0].Y}, {o.Strand[1].X, o.Strand[1].Y}}
	return t
}

// corners are the first and the last pixel of a box, one for a single pixel.
func corners(at image.Rectangle) []Spot {
	if at.Empty() {
		return nil
	}
	first, last := Spot{float64(at.Min.X), float64(at.Min.Y)}, Spot{float64(at.Max.X - 1), float64(at.Max.Y - 1)}
	if first == last {
		return []Spot{first}
	}
	return []Spot{first, last}
}

func spots(points []reading.Point) []Spot {
	out := make([]Spot, len(points))
	for i, p := range points {
		out[i] = Spot{math.Round(10*p.X) / 10, math.Round(10*p.Y) / 10}
	}
	return out
}

func (t Trace) text() string {
	data, err := json.Marshal(t)
	if err != nil { // a NaN among the points: the reading stands without its trace
		return ""
	}
	return string(data)
}

// TraceOf returns the trace of a recorded reading; ok is false when nothing was
// read or laid. A line or a box that a person had drawn for it is returned all the
// same.
func TraceOf(r journal.Reading) (t Trace, ok bool) {
	if r.Trace == "" || json.Unmarshal([]byte(r.Trace), &t) != nil || len(t.Axis) < 2 {
		return t, false
	}
	return t, true
}

// Drawn is a person's own reading of a photograph: a line along the yarn's axis
// and a line along a border between its strands.
type Drawn struct {
	Axis, Strand [2]Spot
}

// DrawnReading measures the angle between the two lines and the direction it
// leans. It supersedes a former reading of the same photograph. An error says
// what is wrong with the lines.
func DrawnReading(former journal.Reading, d Drawn) (journal.Reading, error) {
	angle, direction, ok := d.angle()
	if !ok {
		return journal.Reading{}, &journal.Error{Code: journal.Invalid, Field: "line",
			Text: "One of the two lines is only a point: drag its ends apart, along the yarn and along a strand."}
	}
	out := ByEye(journal.Dragged, angle)
	out.Sample, out.Photo, out.Supersedes = former.Sample, former.Photo, former.ID
	out.Structure, out.Plies, out.Direction, out.Line = journal.Ply, max(former.Plies, 2), direction, yarn.VisibleBorder
	if former.Structure == journal.Singles {
		out.Structure, out.Line, out.Plies = journal.Singles, yarn.SurfaceFibre, 1
	}
	out.Trace = Trace{Axis: d.Axis[:], Strand: d.Strand}.text()
	return out, nil
}

// ByEye records an angle that a person read, with the spread of one such reading;
// what was read is left to the caller.
func ByEye(how journal.Method, a unit.Angle) journal.Reading {
	const reach = estimate.Reach * rest.EyeSD
	return journal.Reading{Method: how, Reader: "eye", Angle: a, SD: rest.EyeSD, Low: a - reach, High: a + reach}
}

// angle returns the acute angle between the lines, and Z when a strand leans to
// the right going up along an upright axis (pictures count y downwards).
func (d Drawn) angle() (unit.Angle, yarn.Direction, bool) {
	ax, ay := d.Axis[1][0]-d.Axis[0][0], d.Axis[1][1]-d.Axis[0][1]
	sx, sy := d.Strand[1][0]-d.Strand[0][0], d.Strand[1][1]-d.Strand[0][1]
	la, ls := math.Hypot(ax, ay), math.Hypot(sx, sy)
	if !(la >= 2 && ls >= 2) || math.IsInf(la+ls, 0) {
		return 0, yarn.NoDirection, false
	}
	dot, cross := ax*sx+ay*sy, ax*sy-ay*sx
	if dot < 0 {
		cross = -cross
	}
	angle := unit.Angle(math.Atan2(math.Abs(cross), math.Abs(dot)))
	if cross > 0 {
		return angle, yarn.Z, true
	}
	return angle, yarn.S, true
}

// Width is the width of the traced yarn in pixels, from its edges or, for a
// person's own lines, from the length of the strand line.
func (t Trace) Width() float64 {
	a, b := t.Edges[0], t.Edges[1]
	if len(a) == 0 || len(b) == 0 {
		return math.Hypot(t.Strand[1][0]-t.Strand[0][0], t.Strand[1][1]-t.Strand[0][1])
	}
	p, q := a[len(a)/2], b[len(b)/2]
	return math.Hypot(p[0]-q[0], p[1]-q[1])
}

// NearAxis is the stretch of the axis beside the strand line, as a straight line
// of some three widths: on a curved yarn the angle is to that.
func (t Trace) NearAxis() [2]Spot {
	if len(t.Axis) == 2 {
		return [2]Spot{t.Axis[0], t.Axis[1]}
	}
	middle := Spot{(t.Strand[0][0] + t.Strand[1][0]) / 2, (t.Strand[0][1] + t.Strand[1][1]) / 2}
	nearest := 0
	for i, p := range t.Axis {
		if apart(p, middle) < apart(t.Axis[nearest], middle) {
			nearest = i
		}
	}
	reach := 1.5 * t.Width()
	from, to := nearest, nearest
	for from > 0 && apart(t.Axis[from], middle) < reach {
		from--
	}
	for to < len(t.Axis)-1 && apart(t.Axis[to], middle) < reach {
		to++
	}
	return [2]Spot{t.Axis[from], t.Axis[to]}
}

func apart(a, b Spot) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
