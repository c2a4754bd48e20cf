package sqlite

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"waketwist/internal/journal"
)

func TestTablesAreStrict(t *testing.T) {
	s := openNew(t)
	if n := count(t, s, `SELECT count(*) FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND strict = 0
		AND name NOT LIKE 'sqlite%' AND name <> 'goose_db_version'`); n != 0 {
		t.Errorf("%d tables are not strict", n)
	}
}

func TestForeignKeysAreIndexed(t *testing.T) {
	s := openNew(t)
	const keys = `FROM pragma_table_list AS t, pragma_foreign_key_list(t.name) AS k WHERE t.schema = 'main'`
	if n := count(t, s, `SELECT count(*) `+keys); n < 36 {
		t.Errorf("only %d foreign keys", n)
	}
	if n := count(t, s, `SELECT count(*) `+keys+`
		AND NOT EXISTS (SELECT 1 FROM pragma_index_list(t.name) AS i, pragma_index_info(i.name) AS c WHERE c.seqno = 0 AND c.name = k."from")
		AND NOT EXISTS (SELECT 1 FROM pragma_table_info(t.name) AS c WHERE c.pk = 1 AND c.name = k."from")`); n != 0 {
		t.Errorf("%d foreign keys have no index", n)
	}
}

// What the journal's rules forbid cannot be in the tables either.
func TestTablesRefuse(t *testing.T) {
	s := openNew(t)
	plied(t, s)
	keep := must[journal.ID](t)
	keep(s.AddBobbin(t.Context(), fullBobbin(keep(s.AddProject(t.Context(), aProject()))))) // of another project
	const sample = `INSERT INTO sample (bobbin_id, run_id, skein_id, state, place, depth_share, load, note, recorded_at) VALUES `
	const rest = `, '', 0, 'free', '', '2026-03-01T00:00:00Z')`
	tests := []struct{ statement, says string }{
		{sample + `(NULL, NULL, NULL, 'rested'` + rest, "CHECK constraint failed"},
		{sample + `(1, 1, NULL, 'rested'` + rest, "CHECK constraint failed"},
		{sample + `(1, NULL, 1, 'rested'` + rest, "CHECK constraint failed"},
		{sample + `(NULL, 1, 1, 'rested'` + rest, "CHECK constraint failed"},
		{sample + `(1, NULL, NULL, 'washed'` + rest, "CHECK constraint failed: state"},
		{`INSERT INTO skein (name, note, recorded_at) VALUES ('x', '', '2026-03-01T00:00:00Z')`, "CHECK constraint failed"},
		{`INSERT INTO skein (run_id, bobbin_id, name, note, recorded_at) VALUES (1, 1, 'x', '', '2026-03-01T00:00:00Z')`, "CHECK constraint failed"},
		{`INSERT INTO feed (run_id, position, bobbin_id, rewound, over_end_adds) VALUES (1, 2, 2, 0, '')`, "bobbins of its own project"},
		{`INSERT INTO feed (run_id, position, bobbin_id, rewound, over_end_adds) VALUES (1, 2, 1, 0, '')`, "UNIQUE constraint failed"},
		{`INSERT INTO measure (skein_id, state, load_g, recorded_at) VALUES (1, 'rested', 100, '2026-03-01T00:00:00Z')`, "CHECK constraint failed"},
		{`INSERT INTO hang (skein_id, state, direction, half_turns, recorded_at) VALUES (1, 'rested', 'S', 0, '2026-03-01T00:00:00Z')`, "CHECK constraint failed"},
		{`INSERT INTO hang (skein_id, state, direction, half_turns, recorded_at) VALUES (1, 'rested', '', 1, '2026-03-01T00:00:00Z')`, "CHECK constraint failed"},
		{`UPDATE run SET ended_at = '2026-02-28T00:00:00Z'`, "CHECK constraint failed: started_at <= ended_at"},
	}
	for _, tt := range tests {
		if _, err := s.writer.Exec(tt.statement); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want %q", tt.statement, err, tt.says)
		}
	}
	for _, good := range []string{sample + `(NULL, NULL, 1, 'washed'` + rest, sample + `(1, NULL, NULL, 'rested'` + rest} {
		if _, err := s.writer.Exec(good); err != nil { // the statements above fail by their rule alone
			t.Errorf("%s: %v", good, err)
		}
	}
}

// Every wash that the journal allows has a place in its table.
func TestTreatmentsAreKept(t *testing.T) {
	s := openNew(t)
	_, _, skein := plied(t, s)
	for _, treatment := range journal.Treatments {
		must[journal.ID](t)(s.AddWash(t.Context(), journal.Wash{Skein: skein, Treatment: treatment}))
	}
}

var columnLine = regexp.MustCompile(`^    [a-z_0-9]+ +(INTEGER|REAL|TEXT)\b`)

// Every column says its meaning; every measured one has its unit in its name
// and its comment.
func TestColumnsSayWhatTheyHold(t *testing.T) {
	words := map[string]string{
		"deg": "degrees", "mm": "millimetres", "m": "metre", "h": "hours", "min": "minutes", "c": "degrees Celsius",
		"g": "grams", "s": "seconds", "tpm": "turns per metre", "rpm": "turns of the flyer in a minute", "turns": "turns",
		"pct": "% relative humidity", "share": "", "treadles": "treadles", "bpm": "treadles a minute", "fps": "frames a second",
	}
	columns := 0
	for _, line := range migrationLines(t) {
		if !columnLine.MatchString(line) {
			continue
		}
		columns++
		fields := strings.Fields(line)
		_, comment, ok := strings.Cut(line, " -- ")
		if !ok {
			t.Errorf("no comment: %s", line)
		}
		if fields[1] != "REAL" {
			continue
		}
		suffix := fields[0][strings.LastIndex(fields[0], "_")+1:]
		if word, known := words[suffix]; !known || !strings.Contains(comment, word) {
			t.Errorf("unit not in the name or the comment: %s", line)
		}
	}
	if columns < 175 {
		t.Errorf("only %d columns found", columns)
	}
}

func migrationLines(t *testing.T) (lines []string) {
	t.Helper()
	names, err := fs.Glob(migrations(), "*.sql")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		data, err := fs.ReadFile(migrations(), name)
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, strings.Split(string(data), "\n")...)
	}
	return lines
}
