// Package sqlite keeps a journal in a SQLite database.
//
// The database runs with a write-ahead log and full synchronisation: what a
// method has returned is on the disc. Several processes may use one folder.
// Units stand in the names of the columns, their meaning beside them in
// migrations/*.sql. Readings, targets, measures, washes, hang tests, weighings
// and swatches are never changed, and of a project, bobbin or run that is
// changed the former version goes to the table history.
package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"waketwist/internal/journal"
)

// Store is a journal.Store in a SQLite database. Its methods may be called from
// several goroutines. Apart from refusals, which are of type *journal.Error,
// they return errors that begin with what was being done.
type Store struct {
	writer *sql.DB
	reader *sql.DB
	clock  func() time.Time
}

var _ journal.Store = (*Store)(nil)

// Close moves the write-ahead log into the database and closes it. The store
// must not be used afterwards.
func (s *Store) Close() (err error) {
	defer wrap(&err, "close the journal")
	err = s.reader.Close()
	_, logged := s.writer.Exec(`PRAGMA wal_checkpoint(TRUNCATE)`)
	return errors.Join(err, logged, s.writer.Close())
}

// tx is a transaction that writes, with the time at which it began.
type tx struct {
	*sql.Tx
	now time.Time
}

// write runs do in a transaction, which an error undoes.
func (s *Store) write(ctx context.Context, do func(tx *tx) error) (err error) {
	begun, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = begun.Rollback() // err says why
		}
	}()
	if err := do(&tx{begun, s.clock().UTC()}); err != nil {
		return err
	}
	return begun.Commit()
}

// add runs insert in a transaction and returns the number of the new record.
func (s *Store) add(ctx context.Context, insert func(tx *tx) (journal.ID, error)) (id journal.ID, err error) {
	err = s.write(ctx, func(tx *tx) error {
		id, err = insert(tx)
		return err
	})
	if err != nil {
		return 0, err
	}
	return id, nil
}

// read runs do in a transaction that sees one state of the database.
func (s *Store) read(ctx context.Context, do func(tx *sql.Tx) error) error {
	begun, err := s.reader.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return err
	}
	defer func() { _ = begun.Rollback() }() // nothing was written
	return do(begun)
}

// insert runs an INSERT and returns the number of the new row.
func (tx *tx) insert(ctx context.Context, query string, args ...any) (journal.ID, error) {
	done, err := tx.ExecContext(ctx, query, args...)
	if err != nil {
		return 0, err
	}
	id, err := done.LastInsertId()
	return journal.ID(id), err
}

// The kinds of record, as the person calls them.
const (
	kindProject = "project"
	kindLot     = "fibre lot"
	kindBobbin  = "bobbin"
	kindRun     = "run"
	kindSkein   = "skein"
	kindSample  = "sample"
	kindReading = "reading"
	kindSwatch  = "swatch"
)

// projectOf finds the number of the project that a record belongs to.
var projectOf = map[string]string{
	kindProject: `?`,
	kindBobbin:  `SELECT project_id FROM bobbin WHERE id = ?`,
	kindRun:     `SELECT project_id FROM run WHERE id = ?`,
	kindSkein:   `SELECT project_id FROM skein_owner WHERE skein_id = ?`,
	kindSample:  `SELECT project_id FROM sample_owner WHERE sample_id = ?`,
	kindReading: `SELECT project_id FROM sample_owner WHERE sample_id = (SELECT sample_id FROM reading WHERE id = ?)`,
}

// touch notes that something is being recorded under the project to which a
// record belongs; it refuses when there is no such record. The time grows with
// every change even where the clock stands still or is set back, so that who
// has seen a project can tell by it that it has changed.
func (tx *tx) touch(ctx context.Context, kind string, id journal.ID) error {
	var owner journal.ID
	var last time.Time
	err := tx.QueryRowContext(ctx, `SELECT id, touched_at FROM project WHERE id = (`+projectOf[kind]+`)`, id).Scan(&owner, moment(&last))
	if errors.Is(err, sql.ErrNoRows) {
		return journal.Missing(kind, id)
	}
	if err != nil {
		return err
	}
	touched := tx.now
	if !touched.After(last) {
		touched = last.Add(time.Nanosecond)
	}
	_, err = tx.ExecContext(ctx, `UPDATE project SET touched_at = ? WHERE id = ?`, stamp(touched), owner)
	return err
}

// list reads rows into a slice, nil when there are none.
func list[T any](ctx context.Context, tx *sql.Tx, scan func(*sql.Rows) (T, error), query string, args ...any) (out []T, err error) {
	rows, err := tx.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		one, err := scan(rows)
		if err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, rows.Err()
}

// scope is the part of the journal to load: a condition on the columns
// project_id, bobbin_id, run_id, skein_id and sample_id, each as far as the
// table or view has them.
type scope struct {
	where string
	args  []any
}

var everything = scope{where: "true"}

func only(kind string, id journal.ID) scope {
	return scope{kind + "_id = ?", []any{id}}
}

// single returns the element of a list that was loaded for one number.
func single[T any](found []T, kind string, id journal.ID) (*T, error) {
	if len(found) == 0 {
		return nil, journal.Missing(kind, id)
	}
	return &found[0], nil
}

// inForce refuses a record that has been replaced or struck; instead says what to
// do where it was struck.
func inForce(record string, id, by journal.ID, struck, instead string) error {
	switch {
	case by != 0:
		return &journal.Error{Code: journal.Conflict, Text: fmt.Sprintf(
			"%s number %d has been replaced by number %d meanwhile; go on from that one.", record, id, by)}
	case struck != "":
		return &journal.Error{Code: journal.Conflict, Text: fmt.Sprintf(
			"%s number %d has been struck meanwhile (%s); %s.", record, id, struck, instead)}
	}
	return nil
}

// checkReason refuses to strike a record without one.
func checkReason(kind, reason string) error {
	if strings.TrimSpace(reason) == "" {
		return &journal.Error{Code: journal.Invalid, Field: "reason", Text: "Say why the " + kind + " is to be struck; it stays in the journal with the reason."}
	}
	return nil
}

// grouped parts records by what they belong to, keeping their order.
func grouped[T any](all []T, owner func(T) journal.ID) map[journal.ID][]T {
	groups := make(map[journal.ID][]T)
	for _, one := range all {
		groups[owner(one)] = append(groups[owner(one)], one)
	}
	return groups
}
