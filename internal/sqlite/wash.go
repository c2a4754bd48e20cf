package sqlite

import (
	"context"
	"database/sql"

	"waketwist/internal/journal"
)

// AddWash keeps what was done to a skein.
func (s *Store) AddWash(ctx context.Context, w journal.Wash) (_ journal.ID, err error) {
	defer wrap(&err, "keep a wash of skein %d", w.Skein)
	if err := w.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touch(ctx, kindSkein, w.Skein); err != nil {
			return 0, err
		}
		return tx.insert(ctx, `
			INSERT INTO wash (skein_id, treatment, water_c, soak_min, hung_g, note, recorded_at) VALUES (?, ?, ?, ?, ?, ?, ?)`,
			w.Skein, w.Treatment, inUnits(w.Water, degreeCelsius), w.Minutes, w.HungGrams, w.Note, stamp(tx.now))
	})
}

func loadWashes(ctx context.Context, tx *sql.Tx, part scope) ([]journal.Wash, error) {
	return list(ctx, tx, scanWash, `
		SELECT id, skein_id, treatment, water_c, soak_min, hung_g, note, recorded_at
		FROM wash WHERE skein_id IN (`+skeinsIn(part)+`) ORDER BY id`, part.args...)
}

func scanWash(row *sql.Rows) (w journal.Wash, err error) {
	err = row.Scan(&w.ID, &w.Skein, &w.Treatment, amountOrNil(&w.Water, degreeCelsius), &w.Minutes, &w.HungGrams,
		&w.Note, moment(&w.Recorded))
	return w, err
}
