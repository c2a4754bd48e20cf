package sqlite

import (
	"context"
	"database/sql"
	"errors"

	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

// perMetre is the unit in which wraps are kept.
const perMetre unit.Wraps = 1

// AddBobbin keeps a new bobbin with its stretches, and a lot that has no number
// yet with it; of another lot, only the number counts. Its samples are added one
// by one afterwards.
func (s *Store) AddBobbin(ctx context.Context, b journal.Bobbin) (_ journal.ID, err error) {
	defer wrap(&err, "keep the bobbin %q", b.Name)
	if err := b.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touch(ctx, kindProject, b.Project); err != nil {
			return 0, err
		}
		lot, err := tx.lotOfNew(ctx, b)
		if err != nil {
			return 0, err
		}
		id, err := tx.insert(ctx, `
			INSERT INTO bobbin (project_id, lot_id, name, direction, diameter_mm, wraps_per_m, singles_deg, note, away, recorded_at)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
			b.Project, lot, b.Name, b.Direction.String(), inUnits(b.Diameter, unit.Millimetre),
			inUnits(b.Wraps, perMetre), inUnits(b.Singles, unit.Degree), b.Note, b.Away, stamp(tx.now))
		if err != nil {
			return 0, err
		}
		for _, one := range b.Stretches {
			one.Bobbin = id
			if _, err := tx.insertStretch(ctx, one); err != nil {
				return 0, err
			}
		}
		return id, nil
	})
}

// lotOfNew is lotOf, and keeps a lot that has no number yet.
func (tx *tx) lotOfNew(ctx context.Context, b journal.Bobbin) (*journal.ID, error) {
	if b.Lot == nil || b.Lot.ID != 0 {
		return tx.lotOf(ctx, b)
	}
	if err := b.Lot.Check(); err != nil {
		return nil, err
	}
	id, err := tx.insertLot(ctx, *b.Lot)
	return &id, err
}

// lotOf returns the number of a bobbin's fibre lot, nil when it has none. It
// refuses a lot that is not kept.
func (tx *tx) lotOf(ctx context.Context, b journal.Bobbin) (*journal.ID, error) {
	if b.Lot == nil {
		return nil, nil
	}
	var id journal.ID
	err := tx.QueryRowContext(ctx, `SELECT id FROM lot WHERE id = ?`, b.Lot.ID).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, journal.Missing(kindLot, b.Lot.ID)
	}
	return &id, err
}

// formerBobbin puts a bobbin as it is into the history.
const formerBobbin = `
	INSERT INTO history (kind, record_id, changed_at, former)
	SELECT 'bobbin', id, ?, json_object('lot_id', lot_id, 'name', name, 'direction', direction,
		'diameter_mm', diameter_mm, 'wraps_per_m', wraps_per_m, 'singles_deg', singles_deg, 'note', note, 'away', away)
	FROM bobbin WHERE id = ?`

// ChangeBobbin changes everything about a bobbin but its project, stretches and
// samples; the former version goes to the history.
func (s *Store) ChangeBobbin(ctx context.Context, b journal.Bobbin) (err error) {
	defer wrap(&err, "change bobbin %d", b.ID)
	if err := b.Check(); err != nil {
		return err
	}
	return s.write(ctx, func(tx *tx) error {
		if err := tx.touch(ctx, kindBobbin, b.ID); err != nil {
			return err
		}
		lot, err := tx.lotOf(ctx, b)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, formerBobbin, stamp(tx.now), b.ID); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `
			UPDATE bobbin SET lot_id = ?, name = ?, direction = ?, diameter_mm = ?, wraps_per_m = ?, singles_deg = ?, note = ?, away = ?
			WHERE id = ?`,
			lot, b.Name, b.Direction.String(), inUnits(b.Diameter, unit.Millimetre),
			inUnits(b.Wraps, perMetre), inUnits(b.Singles, unit.Degree), b.Note, b.Away, b.ID)
		return err
	})
}

// AddStretch keeps a new stretch of spinning onto a bobbin.
func (s *Store) AddStretch(ctx context.Context, one journal.Stretch) (_ journal.ID, err error) {
	defer wrap(&err, "keep a stretch of spinning onto bobbin %d", one.Bobbin)
	if err := one.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touch(ctx, kindBobbin, one.Bobbin); err != nil {
			return 0, err
		}
		return tx.insertStretch(ctx, one)
	})
}

func (tx *tx) insertStretch(ctx context.Context, one journal.Stretch) (journal.ID, error) {
	return tx.insert(ctx, `
		INSERT INTO stretch (bobbin_id, started_at, ended_at, length_m, worked_s, recorded_at) VALUES (?, ?, ?, ?, ?, ?)`,
		one.Bobbin, stamp(one.Started), stamp(one.Ended), inUnits(one.Length, unit.Metre), inSeconds(one.Worked), stamp(tx.now))
}

// Bobbin returns a bobbin whole.
func (s *Store) Bobbin(ctx context.Context, id journal.ID) (b *journal.Bobbin, err error) {
	defer wrap(&err, "load bobbin %d", id)
	err = s.read(ctx, func(tx *sql.Tx) error {
		part := only(kindBobbin, id)
		own, err := loadPieces(ctx, tx, part)
		if err != nil {
			return err
		}
		found, err := loadBobbins(ctx, tx, part, own)
		if err != nil {
			return err
		}
		b, err = single(found, kindBobbin, id)
		return err
	})
	return b, err
}

func loadBobbins(ctx context.Context, tx *sql.Tx, part scope, own pieces) ([]journal.Bobbin, error) {
	lots, err := loadLots(ctx, tx)
	if err != nil {
		return nil, err
	}
	bobbins, err := list(ctx, tx, bobbinScanner(lots), `
		SELECT id AS bobbin_id, project_id, lot_id, name, direction, diameter_mm, wraps_per_m, singles_deg, note, away, recorded_at
		FROM bobbin WHERE `+part.where+` ORDER BY id`, part.args...)
	if err != nil {
		return nil, err
	}
	stretches, err := loadStretches(ctx, tx, part)
	if err != nil {
		return nil, err
	}
	weighings, err := loadWeighings(ctx, tx, part)
	if err != nil {
		return nil, err
	}
	weighingsOf := grouped(weighings, func(w journal.Weighing) journal.ID { return w.Bobbin })
	stretchesOf := grouped(stretches, func(s journal.Stretch) journal.ID { return s.Bobbin })
	samplesOf := grouped(own.samples, func(s journal.Sample) journal.ID { return s.Bobbin })
	skeinsOf := grouped(own.skeins, func(s journal.Skein) journal.ID { return s.Bobbin })
	for i := range bobbins {
		b := &bobbins[i]
		b.Stretches, b.Samples, b.Skeins, b.Weighings = stretchesOf[b.ID], samplesOf[b.ID], skeinsOf[b.ID], weighingsOf[b.ID]
	}
	return bobbins, nil
}

func bobbinScanner(lots []journal.Lot) func(*sql.Rows) (journal.Bobbin, error) {
	byNumber := make(map[journal.ID]journal.Lot)
	for _, l := range lots {
		byNumber[l.ID] = l
	}
	return func(row *sql.Rows) (b journal.Bobbin, err error) {
		var lot *journal.ID
		err = row.Scan(&b.ID, &b.Project, &lot, &b.Name, word(&b.Direction, yarn.ParseDirection),
			amountOrNil(&b.Diameter, unit.Millimetre), amountOrNil(&b.Wraps, perMetre),
			amountOrNil(&b.Singles, unit.Degree), &b.Note, &b.Away, moment(&b.Recorded))
		if lot != nil {
			l := byNumber[*lot]
			b.Lot = &l
		}
		return b, err
	}
}

func loadStretches(ctx context.Context, tx *sql.Tx, part scope) ([]journal.Stretch, error) {
	return list(ctx, tx, scanStretch, `
		SELECT stretch.id, bobbin_id, started_at, ended_at, length_m, worked_s, stretch.recorded_at
		FROM stretch JOIN bobbin ON bobbin.id = bobbin_id
		WHERE `+part.where+` ORDER BY started_at, stretch.id`, part.args...)
}

func scanStretch(row *sql.Rows) (s journal.Stretch, err error) {
	err = row.Scan(&s.ID, &s.Bobbin, moment(&s.Started), moment(&s.Ended), amountOrNil(&s.Length, unit.Metre), secondsOrNil(&s.Worked), moment(&s.Recorded))
	return s, err
}
