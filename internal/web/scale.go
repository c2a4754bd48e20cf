package web

import (
	"fmt"
	"net/http"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/unit"
)

// scaleForm asks for a scale on a photograph that was read, and shows what
// follows from it. Nothing of it is recorded.
type scaleForm struct {
	*form
	Action string
	Sizes  []measure
}

// scaleOn reads a scale from the query of the page at an address, which shows a
// reading. It is nil where the reading has no lengths to size: refused ones, and lines laid by hand.
func scaleOn(r *http.Request, address string, found journal.Reading, state estimate.State) *scaleForm {
	trace, ok := job.TraceOf(found)
	if !ok || found.Photo == nil || trace.Wide.Pixels == 0 {
		return nil
	}
	s := &scaleForm{form: newForm(r.URL.Query()), Action: address}
	if !s.Given() {
		return s
	}
	scale := s.scale()
	if s.Bad() {
		return s
	}
	err := scale.Check()
	var sizes job.Sizes
	if err == nil {
		sizes, err = scale.Measure(trace.Spans, found.Photo.Width, found.Photo.Height)
	}
	if err != nil {
		s.refuse("length", &journal.Error{Text: "The scale does not suit this picture: " + err.Error() + "."})
		return s
	}
	s.Sizes = sizeMeasures(sizes, found, state)
	return s
}

// status is that of a page with the form: what was typed may be wrong.
func (s *scaleForm) status() int {
	if s != nil && s.Bad() {
		return http.StatusUnprocessableEntity
	}
	return http.StatusOK
}

var scaleFields = [4]string{"x1", "y1", "x2", "y2"}

// Given reports whether anything of a scale was typed.
func (s *scaleForm) Given() bool {
	for _, name := range scaleFields {
		if s.text(name) != "" {
			return true
		}
	}
	return s.text("length") != ""
}

// scale takes the fields; what is missing or wrong is noted at its field.
func (s *scaleForm) scale() job.Scale {
	var v [4]float64
	for i, name := range scaleFields {
		n := quantity(s.form, name, finite)
		if n == nil {
			s.refuse("x1", &journal.Error{Text: "Give both points, across and down, in pixels of the picture; or press them in the picture."})
			continue
		}
		v[i] = *n
	}
	length := quantity(s.form, "length", unit.ParseLength)
	if length == nil {
		s.refuse("length", &journal.Error{Text: "Give the distance between the two points, such as 20 mm or 1 in."})
		return job.Scale{}
	}
	return job.Scale{From: job.Spot{v[0], v[1]}, To: job.Spot{v[2], v[3]}, Known: *length}
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
