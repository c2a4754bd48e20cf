package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"waketwist/finish"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// bobbinForm asks for a bobbin, new or to be changed.
type bobbinForm struct {
	*form
	Project *journal.Project
	Lots    []journal.Lot
	First   bool // the project has none yet
	Name    string
}

func (b *bench) newBobbin(w http.ResponseWriter, r *http.Request) error {
	p, err := b.project(r)
	if err != nil {
		return err
	}
	values := url.Values{"name": {nextName(*p)}, "direction": {"Z"}}
	if n := len(p.Bobbins); n > 0 {
		last := p.Bobbins[n-1]
		values.Set("direction", last.Direction.String())
		if last.Lot != nil {
			values.Set("lot", strconv.FormatInt(int64(last.Lot.ID), 10))
		}
	}
	return b.bobbinForm(w, r, http.StatusOK, p, newForm(values))
}

// nextName proposes a name that the project has not used: bobbin A, B, C.
func nextName(p journal.Project) string {
	return "Bobbin " + string(rune('A'+len(p.Bobbins)%26))
}

func (b *bench) bobbinForm(w http.ResponseWriter, r *http.Request, status int, p *journal.Project, f *form) error {
	lots, err := b.Store.Lots(r.Context())
	if err != nil {
		return err
	}
	return b.show(w, r, status, "bobbin-new", "A bobbin of "+p.Name, bobbinForm{form: f, Project: p, Lots: lots, First: len(p.Bobbins) == 0})
}

func (b *bench) createBobbin(w http.ResponseWriter, r *http.Request) error {
	p, f, err := sent(r, b.project)
	if err != nil {
		return err
	}
	one := bobbinFrom(f, journal.Bobbin{Project: p.ID})
	if s := stretchFrom(f); s != nil {
		one.Stretches = []journal.Stretch{*s}
	}
	if err := f.accept(one.Check()); err != nil {
		return err
	}
	if f.Bad() {
		return b.bobbinForm(w, r, http.StatusUnprocessableEntity, p, f)
	}
	if one.Lot, err = b.lotFrom(r, f); err != nil {
		if err := f.accept(err); err != nil {
			return err
		}
		return b.bobbinForm(w, r, http.StatusUnprocessableEntity, p, f)
	}
	id, err := b.Store.AddBobbin(r.Context(), one)
	if err != nil {
		return err
	}
	if f.Is("then", "another") {
		return see(w, r, "/project/%d/bobbin", p.ID)
	}
	return see(w, r, "/project/%d/wake?bobbin=%d", p.ID, id)
}

// bobbinFrom reads what a form says of a bobbin into one.
func bobbinFrom(f *form, one journal.Bobbin) journal.Bobbin {
	one.Name, one.Note = f.text("name"), f.text("note")
	if d := quantity(f, "direction", yarn.ParseDirection); d != nil {
		one.Direction = *d
	} else {
		one.Direction = yarn.NoDirection
	}
	one.Diameter, one.Wraps = nil, nil
	if strings.Contains(strings.ToLower(f.text("thickness")), "wp") {
		one.Wraps = quantity(f, "thickness", unit.ParseWraps)
	} else {
		one.Diameter = quantity(f, "thickness", thicknessOf)
	}
	one.Singles = quantity(f, "singles", unit.ParseAngle)
	return one
}

// thicknessOf reads a diameter; a number alone might be wraps as well.
func thicknessOf(text string) (unit.Length, error) {
	if _, err := unit.ParseNumber(text); err == nil {
		return 0, &journal.Error{Code: journal.Invalid, Text: "Give " + text + " a unit: wpi for wraps per inch, wpc per centimetre, or mm for the diameter."}
	}
	return unit.ParseLength(text)
}

// stretchFrom reads the days of spinning; nil when neither is given.
func stretchFrom(f *form) *journal.Stretch {
	started, ended := quantity(f, "started", dayOf), quantity(f, "ended", dayOf)
	if started == nil && ended == nil {
		return nil
	}
	if started == nil {
		started = ended
	}
	if ended == nil {
		ended = started
	}
	return &journal.Stretch{
		Started: *started, Ended: *ended, Length: quantity(f, "length", unit.ParseLength), Worked: quantity(f, "worked", unit.ParseDuration),
	}
}

// dayOf reads a date as browsers send it; the middle of that day stands for it.
func dayOf(text string) (time.Time, error) {
	t, err := time.ParseInLocation(time.DateOnly, text, time.Local)
	if err != nil {
		return t, &journal.Error{Code: journal.Invalid, Text: "Write the day as year-month-day, such as 2026-03-14."}
	}
	return t.Add(12 * time.Hour), nil
}

// lotFrom finds the chosen fibre lot, or reads a new one when its name is given;
// nil when neither.
func (b *bench) lotFrom(r *http.Request, f *form) (*journal.Lot, error) {
	if name := f.text("lotname"); name != "" {
		prep, err := finish.ParsePreparation(f.text("preparation"))
		if err != nil {
			return nil, &journal.Error{Code: journal.Invalid, Field: "preparation", Text: err.Error()}
		}
		lot := journal.Lot{Name: name, Fibre: f.text("fibre"), Preparation: prep}
		err = lot.Check()
		var known *journal.Error
		if errors.As(err, &known) && known.Field == "name" { // the form's name is that of the bobbin
			err = &journal.Error{Code: known.Code, Field: "lotname", Text: known.Text}
		}
		return &lot, err
	}
	chosen := f.text("lot")
	if chosen == "" {
		return nil, nil
	}
	lots, err := b.Store.Lots(r.Context())
	if err != nil {
		return nil, err
	}
	for i := range lots {
		if strconv.FormatInt(int64(lots[i].ID), 10) == chosen {
			return &lots[i], nil
		}
	}
	return nil, &journal.Error{Code: journal.Invalid, Field: "lot", Text: "That fibre lot is not in the journal; choose another."}
}

// bobbinView is a bobbin with everything recorded under it.
type bobbinView struct {
	journal.Bobbin
	Project   *journal.Project
	Age       string
	Thick     string
	Samples   []sampleCard
	Clips     []string // where to clip dry samples, and when again
	Form      *form
	Lots      []journal.Lot
	Weighings []weighingCard
	Weigh     weighForm
}

func (b *bench) showBobbin(w http.ResponseWriter, r *http.Request) error {
	one, err := b.bobbin(r)
	if err != nil {
		return err
	}
	return b.bobbinPage(w, r, http.StatusOK, one, newForm(bobbinValues(*one)))
}

func (b *bench) bobbin(r *http.Request) (*journal.Bobbin, error) {
	id, err := pathID(r)
	if err != nil {
		return nil, err
	}
	return b.Store.Bobbin(r.Context(), id)
}

func bobbinValues(one journal.Bobbin) url.Values {
	v := url.Values{"name": {one.Name}, "note": {one.Note}, "direction": {one.Direction.String()}}
	switch {
	case one.Diameter != nil:
		v.Set("thickness", strconv.FormatFloat(one.Diameter.Millimetres(), 'g', 4, 64)+" mm")
	case one.Wraps != nil:
		v.Set("thickness", strconv.FormatFloat(one.Wraps.PerInch(), 'g', 4, 64)+" wpi")
	}
	if one.Singles != nil {
		v.Set("singles", strconv.FormatFloat(one.Singles.Degrees(), 'g', 4, 64))
	}
	return v
}

func (b *bench) bobbinPage(w http.ResponseWriter, r *http.Request, status int, one *journal.Bobbin, f *form) error {
	p, err := b.Store.Project(r.Context(), one.Project)
	if err != nil {
		return err
	}
	home := fmt.Sprintf("/bobbin/%d", one.ID)
	view := bobbinView{
		Bobbin: *one, Project: p, Age: b.ageOf(*one), Form: f,
		Weighings: weighingCards(one.Weighings, home), Weigh: b.weighForm(home+"/weigh", false, f),
	}
	if view.Weigh.Tares, err = b.tares(r.Context()); err != nil {
		return err
	}
	switch {
	case one.Diameter != nil:
		view.Thick = one.Diameter.String() + " thick"
	case one.Wraps != nil:
		view.Thick = one.Wraps.String() + ", so about " + one.Wraps.Room() + " thick"
	}
	if view.Clips, err = b.clips(r, *p, *one); err != nil {
		return err
	}
	for _, s := range one.Samples {
		view.Samples = append(view.Samples, b.sampleCard(s))
	}
	return b.show(w, r, status, "bobbin", one.Name, view)
}

// clips says where to clip dry samples, by what is known of the fibre; nothing
// when it is not recorded when the bobbin was spun.
func (b *bench) clips(r *http.Request, p journal.Project, one journal.Bobbin) (lines []string, err error) {
	if len(one.Stretches) == 0 {
		return nil, nil
	}
	record, err := b.record(r.Context(), p)
	if err != nil {
		return nil, err
	}
	plan, err := job.Clips(one, record, b.Clock())
	for _, c := range plan {
		lines = append(lines, job.ClipWords(c))
	}
	var refusal *rest.Error
	if errors.As(err, &refusal) { // too little is known for a plan
		return nil, nil
	}
	return lines, err
}

// ageOf says how long the bobbin has rested, outside and inside.
func (b *bench) ageOf(one journal.Bobbin) string {
	outside, inside, ok := one.Age(b.Clock())
	switch {
	case !ok:
		return ""
	case ago(outside) == ago(inside):
		return "rested " + ago(outside)
	}
	return "rested " + ago(outside) + " outside, " + ago(inside) + " at the core"
}

func (b *bench) changeBobbin(w http.ResponseWriter, r *http.Request) error {
	one, f, err := sent(r, b.bobbin)
	if err != nil {
		return err
	}
	next := bobbinFrom(f, *one)
	kept, err := f.keep(func() error { return b.Store.ChangeBobbin(r.Context(), next) })
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/bobbin/%d", one.ID)
	}
	return b.bobbinPage(w, r, http.StatusUnprocessableEntity, one, f)
}

func (b *bench) addStretch(w http.ResponseWriter, r *http.Request) error {
	one, f, err := sent(r, b.bobbin)
	if err != nil {
		return err
	}
	s := stretchFrom(f)
	if s == nil {
		s = &journal.Stretch{}
	}
	s.Bobbin = one.ID
	kept, err := f.keep(func() error { _, err := b.Store.AddStretch(r.Context(), *s); return err })
	return b.backToBobbin(w, r, one, f, kept, err)
}

// putAway takes a bobbin out of what is still to be done, or back into it.
func (b *bench) putAway(w http.ResponseWriter, r *http.Request) error {
	one, f, err := sent(r, b.bobbin)
	if err != nil {
		return err
	}
	if away := !f.Is("to", "back"); away != one.Away {
		one.Away = away
		if err := b.Store.ChangeBobbin(r.Context(), *one); err != nil {
			return err
		}
	}
	return see(w, r, "/bobbin/%d", one.ID)
}

// bobbinCard shows a bobbin in its project's list, with its latest readings.
func (b *bench) bobbinCard(one journal.Bobbin) bobbinCard {
	progress := job.ProgressOf(one, b.Clock())
	card := bobbinCard{Bobbin: one, Stage: stageWords(progress.Stage), Age: b.ageOf(one), Sampled: progress.Stage == job.Sampled, Begun: progress.Stage != job.Cut}
	if one.Away {
		card.Stage = "put away"
	}
	card.Dry, card.Wet = sampleMeasure(progress.Dry), sampleMeasure(progress.Wet)
	for _, m := range []*measure{card.Dry, card.Wet} {
		if m != nil {
			m.Label = "Ply-back, " + m.Words
		}
	}
	return card
}

func stageWords(s job.Stage) string {
	return map[job.Stage]string{
		job.Cut: "not sampled", job.ReadDry: "cut, not read", job.Soak: "read dry", job.Soaking: "soaking",
		job.ReadWet: "ready to read wet", job.Sampled: "read dry and wet",
	}[s]
}
