package sqlite

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"time"

	"github.com/pressly/goose/v3"
)

//go:embed migrations/*.sql
var embedded embed.FS

// migrations returns the steps that bring a database up to this version of the
// program.
func migrations() fs.FS {
	sub, err := fs.Sub(embedded, "migrations")
	if err != nil {
		panic(err) // the path is constant and embedded
	}
	return sub
}

// migrate brings the database up to the version of the steps.
func migrate(ctx context.Context, db *sql.DB, path string, steps fs.FS, clock func() time.Time) (err error) {
	provider, err := goose.NewProvider(goose.DialectSQLite3, db, steps,
		goose.WithLogger(goose.NopLogger()), goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	sources := provider.ListSources()
	latest := sources[len(sources)-1].Version
	if found, err := inspect(ctx, path, latest); err != nil || found == latest {
		return err
	}
	release, err := lock(ctx, path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, release()) }()
	found, err := inspect(ctx, path, latest)
	if err != nil || found == latest { // another process has taken the steps meanwhile
		return err
	}
	if found > 0 {
		if err := backUp(ctx, db, path, found, clock()); err != nil {
			return err
		}
	}
	_, err = provider.Up(ctx)
	return err
}

// lock keeps other processes from taking the steps at the same time. It is
// SQLite's own lock, on an empty file beside the database, so that it goes with
// its process. The file stays: SQLite fails those who wait for one that is
// removed.
func lock(ctx context.Context, path string) (release func() error, err error) {
	db, err := sql.Open("sqlite", source(path+".lock", url.Values{"_pragma": {"busy_timeout(60000)"}, "_txlock": {"exclusive"}}))
	if err != nil {
		return nil, err
	}
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return func() error { return errors.Join(tx.Rollback(), db.Close()) }, nil
}

// backUp writes a copy of the database beside it, named by its version and the
// time.
func backUp(ctx context.Context, db *sql.DB, path string, version int64, now time.Time) error {
	name := fmt.Sprintf("waketwist-version-%d-%s-*.db", version, now.UTC().Format("20060102T150405Z"))
	f, err := os.CreateTemp(filepath.Dir(path), name) // VACUUM INTO fills an empty file
	if err != nil {
		return err
	}
	_, err = db.ExecContext(ctx, `VACUUM INTO ?`, f.Name())
	err = errors.Join(err, f.Sync(), f.Close())
	if err != nil {
		return fmt.Errorf("back it up before its tables change: %w", errors.Join(err, os.Remove(f.Name())))
	}
	return nil
}
