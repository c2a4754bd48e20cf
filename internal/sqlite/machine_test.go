package sqlite

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

func aMachine() journal.Machine {
	return journal.Machine{Name: "Heather", Kind: wheel.BobbinLed, Note: "the tall one"}
}

func aWhorl(machine journal.ID) journal.Whorl {
	return journal.Whorl{Machine: machine, Name: "slow", Stated: ptr(wheel.Ratio(6.5)), Counts: []journal.Count{{Turns: 80, Treadles: 10}, {Turns: 79.5, Treadles: 10}}}
}

func aSpool(machine journal.ID) journal.Spool {
	return journal.Spool{Machine: machine, Name: "oak", Core: ptr(1.5 * unit.Inch), Full: ptr(4 * unit.Inch), Tare: ptr(61.5 * unit.Gram), Holds: ptr(4 * unit.Ounce)}
}

func aSlip(machine, whorl journal.ID) journal.Slip {
	return journal.Slip{Machine: machine, Whorl: whorl, Rhythm: 72.5, Seen: journal.Seen{How: journal.ByEye, Turns: 281, Time: 30.5}}
}

// owned keeps a machine with two whorls, a bobbin and slip, and a motor with a
// setting, at ticks 1 to 7.
func owned(t testing.TB, s *Store) (machine, whorl, spool, motor, setting journal.ID) {
	t.Helper()
	keep := must[journal.ID](t)
	machine = keep(s.AddMachine(t.Context(), aMachine()))
	whorl = keep(s.AddWhorl(t.Context(), aWhorl(machine)))
	keep(s.AddWhorl(t.Context(), journal.Whorl{Machine: machine, Name: "fast", Stated: ptr(wheel.Ratio(14))}))
	spool = keep(s.AddSpool(t.Context(), aSpool(machine)))
	keep(s.AddSlip(t.Context(), aSlip(machine, whorl)))
	motor = keep(s.AddMachine(t.Context(), journal.Machine{Name: "Hum", Kind: wheel.MotorDriven}))
	setting = keep(s.AddMotorSetting(t.Context(), journal.MotorSetting{Machine: motor, Name: "at three", Timings: []journal.Timing{
		{Seen: journal.Seen{How: journal.OnFilm, Turns: 10, Frames: 171, FramesPerSecond: 240}},
	}}))
	return machine, whorl, spool, motor, setting
}

func TestMachinesComeBack(t *testing.T) {
	s := openNew(t)
	machine, whorl, spool, motor, setting := owned(t, s)
	wheelWhorl, bobbin, slip := aWhorl(machine), aSpool(machine), aSlip(machine, whorl)
	wheelWhorl.ID, wheelWhorl.Recorded = whorl, tick(2)
	for i := range wheelWhorl.Counts {
		c := &wheelWhorl.Counts[i]
		c.ID, c.Whorl, c.Recorded = journal.ID(i+1), whorl, tick(2)
	}
	bobbin.ID, bobbin.Recorded, slip.ID, slip.Recorded = spool, tick(4), 1, tick(5)
	one := aMachine()
	one.ID, one.Recorded, one.Spools, one.Slips = machine, tick(1), []journal.Spool{bobbin}, []journal.Slip{slip}
	one.Whorls = []journal.Whorl{wheelWhorl, {ID: 2, Machine: machine, Name: "fast", Stated: ptr(wheel.Ratio(14)), Recorded: tick(3)}}
	other := journal.Machine{ID: motor, Name: "Hum", Kind: wheel.MotorDriven, Recorded: tick(6), Settings: []journal.MotorSetting{
		{ID: setting, Machine: motor, Name: "at three", Recorded: tick(7), Timings: []journal.Timing{
			{ID: 1, Setting: setting, Seen: journal.Seen{How: journal.OnFilm, Turns: 10, Frames: 171, FramesPerSecond: 240}, Recorded: tick(7)},
		}},
	}}
	same(t, []journal.Machine{one, other}, must[[]journal.Machine](t)(s.Machines(t.Context())))
	same(t, &one, must[*journal.Machine](t)(s.Machine(t.Context(), machine)))
	same(t, &other, must[*journal.Machine](t)(s.Machine(t.Context(), motor)))
}

func TestChangeMachineKeepsTheFormer(t *testing.T) {
	s := openNew(t)
	machine, _, _, _, _ := owned(t, s)
	if err := s.ChangeMachine(t.Context(), journal.Machine{ID: machine, Name: "Ling", Kind: wheel.Spindle}); err != nil {
		t.Fatal(err)
	}
	m := must[*journal.Machine](t)(s.Machine(t.Context(), machine))
	if m.Name != "Ling" || m.Note != "" || m.Kind != wheel.BobbinLed {
		t.Errorf("changed to %+v", m)
	}
	if n := count(t, s, `SELECT count(*) FROM machine_former WHERE machine_id = ? AND name = 'Heather' AND note = 'the tall one'`, machine); n != 1 {
		t.Errorf("%d former names kept", n)
	}
}

func TestMachineRefusals(t *testing.T) {
	s := openNew(t)
	machine, whorl, spool, motor, setting := owned(t, s)
	if err := s.StrikePart(t.Context(), journal.PartSpool, spool, "cracked"); err != nil {
		t.Fatal(err)
	}
	spindle := must[journal.ID](t)(s.AddMachine(t.Context(), journal.Machine{Name: "Reed", Kind: wheel.Spindle}))
	flick := must[journal.ID](t)(s.AddWhorl(t.Context(), journal.Whorl{Machine: spindle, Name: "thigh", Counts: []journal.Count{{Turns: 60, Treadles: 3}}}))
	checkRefused(t, s, []attempt{
		{"machine that is not there", func(c ctx, s *Store) error { return refusal(s.Machine(c, unknown)) }, journal.NotFound, "no machine number 999"},
		{"machine without a name", func(c ctx, s *Store) error { return refusal(s.AddMachine(c, journal.Machine{Kind: wheel.FlyerLed})) }, journal.Invalid, "name"},
		{"change of no machine", func(c ctx, s *Store) error { return s.ChangeMachine(c, journal.Machine{ID: unknown, Name: "x"}) }, journal.NotFound, "machine number 999"},
		{"change to no name", func(c ctx, s *Store) error { return s.ChangeMachine(c, journal.Machine{ID: machine}) }, journal.Invalid, "name"},
		{"whorl of no machine", func(c ctx, s *Store) error { return refusal(s.AddWhorl(c, aWhorl(unknown))) }, journal.NotFound, "machine number 999"},
		{"whorl of a motor", func(c ctx, s *Store) error { return refusal(s.AddWhorl(c, aWhorl(motor))) }, journal.Invalid, "no whorls"},
		{"whorl of nothing", func(c ctx, s *Store) error {
			return refusal(s.AddWhorl(c, journal.Whorl{Machine: machine, Name: "x"}))
		}, journal.Invalid, "Count it"},
		{"count of no whorl", func(c ctx, s *Store) error {
			return refusal(s.AddCount(c, journal.Count{Whorl: unknown, Turns: 80, Treadles: 10}))
		}, journal.NotFound, "whorl number 999"},
		{"count of nothing", func(c ctx, s *Store) error { return refusal(s.AddCount(c, journal.Count{Whorl: whorl})) }, journal.Invalid, "no count"},
		{"setting of a wheel", func(c ctx, s *Store) error {
			return refusal(s.AddMotorSetting(c, journal.MotorSetting{Machine: machine, Name: "x", Stated: ptr(wheel.Speed(600))}))
		}, journal.Invalid, "no motor"},
		{"setting of no machine", func(c ctx, s *Store) error {
			return refusal(s.AddMotorSetting(c, journal.MotorSetting{Machine: unknown, Name: "x", Stated: ptr(wheel.Speed(600))}))
		}, journal.NotFound, "machine number 999"},
		{"timing of no setting", func(c ctx, s *Store) error {
			return refusal(s.AddTiming(c, journal.Timing{Setting: unknown, Seen: aSlip(1, 1).Seen}))
		}, journal.NotFound, "motor setting number 999"},
		{"timing of nothing", func(c ctx, s *Store) error { return refusal(s.AddTiming(c, journal.Timing{Setting: setting})) }, journal.Invalid, "how the turns"},
		{"bobbin of no machine", func(c ctx, s *Store) error { return refusal(s.AddSpool(c, aSpool(unknown))) }, journal.NotFound, "machine number 999"},
		{"bobbin of nothing", func(c ctx, s *Store) error {
			return refusal(s.AddSpool(c, journal.Spool{Machine: machine, Name: "x"}))
		}, journal.Invalid, "bare core"},
		{"slip of a spindle", func(c ctx, s *Store) error { return refusal(s.AddSlip(c, aSlip(spindle, flick))) }, journal.Invalid, "a spindle has none"},
		{"slip on another machine's whorl", func(c ctx, s *Store) error { return refusal(s.AddSlip(c, aSlip(machine, flick))) }, journal.Invalid, "another machine, Reed"},
		{"slip on no whorl", func(c ctx, s *Store) error { return refusal(s.AddSlip(c, aSlip(machine, unknown))) }, journal.NotFound, "whorl number 999"},
		{"striking without a reason", func(c ctx, s *Store) error { return s.StrikePart(c, journal.PartWhorl, whorl, " ") }, journal.Invalid, "why this whorl"},
		{"striking what is no part", func(c ctx, s *Store) error { return s.StrikePart(c, "pedal", 1, "x") }, journal.Invalid, "what is to be struck"},
		{"striking nothing", func(c ctx, s *Store) error { return s.StrikePart(c, journal.PartCount, unknown, "x") }, journal.NotFound, "count number 999"},
		{"striking twice", func(c ctx, s *Store) error { return s.StrikePart(c, journal.PartSpool, spool, "again") }, journal.Conflict, "cracked"},
	})
}

// A run takes a machine and its own parts only.
func TestRunOnAMachine(t *testing.T) {
	s := openNew(t)
	machine, whorl, spool, motor, setting := owned(t, s)
	project, bobbin, _ := planted(t, s)
	run := aRun(project, bobbin)
	run.Drive = journal.Drive{Machine: machine, Whorl: whorl, Spool: spool, Draw: ptr(0.5 * unit.Metre)}
	id := must[journal.ID](t)(s.AddRun(t.Context(), run))
	same(t, run.Drive, must[*journal.Run](t)(s.Run(t.Context(), id)).Drive)
	run.ID, run.Drive = id, journal.Drive{Machine: motor, Setting: setting}
	if err := s.ChangeRun(t.Context(), run); err != nil {
		t.Fatal(err)
	}
	same(t, run.Drive, must[*journal.Project](t)(s.Project(t.Context(), project)).Runs[0].Drive)
	if n := count(t, s, `SELECT count(*) FROM history WHERE kind = 'run' AND former ->> 'whorl_id' = ? AND former ->> 'spool_id' = ?`, whorl, spool); n != 1 {
		t.Errorf("%d former drives in the history", n)
	}
	with := func(d journal.Drive) journal.Run { r := run; r.ID, r.Drive = id, d; return r }
	checkRefused(t, s, []attempt{
		{"no machine", func(c ctx, s *Store) error { return s.ChangeRun(c, with(journal.Drive{Machine: unknown})) }, journal.NotFound, "machine number 999"},
		{"another machine's whorl", func(c ctx, s *Store) error {
			return s.ChangeRun(c, with(journal.Drive{Machine: motor, Whorl: whorl}))
		}, journal.Invalid, "another machine, Heather"},
		{"another machine's setting", func(c ctx, s *Store) error {
			return refusal(s.AddRun(c, with(journal.Drive{Machine: machine, Setting: setting})))
		}, journal.Invalid, "another machine, Hum"},
		{"no bobbin", func(c ctx, s *Store) error {
			return s.ChangeRun(c, with(journal.Drive{Machine: machine, Spool: unknown}))
		}, journal.NotFound, "bobbin number 999"},
	})
}

// What the rules forbid of machines cannot be in the tables either.
func TestMachineTablesRefuse(t *testing.T) {
	s := openNew(t)
	owned(t, s)
	plied(t, s)
	const at = `'2026-03-01T00:00:00Z')`
	for _, tt := range []struct{ statement, says string }{
		{`UPDATE run SET treadle_turns = NULL, flyer_rpm = NULL, machine_id = 2, whorl_id = 1`, "one machine and its own parts"},
		{`UPDATE run SET machine_id = 1`, "one machine and its own parts"},
		{`UPDATE run SET whorl_id = 1`, "one machine and its own parts"},
		{`UPDATE whorl_count SET seen_turns = 90`, "struck, never changed"},
		{`UPDATE machine SET kind = 'spindle'`, "never changed"},
		{`DELETE FROM machine`, "nothing is deleted"},
		{`INSERT INTO timing (setting_id, how, seen_turns, over_s, frames, film_fps, recorded_at) VALUES (1, 'by eye', 5, 5, 5, 5, ` + at, "CHECK constraint failed"},
		{`INSERT INTO timing (setting_id, how, seen_turns, frames, recorded_at) VALUES (1, 'on film', 5, 5, ` + at, "CHECK constraint failed"},
		{`INSERT INTO timing (setting_id, how, seen_turns, recorded_at) VALUES (1, 'by eye', 5, ` + at, "CHECK constraint failed"},
		{`INSERT INTO spool (machine_id, name, full_mm, tare_g, recorded_at) VALUES (1, 'x', 90, 50, ` + at, "CHECK constraint failed"},
		{`INSERT INTO machine_strike (machine_id, whorl_id, reason, recorded_at) VALUES (1, 1, 'x', ` + at, "CHECK constraint failed"},
		{`INSERT INTO machine_strike (reason, recorded_at) VALUES ('x', ` + at, "CHECK constraint failed"},
	} {
		if _, err := s.writer.Exec(tt.statement); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want %q", tt.statement, err, tt.says)
		}
	}
}

// A journal of before there were machines keeps the figures that were typed.
func TestRunsOfBeforeMachines(t *testing.T) {
	folder := t.TempDir()
	first := must[[]byte](t)(fs.ReadFile(migrations(), "00001_journal.sql"))
	old := must[*Store](t)(open(t.Context(), folder, ticking(), fstest.MapFS{"00001_journal.sql": {Data: first}}))
	if _, err := old.writer.Exec(`
		INSERT INTO project VALUES (1, 'old', '', 2, 0, 0, NULL, 0, '2026-01-01T00:00:00.000000000Z', '2026-01-01T00:00:00.000000000Z', NULL);
		INSERT INTO run VALUES (1, 1, 'evening', 2, 0, 0, 'S', 9.5, NULL, 0.6, NULL, '', '2026-01-01T00:00:00.000000000Z', NULL, '2026-01-01T00:00:00.000000000Z')`); err != nil {
		t.Fatal(err)
	}
	if err := old.Close(); err != nil {
		t.Fatal(err)
	}
	s := openIn(t, folder, ticking())
	same(t, journal.Drive{Ratio: ptr(9.5), Draw: ptr(0.6 * unit.Metre)}, must[*journal.Run](t)(s.Run(t.Context(), 1)).Drive)
}
