package sqlite

import (
	"context"
	"database/sql"

	"waketwist/finish"
	"waketwist/internal/journal"
)

// AddLot keeps a new fibre lot.
func (s *Store) AddLot(ctx context.Context, l journal.Lot) (_ journal.ID, err error) {
	defer wrap(&err, "keep the fibre lot %q", l.Name)
	if err := l.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		return tx.insert(ctx, `
			INSERT INTO lot (name, fibre, preparation, note, recorded_at) VALUES (?, ?, ?, ?, ?)`,
			l.Name, l.Fibre, l.Preparation.String(), l.Note, stamp(tx.now))
	})
}

// Lots returns all fibre lots in order of recording.
func (s *Store) Lots(ctx context.Context) (lots []journal.Lot, err error) {
	defer wrap(&err, "load the fibre lots")
	err = s.read(ctx, func(tx *sql.Tx) error {
		lots, err = loadLots(ctx, tx)
		return err
	})
	return lots, err
}

func loadLots(ctx context.Context, tx *sql.Tx) ([]journal.Lot, error) {
	return list(ctx, tx, scanLot, `SELECT id, name, fibre, preparation, note, recorded_at FROM lot ORDER BY id`)
}

func scanLot(row *sql.Rows) (l journal.Lot, err error) {
	err = row.Scan(&l.ID, &l.Name, &l.Fibre, word(&l.Preparation, finish.ParsePreparation), &l.Note, moment(&l.Recorded))
	return l, err
}
