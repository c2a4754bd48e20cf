package web

import (
	"net/http"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/unit"
)

// targetMeasure shows the target in force; nil before one is set.
func targetMeasure(p journal.Project) *measure {
	t := p.Target()
	if t == nil {
		return nil
	}
	m := intervalMeasure("Ply target", t.Angle, estimate.Rewet, t.Measured, "read at the "+t.Line.String())
	return &m
}

// intervalMeasure shows a recorded angle with its interval.
func intervalMeasure(label string, i journal.Interval, state estimate.State, measured bool, note string) measure {
	e := estimate.Estimate[unit.Angle]{Value: i.Value, Low: i.Low, High: i.High, State: state}
	if !measured {
		e.Flags = e.Flags.With(estimate.Modelled)
	}
	return angleMeasure(label, e, note)
}

// setTarget records the answer of the wake page as the ply to hold.
func (b *bench) setTarget(w http.ResponseWriter, r *http.Request) error {
	id, f, err := sent(r, pathID)
	if err != nil {
		return err
	}
	p, err := b.Store.Project(r.Context(), id)
	if err != nil {
		return err
	}
	record, err := b.record(r.Context(), *p)
	if err != nil {
		return err
	}
	waking, err := job.Wake(*p, record, chosen(f.values)...)
	if err != nil {
		return err
	}
	t := job.TargetOf(*p, waking)
	t.Note = f.text("note")
	if _, err := b.Store.AddTarget(r.Context(), t); err != nil {
		return err
	}
	return see(w, r, "/project/%d", id)
}
