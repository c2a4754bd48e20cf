package sqlite

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
)

const unknown = 999

type ctx = context.Context

// attempt is a call that the store must refuse.
type attempt struct {
	name string
	do   func(ctx, *Store) error
	code journal.Code
	says string
}

// checkRefused tries what must be refused; nothing may change by it.
func checkRefused(t *testing.T, s *Store, attempts []attempt) {
	t.Helper()
	before := must[[]journal.Project](t)(s.Projects(t.Context()))
	for _, tt := range attempts {
		t.Run(tt.name, func(t *testing.T) {
			err := tt.do(t.Context(), s)
			if journal.CodeOf(err) != tt.code || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("%v, want code %d and %q", err, tt.code, tt.says)
			}
		})
	}
	same(t, before, must[[]journal.Project](t)(s.Projects(t.Context())))
}

// Every refusal is tried on a journal of a project, two bobbins with a sample
// each, and on the first sample a reading, a replaced, a replacing and a struck
// one.
func TestRefusals(t *testing.T) {
	const inForce, replaced, replacing, struck = 1, 2, 3, 4
	replacingOne := func(sample, old journal.ID) journal.Reading {
		r := typed(sample)
		r.Supersedes = old
		return r
	}
	tests := []attempt{
		{"project without a name", func(c ctx, s *Store) error { return refusal(s.AddProject(c, journal.Project{})) }, journal.Invalid, "name"},
		{"project that is not there", func(c ctx, s *Store) error { return refusal(s.Project(c, unknown)) }, journal.NotFound, "project number 999"},
		{"change of a project that is not there", func(c ctx, s *Store) error { p := aProject(); p.ID = unknown; return s.ChangeProject(c, p) }, journal.NotFound, "project number 999"},
		{"change to an impossible plan", func(c ctx, s *Store) error {
			p := aProject()
			p.ID, p.Plan.Strands = 1, 9
			return s.ChangeProject(c, p)
		}, journal.Invalid, "strands"},

		{"lot without a name", func(c ctx, s *Store) error { return refusal(s.AddLot(c, journal.Lot{})) }, journal.Invalid, "name"},

		{"bobbin that is not there", func(c ctx, s *Store) error { return refusal(s.Bobbin(c, unknown)) }, journal.NotFound, "bobbin number 999"},
		{"bobbin without a name", func(c ctx, s *Store) error { return refusal(s.AddBobbin(c, journal.Bobbin{Project: 1})) }, journal.Invalid, "name"},
		{"bobbin of no project", func(c ctx, s *Store) error { return refusal(s.AddBobbin(c, fullBobbin(unknown))) }, journal.NotFound, "project number 999"},
		{"bobbin of an unknown lot", func(c ctx, s *Store) error {
			b := fullBobbin(1)
			b.Lot = &journal.Lot{ID: unknown}
			return refusal(s.AddBobbin(c, b))
		}, journal.NotFound, "fibre lot number 999"},
		{"change of a bobbin that is not there", func(c ctx, s *Store) error { b := fullBobbin(1); b.ID = unknown; return s.ChangeBobbin(c, b) }, journal.NotFound, "bobbin number 999"},
		{"change to an unknown lot", func(c ctx, s *Store) error {
			b := fullBobbin(1)
			b.ID, b.Lot = 1, &journal.Lot{ID: unknown}
			return s.ChangeBobbin(c, b)
		}, journal.NotFound, "fibre lot number 999"},
		{"change to no name", func(c ctx, s *Store) error { return s.ChangeBobbin(c, journal.Bobbin{ID: 1}) }, journal.Invalid, "name"},
		{"stretch of no bobbin", func(c ctx, s *Store) error {
			return refusal(s.AddStretch(c, journal.Stretch{Bobbin: unknown, Started: dawn, Ended: dawn}))
		}, journal.NotFound, "bobbin number 999"},
		{"stretch without days", func(c ctx, s *Store) error { return refusal(s.AddStretch(c, journal.Stretch{Bobbin: 1})) }, journal.Invalid, "day"},

		{"sample that is not there", func(c ctx, s *Store) error { return refusal(s.Sample(c, unknown)) }, journal.NotFound, "sample number 999"},
		{"sample of no reading", func(c ctx, s *Store) error { return refusal(s.SampleOf(c, unknown)) }, journal.NotFound, "reading number 999"},
		{"sample of no bobbin", func(c ctx, s *Store) error { return refusal(s.AddSample(c, rewet(unknown))) }, journal.NotFound, "bobbin number 999"},
		{"sample without a state", func(c ctx, s *Store) error { return refusal(s.AddSample(c, journal.Sample{Bobbin: 1})) }, journal.Invalid, "fresh"},
		{"soak of no sample", func(c ctx, s *Store) error { return s.EndSoak(c, unknown, 20) }, journal.NotFound, "sample number 999"},
		{"soak of no length", func(c ctx, s *Store) error { return s.EndSoak(c, 1, math.NaN()) }, journal.Invalid, "minutes"},
		{"soak that was not started", func(c ctx, s *Store) error { return s.EndSoak(c, 2, 20) }, journal.Invalid, "put into water"},

		{"reading of no sample", func(c ctx, s *Store) error { return refusal(s.AddReading(c, typed(unknown))) }, journal.NotFound, "sample number 999"},
		{"reading without an angle", func(c ctx, s *Store) error {
			return refusal(s.AddReading(c, journal.Reading{Sample: 1, Method: journal.Typed}))
		}, journal.Invalid, "angle"},
		{"replacing no reading", func(c ctx, s *Store) error { return refusal(s.AddReading(c, replacingOne(1, unknown))) }, journal.NotFound, "reading number 999"},
		{"replacing a replaced reading", func(c ctx, s *Store) error { return refusal(s.AddReading(c, replacingOne(1, replaced))) }, journal.Conflict, "replaced by number 3"},
		{"replacing a struck reading", func(c ctx, s *Store) error { return refusal(s.AddReading(c, replacingOne(1, struck))) }, journal.Conflict, "slipped"},
		{"replacing another sample's reading", func(c ctx, s *Store) error { return refusal(s.AddReading(c, replacingOne(2, inForce))) }, journal.Invalid, "another sample (number 1)"},

		{"striking no reading", func(c ctx, s *Store) error { return s.StrikeReading(c, unknown, "slipped") }, journal.NotFound, "reading number 999"},
		{"striking without a reason", func(c ctx, s *Store) error { return s.StrikeReading(c, inForce, " \n") }, journal.Invalid, "why"},
		{"striking twice", func(c ctx, s *Store) error { return s.StrikeReading(c, struck, "slipped again") }, journal.Conflict, "slipped"},
		{"striking a replaced reading", func(c ctx, s *Store) error { return s.StrikeReading(c, replaced, "slipped") }, journal.Conflict, "replaced by number 3"},

		{"target of no project", func(c ctx, s *Store) error { return refusal(s.AddTarget(c, aTarget(unknown))) }, journal.NotFound, "project number 999"},
		{"target without an angle", func(c ctx, s *Store) error {
			return refusal(s.AddTarget(c, journal.Target{Project: 1, Plan: aProject().Plan}))
		}, journal.Invalid, "angle"},
	}

	s := openNew(t)
	keep := must[journal.ID](t)
	project, _, sample := planted(t, s)
	other := keep(s.AddBobbin(t.Context(), fullBobbin(project)))
	keep(s.AddSample(t.Context(), journal.Sample{Bobbin: other, State: estimate.Rested}))
	for _, old := range []journal.ID{0, 0, replaced, 0} {
		keep(s.AddReading(t.Context(), replacingOne(sample, old)))
	}
	if err := s.StrikeReading(t.Context(), struck, "slipped"); err != nil {
		t.Fatal(err)
	}
	checkRefused(t, s, tests)
	if got := must[*journal.Sample](t)(s.Sample(t.Context(), sample)).Valid(); len(got) != 2 || got[1].ID != replacing {
		t.Errorf("in force: %+v", got)
	}
}

func refusal[T any](_ T, err error) error { return err }

func TestEndSoakOnce(t *testing.T) {
	s := openNew(t)
	_, _, sample := planted(t, s)
	if err := s.EndSoak(t.Context(), sample, 22.5); err != nil {
		t.Fatal(err)
	}
	if err := s.EndSoak(t.Context(), sample, 40); journal.CodeOf(err) != journal.Conflict || !strings.Contains(err.Error(), "22.5") {
		t.Errorf("second end: %v", err)
	}
	same(t, ptr(22.5), must[*journal.Sample](t)(s.Sample(t.Context(), sample)).Soak)
}

func TestChangeProjectKeepsTheFormer(t *testing.T) {
	s := openNew(t)
	p := aProject()
	p.ID = must[journal.ID](t)(s.AddProject(t.Context(), p))
	p.Name, p.Aim, p.Plan, p.Finished = "blue socks", "", journal.Plan{Strands: 2}, ptr(dawn)
	if err := s.ChangeProject(t.Context(), p); err != nil {
		t.Fatal(err)
	}
	p.Created, p.Touched = tick(1), tick(2)
	same(t, &p, must[*journal.Project](t)(s.Project(t.Context(), p.ID)))
	same(t, []string{
		`project 1 2026-03-01T06:30:02.000000000Z {"name":"grey cardigan","aim":"a round three-ply","strands":3,"chain":1,"offset_share":0.05,"want_deg":null,"finished_at":null}`,
	}, history(t, s))
}

func TestChangeBobbinKeepsTheFormer(t *testing.T) {
	s := openNew(t)
	keep := must[journal.ID](t)
	keep(s.AddProject(t.Context(), aProject()))
	keep(s.AddLot(t.Context(), journal.Lot{Name: "tops"}))
	keep(s.AddBobbin(t.Context(), journal.Bobbin{Project: 1, Name: "first", Diameter: ptr(0.5 * unit.Millimetre)}))
	keep(s.AddSample(t.Context(), rewet(1)))
	b := *must[*journal.Bobbin](t)(s.Bobbin(t.Context(), 1))
	full := fullBobbin(1)
	b.Name, b.Direction, b.Diameter, b.Wraps, b.Singles, b.Note, b.Away = "second", full.Direction, nil, full.Wraps, full.Singles, "thin", true
	b.Lot = &must[[]journal.Lot](t)(s.Lots(t.Context()))[0]
	if err := s.ChangeBobbin(t.Context(), b); err != nil {
		t.Fatal(err)
	}
	same(t, &b, must[*journal.Bobbin](t)(s.Bobbin(t.Context(), 1)))
	same(t, []string{
		`bobbin 1 2026-03-01T06:30:05.000000000Z {"lot_id":null,"name":"first","direction":"","diameter_mm":0.5,"wraps_per_m":null,"singles_deg":null,"note":"","away":0}`,
	}, history(t, s))
}

func history(t *testing.T, s *Store) (lines []string) {
	t.Helper()
	rows, err := s.reader.Query(`SELECT kind || ' ' || record_id || ' ' || changed_at || ' ' || former FROM history ORDER BY id`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var line string
		if err := rows.Scan(&line); err != nil {
			t.Fatal(err)
		}
		lines = append(lines, line)
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return lines
}

func TestEveryRecordTouchesItsProject(t *testing.T) {
	stopped := openIn(t, t.TempDir(), func() time.Time { return dawn }) // a clock that stands still
	for _, s := range []*Store{openNew(t), stopped} {
		project, bobbin, sample := planted(t, s)
		other := must[journal.ID](t)(s.AddProject(t.Context(), aProject()))
		unchanged := touched(t, s, other)
		steps := []struct {
			name string
			do   func(ctx) error
		}{
			{"bobbin", func(c ctx) error { return refusal(s.AddBobbin(c, fullBobbin(project))) }},
			{"stretch", func(c ctx) error {
				return refusal(s.AddStretch(c, journal.Stretch{Bobbin: bobbin, Started: dawn, Ended: dawn}))
			}},
			{"changed bobbin", func(c ctx) error { b := fullBobbin(project); b.ID = bobbin; return s.ChangeBobbin(c, b) }},
			{"sample", func(c ctx) error { return refusal(s.AddSample(c, rewet(bobbin))) }},
			{"soak", func(c ctx) error { return s.EndSoak(c, sample, 20) }},
			{"reading", func(c ctx) error { return refusal(s.AddReading(c, typed(sample))) }},
			{"strike", func(c ctx) error { return s.StrikeReading(c, 1, "slipped") }},
			{"target", func(c ctx) error { return refusal(s.AddTarget(c, aTarget(project))) }},
			{"run", func(c ctx) error { return refusal(s.AddRun(c, aRun(project, bobbin))) }},
			{"changed run", func(c ctx) error { return s.ChangeRun(c, journal.Run{ID: 1, Name: "longer"}) }},
			{"piece of a run", func(c ctx) error { return refusal(s.AddSample(c, checked(1))) }},
			{"skein of a run", func(c ctx) error { return refusal(s.AddSkein(c, journal.Skein{Run: 1, Name: "ply"})) }},
			{"skein of a bobbin", func(c ctx) error {
				return refusal(s.AddSkein(c, journal.Skein{Bobbin: bobbin, Name: "singles"}))
			}},
			{"measure", func(c ctx) error { return refusal(s.AddMeasure(c, aMeasure(1))) }},
			{"wash", func(c ctx) error { return refusal(s.AddWash(c, aWash(2))) }},
			{"hang test", func(c ctx) error { return refusal(s.AddHang(c, aHang(1))) }},
			{"piece of a skein", func(c ctx) error { return refusal(s.AddSample(c, washed(2))) }},
			{"reading of that piece", func(c ctx) error { return refusal(s.AddReading(c, typed(sample+3))) }},
			{"changed project", func(c ctx) error { p := aProject(); p.ID = project; return s.ChangeProject(c, p) }},
		}
		for _, step := range steps {
			before := touched(t, s, project)
			if err := step.do(t.Context()); err != nil {
				t.Fatalf("%s: %v", step.name, err)
			}
			if after := touched(t, s, project); !after.After(before) {
				t.Errorf("%s: touched %v, before %v", step.name, after, before)
			}
		}
		same(t, unchanged, touched(t, s, other))
	}
}

func TestNothingKeptOfACancelledCall(t *testing.T) {
	s := openNew(t)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if id, err := s.AddLot(ctx, journal.Lot{Name: "tops"}); id != 0 || !errors.Is(err, context.Canceled) {
		t.Errorf("%d, %v", id, err)
	}
	if lots := must[[]journal.Lot](t)(s.Lots(t.Context())); len(lots) != 0 {
		t.Errorf("kept %v", lots)
	}
}

// The bobbin goes in before its second stretch fails; neither may stay.
func TestFailureUndoesTheWholeCall(t *testing.T) {
	s := openNew(t)
	project := must[journal.ID](t)(s.AddProject(t.Context(), aProject()))
	if _, err := s.writer.Exec(`CREATE TRIGGER full BEFORE INSERT ON stretch WHEN NEW.length_m IS NULL BEGIN SELECT RAISE(ABORT, 'no more'); END`); err != nil {
		t.Fatal(err)
	}
	_, err := s.AddBobbin(t.Context(), fullBobbin(project)) // its second stretch has no length
	if err == nil || journal.CodeOf(err) != 0 || !strings.HasPrefix(err.Error(), `keep the bobbin "first": `) {
		t.Errorf("%v", err)
	}
	if p := must[*journal.Project](t)(s.Project(t.Context(), project)); len(p.Bobbins) != 0 || !p.Touched.Equal(tick(1)) {
		t.Errorf("kept %+v", p)
	}
	if n := count(t, s, `SELECT count(*) FROM stretch`); n != 0 {
		t.Errorf("%d stretches kept", n)
	}
}

func TestFullDiscIsSaid(t *testing.T) {
	s := openNew(t)
	_, _, sample := planted(t, s)
	if _, err := s.writer.Exec(`PRAGMA max_page_count = 1`); err != nil { // SQLite keeps what there is
		t.Fatal(err)
	}
	long := typed(sample)
	long.Trace = `"` + strings.Repeat("x", 1<<19) + `"`
	if _, err := s.AddReading(t.Context(), long); err == nil || !strings.Contains(err.Error(), "the disc is full; free some space") {
		t.Errorf("%v", err)
	}
	if got := must[*journal.Sample](t)(s.Sample(t.Context(), sample)); len(got.Readings) != 0 {
		t.Errorf("kept %+v", got.Readings)
	}
	checkSound(t, s)
}

func TestRecordsAreNeitherDeletedNorRewritten(t *testing.T) {
	s := openNew(t)
	project, bobbin, sample := planted(t, s)
	keep := must[journal.ID](t)
	keep(s.AddLot(t.Context(), journal.Lot{Name: "tops"}))
	keep(s.AddStretch(t.Context(), journal.Stretch{Bobbin: bobbin, Started: dawn, Ended: dawn}))
	keep(s.AddReading(t.Context(), typed(sample)))
	keep(s.AddTarget(t.Context(), aTarget(project)))
	run := keep(s.AddRun(t.Context(), aRun(project, bobbin)))
	skein := keep(s.AddSkein(t.Context(), journal.Skein{Run: run, Name: "ply"}))
	keep(s.AddMeasure(t.Context(), aMeasure(skein)))
	keep(s.AddWash(t.Context(), aWash(skein)))
	keep(s.AddHang(t.Context(), aHang(skein)))
	changed := aProject()
	changed.ID = project
	for _, err := range []error{s.ChangeProject(t.Context(), changed), s.StrikeReading(t.Context(), 1, "slipped")} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, table := range []string{
		"project", "lot", "bobbin", "stretch", "run", "feed", "skein", "measure", "wash", "hang",
		"sample", "reading", "strike", "target", "history",
	} {
		if _, err := s.writer.Exec(`DELETE FROM ` + table); err == nil || !strings.Contains(err.Error(), "nothing is deleted") {
			t.Errorf("delete from %s: %v", table, err)
		}
	}
	for _, change := range []string{
		`reading SET angle_deg = 1`, `strike SET reason = 'x'`, `target SET note = 'x'`, `history SET former = '{}'`,
		`feed SET rewound = 0`, `measure SET loops = 1`, `wash SET note = 'x'`, `hang SET half_turns = 2`,
	} {
		if _, err := s.writer.Exec(`UPDATE ` + change); err == nil || !strings.Contains(err.Error(), "never changed") {
			t.Errorf("update %s: %v", change, err)
		}
	}
}

// touched is the time of the latest record under a project.
func touched(t *testing.T, s *Store, id journal.ID) time.Time {
	t.Helper()
	return must[*journal.Project](t)(s.Project(t.Context(), id)).Touched
}
