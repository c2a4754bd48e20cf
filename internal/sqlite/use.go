package sqlite

import (
	"context"
	"database/sql"

	"waketwist/internal/journal"
)

// AddUse keeps what became of a skein, which from now on is what counts.
func (s *Store) AddUse(ctx context.Context, u journal.Use) (_ journal.ID, err error) {
	defer wrap(&err, "keep what became of skein %d", u.Skein)
	if err := u.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touch(ctx, kindSkein, u.Skein); err != nil {
			return 0, err
		}
		return tx.insert(ctx, `INSERT INTO skein_use (skein_id, how, note, recorded_at) VALUES (?, ?, ?, ?)`,
			u.Skein, u.How, u.Note, stamp(tx.now))
	})
}

func loadUses(ctx context.Context, tx *sql.Tx, part scope) ([]journal.Use, error) {
	return list(ctx, tx, scanUse, `
		SELECT id, skein_id, how, note, recorded_at
		FROM skein_use WHERE skein_id IN (`+skeinsIn(part)+`) ORDER BY id`, part.args...)
}

func scanUse(row *sql.Rows) (u journal.Use, err error) {
	err = row.Scan(&u.ID, &u.Skein, &u.How, &u.Note, moment(&u.Recorded))
	return u, err
}
