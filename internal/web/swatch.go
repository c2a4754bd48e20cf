package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"waketwist/cloth"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/unit"
)

// swatchView is a swatch, or the form for a new one.
type swatchView struct {
	journal.Swatch  // zero for a new one
	Projects        []journal.Project
	Project         string // its name, empty for none
	Sides           []measure
	Area            string // mass for its size, washed
	Form            *form
	Action, Heading string
}

func (b *bench) newSwatch(w http.ResponseWriter, r *http.Request) error {
	values := url.Values{"kind": {string(journal.Woven)}}
	if id := queryID(r, "project"); id != 0 {
		values.Set("project", strconv.FormatInt(int64(id), 10))
	}
	return b.swatchPage(w, r, http.StatusOK, journal.Swatch{}, newForm(values))
}

func (b *bench) showSwatch(w http.ResponseWriter, r *http.Request) error {
	s, err := b.swatch(r)
	if err != nil {
		return err
	}
	return b.swatchPage(w, r, http.StatusOK, *s, newForm(swatchValues(*s)))
}

func (b *bench) swatch(r *http.Request) (*journal.Swatch, error) {
	id, err := pathID(r)
	if err != nil {
		return nil, err
	}
	return b.Store.Swatch(r.Context(), id)
}

func (b *bench) swatchPage(w http.ResponseWriter, r *http.Request, status int, s journal.Swatch, f *form) error {
	projects, err := b.Store.Projects(r.Context())
	if err != nil {
		return err
	}
	view := swatchView{Swatch: s, Projects: projects, Form: f, Action: "/swatch/new", Heading: "A new swatch"}
	if s.ID != 0 {
		view.Action, view.Heading = fmt.Sprintf("/swatch/%d", s.ID), s.Name
	}
	for _, p := range projects {
		if p.ID == s.Project {
			view.Project = p.Name
		}
	}
	for _, side := range job.SidesOf(s) {
		view.Sides = append(view.Sides, stepMeasure(side))
	}
	if c := s.Washed; c.Width != nil && c.Length != nil && s.Mass != nil {
		view.Area = cloth.Swatch{Width: *c.Width, Length: *c.Length, Mass: *s.Mass}.MassPerArea().String()
	}
	return b.show(w, r, status, "swatch", view.Heading, view)
}

func swatchFrom(f *form) journal.Swatch {
	size := func(state string) journal.Size {
		return journal.Size{Width: quantity(f, state+"width", unit.ParseLength), Length: quantity(f, state+"length", unit.ParseLength)}
	}
	s := journal.Swatch{
		Name: f.text("name"), Kind: journal.SwatchKind(f.text("kind")), OnLoom: size("on"), OffLoom: size("off"), Washed: size("washed"),
		Mass: quantity(f, "mass", unit.ParseMass), Note: f.text("note"),
	}
	if id := quantity(f, "project", recordID); id != nil {
		s.Project = *id
	}
	return s
}

func swatchValues(s journal.Swatch) url.Values {
	v := url.Values{"name": {s.Name}, "kind": {string(s.Kind)}, "note": {s.Note}}
	if s.Project != 0 {
		v.Set("project", strconv.FormatInt(int64(s.Project), 10))
	}
	for state, c := range map[string]journal.Size{"on": s.OnLoom, "off": s.OffLoom, "washed": s.Washed} {
		for side, l := range map[string]*unit.Length{"width": c.Width, "length": c.Length} {
			if l != nil {
				v.Set(state+side, strconv.FormatFloat(100*l.Metres(), 'g', 6, 64)+" cm")
			}
		}
	}
	if s.Mass != nil {
		v.Set("mass", strconv.FormatFloat(s.Mass.Grams(), 'g', 6, 64)+" g")
	}
	return v
}

func (b *bench) createSwatch(w http.ResponseWriter, r *http.Request) error {
	f, err := readForm(r)
	if err != nil {
		return err
	}
	return b.keepSwatch(w, r, journal.Swatch{}, f)
}

// changeSwatch keeps a later version of a swatch, such as with its washed sizes.
func (b *bench) changeSwatch(w http.ResponseWriter, r *http.Request) error {
	s, f, err := sent(r, b.swatch)
	if err != nil {
		return err
	}
	return b.keepSwatch(w, r, *s, f)
}

func (b *bench) keepSwatch(w http.ResponseWriter, r *http.Request, old journal.Swatch, f *form) error {
	next := swatchFrom(f)
	next.Supersedes = old.ID
	var id journal.ID
	kept, err := f.keep(func() (err error) { id, err = b.Store.AddSwatch(r.Context(), next); return err })
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/swatch/%d", id)
	}
	return b.swatchPage(w, r, http.StatusUnprocessableEntity, old, f)
}

func (b *bench) strikeSwatch(w http.ResponseWriter, r *http.Request) error {
	s, f, err := sent(r, b.swatch)
	if err != nil {
		return err
	}
	kept, err := f.keep(func() error { return b.Store.StrikeSwatch(r.Context(), s.ID, f.text("reason")) })
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/stash")
	}
	for name, values := range swatchValues(*s) {
		f.values[name] = values
	}
	return b.swatchPage(w, r, http.StatusUnprocessableEntity, *s, f)
}
