package cli

import (
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/plan"
)

// planAsk is a wish with what the journal has to say to it.
type planAsk struct {
	name  string     // of a kept plan
	of    journal.ID // the project that it is of, zero for none
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
	err = inJournal(a, c.Data, func(store journal.Store) error {
		if err := c.recall(a, store, &ask); err != nil {
			return err
		}
		return c.teach(a, store, &ask)
	})
	return ask, err
}

// recall takes the wish of a kept plan where one is named.
func (c *planCmd) recall(a *app, store journal.Store, ask *planAsk) error {
	if c.Kept == "" {
		return nil
	}
	wishes, err := store.Wishes(a)
	if err != nil {
		return err
	}
	kept, err := job.Named(wishes, string(c.Kept), "plan", wishKey)
	if err != nil {
		return err
	}
	ask.name, ask.of = kept.Name, kept.Project
	ask.wish, err = wishOf(kept.Text)
	return err
}

// teach puts what the journal knows into the ask.
func (c *planCmd) teach(a *app, store journal.Store, ask *planAsk) (err error) {
	var known job.Known
	if known.Machines, err = store.Machines(a); err != nil {
		return err
	}
	if c.Learnt {
		seen, err := keptIn(a, store)
		if err != nil {
			return err
		}
		known.Losses = job.LossesOf(seen.projects, seen.lots, seen.swatches)
		known.Stash = job.StashOf(seen.projects, seen.lots, known.Losses)
		known.Hand = job.HandOf(seen.projects)
		known.Midway = job.MidwayOf(ask.of, seen.projects, seen.lots)
	}
	ask.stash = known.Stash
	return known.Tell(&ask.wish)
}
