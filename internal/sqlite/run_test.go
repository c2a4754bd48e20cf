package sqlite

import (
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

// aRun plies up to four bobbins with everything about it known.
func aRun(project journal.ID, bobbins ...journal.ID) journal.Run {
	r := journal.Run{
		Project: project, Name: "first evening", Plan: journal.Plan{Strands: max(2, len(bobbins)), Offset: 0.1}, Direction: yarn.S,
		Drive: journal.Drive{
			Ratio: ptr(9.5), RPM: ptr(612.5), Draw: ptr(0.75 * unit.Metre), Beat: ptr(2345678901 * time.Nanosecond),
		},
		Note: "tight band", Started: dawn.Add(7 * time.Nanosecond), Ended: ptr(dawn.Add(time.Hour)),
	}
	for i, b := range bobbins {
		r.Feeds = append(r.Feeds, journal.Feed{Bobbin: b, Rewound: i % 3})
	}
	if len(bobbins) > 1 {
		r.Feeds[1].OverEnd = &journal.OverEnd{Adds: yarn.Z, Package: 62.5 * unit.Millimetre}
	}
	return r
}

// checked is a piece of the ply, woken during a run.
func checked(run journal.ID) journal.Sample {
	return journal.Sample{Run: run, State: estimate.Rewet, Humidity: ptr(61.5), Soak: ptr(20.0), Note: "after ten draws"}
}

func TestRunComesBack(t *testing.T) {
	s := openNew(t)
	keep := must[journal.ID](t)
	project := keep(s.AddProject(t.Context(), aProject()))
	for range 4 {
		keep(s.AddBobbin(t.Context(), journal.Bobbin{Project: project, Name: "one"}))
	}
	want := aRun(project, 3, 1, 4, 2)
	want.ID = keep(s.AddRun(t.Context(), want))
	want.Recorded = tick(6)
	same(t, &want, must[*journal.Run](t)(s.Run(t.Context(), want.ID)))

	check := checked(want.ID)
	check.ID = keep(s.AddSample(t.Context(), check))
	reading := typed(check.ID)
	reading.ID = keep(s.AddReading(t.Context(), reading))
	skein := journal.Skein{Run: want.ID, Name: "first skein", Note: "of the first half"}
	skein.ID = keep(s.AddSkein(t.Context(), skein))
	check.Recorded, reading.Recorded, skein.Recorded = tick(7), tick(8), tick(9)
	check.Readings = []journal.Reading{reading}
	want.Checks, want.Skeins = []journal.Sample{check}, []journal.Skein{skein}
	same(t, &want, must[*journal.Run](t)(s.Run(t.Context(), want.ID)))
	same(t, &check, must[*journal.Sample](t)(s.Sample(t.Context(), check.ID)))
	same(t, &check, must[*journal.Sample](t)(s.SampleOf(t.Context(), reading.ID)))
	same(t, []journal.Run{want}, must[*journal.Project](t)(s.Project(t.Context(), project)).Runs)
}

func TestBareRunComesBack(t *testing.T) {
	s := openNew(t)
	project, bobbin, _ := planted(t, s)
	want := journal.Run{
		Project: project, Name: "bare", Plan: journal.Plan{Strands: 3, Chain: true}, Started: dawn, Feeds: []journal.Feed{{Bobbin: bobbin}},
	}
	want.ID = must[journal.ID](t)(s.AddRun(t.Context(), want))
	want.Recorded = tick(4)
	same(t, &want, must[*journal.Run](t)(s.Run(t.Context(), want.ID)))
}

func TestChangeRunKeepsTheFormer(t *testing.T) {
	s := openNew(t)
	project, id, _ := plied(t, s)
	want := *must[*journal.Run](t)(s.Run(t.Context(), id))
	want.Name, want.Drive, want.Note, want.Ended = "second evening", journal.Drive{Draw: ptr(0.5 * unit.Metre)}, "", nil
	if err := s.ChangeRun(t.Context(), journal.Run{ID: id, Name: want.Name, Drive: want.Drive}); err != nil {
		t.Fatal(err) // the rest of the run does not count
	}
	same(t, &want, must[*journal.Run](t)(s.Run(t.Context(), id)))
	want.Note, want.Ended = "broke once", ptr(dawn.Add(3*time.Hour))
	if err := s.ChangeRun(t.Context(), want); err != nil {
		t.Fatal(err)
	}
	same(t, []journal.Run{want}, must[*journal.Project](t)(s.Project(t.Context(), project)).Runs)
	same(t, []string{
		`run 1 2026-03-01T06:30:05.000000000Z {"name":"first evening","machine_id":null,"whorl_id":null,"setting_id":null,"spool_id":null,"treadle_turns":9.5,"flyer_rpm":612.5,"draw_m":0.75,"beat_s":2.345678901,"note":"tight band","ended_at":"2026-03-01T07:30:00.000000000Z"}`,
		`run 1 2026-03-01T06:30:06.000000000Z {"name":"second evening","machine_id":null,"whorl_id":null,"setting_id":null,"spool_id":null,"treadle_turns":null,"flyer_rpm":null,"draw_m":0.5,"beat_s":null,"note":"","ended_at":null}`,
	}, history(t, s))
}

// On a journal of a project with one bobbin, a run and a skein, and of another
// project with another bobbin.
func TestRunRefusals(t *testing.T) {
	const bobbin, foreign = 1, 2
	s := openNew(t)
	project, run, _ := plied(t, s)
	other := must[journal.ID](t)(s.AddProject(t.Context(), aProject()))
	must[journal.ID](t)(s.AddBobbin(t.Context(), fullBobbin(other)))
	checkRefused(t, s, []attempt{
		{"run that is not there", func(c ctx, s *Store) error { return refusal(s.Run(c, unknown)) }, journal.NotFound, "no run number 999"},
		{"run without a name", func(c ctx, s *Store) error { return refusal(s.AddRun(c, journal.Run{Project: project})) }, journal.Invalid, "name"},
		{"run of no project", func(c ctx, s *Store) error { return refusal(s.AddRun(c, aRun(unknown, bobbin))) }, journal.NotFound, "project number 999"},
		{"run of no bobbin", func(c ctx, s *Store) error { return refusal(s.AddRun(c, aRun(project, bobbin, unknown))) }, journal.NotFound, "bobbin number 999"},
		{"run of another project's bobbin", func(c ctx, s *Store) error { return refusal(s.AddRun(c, aRun(project, bobbin, foreign))) }, journal.Invalid, "another project (number 2)"},
		{"change of a run that is not there", func(c ctx, s *Store) error { return s.ChangeRun(c, journal.Run{ID: unknown, Name: "x"}) }, journal.NotFound, "run number 999"},
		{"change to no name", func(c ctx, s *Store) error { return s.ChangeRun(c, journal.Run{ID: run}) }, journal.Invalid, "name"},
		{"change to an end before the start", func(c ctx, s *Store) error {
			return s.ChangeRun(c, journal.Run{ID: run, Name: "x", Started: dawn.AddDate(0, 0, -2), Ended: ptr(dawn.AddDate(0, 0, -1))})
		}, journal.Invalid, "before it started"},
		{"piece of no run", func(c ctx, s *Store) error { return refusal(s.AddSample(c, checked(unknown))) }, journal.NotFound, "run number 999"},
	})
	if n := count(t, s, `SELECT (SELECT count(*) FROM run) + (SELECT count(*) FROM feed)`); n != 2 {
		t.Errorf("%d runs and feeds kept, want the first of each", n)
	}
}
