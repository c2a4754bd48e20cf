package sqlite

import (
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"waketwist/internal/journal"
)

func TestOpenAgain(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "a % journal?", "ü#1")
	s, err := Open(t.Context(), folder, ticking())
	if err != nil {
		t.Fatal(err)
	}
	planted(t, s)
	want := must[[]journal.Project](t)(s.Projects(t.Context()))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	names, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil {
		t.Fatal(err)
	}
	same(t, []string{filepath.Join(folder, fileName), filepath.Join(folder, fileName+".lock")}, names) // no log is left
	same(t, want, must[[]journal.Project](t)(openIn(t, folder, ticking()).Projects(t.Context())))
}

func TestConnectionsAreSafe(t *testing.T) {
	s := openNew(t)
	settings := []struct {
		db    *sql.DB
		query string
		want  string
	}{
		{s.writer, `PRAGMA journal_mode`, "wal"},
		{s.writer, `PRAGMA synchronous`, "2"},
		{s.writer, `PRAGMA foreign_keys`, "1"},
		{s.writer, `PRAGMA busy_timeout`, "5000"},
		{s.writer, `PRAGMA application_id`, "1466651767"},
		{s.reader, `PRAGMA query_only`, "1"},
		{s.reader, `PRAGMA busy_timeout`, "5000"},
	}
	for _, tt := range settings {
		var got string
		if err := tt.db.QueryRow(tt.query).Scan(&got); err != nil || got != tt.want {
			t.Errorf("%s: %q, %v, want %q", tt.query, got, err, tt.want)
		}
	}
}

func TestOpenRefuses(t *testing.T) {
	write := func(name, text string) func(*testing.T, string) {
		return func(t *testing.T, folder string) {
			if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	tests := []struct {
		name    string
		prepare func(t *testing.T, folder string)
		open    string // inside the folder
		says    string
	}{
		{"a file", write("journal", ""), "journal", "is a file, and a journal needs a folder; choose another"},
		{"inside a file", write("journal", ""), "journal/deep", "the folder cannot be made; choose one inside"},
		{"a folder as the file", func(t *testing.T, folder string) {
			if err := os.Mkdir(filepath.Join(folder, fileName), 0o700); err != nil {
				t.Fatal(err)
			}
		}, "", "is a folder where the journal's file should be; move it away"},
		{"no database", write(fileName, strings.Repeat("not a database\n", 300)), "", "is not a journal; move it away"},
		{"another program's database", func(t *testing.T, folder string) { execIn(t, folder, `CREATE TABLE recipe (id INTEGER)`) }, "", "database of another program; move it away"},
		{"a newer journal", func(t *testing.T, folder string) {
			openIn(t, folder, ticking())
			execIn(t, folder, `INSERT INTO goose_db_version (version_id, is_applied) VALUES (999, 1)`)
		}, "", "a newer version of this program has kept this journal (its tables are of version 999, this program knows " + latest(t) + "); use the newer program"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			folder := t.TempDir()
			tt.prepare(t, folder)
			before := contents(t, folder)
			s, err := Open(t.Context(), filepath.Join(folder, tt.open), ticking())
			if err == nil {
				_ = s.Close()
				t.Fatal("opened")
			}
			if !strings.HasPrefix(err.Error(), "open the journal in "+folder) || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("%v, want %q", err, tt.says)
			}
			same(t, before, contents(t, folder))
		})
	}
}

// contents returns the first bytes of the database files of a folder: in them a
// change of journal mode would show.
func contents(t *testing.T, folder string) map[string]string {
	t.Helper()
	all := make(map[string]string)
	names, err := filepath.Glob(filepath.Join(folder, "*.db"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		if data, err := os.ReadFile(name); err == nil {
			all[filepath.Base(name)] = string(data[:min(len(data), 100)])
		}
	}
	return all
}

func execIn(t *testing.T, folder, statement string) {
	t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(folder, fileName))
	if err != nil {
		t.Fatal(err)
	}
	_, err = db.Exec(statement)
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
}

// withStep returns the migrations with one more after them.
func withStep(t *testing.T, statements string) fs.FS {
	t.Helper()
	steps := fstest.MapFS{"90000_next.sql": {Data: []byte("-- +goose Up\n" + statements)}}
	known, err := fs.Glob(migrations(), "*.sql")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range known {
		data, err := fs.ReadFile(migrations(), name)
		if err != nil {
			t.Fatal(err)
		}
		steps[name] = &fstest.MapFile{Data: data}
	}
	return steps
}

// latest is the number of the last migration.
func latest(t *testing.T) string {
	t.Helper()
	names := must[[]string](t)(fs.Glob(migrations(), "*.sql"))
	number, _, _ := strings.Cut(names[len(names)-1], "_")
	return strings.TrimLeft(number, "0")
}

// upTo returns the migrations of the first so many versions.
func upTo(t *testing.T, versions int) fs.FS {
	t.Helper()
	steps := fstest.MapFS{}
	for _, name := range must[[]string](t)(fs.Glob(migrations(), "*.sql"))[:versions] {
		steps[name] = &fstest.MapFile{Data: must[[]byte](t)(fs.ReadFile(migrations(), name))}
	}
	return steps
}

// A journal of the first version opens with all that is in it.
func TestFirstVersionIsMigrated(t *testing.T) {
	folder := t.TempDir()
	first := must[*Store](t)(open(t.Context(), folder, ticking(), upTo(t, 1)))
	if err := first.Close(); err != nil {
		t.Fatal(err)
	}
	execIn(t, folder, `
		INSERT INTO project (name, aim, strands, chain, offset_share, demo, created_at, touched_at)
		VALUES ('old', '', 2, 0, 0, 0, '2026-03-01T00:00:00.000000000Z', '2026-03-01T00:00:00.000000000Z');
		INSERT INTO lot (name, fibre, preparation, note, recorded_at) VALUES ('fleece', 'wool', 'woollen', '', '2026-03-01T00:00:00.000000000Z');
		INSERT INTO bobbin (project_id, lot_id, name, direction, note, recorded_at) VALUES (1, 1, 'first', 'Z', '', '2026-03-01T00:00:00.000000000Z');
		INSERT INTO stretch (bobbin_id, started_at, ended_at, recorded_at)
		VALUES (1, '2026-02-01T00:00:00.000000000Z', '2026-02-03T00:00:00.000000000Z', '2026-03-01T00:00:00.000000000Z')`)
	s := openIn(t, folder, ticking())
	b := must[*journal.Bobbin](t)(s.Bobbin(t.Context(), 1))
	if len(b.Stretches) != 1 || b.Stretches[0].Worked != nil || b.Lot == nil || b.Lot.Name != "fleece" {
		t.Errorf("%+v", b)
	}
	must[journal.ID](t)(s.AddWeighing(t.Context(), aWeighing(1)))
	checkSound(t, s)
}

func TestBackupBeforeMigration(t *testing.T) {
	folder := t.TempDir()
	first := must[*Store](t)(Open(t.Context(), folder, ticking()))
	project, _, _ := planted(t, first)
	want := must[*journal.Project](t)(first.Project(t.Context(), project))
	if err := first.Close(); err != nil {
		t.Fatal(err)
	}
	if found := backups(t, folder); len(found) != 0 {
		t.Fatalf("a new journal was backed up: %v", found)
	}

	steps := withStep(t, `ALTER TABLE project ADD COLUMN colour TEXT;`)
	for range 2 { // the second time there is nothing to do
		s := must[*Store](t)(open(t.Context(), folder, func() time.Time { return dawn }, steps))
		if n := count(t, s, `SELECT count(*) FROM pragma_table_info('project') WHERE name = 'colour'`); n != 1 {
			t.Error("not migrated")
		}
		same(t, want, must[*journal.Project](t)(s.Project(t.Context(), project)))
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}

	found := backups(t, folder)
	if len(found) != 1 || !strings.HasPrefix(filepath.Base(found[0]), "waketwist-version-"+latest(t)+"-20260301T063000Z-") {
		t.Fatalf("backups: %v", found)
	}
	restored := t.TempDir()
	if err := os.Rename(found[0], filepath.Join(restored, fileName)); err != nil {
		t.Fatal(err)
	}
	s := openIn(t, restored, ticking())
	same(t, want, must[*journal.Project](t)(s.Project(t.Context(), project)))
	checkSound(t, s)
}

func TestFailedMigrationLeavesTheJournal(t *testing.T) {
	folder := t.TempDir()
	s := must[*Store](t)(Open(t.Context(), folder, ticking()))
	project, _, _ := planted(t, s)
	want := must[*journal.Project](t)(s.Project(t.Context(), project))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	broken := withStep(t, "ALTER TABLE project ADD COLUMN colour TEXT;\nINSERT INTO nowhere VALUES (1);")
	if _, err := open(t.Context(), folder, ticking(), broken); err == nil || !strings.Contains(err.Error(), "nowhere") {
		t.Fatalf("%v", err)
	}
	if found := backups(t, folder); len(found) != 1 {
		t.Errorf("backups: %v", found)
	}
	s = openIn(t, folder, ticking())
	same(t, want, must[*journal.Project](t)(s.Project(t.Context(), project)))
	if n := count(t, s, `SELECT count(*) FROM pragma_table_info('project') WHERE name = 'colour'`); n != 0 {
		t.Error("half of the step has stayed")
	}
}

func backups(t *testing.T, folder string) []string {
	t.Helper()
	return must[[]string](t)(filepath.Glob(filepath.Join(folder, "waketwist-version-*")))
}

func TestHolds(t *testing.T) {
	folder := t.TempDir()
	if Holds(folder) || Holds(filepath.Join(folder, "nowhere")) {
		t.Error("a journal is seen where there is none")
	}
	if names, err := os.ReadDir(folder); err != nil || len(names) != 0 {
		t.Errorf("looking made %v, %v", names, err)
	}
	openIn(t, folder, ticking())
	if !Holds(folder) {
		t.Error("the journal is not seen")
	}
}
