package web

import (
	"fmt"
	"net/http"
	"net/url"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// skeinView is a skein before and after its wash.
type skeinView struct {
	journal.Skein
	Home       skeinHome
	Forecast   []measure // what was forecast for it
	Changes    []job.Change
	Verdict    job.Verdict
	Recipe     string
	Treatments []string
	Becomes    []string
	Left       string // what came back of it; empty for a whole skein
	Angles     []checkCard
	States     []stateChoice
	Form       *form
}

// skeinHome is where a skein comes from.
type skeinHome struct {
	Name, Address string
	Project       *journal.Project
	Run           *journal.Run // nil for singles
	Ply           yarn.Direction
	Preparation   finish.Preparation
	Fibre         string
}

func (b *bench) showSkein(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r)
	if err != nil {
		return err
	}
	return b.skeinPage(w, r, http.StatusOK, id, newForm(url.Values{}))
}

func (b *bench) skeinPage(w http.ResponseWriter, r *http.Request, status int, id journal.ID, f *form) error {
	s, err := b.Store.Skein(r.Context(), id)
	if err != nil {
		return err
	}
	if !f.values.Has("state") {
		f.values.Set("state", stateOf(*s).String())
	}
	at, err := b.skeinHome(r, *s)
	if err != nil {
		return err
	}
	view := skeinView{
		Skein: *s, Home: at, Changes: job.Changes(*s, at.Preparation), Recipe: recipeOf(at.Fibre, at.Run == nil),
		Treatments: journal.Treatments, Becomes: journal.Uses, Form: f,
		States: []stateChoice{{estimate.Rested.String(), "off the wheel, unwashed"}, {estimate.Washed.String(), "washed and dried"}},
	}
	var drive job.Drive
	if at.Run != nil {
		if drive, err = b.drive(r.Context(), at.Run.Drive); err != nil {
			return err
		}
	}
	view.Verdict = job.VerdictOf(*s, at.Ply, drive)
	if stock := job.StockOf(*at.Project, *s); s.InStash() && stock.Part != job.WholeSkein {
		view.Left = stock.Part.String()
		if amount := amountText(stock); amount != "" {
			view.Left = amount + " (" + view.Left + ")"
		}
	}
	b.skeinAngles(&view, drive)
	return b.show(w, r, status, "skein", s.Name, view)
}

// stateOf is the state that a skein is in by what is recorded of it.
func stateOf(s journal.Skein) estimate.State {
	if len(s.Washes) > 0 || s.Measured(estimate.Washed) != nil || s.Hung(estimate.Washed) != nil {
		return estimate.Washed
	}
	return estimate.Rested
}

// skeinHome finds the run or the bobbin of a skein.
func (b *bench) skeinHome(r *http.Request, s journal.Skein) (at skeinHome, err error) {
	var first journal.ID
	if s.Run != 0 {
		if at.Run, err = b.Store.Run(r.Context(), s.Run); err != nil {
			return at, err
		}
		at.Name, at.Address, at.Ply = at.Run.Name, fmt.Sprintf("/run/%d", s.Run), at.Run.Direction
		if at.Project, err = b.Store.Project(r.Context(), at.Run.Project); err != nil {
			return at, err
		}
		first = at.Run.Feeds[0].Bobbin
	} else {
		one, err := b.Store.Bobbin(r.Context(), s.Bobbin)
		if err != nil {
			return at, err
		}
		at.Name, at.Address, first = one.Name, fmt.Sprintf("/bobbin/%d", one.ID), one.ID
		if at.Project, err = b.Store.Project(r.Context(), one.Project); err != nil {
			return at, err
		}
	}
	if one := at.Project.Bobbin(first); one != nil && one.Lot != nil {
		at.Preparation, at.Fibre = one.Lot.Preparation, one.Lot.Fibre
	}
	return at, nil
}

// skeinAngles fills in the forecast and the readings of the skein's angle.
func (b *bench) skeinAngles(view *skeinView, drive job.Drive) {
	t := view.Home.Project.Target()
	if t != nil && view.Home.Run != nil {
		view.Forecast = []measure{
			intervalMeasure("Angle off the wheel", t.Wheel, estimate.Rested, false, "at the "+t.Line.String()),
			intervalMeasure("Angle washed and dried", t.Washed, estimate.Washed, false, "at the "+t.Line.String()),
		}
	}
	for _, s := range view.Samples {
		card := checkCard{sampleCard: b.sampleCard(s), When: clockTime(s.Recorded)}
		if t != nil && view.Home.Run != nil {
			check := job.CheckOf(s, *t, drive, job.DiameterOf(*view.Home.Project, *view.Home.Run))
			card.Verdict, card.OnIt = check.Found(), check.Standing == job.OnTarget
		}
		view.Angles = append(view.Angles, card)
	}
}

// recipeOf is the usual way of washing a fibre. Common practice.
func recipeOf(fibre string, singles bool) string {
	switch {
	case rest.TwistsByItself(fibre):
		return "Simmer plant fibre for 30 minutes with a little soda and soap, rinse in water of the same warmth, snap the wet skein, and dry it under a weight."
	case singles:
		return "Soak singles free of load for 20 minutes in cool water with a drop of detergent to see how lively they are; to calm them, dry them under a weight of about their own mass."
	}
	return "Tie the skein in four places. Soak it for 20 minutes in hand-warm water, 40 °C (104 °F), with a drop of detergent and without moving it; rinse in water of the same warmth; press it in a towel, never wring; snap it a few times between the hands; hang it free to dry."
}

// skeinOfRun takes a new skein off a run.
func (b *bench) skeinOfRun(w http.ResponseWriter, r *http.Request) error {
	run, f, err := sent(r, b.run)
	if err != nil {
		return err
	}
	id, err := b.Store.AddSkein(r.Context(), journal.Skein{Run: run.ID, Name: nameOr(f, fmt.Sprintf("%s, skein %d", run.Name, len(run.Skeins)+1))})
	if err != nil {
		return err
	}
	return see(w, r, "/skein/%d", id)
}

// skeinOfBobbin takes a skein of singles off a bobbin: they are to stay singles.
func (b *bench) skeinOfBobbin(w http.ResponseWriter, r *http.Request) error {
	one, f, err := sent(r, b.bobbin)
	if err != nil {
		return err
	}
	id, err := b.Store.AddSkein(r.Context(), journal.Skein{Bobbin: one.ID, Name: nameOr(f, one.Name+", singles")})
	if err != nil {
		return err
	}
	return see(w, r, "/skein/%d", id)
}

func nameOr(f *form, otherwise string) string {
	if name := f.text("name"); name != "" {
		return name
	}
	return otherwise
}

func (b *bench) measureSkein(w http.ResponseWriter, r *http.Request) error {
	id, f, err := sent(r, pathID)
	if err != nil {
		return err
	}
	m := journal.Measure{
		Skein: id, Loops: quantity(f, "loops", count), Girth: quantity(f, "girth", unit.ParseLength),
		Mass: quantity(f, "mass", unit.ParseMass), Humidity: quantity(f, "humidity", unit.ParseNumber), Wraps: quantity(f, "wraps", unit.ParseWraps),
		LoadGrams: gramsFrom(f, "load"),
	}
	if state := quantity(f, "state", estimate.ParseState); state != nil {
		m.State = *state
	}
	return b.keepOnSkein(w, r, id, f, func() error { _, err := b.Store.AddMeasure(r.Context(), m); return err })
}

func gramsFrom(f *form, name string) *float64 {
	m := quantity(f, name, unit.ParseMass)
	if m == nil {
		return nil
	}
	g := m.Grams()
	return &g
}

func (b *bench) washSkein(w http.ResponseWriter, r *http.Request) error {
	id, f, err := sent(r, pathID)
	if err != nil {
		return err
	}
	wash := journal.Wash{
		Skein: id, Treatment: f.text("treatment"), Water: quantity(f, "water", waterTemperature),
		Minutes: quantity(f, "minutes", unit.ParseNumber), HungGrams: gramsFrom(f, "hung"), Note: f.text("note"),
	}
	return b.keepOnSkein(w, r, id, f, func() error { _, err := b.Store.AddWash(r.Context(), wash); return err })
}

func (b *bench) hangSkein(w http.ResponseWriter, r *http.Request) error {
	id, f, err := sent(r, pathID)
	if err != nil {
		return err
	}
	h := journal.Hang{Skein: id, Length: quantity(f, "length", unit.ParseLength)}
	if state := quantity(f, "state", estimate.ParseState); state != nil {
		h.State = *state
	}
	if turns := quantity(f, "turns", unit.ParseNumber); turns != nil {
		h.HalfTurns = *turns
	}
	if d := quantity(f, "direction", yarn.ParseDirection); d != nil {
		h.Direction = *d
	}
	return b.keepOnSkein(w, r, id, f, func() error { _, err := b.Store.AddHang(r.Context(), h); return err })
}

// keepOnSkein records something on a skein unless the form is wrong, and goes
// back to the skein.
func (b *bench) keepOnSkein(w http.ResponseWriter, r *http.Request, id journal.ID, f *form, keep func() error) error {
	kept, err := f.keep(keep)
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/skein/%d", id)
	}
	return b.skeinPage(w, r, http.StatusUnprocessableEntity, id, f)
}

// checkSkein records readings of the skein's angle.
func (b *bench) checkSkein(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r)
	if err != nil {
		return err
	}
	s := journal.Sample{Skein: id}
	return b.checkPiece(w, r, &s)
}
