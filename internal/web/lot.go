package web

import (
	"fmt"
	"net/http"
	"net/url"

	"waketwist/internal/job"
	"waketwist/internal/journal"
)

// lotView is a fibre lot: what is left, what was weighed, what was spun.
type lotView struct {
	lotCard
	Weighings []weighingCard
	Steps     []measure
	Weigh     weighForm
	Form      *form
}

func (b *bench) showLot(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r)
	if err != nil {
		return err
	}
	return b.lotPage(w, r, http.StatusOK, id, newForm(url.Values{}))
}

func (b *bench) lotPage(w http.ResponseWriter, r *http.Request, status int, id journal.ID, f *form) error {
	lot, err := b.Store.Lot(r.Context(), id)
	if err != nil {
		return err
	}
	stash, _, _, err := b.stashOf(r.Context())
	if err != nil {
		return err
	}
	home := fmt.Sprintf("/lot/%d", id)
	view := lotView{Weighings: weighingCards(lot.Weighings, home), Weigh: b.weighForm(home+"/weigh", true, f), Form: f}
	for _, l := range stash.Lots {
		if l.ID == id {
			view.lotCard = lotCard{l, stockMeasures(l)}
		}
	}
	var bobbins []journal.Bobbin
	for _, one := range view.Bobbins {
		bobbins = append(bobbins, one.Bobbin)
	}
	for _, s := range job.StepsOf(*lot, bobbins) {
		view.Steps = append(view.Steps, stepMeasure(s))
	}
	return b.show(w, r, status, "lot", lot.Name, view)
}
