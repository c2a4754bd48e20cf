package sqlite

import (
	"context"
	"database/sql"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

// AddHang keeps a new hang test of a skein, which from now on is the one that
// counts for its state.
func (s *Store) AddHang(ctx context.Context, h journal.Hang) (_ journal.ID, err error) {
	defer wrap(&err, "keep a hang test of skein %d", h.Skein)
	if err := h.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touch(ctx, kindSkein, h.Skein); err != nil {
			return 0, err
		}
		return tx.insert(ctx, `
			INSERT INTO hang (skein_id, state, direction, half_turns, length_m, recorded_at) VALUES (?, ?, ?, ?, ?, ?)`,
			h.Skein, h.State.String(), h.Direction.String(), h.HalfTurns, inUnits(h.Length, unit.Metre), stamp(tx.now))
	})
}

func loadHangs(ctx context.Context, tx *sql.Tx, part scope) ([]journal.Hang, error) {
	return list(ctx, tx, scanHang, `
		SELECT id, skein_id, state, direction, half_turns, length_m, recorded_at
		FROM hang WHERE skein_id IN (`+skeinsIn(part)+`) ORDER BY id`, part.args...)
}

func scanHang(row *sql.Rows) (h journal.Hang, err error) {
	err = row.Scan(&h.ID, &h.Skein, word(&h.State, estimate.ParseState), word(&h.Direction, yarn.ParseDirection),
		&h.HalfTurns, amountOrNil(&h.Length, unit.Metre), moment(&h.Recorded))
	return h, err
}
