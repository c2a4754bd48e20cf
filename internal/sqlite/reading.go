package sqlite

import (
	"context"
	"database/sql"
	"fmt"

	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

// AddReading keeps a new reading. With Supersedes set it replaces a reading of
// the same sample: Invalid for one of another sample, Conflict for one that has
// been replaced or struck meanwhile.
func (s *Store) AddReading(ctx context.Context, r journal.Reading) (_ journal.ID, err error) {
	defer wrap(&err, "keep a reading of sample %d", r.Sample)
	if err := r.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touch(ctx, kindSample, r.Sample); err != nil {
			return 0, err
		}
		if err := tx.checkReplaced(ctx, r); err != nil {
			return 0, err
		}
		return tx.insertReading(ctx, r)
	})
}

// AddReadings keeps new readings of one sample, all of them or none. They replace
// no other.
func (s *Store) AddReadings(ctx context.Context, all []journal.Reading) (err error) {
	if len(all) == 0 {
		return nil
	}
	sample := all[0].Sample
	defer wrap(&err, "keep readings of sample %d", sample)
	for _, r := range all {
		if err := r.Check(); err != nil {
			return err
		}
		if r.Sample != sample || r.Supersedes != 0 {
			return &journal.Error{Code: journal.Invalid, Text: "Readings that are kept together are new ones of one sample."}
		}
	}
	return s.write(ctx, func(tx *tx) error {
		if err := tx.touch(ctx, kindSample, sample); err != nil {
			return err
		}
		return tx.insertReadings(ctx, sample, all)
	})
}

// insertReadings keeps readings as those of a sample.
func (tx *tx) insertReadings(ctx context.Context, sample journal.ID, all []journal.Reading) error {
	for _, r := range all {
		r.Sample = sample
		if _, err := tx.insertReading(ctx, r); err != nil {
			return err
		}
	}
	return nil
}

func (tx *tx) insertReading(ctx context.Context, r journal.Reading) (journal.ID, error) {
	var hash *string
	var width, height *int
	if p := r.Photo; p != nil {
		hash, width, height = &p.Hash, &p.Width, &p.Height
	}
	return tx.insert(ctx, `
		INSERT INTO reading (sample_id, method, reader, structure, plies, direction, line,
			angle_deg, sd_deg, low_deg, high_deg, refused,
			photo_sha256, photo_width_px, photo_height_px, trace, note, recorded_at, supersedes_id)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		r.Sample, string(r.Method), r.Reader, r.Structure, r.Plies, r.Direction.String(), r.Line.String(),
		r.Angle.Degrees(), r.SD.Degrees(), r.Low.Degrees(), r.High.Degrees(), r.Refused,
		hash, width, height, r.Trace, r.Note, stamp(tx.now), numberOrNil(r.Supersedes))
}

// checkReplaced refuses a reading that cannot take the place of the one that it
// names.
func (tx *tx) checkReplaced(ctx context.Context, r journal.Reading) error {
	if r.Supersedes == 0 {
		return nil
	}
	old, err := tx.readingInForce(ctx, r.Supersedes)
	if err != nil {
		return err
	}
	if old.Sample != r.Sample {
		return &journal.Error{Code: journal.Invalid, Text: fmt.Sprintf(
			"Reading number %d is of another sample (number %d); a reading replaces one of its own sample.", old.ID, old.Sample)}
	}
	return nil
}

// readingInForce returns a reading that has been neither replaced nor struck.
func (tx *tx) readingInForce(ctx context.Context, id journal.ID) (journal.Reading, error) {
	found, err := listReadings(ctx, tx.Tx, `reading.id = ?`, id)
	switch {
	case err != nil:
		return journal.Reading{}, err
	case len(found) == 0:
		return journal.Reading{}, journal.Missing(kindReading, id)
	}
	return found[0], inForce("Reading", id, found[0].SupersededBy, found[0].Struck, "record a new reading instead")
}

// StrikeReading notes that a reading no longer counts, and why. A reading that
// has been replaced or struck already is a Conflict.
func (s *Store) StrikeReading(ctx context.Context, id journal.ID, reason string) (err error) {
	defer wrap(&err, "strike reading %d", id)
	if err := checkReason(kindReading, reason); err != nil {
		return err
	}
	return s.write(ctx, func(tx *tx) error {
		if err := tx.touch(ctx, kindReading, id); err != nil {
			return err
		}
		if _, err := tx.readingInForce(ctx, id); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO strike (reading_id, reason, recorded_at) VALUES (?, ?, ?)`, id, reason, stamp(tx.now))
		return err
	})
}

func loadReadings(ctx context.Context, tx *sql.Tx, part scope) ([]journal.Reading, error) {
	return listReadings(ctx, tx, `reading.sample_id IN (SELECT sample_id FROM sample_owner WHERE `+part.where+`)`, part.args...)
}

func listReadings(ctx context.Context, tx *sql.Tx, where string, args ...any) ([]journal.Reading, error) {
	return list(ctx, tx, scanReading, `
		SELECT reading.id, reading.sample_id, reading.method, reading.reader, reading.structure, reading.plies,
			reading.direction, reading.line, reading.angle_deg, reading.sd_deg, reading.low_deg, reading.high_deg,
			reading.refused, reading.photo_sha256, reading.photo_width_px, reading.photo_height_px,
			reading.trace, reading.note, reading.recorded_at,
			coalesce(reading.supersedes_id, 0), coalesce(later.id, 0), coalesce(strike.reason, '')
		FROM reading
		LEFT JOIN reading AS later ON later.supersedes_id = reading.id
		LEFT JOIN strike ON strike.reading_id = reading.id
		WHERE `+where+` ORDER BY reading.id`, args...)
}

func scanReading(row *sql.Rows) (r journal.Reading, err error) {
	var hash *string
	var width, height *int
	err = row.Scan(&r.ID, &r.Sample, &r.Method, &r.Reader, &r.Structure, &r.Plies,
		word(&r.Direction, yarn.ParseDirection), word(&r.Line, lineOrNone),
		amount(&r.Angle, unit.Degree), amount(&r.SD, unit.Degree), amount(&r.Low, unit.Degree), amount(&r.High, unit.Degree),
		&r.Refused, &hash, &width, &height, &r.Trace, &r.Note, moment(&r.Recorded),
		&r.Supersedes, &r.SupersededBy, &r.Struck)
	if err != nil {
		return r, err
	}
	if hash != nil {
		r.Photo = &journal.Photo{Hash: *hash, Width: *width, Height: *height}
	}
	return r, nil
}

// lineOrNone reads the line of a reading; a refused photograph has none.
func lineOrNone(words string) (yarn.Line, error) {
	if words == "" {
		return 0, nil
	}
	return yarn.ParseLine(words)
}
