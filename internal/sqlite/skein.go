package sqlite

import (
	"context"
	"database/sql"

	"waketwist/internal/journal"
)

// AddSkein keeps a new skein of a run or of a bobbin. What is measured, done and
// read of it is added one by one afterwards.
func (s *Store) AddSkein(ctx context.Context, skein journal.Skein) (_ journal.ID, err error) {
	defer wrap(&err, "keep the skein %q", skein.Name)
	if err := skein.Check(); err != nil {
		return 0, err
	}
	kind, owner := kindRun, skein.Run
	if skein.Run == 0 {
		kind, owner = kindBobbin, skein.Bobbin
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touch(ctx, kind, owner); err != nil {
			return 0, err
		}
		return tx.insert(ctx, `
			INSERT INTO skein (run_id, bobbin_id, name, note, recorded_at) VALUES (?, ?, ?, ?, ?)`,
			numberOrNil(skein.Run), numberOrNil(skein.Bobbin), skein.Name, skein.Note, stamp(tx.now))
	})
}

// Skein returns a skein whole.
func (s *Store) Skein(ctx context.Context, id journal.ID) (skein *journal.Skein, err error) {
	defer wrap(&err, "load skein %d", id)
	err = s.read(ctx, func(tx *sql.Tx) error {
		found, err := loadPieces(ctx, tx, only(kindSkein, id))
		if err != nil {
			return err
		}
		skein, err = single(found.skeins, kindSkein, id)
		return err
	})
	return skein, err
}

// pieces are the samples and skeins of a scope, whatever they belong to.
type pieces struct {
	samples []journal.Sample
	skeins  []journal.Skein // each with its samples
}

func loadPieces(ctx context.Context, tx *sql.Tx, part scope) (p pieces, err error) {
	if p.samples, err = loadSamples(ctx, tx, part); err != nil {
		return p, err
	}
	p.skeins, err = loadSkeins(ctx, tx, part, p.samples)
	return p, err
}

func loadSkeins(ctx context.Context, tx *sql.Tx, part scope, samples []journal.Sample) ([]journal.Skein, error) {
	skeins, err := list(ctx, tx, scanSkein, `
		SELECT id, coalesce(run_id, 0), coalesce(bobbin_id, 0), name, note, recorded_at
		FROM skein WHERE id IN (`+skeinsIn(part)+`) ORDER BY id`, part.args...)
	if err != nil {
		return nil, err
	}
	measures, err := loadMeasures(ctx, tx, part)
	if err != nil {
		return nil, err
	}
	washes, err := loadWashes(ctx, tx, part)
	if err != nil {
		return nil, err
	}
	hangs, err := loadHangs(ctx, tx, part)
	if err != nil {
		return nil, err
	}
	uses, err := loadUses(ctx, tx, part)
	if err != nil {
		return nil, err
	}
	usesOf := grouped(uses, func(u journal.Use) journal.ID { return u.Skein })
	measuresOf := grouped(measures, func(m journal.Measure) journal.ID { return m.Skein })
	washesOf := grouped(washes, func(w journal.Wash) journal.ID { return w.Skein })
	hangsOf := grouped(hangs, func(h journal.Hang) journal.ID { return h.Skein })
	samplesOf := grouped(samples, func(s journal.Sample) journal.ID { return s.Skein })
	for i := range skeins {
		s := &skeins[i]
		s.Measures, s.Washes, s.Hangs, s.Samples = measuresOf[s.ID], washesOf[s.ID], hangsOf[s.ID], samplesOf[s.ID]
		s.Uses = usesOf[s.ID]
	}
	return skeins, nil
}

// skeinsIn finds the numbers of the skeins of a scope.
func skeinsIn(part scope) string {
	return `SELECT skein_id FROM skein_owner WHERE ` + part.where
}

func scanSkein(row *sql.Rows) (s journal.Skein, err error) {
	err = row.Scan(&s.ID, &s.Run, &s.Bobbin, &s.Name, &s.Note, moment(&s.Recorded))
	return s, err
}
