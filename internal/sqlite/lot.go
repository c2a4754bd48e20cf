package sqlite

import (
	"context"
	"database/sql"

	"waketwist/finish"
	"waketwist/internal/journal"
)

// AddLot keeps a new fibre lot with its weighings.
func (s *Store) AddLot(ctx context.Context, l journal.Lot) (_ journal.ID, err error) {
	defer wrap(&err, "keep the fibre lot %q", l.Name)
	if err := l.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) { return tx.insertLot(ctx, l) })
}

func (tx *tx) insertLot(ctx context.Context, l journal.Lot) (journal.ID, error) {
	id, err := tx.insert(ctx, `
		INSERT INTO lot (name, fibre, preparation, note, recorded_at) VALUES (?, ?, ?, ?, ?)`,
		l.Name, l.Fibre, l.Preparation.String(), l.Note, stamp(tx.now))
	if err != nil {
		return 0, err
	}
	for _, w := range l.Weighings {
		w.Lot = id
		if err := w.Check(); err != nil {
			return 0, err
		}
		if _, err := tx.insertWeighing(ctx, w); err != nil {
			return 0, err
		}
	}
	return id, nil
}

// Lots returns all fibre lots in order of recording, with their weighings.
func (s *Store) Lots(ctx context.Context) (lots []journal.Lot, err error) {
	defer wrap(&err, "load the fibre lots")
	err = s.read(ctx, func(tx *sql.Tx) error {
		lots, err = loadWeighedLots(ctx, tx)
		return err
	})
	return lots, err
}

// Lot returns a fibre lot with its weighings.
func (s *Store) Lot(ctx context.Context, id journal.ID) (lot *journal.Lot, err error) {
	defer wrap(&err, "load fibre lot %d", id)
	err = s.read(ctx, func(tx *sql.Tx) error {
		lots, err := loadWeighedLots(ctx, tx)
		if err != nil {
			return err
		}
		for i := range lots {
			if lots[i].ID == id {
				lot = &lots[i]
				return nil
			}
		}
		return journal.Missing(kindLot, id)
	})
	return lot, err
}

func loadWeighedLots(ctx context.Context, tx *sql.Tx) ([]journal.Lot, error) {
	lots, err := loadLots(ctx, tx)
	if err != nil {
		return nil, err
	}
	weighings, err := listWeighings(ctx, tx, `weighing.lot_id IS NOT NULL`)
	if err != nil {
		return nil, err
	}
	weighingsOf := grouped(weighings, func(w journal.Weighing) journal.ID { return w.Lot })
	for i := range lots {
		lots[i].Weighings = weighingsOf[lots[i].ID]
	}
	return lots, nil
}

func loadLots(ctx context.Context, tx *sql.Tx) ([]journal.Lot, error) {
	return list(ctx, tx, scanLot, `SELECT id, name, fibre, preparation, note, recorded_at FROM lot ORDER BY id`)
}

func scanLot(row *sql.Rows) (l journal.Lot, err error) {
	err = row.Scan(&l.ID, &l.Name, &l.Fibre, word(&l.Preparation, finish.ParsePreparation), &l.Note, moment(&l.Recorded))
	return l, err
}
