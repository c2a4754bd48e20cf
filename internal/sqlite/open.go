package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// The name of the database inside its folder, and the number that marks it as
// a journal (PRAGMA application_id).
const (
	fileName      = "waketwist.db"
	applicationID = 0x576b5477
)

// Open opens the journal in folder. What is missing is made: the folder with
// mode 0700, the database, and the tables that this version of the program
// adds, after a backup of an existing database beside it. Clock tells the time
// of recording; it is called from several goroutines.
//
// Errors are in words for the person. A database that is not a journal, or that
// a newer version of the program has made, is refused and left as it was.
func Open(ctx context.Context, folder string, clock func() time.Time) (*Store, error) {
	return open(ctx, folder, clock, migrations())
}

func open(ctx context.Context, folder string, clock func() time.Time, steps fs.FS) (_ *Store, err error) {
	defer wrap(&err, "open the journal in %s", folder)
	path, err := makeFile(folder)
	if err != nil {
		return nil, err
	}
	s := &Store{clock: clock}
	if s.writer, err = sql.Open("sqlite", source(path, url.Values{
		"_pragma": {"busy_timeout(5000)", "journal_mode(WAL)", "synchronous(FULL)", "foreign_keys(1)"},
		"_txlock": {"immediate"},
	})); err != nil {
		return nil, err
	}
	// One connection: writers of one process wait in turn instead of racing for
	// SQLite's lock.
	s.writer.SetMaxOpenConns(1)
	if s.reader, err = sql.Open("sqlite", source(path, url.Values{
		"_pragma": {"busy_timeout(5000)", "query_only(1)"},
	})); err != nil {
		return nil, errors.Join(err, s.writer.Close())
	}
	s.reader.SetMaxOpenConns(mostReaders)
	s.reader.SetMaxIdleConns(mostReaders)
	if err = migrate(ctx, s.writer, path, steps, clock); err == nil {
		err = probe(ctx, s.writer)
	}
	if err != nil {
		return nil, errors.Join(err, s.reader.Close(), s.writer.Close())
	}
	return s, nil
}

// Holds reports whether a journal is to be found in a folder, without making
// anything.
func Holds(folder string) bool {
	info, err := os.Stat(filepath.Join(folder, fileName))
	return err == nil && !info.IsDir()
}

// mostReaders bounds the connections that read at the same time.
const mostReaders = 4

// source returns the data source name of a database file.
func source(path string, settings url.Values) string {
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") {
		slashed = "/" + slashed // a drive letter
	}
	return (&url.URL{Scheme: "file", Path: slashed, RawQuery: settings.Encode()}).String()
}

// makeFile makes the folder, and in it an empty database file that only its
// owner may read: SQLite gives its other files the same mode.
func makeFile(folder string) (path string, err error) {
	if folder, err = filepath.Abs(folder); err != nil {
		return "", err
	}
	if info, err := os.Stat(folder); err == nil && !info.IsDir() {
		return "", fmt.Errorf("%s is a file, and a journal needs a folder; choose another, or move the file away", folder)
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", fmt.Errorf("the folder cannot be made; choose one inside a folder that you may write to (%w)", err)
	}
	path = filepath.Join(folder, fileName)
	switch info, err := os.Stat(path); {
	case err == nil && info.IsDir():
		return "", fmt.Errorf("%s is a folder where the journal's file should be; move it away, or choose another folder", path)
	case err == nil:
		return path, nil
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	switch {
	case errors.Is(err, fs.ErrExist): // made by another process meanwhile
		return path, nil
	case err != nil:
		return "", fmt.Errorf("no file can be made in the folder; allow writing to it, or choose another folder (%w)", err)
	}
	return path, f.Close()
}

// inspect returns the version of the database, 0 for an empty one, without
// changing it. It refuses what is not a journal or is later than the latest
// version that this program knows.
func inspect(ctx context.Context, path string, latest int64) (version int64, err error) {
	db, err := sql.Open("sqlite", source(path, url.Values{"mode": {"rw"}, "_pragma": {"busy_timeout(5000)"}}))
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	var mark, own, foreign int64
	err = db.QueryRowContext(ctx, `
		SELECT (SELECT application_id FROM pragma_application_id),
		       count(*) FILTER (WHERE name = 'goose_db_version'),
		       count(*) FILTER (WHERE name <> 'goose_db_version' AND name NOT LIKE 'sqlite\_%' ESCAPE '\')
		FROM sqlite_schema WHERE type = 'table'`).Scan(&mark, &own, &foreign)
	switch {
	case err != nil:
		return 0, err
	case foreign > 0 && mark != applicationID:
		return 0, fmt.Errorf("%s is a database of another program; move it away, or choose another folder", path)
	case own == 0:
		return 0, nil
	}
	err = db.QueryRowContext(ctx, `SELECT coalesce(max(version_id), 0) FROM goose_db_version`).Scan(&version)
	if err == nil && version > latest {
		err = fmt.Errorf("a newer version of this program has kept this journal (its tables are of version %d, this program knows %d); use the newer program", version, latest)
	}
	return version, err
}

// probe makes sure that the database can be written.
func probe(ctx context.Context, db *sql.DB) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	return tx.Rollback()
}
