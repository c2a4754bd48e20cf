package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"time"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

// newProjectView asks for a new project.
type newProjectView struct {
	*form
	Making bool // begun from a plan, not from bobbins
}

func (b *bench) newProject(w http.ResponseWriter, r *http.Request) error {
	view := newProjectView{newForm(url.Values{"strands": {"2"}}), false}
	if id := queryID(r, "plan"); id != 0 {
		wish, err := b.Store.Wish(r.Context(), id)
		if err != nil {
			return err
		}
		view = newProjectView{newForm(projectValues(*wish)), true}
	}
	return b.show(w, r, http.StatusOK, "project-new", "A new yarn", view)
}

func (b *bench) createProject(w http.ResponseWriter, r *http.Request) error {
	f, err := readForm(r)
	if err != nil {
		return err
	}
	p := journal.Project{Name: f.text("name"), Aim: f.text("aim")}
	wishFrom(f, &p)
	var id journal.ID
	kept, err := f.keep(func() (err error) { id, err = b.addProject(r.Context(), f, p); return err })
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/project/%d/bobbin", id)
	}
	return b.show(w, r, http.StatusUnprocessableEntity, "project-new", "A new yarn", newProjectView{f, f.Is("begin", "make")})
}

// wishFrom reads the ply that is wanted: its strands ("2", "3", "4" or "chain"),
// how far it goes past balance, and the angle it should show.
func wishFrom(f *form, p *journal.Project) {
	var plan journal.Plan
	if f.Is("strands", "chain") {
		plan.Strands, plan.Chain = 3, true
	} else if n := quantity(f, "strands", count); n != nil {
		plan.Strands = *n
	}
	if o := quantity(f, "offset", share); o != nil {
		plan.Offset = *o
	}
	p.Plan, p.Want = plan, quantity(f, "want", unit.ParseAngle)
}

// projectView is a project with everything under it.
type projectView struct {
	journal.Project
	Next    job.Step
	Link    *nextLink
	Target  *measure
	Washed  *measure
	Wheel   *measure
	Turns   *measure
	Hang    [2]yarn.Direction // of singles and ply, for reading the hang test
	Drawing *drawn
	Cards   []bobbinCard
	Form    *form
	Wishes  []journal.Wish // that it is to fulfil
}

// nextLink leads to the next step of a project.
type nextLink struct{ Href, Words string }

// nextLinkOf is nil where the step has no page of its own.
func nextLinkOf(p journal.Project, s job.Step) *nextLink {
	link := func(words, format string, args ...any) *nextLink {
		return &nextLink{fmt.Sprintf(format, args...), words}
	}
	switch {
	case p.Finished != nil:
		return nil
	case len(p.AtWork().Bobbins) == 0:
		return link("Record bobbins", "/project/%d/bobbin", p.ID)
	case s.Bobbin != 0:
		return link("Do that now", "/project/%d/wake?bobbin=%d#now", p.ID, s.Bobbin)
	case s.Skein != 0:
		return link("Open the skein", "/skein/%d", s.Skein)
	case s.Ply && len(p.Runs) == 0:
		return link("Start plying", "/project/%d/run", p.ID)
	case s.Ply:
		return link("Ply on", "/project/%d/run", p.ID)
	case s.Run != 0 && slices.ContainsFunc(p.Runs, func(r journal.Run) bool { return r.ID == s.Run && r.Ended != nil }):
		return link("Open the run", "/run/%d", s.Run)
	case s.Run != 0:
		return link("Go on plying", "/run/%d", s.Run)
	case p.Target() == nil:
		return link("See the answer", "/project/%d/wake#result", p.ID)
	}
	return nil
}

// bobbinCard is a bobbin in its project's list.
type bobbinCard struct {
	journal.Bobbin
	Stage   string
	Age     string
	Dry     *measure
	Wet     *measure
	Sampled bool
	Begun   bool // lengths were cut from it
}

func (b *bench) showProject(w http.ResponseWriter, r *http.Request) error {
	p, err := b.project(r)
	if err != nil {
		return err
	}
	return b.projectPage(w, r, http.StatusOK, p, newForm(planValues(*p)))
}

func (b *bench) project(r *http.Request) (*journal.Project, error) {
	id, err := pathID(r)
	if err != nil {
		return nil, err
	}
	return b.Store.Project(r.Context(), id)
}

// planValues fills the form of the plan.
func planValues(p journal.Project) url.Values {
	v := url.Values{"strands": {strconv.Itoa(p.Plan.Strands)}}
	if p.Plan.Chain {
		v.Set("strands", "chain")
	}
	if p.Plan.Offset != 0 {
		v.Set("offset", strconv.FormatFloat(100*p.Plan.Offset, 'g', 4, 64))
	}
	if p.Want != nil {
		v.Set("want", strconv.FormatFloat(p.Want.Degrees(), 'g', 4, 64))
	}
	return v
}

func (b *bench) projectPage(w http.ResponseWriter, r *http.Request, status int, p *journal.Project, f *form) error {
	view := projectView{Project: *p, Next: job.NextStep(*p, b.Clock()), Target: targetMeasure(*p), Form: f}
	view.Link = nextLinkOf(*p, view.Next)
	if t := p.Target(); t != nil {
		washed := intervalMeasure("Washed and dried", t.Washed, estimate.Washed, false, "at the "+t.Line.String())
		wheel := intervalMeasure("Look at the wheel", t.Wheel, estimate.Rested, false, "dry, before washing, at the "+t.Line.String())
		view.Washed, view.Wheel = &washed, &wheel
		view.Turns = turnsToPutIn(*p, *t)
		view.Hang = hangOf(*p)
		view.Drawing = targetDrawing(*p, *t)
	}
	for _, one := range p.Bobbins {
		view.Cards = append(view.Cards, b.bobbinCard(one))
	}
	wishes, err := b.Store.Wishes(r.Context())
	if err != nil {
		return err
	}
	for _, one := range wishes {
		if one.Project == p.ID {
			view.Wishes = append(view.Wishes, one)
		}
	}
	return b.show(w, r, status, "project", p.Name, view)
}

// hangOf is the direction of the singles and of the ply, none when not known.
func hangOf(p journal.Project) [2]yarn.Direction {
	for _, one := range p.Bobbins {
		if one.Direction != yarn.NoDirection {
			return [2]yarn.Direction{one.Direction, one.Direction.Opposite()}
		}
	}
	return [2]yarn.Direction{}
}

// changeProject keeps a new plan, name or aim.
func (b *bench) changeProject(w http.ResponseWriter, r *http.Request) error {
	p, f, err := sent(r, b.project)
	if err != nil {
		return err
	}
	next := *p
	wishFrom(f, &next)
	if f.values.Has("name") {
		next.Name, next.Aim = f.text("name"), f.text("aim")
	}
	kept, err := f.keep(func() error { return b.Store.ChangeProject(r.Context(), next) })
	switch {
	case err != nil:
		return err
	case kept && f.Is("back", "wake"):
		return see(w, r, "/project/%d/wake#result", p.ID)
	case kept:
		return see(w, r, "/project/%d", p.ID)
	}
	if f.Is("back", "wake") {
		return b.wakePage(w, r, http.StatusUnprocessableEntity, p.ID, 0, f)
	}
	return b.projectPage(w, r, http.StatusUnprocessableEntity, p, f)
}

// endProject takes a project off the bench, or puts it back.
func (b *bench) endProject(w http.ResponseWriter, r *http.Request) error {
	p, f, err := sent(r, b.project)
	if err != nil {
		return err
	}
	if b.turn(f, &p.Finished) {
		if err := b.Store.ChangeProject(r.Context(), *p); err != nil {
			return err
		}
	}
	return see(w, r, "/project/%d", p.ID)
}

// turn sets or clears the time of an ending as the pressed button says, and
// reports whether that changes it: a form that comes twice changes it once.
func (b *bench) turn(f *form, ended **time.Time) (changed bool) {
	if on := f.Is("to", "go-on"); on != (*ended != nil) {
		return false
	}
	if *ended == nil {
		now := b.Clock()
		*ended = &now
	} else {
		*ended = nil
	}
	return true
}
