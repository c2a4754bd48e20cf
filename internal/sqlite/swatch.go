package sqlite

import (
	"context"
	"database/sql"

	"waketwist/internal/journal"
	"waketwist/unit"
)

// AddSwatch keeps a new swatch, which may replace an earlier one that is in
// force; otherwise it is a Conflict.
func (s *Store) AddSwatch(ctx context.Context, w journal.Swatch) (_ journal.ID, err error) {
	defer wrap(&err, "keep the swatch %q", w.Name)
	if err := w.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touchSwatched(ctx, w); err != nil {
			return 0, err
		}
		if w.Supersedes != 0 {
			if _, err := tx.swatchInForce(ctx, w.Supersedes); err != nil {
				return 0, err
			}
		}
		return tx.insert(ctx, `
			INSERT INTO swatch (project_id, name, kind, on_width_m, on_length_m, off_width_m, off_length_m,
				washed_width_m, washed_length_m, mass_g, note, recorded_at, supersedes_id)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
			numberOrNil(w.Project), w.Name, string(w.Kind),
			inUnits(w.OnLoom.Width, unit.Metre), inUnits(w.OnLoom.Length, unit.Metre),
			inUnits(w.OffLoom.Width, unit.Metre), inUnits(w.OffLoom.Length, unit.Metre),
			inUnits(w.Washed.Width, unit.Metre), inUnits(w.Washed.Length, unit.Metre),
			inUnits(w.Mass, unit.Gram), w.Note, stamp(tx.now), numberOrNil(w.Supersedes))
	})
}

// touchSwatched touches the project of a swatch, if it has one.
func (tx *tx) touchSwatched(ctx context.Context, w journal.Swatch) error {
	if w.Project == 0 {
		return nil
	}
	return tx.touch(ctx, kindProject, w.Project)
}

// swatchInForce returns a swatch that has been neither replaced nor struck.
func (tx *tx) swatchInForce(ctx context.Context, id journal.ID) (journal.Swatch, error) {
	found, err := listSwatches(ctx, tx.Tx, `swatch.id = ?`, id)
	switch {
	case err != nil:
		return journal.Swatch{}, err
	case len(found) == 0:
		return journal.Swatch{}, journal.Missing(kindSwatch, id)
	}
	return found[0], inForce("Swatch", id, found[0].SupersededBy, found[0].Struck, "record a new one instead")
}

// StrikeSwatch notes that a swatch no longer counts, and why. One that has been
// replaced or struck already is a Conflict.
func (s *Store) StrikeSwatch(ctx context.Context, id journal.ID, reason string) (err error) {
	defer wrap(&err, "strike swatch %d", id)
	if err := checkReason(kindSwatch, reason); err != nil {
		return err
	}
	return s.write(ctx, func(tx *tx) error {
		found, err := tx.swatchInForce(ctx, id)
		if err != nil {
			return err
		}
		if err := tx.touchSwatched(ctx, found); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO swatch_strike (swatch_id, reason, recorded_at) VALUES (?, ?, ?)`, id, reason, stamp(tx.now))
		return err
	})
}

// Swatches returns all swatches in order of recording.
func (s *Store) Swatches(ctx context.Context) (swatches []journal.Swatch, err error) {
	defer wrap(&err, "load the swatches")
	err = s.read(ctx, func(tx *sql.Tx) error {
		swatches, err = listSwatches(ctx, tx, `true`)
		return err
	})
	return swatches, err
}

// Swatch returns one swatch.
func (s *Store) Swatch(ctx context.Context, id journal.ID) (w *journal.Swatch, err error) {
	defer wrap(&err, "load swatch %d", id)
	err = s.read(ctx, func(tx *sql.Tx) error {
		found, err := listSwatches(ctx, tx, `swatch.id = ?`, id)
		if err != nil {
			return err
		}
		w, err = single(found, kindSwatch, id)
		return err
	})
	return w, err
}

func listSwatches(ctx context.Context, tx *sql.Tx, where string, args ...any) ([]journal.Swatch, error) {
	return list(ctx, tx, scanSwatch, `
		SELECT swatch.id, coalesce(swatch.project_id, 0), swatch.name, swatch.kind,
			swatch.on_width_m, swatch.on_length_m, swatch.off_width_m, swatch.off_length_m,
			swatch.washed_width_m, swatch.washed_length_m, swatch.mass_g, swatch.note, swatch.recorded_at,
			coalesce(swatch.supersedes_id, 0), coalesce(later.id, 0), coalesce(swatch_strike.reason, '')
		FROM swatch
		LEFT JOIN swatch AS later ON later.supersedes_id = swatch.id
		LEFT JOIN swatch_strike ON swatch_strike.swatch_id = swatch.id
		WHERE `+where+` ORDER BY swatch.id`, args...)
}

func scanSwatch(row *sql.Rows) (w journal.Swatch, err error) {
	err = row.Scan(&w.ID, &w.Project, &w.Name, &w.Kind,
		amountOrNil(&w.OnLoom.Width, unit.Metre), amountOrNil(&w.OnLoom.Length, unit.Metre),
		amountOrNil(&w.OffLoom.Width, unit.Metre), amountOrNil(&w.OffLoom.Length, unit.Metre),
		amountOrNil(&w.Washed.Width, unit.Metre), amountOrNil(&w.Washed.Length, unit.Metre),
		amountOrNil(&w.Mass, unit.Gram), &w.Note, moment(&w.Recorded), &w.Supersedes, &w.SupersededBy, &w.Struck)
	return w, err
}
