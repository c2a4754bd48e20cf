package web

import (
	"context"
	"fmt"
	"image"
	"math"
	"mime/multipart"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/internal/picture"
	"waketwist/raster"
	"waketwist/reading"
	"waketwist/unit"
	"waketwist/yarn"
)

// readAs is what a person says of a photograph before it is read.
type readAs struct {
	plies int
	at    image.Rectangle // a box around the yarn, or one pixel on it; empty for anywhere
	along []reading.Point // a line along it; none for anywhere
}

// photograph keeps a picture of a form and reads it. The photograph is on disk
// when this returns.
func (b *bench) photograph(ctx context.Context, header *multipart.FileHeader) (journal.Reading, error) {
	data, err := upload(header)
	if err != nil {
		return journal.Reading{}, err
	}
	hash, _, err := b.Photos.Put(ctx, data)
	if err != nil {
		return journal.Reading{}, err
	}
	return b.readKept(ctx, hash, readAs{})
}

// readKept reads a photograph that is in the store.
func (b *bench) readKept(ctx context.Context, hash picture.Hash, as readAs) (journal.Reading, error) {
	var out journal.Reading
	err := b.Photos.Look(ctx, hash, func(photo *raster.Photo) error {
		w, h := photo.Size()
		at := as.at.Intersect(image.Rect(0, 0, w, h))
		if at.Empty() && !as.at.Empty() {
			return &journal.Error{Code: journal.Invalid, Field: "box1x", Text: fmt.Sprintf("That place lies outside the picture, which is %d pixels across and %d down.", w, h)}
		}
		if len(as.along) > 0 {
			if err := reading.CheckLine(as.along, w, h); err != nil {
				return &journal.Error{Code: journal.Invalid, Field: "along", Text: err.Error()}
			}
		}
		out = job.ReadPhoto(photo, string(hash), reading.Options{Plies: as.plies, At: at, Along: as.along})
		return nil
	})
	return out, err
}

// readingCard shows one reading.
type readingCard struct {
	journal.Reading
	Words   string   // what was seen, in words
	Lead    string   // what casts most doubt on it, and what to do; empty for nothing
	More    []string // what else there is to know of it
	Angle   *measure
	Overlay *overlay
	Out     string // why it does not count; empty when it does
}

func readingCardOf(r journal.Reading, state estimate.State) readingCard {
	card := readingCard{Reading: r, Overlay: overlayOf(r)}
	if r.Refused == "" {
		e := estimate.Estimate[unit.Angle]{Value: r.Angle, SD: r.SD, Low: max(0, r.Low), High: r.High, State: state}
		m := angleMeasure("", e, "at the "+r.Line.String())
		if state == estimate.Unstated {
			m.State, m.Words = "photo", "as photographed"
		}
		card.Angle = &m
		card.Words = seenWords(r)
		if parts := job.NoteParts(r.Note); len(parts) > 0 {
			card.Lead, card.More = parts[0], parts[1:]
		}
	}
	switch {
	case r.Struck != "":
		card.Out = "struck: " + r.Struck
	case r.SupersededBy != 0:
		card.Out = "replaced by a later reading"
	}
	return card
}

// label names the angle of a card that stands alone on a page.
func (c *readingCard) label() {
	if c.Angle != nil {
		c.Angle.Label = "Twist angle"
	}
}

func seenWords(r journal.Reading) string {
	kind := map[int]string{1: "singles", 2: "two strands", 3: "three strands", 4: "four strands"}[r.Plies]
	if r.Structure == journal.Singles {
		kind = "singles"
	}
	words := kind
	if r.Direction != yarn.NoDirection {
		words += ", twist " + r.Direction.String()
	}
	return words + ", " + map[journal.Method]string{
		journal.Photograph: "read from the photograph", journal.Typed: "read by eye", journal.Dragged: "your own line on the photograph",
	}[r.Method]
}

// readingView is one reading with the means to correct it.
type readingView struct {
	Card    readingCard
	Home    home
	Title   string
	Handles job.Drawn // where the draggable lines start
	Form    *form
	Scale   *scaleForm // nil where there is nothing to size
	Last    bool       // nothing has replaced it yet
	Verdict *verdict   // of the piece of ply that it was read on; nil for other pieces
}

func (b *bench) showReading(w http.ResponseWriter, r *http.Request) error {
	one, err := b.reading(r)
	if err != nil {
		return err
	}
	return b.readingPage(w, r, http.StatusOK, one, newForm(hintValues(one.Reading)))
}

// hintValues fills in where a person said that the yarn lies, to be amended.
func hintValues(r journal.Reading) url.Values {
	values := url.Values{}
	t, _ := job.TraceOf(r)
	if len(t.Drawn) > 0 {
		values.Set("along", polyline(t.Drawn))
	}
	for i, corner := range t.Box {
		for j, v := range corner {
			values.Set(boxFields[2*i+j], strconv.FormatFloat(v, 'f', -1, 64))
		}
	}
	return values
}

func (b *bench) readingPage(w http.ResponseWriter, r *http.Request, status int, one found, f *form) error {
	scale, err := b.scaleOn(r, fmt.Sprintf("/reading/%d", one.ID), one.Reading, one.sample.State)
	if err != nil {
		return err
	}
	view := readingView{
		Scale: scale,
		Card:  readingCardOf(one.Reading, one.sample.State), Home: one.home, Title: one.home.title(one.sample),
		Form: f, Last: one.SupersededBy == 0 && one.Struck == "", Handles: handles(one.Reading),
	}
	view.Card.label()
	scale.show(view.Card.Overlay)
	if view.Verdict, err = b.verdictOf(r.Context(), one.sample); err != nil {
		return err
	}
	return b.show(w, r, max(status, view.Scale.status()), "reading", "A reading of "+one.home.Name, view)
}

// handles starts the draggable lines where the trace is, or across the middle
// of a picture without one.
func handles(r journal.Reading) job.Drawn {
	if r.Photo == nil {
		return job.Drawn{}
	}
	t, ok := job.TraceOf(r)
	if !ok {
		w, h := float64(r.Photo.Width), float64(r.Photo.Height)
		return job.Drawn{
			Axis:   [2]job.Spot{{w * 0.3, h / 2}, {w * 0.7, h / 2}},
			Strand: [2]job.Spot{{w * 0.45, h * 0.55}, {w * 0.55, h * 0.45}},
		}
	}
	return job.Drawn{Axis: t.NearAxis(), Strand: t.Strand}
}

// found is a reading with its sample and where that belongs.
type found struct {
	journal.Reading
	sample journal.Sample
	home   home
}

// reading finds the reading of the path.
func (b *bench) reading(r *http.Request) (found, error) {
	id, err := pathID(r)
	if err != nil {
		return found{}, err
	}
	s, err := b.Store.SampleOf(r.Context(), id)
	if err != nil {
		return found{}, err
	}
	at, err := b.homeOf(r.Context(), *s)
	if err != nil {
		return found{}, err
	}
	for _, one := range s.Readings {
		if one.ID == id {
			return found{one, *s, at}, nil
		}
	}
	return found{}, journal.Missing("reading", id)
}

// dragLine records a person's own lines over the photograph.
func (b *bench) dragLine(w http.ResponseWriter, r *http.Request) error {
	one, f, err := sent(r, b.reading)
	if err != nil {
		return err
	}
	lines := drawnFrom(f)
	kept, err := f.keep(func() error {
		next, err := job.DrawnReading(one.Reading, lines)
		if err != nil {
			return err
		}
		_, err = b.Store.AddReading(r.Context(), next)
		return err
	})
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "%s", one.home.Address)
	}
	return b.readingPage(w, r, http.StatusUnprocessableEntity, one, f)
}

// drawnFrom reads the ends of the two lines, in photo pixels.
func drawnFrom(f *form) job.Drawn {
	at := func(name string) job.Spot {
		var spot job.Spot
		for i, axis := range []string{"x", "y"} {
			if v := quantity(f, name+axis, finite); v != nil {
				spot[i] = *v
			}
		}
		return spot
	}
	return job.Drawn{Axis: [2]job.Spot{at("axis1"), at("axis2")}, Strand: [2]job.Spot{at("strand1"), at("strand2")}}
}

func finite(text string) (float64, error) {
	v, err := unit.ParseNumber(text)
	if err == nil && (math.IsNaN(v) || math.Abs(v) > picture.MaxSide) {
		return 0, fmt.Errorf("%q lies outside any photograph", text)
	}
	return v, err
}

// readAgain reads the photograph with what the person says of it.
func (b *bench) readAgain(w http.ResponseWriter, r *http.Request) error {
	one, f, err := sent(r, b.reading)
	if err != nil {
		return err
	}
	if one.Photo == nil {
		return &journal.Error{Code: journal.Invalid, Text: "This reading was typed; there is no photograph to read again."}
	}
	hash, err := picture.ParseHash(one.Photo.Hash)
	if err != nil {
		return err
	}
	as := readAsFrom(f)
	var id journal.ID
	kept, err := f.keep(func() error {
		next, err := b.readKept(r.Context(), hash, as)
		if err != nil {
			return err
		}
		next.Sample, next.Supersedes = one.Sample, one.ID
		id, err = b.Store.AddReading(r.Context(), next)
		return err
	})
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/reading/%d", id)
	}
	return b.readingPage(w, r, http.StatusUnprocessableEntity, one, f)
}

// boxFields are the places of two opposite corners, in photo pixels.
var boxFields = [4]string{"box1x", "box1y", "box2x", "box2y"}

// BadBox reports whether the place of the yarn was given wrongly.
func (f *form) BadBox() bool {
	return f.Problem("along") != "" || slices.ContainsFunc(boxFields[:], func(name string) bool { return f.Problem(name) != "" })
}

// readAsFrom reads the stated number of strands and where the yarn lies: a box,
// given by two opposite corners, one place on the yarn, or a line along it.
func readAsFrom(f *form) readAs {
	var as readAs
	if n := quantity(f, "plies", count); n != nil && *n >= 0 && *n <= 4 {
		as.plies = *n
	}
	var corner [4]int
	given := 0
	for i, name := range boxFields {
		if v := quantity(f, name, finite); v != nil {
			corner[i] = int(*v)
			given++
		}
	}
	switch {
	case given == 4:
		as.at = image.Rect(corner[0], corner[1], corner[2], corner[3])
		as.at.Max = as.at.Max.Add(image.Pt(1, 1)) // a corner's own pixel belongs to the box
	case given == 2 && f.text("box2x") == "" && f.text("box2y") == "":
		as.at = image.Rect(corner[0], corner[1], corner[0]+1, corner[1]+1)
	case given > 0:
		f.refuse("box1x", &journal.Error{Code: journal.Invalid, Text: "Give all four sides of the box, or only left and top for one place on the yarn, or nothing."})
	}
	if line := quantity(f, "along", job.ParseLine); line != nil {
		as.along = *line
	}
	if len(as.along) > 0 && given > 0 {
		f.refuse("along", &journal.Error{Code: journal.Invalid, Text: "Give a box or a line, not both: clear the one that is not meant."})
		as.at, as.along = image.Rectangle{}, nil
	}
	return as
}

// strikeReading takes a reading out of the answer; it stays in the journal.
func (b *bench) strikeReading(w http.ResponseWriter, r *http.Request) error {
	one, f, err := sent(r, b.reading)
	if err != nil {
		return err
	}
	reason := f.text("reason")
	if reason == "" {
		reason = "struck by hand"
	}
	if err := b.Store.StrikeReading(r.Context(), one.ID, reason); err != nil {
		return err
	}
	return see(w, r, "%s", one.home.Address)
}
