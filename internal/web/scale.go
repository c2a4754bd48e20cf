package web

import (
	"context"
	"fmt"
	"image"
	"net/http"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/internal/picture"
	"waketwist/raster"
	"waketwist/unit"
)

// scaleForm asks for a scale on a photograph that was read, and shows what
// follows from it. Nothing of it is recorded.
type scaleForm struct {
	*form
	Action string
	Found  string // what gave the scale, a sentence; empty for two points
	Sizes  []measure
	lines  [][]job.Spot
}

// scaleOn reads a scale from the query of the page at an address, which shows a
// reading. It is nil where the reading has no lengths to size: refused ones, and
// lines laid by hand.
func (b *bench) scaleOn(r *http.Request, address string, found journal.Reading, state estimate.State) (*scaleForm, error) {
	trace, ok := job.TraceOf(found)
	if !ok || found.Photo == nil || trace.Wide.Pixels == 0 {
		return nil, nil
	}
	s := &scaleForm{form: newForm(r.URL.Query()), Action: address}
	if !s.Given() {
		return s, nil
	}
	scale := s.scale()
	if s.Bad() {
		return s, nil
	}
	gauge, why, err := b.gauge(r.Context(), scale, *found.Photo)
	if err != nil {
		return nil, err
	}
	var sizes job.Sizes
	if why == nil {
		sizes, why = gauge.Measure(trace.Spans)
	}
	if why != nil {
		s.refuse("length", &journal.Error{Text: "The scale does not suit this picture: " + why.Error() + "."})
		return s, nil
	}
	s.Found, s.lines = gauge.Sentence(), gauge.Lines
	s.Sizes = sizeMeasures(sizes, found, state)
	return s, nil
}

// gauge finds a scale in a kept photograph, or says why it cannot. Two points
// need no look at it.
func (b *bench) gauge(ctx context.Context, s job.Scale, of journal.Photo) (found job.Found, why, err error) {
	if why = s.Check(); why != nil {
		return found, why, nil
	}
	if s.By == job.Points {
		found, why = s.Within(of.Width, of.Height)
		return found, why, nil
	}
	hash, err := picture.ParseHash(of.Hash)
	if err != nil {
		return found, nil, err
	}
	err = b.Photos.Look(ctx, hash, func(photo *raster.Photo) error {
		found, why = s.On(photo)
		return nil
	})
	return found, why, err
}

// show lays what gave the scale over the photograph, the whole of which is shown
// for it.
func (s *scaleForm) show(on *overlay) {
	if s == nil || on == nil || len(s.Sizes) == 0 {
		return
	}
	on.View = fmt.Sprintf("0 0 %d %d", on.W, on.H)
	on.Mark = float64(max(on.W, on.H)) / 240
	for _, line := range s.lines {
		on.Scale = append(on.Scale, polyline(line))
	}
}

// status is that of a page with the form: what was typed may be wrong.
func (s *scaleForm) status() int {
	if s != nil && s.Bad() {
		return http.StatusUnprocessableEntity
	}
	return http.StatusOK
}

var scaleFields = [4]string{"x1", "y1", "x2", "y2"}

// Given reports whether anything of a scale was typed or chosen.
func (s *scaleForm) Given() bool {
	for _, name := range scaleFields {
		if s.text(name) != "" {
			return true
		}
	}
	return s.text("length") != "" || s.By() != job.Points
}

// By is what gives the scale, two points where nothing was chosen.
func (s *scaleForm) By() job.Gauge {
	switch by := job.Gauge(s.text("by")); by {
	case job.Coin, job.Ruler:
		return by
	}
	return job.Points
}

// scale takes the fields; what is missing or wrong is noted at its field.
func (s *scaleForm) scale() job.Scale {
	out := job.Scale{By: s.By()}
	if length := quantity(s.form, "length", unit.ParseLength); length != nil {
		out.Known = *length
	} else {
		s.refuse("length", &journal.Error{Text: map[job.Gauge]string{
			job.Points: "Give the distance between the two points, such as 20 mm or 1 in.",
			job.Coin:   "Give the diameter of the coin or disc, such as 23.25 mm.",
			job.Ruler:  "Give how far apart the finest marks stand, such as 1 mm or 1/16 in.",
		}[out.By]})
	}
	spots, given := s.spots()
	switch {
	case out.By == job.Points && given < 2:
		s.refuse("x1", &journal.Error{Text: "Give both points, across and down, in pixels of the picture; or press them in the picture."})
	case out.By == job.Points:
		out.From, out.To = spots[0], spots[1]
	case given > 0:
		out.At = image.Rect(int(spots[0][0]), int(spots[0][1]), int(spots[given-1][0]), int(spots[given-1][1]))
		out.At.Max = out.At.Max.Add(image.Pt(1, 1)) // a single press is a box as well
	}
	return out
}

// spots takes the two points and how many of them were given.
func (s *scaleForm) spots() (out [2]job.Spot, given int) {
	for i, name := range scaleFields {
		v := quantity(s.form, name, finite)
		if v == nil {
			return out, i / 2
		}
		out[i/2][i%2] = *v
	}
	return out, len(out)
}

// sizeMeasures shows sizes as every page shows numbers.
func sizeMeasures(z job.Sizes, found journal.Reading, state estimate.State) []measure {
	out := []measure{
		sizeMeasure("Width", z.Width, state),
		sizeMeasure("Wraps, side by side and not pressed", z.Wraps, state),
	}
	if z.Turns.Value > 0 {
		m := sizeMeasure("Turns", z.Turns, state)
		if found.Structure == journal.Singles {
			m.Model, m.Note = true, "from the width and the fibres' angle"
		}
		out = append(out, m)
	}
	return out
}

func sizeMeasure[T interface {
	~float64
	fmt.Stringer
}](label string, s job.Size[T], state estimate.State) measure {
	low, high := s.Interval()
	m := measure{Label: label, Value: s.Value.String(), Range: fmt.Sprintf("%s to %s", low, high), State: state.String(), Words: job.StateWords(state)}
	if state == estimate.Unstated {
		m.State, m.Words = "photo", "as photographed"
	}
	return m
}
