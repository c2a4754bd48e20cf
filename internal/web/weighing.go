package web

import (
	"context"
	"net/http"
	"strconv"
	"strings"
	"time"

	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/unit"
)

// weighingCard is a weighing as pages list it.
type weighingCard struct {
	journal.Weighing
	Words string
	Home  string // address to which a strike is sent
}

func weighingCards(all []journal.Weighing, home string) (out []weighingCard) {
	for _, w := range all {
		out = append(out, weighingCard{w, job.WeighedWords(w.What), home})
	}
	return out
}

// weighForm is the form by which something is weighed.
type weighForm struct {
	Action string
	Lot    bool // fibre, of which it is asked what was weighed
	Kinds  []weighKind
	Tares  []tareChoice // empty bobbins that were weighed
	Today  string
	*form
}

type weighKind struct {
	Key   journal.Weighed
	Words string
}

// tareChoice is an empty bobbin of a machine, to choose instead of typing.
type tareChoice struct{ Value, Words string }

// tares are the empty bobbins whose weight is recorded.
func (b *bench) tares(ctx context.Context) (out []tareChoice, err error) {
	machines, err := b.Store.Machines(ctx)
	for _, m := range machines {
		for _, s := range m.Spools {
			if m.Struck == "" && s.Struck == "" && s.Tare != nil {
				out = append(out, tareChoice{strconv.FormatFloat(s.Tare.Grams(), 'g', 6, 64) + " g", s.Name + ", of " + m.Name})
			}
		}
	}
	return out, err
}

func (b *bench) weighForm(action string, lot bool, f *form) weighForm {
	out := weighForm{Action: action, Lot: lot, Today: b.Clock().Local().Format(time.DateOnly), form: f}
	for _, what := range journal.WeighedOfLots {
		out.Kinds = append(out.Kinds, weighKind{what, job.WeighedWords(what)})
	}
	return out
}

// weighingFrom reads a weighing; of today, it was weighed just now.
func (b *bench) weighingFrom(f *form) journal.Weighing {
	now := b.Clock()
	w := journal.Weighing{
		Tare: quantity(f, "tare", unit.ParseMass), Before: quantity(f, "before", unit.ParseMass),
		Step: quantity(f, "step", unit.ParseMass), Humidity: quantity(f, "humidity", unit.ParseNumber), Note: f.text("weighnote"), At: now,
	}
	if m := quantity(f, "mass", massOrNothing); m != nil {
		w.Mass = *m
	}
	if at := quantity(f, "at", dayOf); at != nil && at.Format(time.DateOnly) != now.Local().Format(time.DateOnly) {
		w.At = *at
	}
	return w
}

// massOrNothing reads a mass, which may be nothing.
func massOrNothing(text string) (unit.Mass, error) {
	if v, err := unit.ParseNumber(strings.TrimSpace(strings.TrimSuffix(text, "g"))); err == nil && v == 0 {
		return 0, nil
	}
	return unit.ParseMass(text)
}

// weighLot keeps a weighing of a fibre lot.
func (b *bench) weighLot(w http.ResponseWriter, r *http.Request) error {
	id, f, err := sent(r, pathID)
	if err != nil {
		return err
	}
	one := b.weighingFrom(f)
	one.Lot = id
	if what := quantity(f, "what", journal.ParseWeighed); what != nil {
		one.What = *what
	}
	kept, err := f.keep(func() error { _, err := b.Store.AddWeighing(r.Context(), one); return err })
	return b.backToLot(w, r, id, f, kept, err)
}

// weighBobbin keeps a weighing of the singles on a bobbin.
func (b *bench) weighBobbin(w http.ResponseWriter, r *http.Request) error {
	bobbin, f, err := sent(r, b.bobbin)
	if err != nil {
		return err
	}
	one := b.weighingFrom(f)
	one.Bobbin, one.What = bobbin.ID, journal.Spun
	kept, err := f.keep(func() error { _, err := b.Store.AddWeighing(r.Context(), one); return err })
	return b.backToBobbin(w, r, bobbin, f, kept, err)
}

// strikeOfLot strikes a weighing of a fibre lot.
func (b *bench) strikeOfLot(w http.ResponseWriter, r *http.Request) error {
	id, f, err := sent(r, pathID)
	if err != nil {
		return err
	}
	kept, err := b.strikeWeighing(r, f)
	return b.backToLot(w, r, id, f, kept, err)
}

// strikeOfBobbin strikes a weighing of the singles on a bobbin.
func (b *bench) strikeOfBobbin(w http.ResponseWriter, r *http.Request) error {
	bobbin, f, err := sent(r, b.bobbin)
	if err != nil {
		return err
	}
	kept, err := b.strikeWeighing(r, f)
	return b.backToBobbin(w, r, bobbin, f, kept, err)
}

func (b *bench) strikeWeighing(r *http.Request, f *form) (kept bool, err error) {
	id, err := strconv.ParseInt(f.text("weighing"), 10, 64)
	if err != nil {
		return false, &journal.Error{Code: journal.NotFound, Text: "There is no such weighing in this journal."}
	}
	return f.keep(func() error { return b.Store.StrikeWeighing(r.Context(), journal.ID(id), f.text("reason")) })
}

func (b *bench) backToLot(w http.ResponseWriter, r *http.Request, id journal.ID, f *form, kept bool, err error) error {
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/lot/%d", id)
	}
	return b.lotPage(w, r, http.StatusUnprocessableEntity, id, f)
}

func (b *bench) backToBobbin(w http.ResponseWriter, r *http.Request, one *journal.Bobbin, f *form, kept bool, err error) error {
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/bobbin/%d", one.ID)
	}
	for name, values := range bobbinValues(*one) {
		f.values[name] = values
	}
	return b.bobbinPage(w, r, http.StatusUnprocessableEntity, one, f)
}
