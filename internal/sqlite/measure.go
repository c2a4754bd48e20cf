package sqlite

import (
	"context"
	"database/sql"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
)

// AddMeasure keeps a new measure of a skein, which from now on is the one that
// counts for its state.
func (s *Store) AddMeasure(ctx context.Context, m journal.Measure) (_ journal.ID, err error) {
	defer wrap(&err, "keep a measure of skein %d", m.Skein)
	if err := m.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touch(ctx, kindSkein, m.Skein); err != nil {
			return 0, err
		}
		return tx.insert(ctx, `
			INSERT INTO measure (skein_id, state, loops, girth_m, load_g, mass_g, humidity_pct, wraps_per_m, recorded_at)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
			m.Skein, m.State.String(), m.Loops, inUnits(m.Girth, unit.Metre), m.LoadGrams, inUnits(m.Mass, unit.Gram),
			m.Humidity, inUnits(m.Wraps, perMetre), stamp(tx.now))
	})
}

func loadMeasures(ctx context.Context, tx *sql.Tx, part scope) ([]journal.Measure, error) {
	return list(ctx, tx, scanMeasure, `
		SELECT id, skein_id, state, loops, girth_m, load_g, mass_g, humidity_pct, wraps_per_m, recorded_at
		FROM measure WHERE skein_id IN (`+skeinsIn(part)+`) ORDER BY id`, part.args...)
}

func scanMeasure(row *sql.Rows) (m journal.Measure, err error) {
	err = row.Scan(&m.ID, &m.Skein, word(&m.State, estimate.ParseState), &m.Loops, amountOrNil(&m.Girth, unit.Metre),
		&m.LoadGrams, amountOrNil(&m.Mass, unit.Gram), &m.Humidity, amountOrNil(&m.Wraps, perMetre), moment(&m.Recorded))
	return m, err
}
