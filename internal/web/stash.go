package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/unit"
)

// stashView is what is in hand, and what the losses are.
type stashView struct {
	Lots     []lotCard
	Skeins   []skeinCard
	Swatches []journal.Swatch // in force, latest first
	Losses   []lossCard
	Demo     bool // only the demonstration taught
	Form     *form
}

// lotCard is a fibre lot with what is left of it.
type lotCard struct {
	job.LotStock
	Stocks []measure
}

// skeinCard is a skein in the stash.
type skeinCard struct {
	job.SkeinStock
	Amount string
	Words  string // its state
}

// lossCard is one loss, with what taught it.
type lossCard struct {
	job.LossRow
	Measure *measure // nil where nothing is known
}

// stashOf is everything about the stash that the journal holds.
func (b *bench) stashOf(ctx context.Context) (job.Stash, job.Losses, []journal.Swatch, error) {
	projects, err := b.Store.Projects(ctx)
	if err != nil {
		return job.Stash{}, job.Losses{}, nil, err
	}
	lots, err := b.Store.Lots(ctx)
	if err != nil {
		return job.Stash{}, job.Losses{}, nil, err
	}
	swatches, err := b.Store.Swatches(ctx)
	if err != nil {
		return job.Stash{}, job.Losses{}, nil, err
	}
	known := job.LossesOf(projects, lots, swatches)
	return job.StashOf(projects, lots, known), known, swatches, nil
}

func (b *bench) showStash(w http.ResponseWriter, r *http.Request) error {
	return b.stashPage(w, r, http.StatusOK, newForm(url.Values{"preparation": {finish.Unknown.String()}}))
}

func (b *bench) stashPage(w http.ResponseWriter, r *http.Request, status int, f *form) error {
	stash, known, swatches, err := b.stashOf(r.Context())
	if err != nil {
		return err
	}
	view := stashView{Demo: known.Demo, Form: f}
	for _, l := range stash.Lots {
		view.Lots = append(view.Lots, lotCard{l, stockMeasures(l)})
	}
	for _, s := range stash.Skeins {
		view.Skeins = append(view.Skeins, skeinCard{s, amountText(s), stateWords(s.State, estimate.Free)})
	}
	for i := len(swatches) - 1; i >= 0; i-- {
		if swatches[i].Counts() {
			view.Swatches = append(view.Swatches, swatches[i])
		}
	}
	for _, row := range known.Rows() {
		view.Losses = append(view.Losses, lossCard{row, lossMeasure(row)})
	}
	return b.show(w, r, status, "stash", "The stash", view)
}

// createLot records a fibre lot and, where its weight is given, its first
// weighing.
func (b *bench) createLot(w http.ResponseWriter, r *http.Request) error {
	f, err := readForm(r)
	if err != nil {
		return err
	}
	lot := journal.Lot{Name: f.text("name"), Fibre: f.text("fibre"), Note: f.text("note")}
	if p := quantity(f, "preparation", finish.ParsePreparation); p != nil {
		lot.Preparation = *p
	}
	if weighed := b.weighingFrom(f); f.text("mass") != "" {
		weighed.What = journal.Bought
		lot.Weighings = []journal.Weighing{weighed}
	}
	var id journal.ID
	kept, err := f.keep(func() (err error) { id, err = b.Store.AddLot(r.Context(), lot); return err })
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/lot/%d", id)
	}
	return b.stashPage(w, r, http.StatusUnprocessableEntity, f)
}

func stockMeasures(l job.LotStock) (out []measure) {
	for _, s := range l.Left {
		note := "reckoned from what was bought and used"
		if !s.Weighed.IsZero() {
			note = "weighed " + day(s.Weighed)
			if s.Reckoned {
				note += ", less what was spun since"
			}
		} else if !s.Reckoned {
			note = ""
		}
		out = append(out, massMeasure(job.StockWords(s.What), s.Mass, note))
	}
	return out
}

// massMeasure shows a mass that was weighed or reckoned.
func massMeasure(label string, e estimate.Estimate[unit.Mass], note string) measure {
	return measure{
		Label: label, Note: note, Model: !e.Measured(), Value: massText(e.Value),
		Range: fmt.Sprintf("%s to %s", massText(e.Low), massText(e.High)),
	}
}

func massText(m unit.Mass) string {
	if m < unit.Gram/100 {
		return "nothing"
	}
	return m.String()
}

func amountText(s job.SkeinStock) string {
	text := ""
	add := func(part string) {
		if text != "" {
			text += "; "
		}
		text += part
	}
	if s.Mass != nil {
		add(s.Mass.String())
	}
	if s.Length != nil {
		add(s.Length.String())
	}
	if s.Grist != nil {
		add(s.Grist.String())
	}
	if s.Wraps != nil {
		add(s.Wraps.String())
	}
	return text
}

// mostLoss is the end of the scale on which all losses are drawn.
const mostLoss = 0.6

// lossMeasure shows a loss, a pace or a factor as it was learnt; nil where
// nothing is known.
func lossMeasure(row job.LossRow) *measure {
	if !row.Known {
		return nil
	}
	m := measure{Value: row.Value, Range: row.Range, Model: true, Note: row.Of}
	if row.Share != nil {
		m.Bar = barOf(row.Number[1], row.Number[0], row.Number[2], 0, mostLoss)
		m.Bar.From, m.Bar.To, m.Bar.Model = "nothing", percent(mostLoss), true
	}
	return &m
}

// stepMeasure shows a loss as it was weighed or measured once.
func stepMeasure(s job.StepLoss) measure {
	e := s.Estimate
	tenth := func(l cloth.Loss) string { return job.PercentText(float64(l), 1) }
	m := measure{Label: s.Name, Value: tenth(e.Value), Range: tenth(e.Low) + " to " + tenth(e.High)}
	m.Bar = barOf(float64(e.Low), float64(e.Value), float64(e.High), 0, mostLoss)
	m.Bar.From, m.Bar.To = "nothing", percent(mostLoss)
	return m
}
