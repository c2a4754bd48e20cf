package cli

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/plan"
)

// planAsk is a wish with what the journal has to say to it.
type planAsk struct {
	name  string // of a kept plan
	wish  plan.Wish
	stash job.Stash
}

func (c *planCmd) ask(a *app) (ask planAsk, err error) {
	var text plan.Text
	if c.Kept == "" {
		if text, err = readPlan(string(c.File), a.Stdin); err != nil {
			return ask, err
		}
		if ask.wish, err = wishOf(text); err != nil || !c.Learnt && ask.wish.Machine == "" {
			return ask, err
		}
	}
	store, end, err := openJournal(a, c.Data)
	if err != nil {
		return ask, err
	}
	defer func() { err = errors.Join(err, end()) }()
	if c.Kept != "" {
		kept, err := findWish(a, store, string(c.Kept))
		if err != nil {
			return ask, err
		}
		ask.name = kept.Name
		if ask.wish, err = wishOf(kept.Text); err != nil {
			return ask, err
		}
	}
	err = c.teach(a, store, &ask)
	return ask, err
}

// teach puts what the journal knows into the ask.
func (c *planCmd) teach(a *app, store journal.Store, ask *planAsk) error {
	machines, err := store.Machines(a)
	if err != nil {
		return err
	}
	if err := job.FillWheel(&ask.wish, machines); err != nil {
		return err
	}
	if !c.Learnt {
		return nil
	}
	projects, err := store.Projects(a)
	if err != nil {
		return err
	}
	lots, err := store.Lots(a)
	if err != nil {
		return err
	}
	swatches, err := store.Swatches(a)
	if err != nil {
		return err
	}
	losses := job.LossesOf(projects, lots, swatches)
	job.Teach(&ask.wish, losses)
	job.TeachHand(&ask.wish, job.HandOf(projects))
	ask.stash = job.StashOf(projects, lots, losses)
	return nil
}

// findWish finds a kept plan by its number, or a part of its name that only it
// has.
func findWish(a *app, store journal.Store, wanted string) (*journal.Wish, error) {
	wishes, err := store.Wishes(a)
	if err != nil {
		return nil, err
	}
	var found []*journal.Wish
	for i := range wishes {
		w := &wishes[i]
		if strconv.FormatInt(int64(w.ID), 10) == wanted {
			return w, nil
		}
		if strings.Contains(strings.ToLower(w.Name), strings.ToLower(wanted)) {
			found = append(found, w)
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return nil, words(fmt.Sprintf("The journal keeps no plan “%s”; name it by its number or a part of its name, as on the page of plans.", wanted))
	}
	return nil, words(fmt.Sprintf("%d plans have “%s” in their names; use the number instead.", len(found), wanted))
}
