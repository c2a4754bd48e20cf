package web

import (
	"net/http"

	"waketwist/internal/job"
	"waketwist/internal/journal"
)

// benchView is the first page: what is in work and what to do next.
type benchView struct {
	InWork   []projectCard
	Finished []projectCard
}

type projectCard struct {
	journal.Project
	Next   job.Step
	Link   *nextLink
	Target *measure
}

func (b *bench) showBench(w http.ResponseWriter, r *http.Request) error {
	projects, err := b.Store.Projects(r.Context())
	if err != nil {
		return err
	}
	var view benchView
	for _, p := range projects {
		card := projectCard{Project: p, Next: job.NextStep(p, b.Clock()), Target: targetMeasure(p)}
		card.Link = nextLinkOf(p, card.Next)
		if p.Finished == nil {
			view.InWork = append(view.InWork, card)
		} else {
			view.Finished = append(view.Finished, card)
		}
	}
	return b.show(w, r, http.StatusOK, "bench", "The bench", view)
}
