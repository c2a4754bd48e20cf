package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"waketwist/estimate"
	"waketwist/hand"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// newRunView asks for a new run of plying.
type newRunView struct {
	driveForm
	Project *journal.Project
}

func (b *bench) newRun(w http.ResponseWriter, r *http.Request) error {
	p, err := b.project(r)
	if err != nil {
		return err
	}
	values := planValues(*p)
	values.Set("name", fmt.Sprintf("Run %d", len(p.Runs)+1))
	values.Set("direction", hangOf(*p)[1].String())
	for _, one := range p.AtWork().Bobbins {
		values.Add("feed", strconv.FormatInt(int64(one.ID), 10))
	}
	if n := len(p.Runs); n > 0 {
		fillDrive(values, p.Runs[n-1].Drive)
	}
	return b.newRunPage(w, r, http.StatusOK, *p, newForm(values))
}

func (b *bench) newRunPage(w http.ResponseWriter, r *http.Request, status int, p journal.Project, f *form) error {
	drive, err := b.driveForm(r.Context(), f, journal.Drive{})
	if err != nil {
		return err
	}
	return b.show(w, r, status, "run-new", "Ply "+p.Name, newRunView{drive, &p})
}

// Chosen reports whether a bobbin is ticked, for templates.
func (f *form) Chosen(name string, id journal.ID) bool {
	for _, v := range f.values[name] {
		if v == strconv.FormatInt(int64(id), 10) {
			return true
		}
	}
	return false
}

func (b *bench) createRun(w http.ResponseWriter, r *http.Request) error {
	p, f, err := sent(r, b.project)
	if err != nil {
		return err
	}
	drive, err := b.driveFrom(r.Context(), f)
	if err != nil {
		return err
	}
	run := journal.Run{Project: p.ID, Name: f.text("name"), Plan: p.Plan, Drive: drive, Note: f.text("note"), Started: b.Clock()}
	if d := quantity(f, "direction", yarn.ParseDirection); d != nil {
		run.Direction = *d
	}
	run.Feeds = feedsFrom(f)
	var id journal.ID
	kept, err := f.keep(func() (err error) { id, err = b.Store.AddRun(r.Context(), run); return err })
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/run/%d", id)
	}
	return b.newRunPage(w, r, http.StatusUnprocessableEntity, *p, f)
}

// feedsFrom reads the ticked bobbins and how each was wound over.
func feedsFrom(f *form) (feeds []journal.Feed) {
	for _, text := range f.values["feed"] {
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil {
			continue
		}
		feed := journal.Feed{Bobbin: journal.ID(n)}
		if times := quantity(f, "rewound"+text, count); times != nil {
			feed.Rewound = *times
		}
		if adds := f.text("over" + text); adds != "" {
			over := journal.OverEnd{Package: 60 * unit.Millimetre}
			if d := quantity(f, "over"+text, yarn.ParseDirection); d != nil {
				over.Adds = *d
			}
			if across := quantity(f, "package"+text, unit.ParseLength); across != nil {
				over.Package = *across
			}
			feed.OverEnd = &over
		}
		feeds = append(feeds, feed)
	}
	return feeds
}

// runView is a run of plying with its checks.
type runView struct {
	journal.Run
	Project *journal.Project
	Target  *measure // re-wet
	Wheel   *measure
	Turns   *measure
	Setting string // treadles or motor speed for the target
	Driven  job.Drive
	Asks    driveForm // what drives it
	Drawing *drawn
	Fed     []string
	Plying  string // what is wrong with the direction, empty when nothing is
	Drift   string // whether the ply changes along the run; empty with too few checks
	Cards   []checkCard
	Form    *form
	States  []stateChoice
	Meeting *meetingView
	Apart   string // why the layers cannot be compared
}

// checkCard is a piece of the ply with its verdict.
type checkCard struct {
	sampleCard
	Verdict string
	OnIt    bool
	When    string
}

// checkForm asks for a piece of yarn to be compared with the target.
type checkForm struct {
	Action string
	States []stateChoice
	Form   *form
}

func (b *bench) showRun(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r)
	if err != nil {
		return err
	}
	return b.runPage(w, r, http.StatusOK, id, newForm(url.Values{"state": {"wheel"}}))
}

func (b *bench) runPage(w http.ResponseWriter, r *http.Request, status int, id journal.ID, f *form) error {
	run, err := b.Store.Run(r.Context(), id)
	if err != nil {
		return err
	}
	p, err := b.Store.Project(r.Context(), run.Project)
	if err != nil {
		return err
	}
	view := runView{Run: *run, Project: p, Form: f, Drift: job.Drift(*run), States: []stateChoice{
		{"wheel", "at the wheel, dry"}, {"rewet", "a piece, re-wet"}, {"rewet-dried", "a piece, re-wet and dried"},
	}}
	if !f.values.Has("draw") {
		fillDrive(f.values, run.Drive)
	}
	if view.Asks, err = b.driveForm(r.Context(), f, run.Drive); err != nil {
		return err
	}
	if view.Driven, err = b.drive(r.Context(), run.Drive); err != nil {
		return err
	}
	var singles []yarn.Direction
	for _, feed := range run.Feeds {
		if one := p.Bobbin(feed.Bobbin); one != nil {
			view.Fed = append(view.Fed, one.Name)
			singles = append(singles, one.Direction)
		}
	}
	view.Plying = plyingWords(run.Direction, singles)
	b.runTarget(&view)
	record, err := b.record(r.Context(), *p)
	if err != nil {
		return err
	}
	b.runMeeting(&view, record)
	return b.show(w, r, status, "run", run.Name, view)
}

// plyingWords names a ply that turns the wrong way; empty when it does not.
func plyingWords(ply yarn.Direction, singles []yarn.Direction) string {
	if v := yarn.JudgePlying(ply, singles...); v == yarn.WithSingles || v == yarn.MixedSingles {
		return v.String()
	}
	return ""
}

// runTarget fills in what the target asks of this run, and the checks against it.
func (b *bench) runTarget(view *runView) {
	t := view.Project.Target()
	if t == nil {
		for _, s := range view.Checks {
			view.Cards = append(view.Cards, checkCard{sampleCard: b.sampleCard(s), When: clockTime(s.Recorded)})
		}
		return
	}
	view.Target = targetMeasure(*view.Project)
	wheel := intervalMeasure("Aim for, at the wheel", t.Wheel, estimate.Rested, false, "dry, before washing, at the "+t.Line.String())
	view.Wheel = &wheel
	view.Drawing = lookDrawing(view.Run.Direction, *t)
	view.Turns = turnsToPutIn(*view.Project, *t)
	if t.TurnsTPM != nil {
		turns := unit.Twist(t.TurnsTPM.Value)
		if setting := job.Setting(view.Driven, turns); setting != "" {
			view.Setting = fmt.Sprintf("For %s: %s", turns, setting)
		}
	}
	diameter := job.DiameterOf(*view.Project, view.Run)
	for i := len(view.Checks) - 1; i >= 0; i-- {
		s := view.Checks[i]
		check := job.CheckOf(s, *t, view.Driven, diameter)
		view.Cards = append(view.Cards, checkCard{b.sampleCard(s), check.Words(), check.Standing == job.OnTarget, clockTime(s.Recorded)})
	}
}

func clockTime(t time.Time) string { return t.Local().Format("2 Jan 15:04") }

// runMeeting fills in which layers meet along the ply.
func (b *bench) runMeeting(view *runView, record hand.Record) {
	if len(view.Feeds) < 2 {
		return
	}
	m, err := job.Meet(*view.Project, record, view.Run, view.Started)
	if err != nil {
		var known *rest.Error
		if errors.As(err, &known) {
			view.Apart = known.Error()
		}
		return
	}
	view.Meeting = meetingOf(m)
}

// changeRun keeps a new setting of the drive.
func (b *bench) changeRun(w http.ResponseWriter, r *http.Request) error {
	run, f, err := sent(r, b.run)
	if err != nil {
		return err
	}
	next := *run
	if next.Drive, err = b.driveFrom(r.Context(), f); err != nil {
		return err
	}
	next.Note = f.text("note")
	kept, err := f.keep(func() error { return b.Store.ChangeRun(r.Context(), next) })
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/run/%d", run.ID)
	}
	return b.runPage(w, r, http.StatusUnprocessableEntity, run.ID, f)
}

func (b *bench) run(r *http.Request) (*journal.Run, error) {
	id, err := pathID(r)
	if err != nil {
		return nil, err
	}
	return b.Store.Run(r.Context(), id)
}

// endRun closes a run, or opens it again.
func (b *bench) endRun(w http.ResponseWriter, r *http.Request) error {
	run, f, err := sent(r, b.run)
	if err != nil {
		return err
	}
	if b.turn(f, &run.Ended) {
		if err := b.Store.ChangeRun(r.Context(), *run); err != nil {
			return err
		}
	}
	return see(w, r, "/run/%d", run.ID)
}

// checkRun records a piece of the ply with its readings.
func (b *bench) checkRun(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r)
	if err != nil {
		return err
	}
	s := journal.Sample{Run: id}
	return b.checkPiece(w, r, &s)
}

// checkPiece records a piece of a run or a skein with its readings, from one
// form.
func (b *bench) checkPiece(w http.ResponseWriter, r *http.Request, s *journal.Sample) error {
	at, err := b.homeOf(r.Context(), *s)
	if err != nil {
		return err
	}
	f, photos, err := uploadForm(r)
	if err != nil {
		return err
	}
	defer r.MultipartForm.RemoveAll() // temporary files; the photographs are kept elsewhere
	if f.Is("state", "wheel") {
		s.State, s.Load = estimate.Rested, estimate.AtWheel
	} else if state := quantity(f, "state", estimate.ParseState); state != nil {
		s.State = *state
	}
	if err := b.readInto(r, f, photos, s, at); err != nil {
		return err
	}
	if f.Bad() {
		return b.again(w, r, *s, at, f)
	}
	return b.seeReading(w, r, *s, len(photos))
}
