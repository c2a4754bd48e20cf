package sqlite

import (
	"context"
	"database/sql"
	"encoding/json"

	"waketwist/internal/journal"
)

// AddWish keeps a new wish with its first text.
func (s *Store) AddWish(ctx context.Context, w journal.Wish) (_ journal.ID, err error) {
	defer wrap(&err, "keep the plan %q", w.Name)
	if err := w.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		id, err := tx.insert(ctx, `INSERT INTO wish (demo, recorded_at) VALUES (?, ?)`, w.Demo, stamp(tx.now))
		if err != nil {
			return 0, err
		}
		w.ID = id
		return id, addVersion(ctx, tx, w)
	})
}

// ChangeWish adds a version to a wish; the former ones stay.
func (s *Store) ChangeWish(ctx context.Context, w journal.Wish) (err error) {
	defer wrap(&err, "change plan %d", w.ID)
	if err := w.Check(); err != nil {
		return err
	}
	return s.write(ctx, func(tx *tx) error {
		found, err := loadWishes(ctx, tx.Tx, `wish.id = ?`, w.ID)
		if err != nil {
			return err
		}
		if len(found) == 0 {
			return journal.Missing("plan", w.ID)
		}
		return addVersion(ctx, tx, w)
	})
}

// AddProjectFor keeps a new project and adds a version to the wish that it is to
// make, with the project in it.
func (s *Store) AddProjectFor(ctx context.Context, wish journal.ID, p journal.Project) (_ journal.ID, err error) {
	defer wrap(&err, "keep the project %q for plan %d", p.Name, wish)
	if err := p.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		found, err := loadWishes(ctx, tx.Tx, `wish.id = ?`, wish)
		if err != nil {
			return 0, err
		}
		w, err := single(found, "plan", wish)
		if err != nil {
			return 0, err
		}
		if w.Project, err = tx.insertProject(ctx, p); err != nil {
			return 0, err
		}
		return w.Project, addVersion(ctx, tx, *w)
	})
}

func addVersion(ctx context.Context, tx *tx, w journal.Wish) error {
	if w.Project != 0 {
		if err := tx.touch(ctx, kindProject, w.Project); err != nil {
			return err
		}
	}
	fields, err := json.Marshal(w.Text)
	if err != nil {
		return err
	}
	_, err = tx.insert(ctx, `INSERT INTO wish_version (wish_id, project_id, name, fields, recorded_at) VALUES (?, ?, ?, ?, ?)`,
		w.ID, numberOrNil(w.Project), w.Name, string(fields), stamp(tx.now))
	return err
}

// Wishes returns all wishes, the latest changed first.
func (s *Store) Wishes(ctx context.Context) (wishes []journal.Wish, err error) {
	defer wrap(&err, "load the plans")
	err = s.read(ctx, func(tx *sql.Tx) error {
		wishes, err = loadWishes(ctx, tx, `TRUE`)
		return err
	})
	return wishes, err
}

// Wish returns a wish with the text in force.
func (s *Store) Wish(ctx context.Context, id journal.ID) (w *journal.Wish, err error) {
	defer wrap(&err, "load plan %d", id)
	err = s.read(ctx, func(tx *sql.Tx) error {
		found, err := loadWishes(ctx, tx, `wish.id = ?`, id)
		if err != nil {
			return err
		}
		w, err = single(found, "plan", id)
		return err
	})
	return w, err
}

func loadWishes(ctx context.Context, tx *sql.Tx, where string, args ...any) ([]journal.Wish, error) {
	return list(ctx, tx, scanWish, `
		SELECT wish.id, coalesce(v.project_id, 0), v.name, v.fields, wish.demo, wish.recorded_at, v.recorded_at,
			(SELECT count(*) FROM wish_version AS one WHERE one.wish_id = wish.id)
		FROM wish JOIN wish_version AS v ON v.id = (SELECT max(id) FROM wish_version AS last WHERE last.wish_id = wish.id)
		WHERE `+where+` ORDER BY v.id DESC`, args...)
}

func scanWish(row *sql.Rows) (w journal.Wish, err error) {
	var fields string
	if err := row.Scan(&w.ID, &w.Project, &w.Name, &fields, &w.Demo, moment(&w.Recorded), moment(&w.Changed), &w.Versions); err != nil {
		return w, err
	}
	return w, json.Unmarshal([]byte(fields), &w.Text)
}
