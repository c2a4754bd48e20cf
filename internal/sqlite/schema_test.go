package sqlite

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"
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
	if n := count(t, s, `SELECT count(*) `+keys); n < 8 {
		t.Errorf("only %d foreign keys", n)
	}
	if n := count(t, s, `SELECT count(*) `+keys+`
		AND NOT EXISTS (SELECT 1 FROM pragma_index_list(t.name) AS i, pragma_index_info(i.name) AS c WHERE c.seqno = 0 AND c.name = k."from")
		AND NOT EXISTS (SELECT 1 FROM pragma_table_info(t.name) AS c WHERE c.pk = 1 AND c.name = k."from")`); n != 0 {
		t.Errorf("%d foreign keys have no index", n)
	}
}

var columnLine = regexp.MustCompile(`^    [a-z_0-9]+ +(INTEGER|REAL|TEXT)\b`)

// Every column says its meaning; every measured one has its unit in its name
// and its comment.
func TestColumnsSayWhatTheyHold(t *testing.T) {
	words := map[string]string{
		"deg": "degrees", "mm": "millimetres", "m": "metre", "h": "hours", "min": "minutes", "c": "degrees Celsius",
		"g": "grams", "s": "seconds", "tpm": "turns per metre", "rpm": "turns of the flyer in a minute", "turns": "turns",
		"pct": "% relative humidity", "share": "",
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
	if columns < 80 {
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
