package sqlite

import (
	"context"
	"database/sql"
	"fmt"

	"waketwist/internal/journal"
	"waketwist/unit"
)

// AddWeighing keeps a new weighing of a fibre lot or of a bobbin.
func (s *Store) AddWeighing(ctx context.Context, w journal.Weighing) (_ journal.ID, err error) {
	defer wrap(&err, "keep a weighing")
	if err := w.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touchWeighed(ctx, w); err != nil {
			return 0, err
		}
		return tx.insertWeighing(ctx, w)
	})
}

func (tx *tx) insertWeighing(ctx context.Context, w journal.Weighing) (journal.ID, error) {
	return tx.insert(ctx, `
		INSERT INTO weighing (lot_id, bobbin_id, what, mass_g, tare_g, before_g, step_g, humidity_pct, note, weighed_at, recorded_at)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		numberOrNil(w.Lot), numberOrNil(w.Bobbin), string(w.What), inUnits(&w.Mass, unit.Gram), inUnits(w.Tare, unit.Gram),
		inUnits(w.Before, unit.Gram), inUnits(w.Step, unit.Gram), w.Humidity, w.Note, stamp(w.At), stamp(tx.now))
}

// touchWeighed touches the project of a weighed bobbin; a lot belongs to none,
// but must be there.
func (tx *tx) touchWeighed(ctx context.Context, w journal.Weighing) error {
	if w.Bobbin != 0 {
		return tx.touch(ctx, kindBobbin, w.Bobbin)
	}
	_, err := tx.lotOf(ctx, journal.Bobbin{Lot: &journal.Lot{ID: w.Lot}})
	return err
}

// StrikeWeighing notes that a weighing no longer counts, and why. One that has
// been struck already is a Conflict.
func (s *Store) StrikeWeighing(ctx context.Context, id journal.ID, reason string) (err error) {
	defer wrap(&err, "strike weighing %d", id)
	if err := checkReason("weighing", reason); err != nil {
		return err
	}
	return s.write(ctx, func(tx *tx) error {
		found, err := listWeighings(ctx, tx.Tx, `weighing.id = ?`, id)
		switch {
		case err != nil:
			return err
		case len(found) == 0:
			return journal.Missing("weighing", id)
		case !found[0].Counts():
			return &journal.Error{Code: journal.Conflict, Text: fmt.Sprintf(
				"Weighing number %d has been struck already (%s).", id, found[0].Struck)}
		}
		if err := tx.touchWeighed(ctx, found[0]); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO weighing_strike (weighing_id, reason, recorded_at) VALUES (?, ?, ?)`, id, reason, stamp(tx.now))
		return err
	})
}

// loadWeighings returns the weighings of the bobbins of a scope.
func loadWeighings(ctx context.Context, tx *sql.Tx, part scope) ([]journal.Weighing, error) {
	return listWeighings(ctx, tx, `weighing.bobbin_id IN (
		SELECT bobbin_id FROM (SELECT id AS bobbin_id, project_id FROM bobbin) WHERE `+part.where+`)`, part.args...)
}

func listWeighings(ctx context.Context, tx *sql.Tx, where string, args ...any) ([]journal.Weighing, error) {
	return list(ctx, tx, scanWeighing, `
		SELECT weighing.id, coalesce(lot_id, 0), coalesce(bobbin_id, 0), what, mass_g, tare_g, before_g, step_g,
			humidity_pct, note, weighed_at, weighing.recorded_at, coalesce(weighing_strike.reason, '')
		FROM weighing LEFT JOIN weighing_strike ON weighing_strike.weighing_id = weighing.id
		WHERE `+where+` ORDER BY weighing.id`, args...)
}

func scanWeighing(row *sql.Rows) (w journal.Weighing, err error) {
	err = row.Scan(&w.ID, &w.Lot, &w.Bobbin, word(&w.What, journal.ParseWeighed), amount(&w.Mass, unit.Gram),
		amountOrNil(&w.Tare, unit.Gram), amountOrNil(&w.Before, unit.Gram), amountOrNil(&w.Step, unit.Gram),
		&w.Humidity, &w.Note, moment(&w.At), moment(&w.Recorded), &w.Struck)
	return w, err
}
