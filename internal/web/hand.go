package web

import (
	"context"
	"fmt"
	"maps"
	"net/http"
	"sync"
	"time"

	"waketwist/estimate"
	"waketwist/hand"
	"waketwist/internal/job"
	"waketwist/internal/journal"
)

// record is everything that answers a question about a project.
func (b *bench) record(ctx context.Context, p journal.Project) (hand.Record, error) {
	projects, err := b.Store.Projects(ctx)
	if err != nil {
		return hand.Record{}, err
	}
	return job.RecordFor(p, projects), nil
}

// taught keeps what the readings teach until something is recorded: a page that
// answers while it is written in asks again and again.
type taught struct {
	sync.Mutex
	until map[journal.ID]time.Time // of the latest record under each project
	known *hand.Posterior
}

// handOf is what the readings of all projects teach. Every project's time
// counts, not the latest alone: on a clock that was set back, what is recorded
// next is not the latest.
func (b *bench) handOf(projects []journal.Project) *hand.Posterior {
	until := make(map[journal.ID]time.Time, len(projects))
	for _, p := range projects {
		until[p.ID] = p.Touched
	}
	b.taught.Lock()
	defer b.taught.Unlock()
	if !maps.EqualFunc(until, b.taught.until, time.Time.Equal) {
		b.taught.until, b.taught.known = until, job.HandOf(projects)
	}
	return b.taught.known
}

// handView is what the readings taught about the spinner.
type handView struct {
	Taught   string // how many readings taught it; empty for none
	Demo     bool   // only the demonstration taught
	Groups   []learntGroup
	Suspects []suspectCard
	Advice   []adviceCard
}

// learntGroup are the values of the hand, of a fibre, or of a preparation.
type learntGroup struct {
	Name string
	Rows []learntRow
}

// learntRow is one value, before anything was read and now.
type learntRow struct {
	Name, Meaning string
	Taught        string // how many readings bear on it; empty for none
	Before, Now   measure
}

type suspectCard struct {
	ID    journal.ID
	Words string
}

// adviceCard is the next reading for a project in work.
type adviceCard struct {
	Project journal.Project
	Lines   []string
}

func (b *bench) showHand(w http.ResponseWriter, r *http.Request) error {
	projects, err := b.Store.Projects(r.Context())
	if err != nil {
		return err
	}
	record, demo := job.RecordOf(projects)
	known, err := hand.Fit(record)
	if err != nil {
		return err
	}
	view := handView{Taught: countWords(record.Readings()), Demo: demo, Groups: learntGroups(known.Learnt())}
	for _, s := range known.Suspects() {
		view.Suspects = append(view.Suspects, suspectCard{job.SuspectOf(s), fmt.Sprintf(
			"%s reads %.0f°, where the rest of your readings lead to expect about %.0f°. Check it for a slip; it hardly counts meanwhile.",
			s.Of, s.Read.Degrees(), s.Expected.Degrees())})
	}
	for _, p := range projects {
		if card := b.adviceOn(known, p); card != nil && p.Finished == nil && p.Demo == demo {
			view.Advice = append(view.Advice, *card)
		}
	}
	return b.show(w, r, http.StatusOK, "hand", "My hand", view)
}

// adviceOn says which next reading would narrow the project's answers most.
func (b *bench) adviceOn(known *hand.Posterior, p journal.Project) *adviceCard {
	if len(p.Bobbins) == 0 {
		return nil
	}
	card := adviceCard{Project: p}
	for _, goal := range []struct {
		goal        hand.Goal
		words, unit string
	}{{hand.WantedPly, "the ply to hold", " degrees"}, {hand.WantedLook, "the look at the wheel", " degrees"}, {hand.WantedAsleep, "the share asleep", " %"}} {
		next, err := job.NextReading(known, p, goal.goal, b.Clock())
		if err != nil || next == nil {
			continue
		}
		card.Lines = append(card.Lines, fmt.Sprintf("For %s: %s. It would narrow the range from %s to about %s%s across.",
			goal.words, next.Words, brief(next.Now), brief(next.Then), goal.unit))
	}
	if len(card.Lines) == 0 {
		return nil
	}
	return &card
}

func learntGroups(rows []hand.Learnt) (groups []learntGroup) {
	for _, l := range rows {
		name := "This hand and eye"
		switch {
		case l.OfOnePreparation:
			name = "The wash, preparation " + preparedWords(l.Preparation.String())
		case l.OfOneFibre && l.Fibre == "":
			name = "A fibre that is not recorded"
		case l.OfOneFibre:
			name = "The fibre: " + l.Fibre
		}
		if n := len(groups); n == 0 || groups[n-1].Name != name {
			groups = append(groups, learntGroup{Name: name})
		}
		g := &groups[len(groups)-1]
		scale := scaleOf(l)
		g.Rows = append(g.Rows, learntRow{
			Name: l.Name, Meaning: l.Meaning, Taught: countWords(l.Readings),
			Before: learntMeasure("assumed", l.Before, l.Unit, scale), Now: learntMeasure("now", l.Now, l.Unit, scale),
		})
	}
	return groups
}

// scaleOf is the stretch on which a value's bars are drawn, before and now alike.
// It goes below nothing, or above all, only where the value does.
func scaleOf(l hand.Learnt) [2]float64 {
	low, high := min(l.Before.Low, l.Now.Low), max(l.Before.High, l.Now.High)
	room := (high - low) / 10
	from, to := low-room, high+room
	if low >= 0 {
		from = max(0, from)
	}
	if l.Unit == "%" && high <= 100 {
		to = min(100, to)
	}
	return [2]float64{from, to}
}

// learntMeasure shows a learnt value: before anything was read it is an
// assumption, afterwards it is modelled from the readings.
func learntMeasure(label string, e estimate.Estimate[float64], unit string, scale [2]float64) measure {
	text := func(v float64) string { return brief(v) + spaced(unit) }
	if long := 96.0; unit == "h" && scale[1] > long {
		text = func(v float64) string {
			if v < long {
				return brief(v) + " h"
			}
			return ago(time.Duration(v * float64(time.Hour)))
		}
	}
	m := measure{
		Label: label, Model: true, Plain: true, Value: text(e.Value),
		Range: fmt.Sprintf("%s to %s", text(e.Low), text(e.High)),
		Bar:   barOf(e.Low, e.Value, e.High, scale[0], scale[1]),
	}
	m.Bar.Model, m.Bar.From, m.Bar.To = true, text(scale[0]), text(scale[1])
	return m
}

// brief prints a number with two figures, and whole from a hundred on.
func brief(v float64) string {
	if abs(v) >= 100 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.2g", v)
}

func spaced(unit string) string {
	if unit == "" || unit == "°" {
		return unit
	}
	return " " + unit
}
