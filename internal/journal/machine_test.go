package journal

import (
	"testing"

	"waketwist/unit"
	"waketwist/wheel"
)

func TestMachineCheck(t *testing.T) {
	checkAll(t, func() Machine { return Machine{Name: "Heather", Kind: wheel.FlyerLed} }, []checked[Machine]{
		{"motor", func(m *Machine) { m.Kind = wheel.MotorDriven }, "", ""},
		{"no name", func(m *Machine) { m.Name = "" }, "name", "Give the machine a name"},
		{"no kind", func(m *Machine) { m.Kind = 0 }, "kind", "what drives it"},
		{"no kind there is", func(m *Machine) { m.Kind = 6 }, "kind", "what drives it"},
		{"too long a note", func(m *Machine) { m.Note = longNote + "s" }, "note", "longer than 4000 letters"},
	})
}

func TestMachineTakesItsOwnParts(t *testing.T) {
	for kind := wheel.FlyerLed; kind <= wheel.MotorDriven; kind++ {
		m := Machine{Name: "Heather", Kind: kind}
		motor, bands := kind == wheel.MotorDriven, kind <= wheel.DoubleDrive
		for what, got := range map[string]struct {
			err  error
			want bool
		}{"whorl": {m.CheckWhorl(), !motor}, "setting": {m.CheckMotorSetting(), motor}, "slip": {m.CheckSlip(), bands}} {
			if (got.err == nil) != got.want || got.err != nil && CodeOf(got.err) != Invalid {
				t.Errorf("%s of a %s: %v", what, kind, got.err)
			}
		}
	}
}

// What a run was driven by is found even where it has been struck since.
func TestPartsByNumber(t *testing.T) {
	m := Machine{
		Whorls: []Whorl{{ID: 1}, {ID: 2, Struck: "sold"}}, Settings: []MotorSetting{{ID: 1}, {ID: 2, Struck: "x"}}, Spools: []Spool{{ID: 1}, {ID: 2, Struck: "x"}},
	}
	for i, id := range []ID{1, 2} {
		if m.Whorl(id) != &m.Whorls[i] || m.Setting(id) != &m.Settings[i] || m.Spool(id) != &m.Spools[i] {
			t.Errorf("part number %d is not found", id)
		}
	}
	if m.Whorl(0) != nil || m.Setting(3) != nil || m.Spool(3) != nil {
		t.Error("a part that is not there is found")
	}
}

// A count that was struck no longer bears on the ratio.
func TestCountedLeavesOutTheStruck(t *testing.T) {
	w := Whorl{Name: "slow", Stated: ptr(wheel.Ratio(8)), Counts: []Count{{Turns: 83, Treadles: 10}, {Turns: 38, Treadles: 10, Struck: "slipped"}}}
	got := w.Counted()
	if got.Name != "slow" || got.Stated != 8 || len(got.Counts) != 1 || got.Counts[0] != (wheel.Count{Turns: 83, Treadles: 10}) {
		t.Errorf("%+v", got)
	}
}

func TestWhorlCheck(t *testing.T) {
	good := func() Whorl {
		return Whorl{Name: "slow", Stated: ptr(wheel.Ratio(8)), Counts: []Count{{Turns: 83, Treadles: 10}}}
	}
	checkAll(t, good, []checked[Whorl]{
		{"counted only", func(w *Whorl) { w.Stated = nil }, "", ""},
		{"stated only", func(w *Whorl) { w.Counts = nil }, "", ""},
		{"neither", func(w *Whorl) { w.Stated, w.Counts = nil, nil }, "turns", "Count it"},
		{"no name", func(w *Whorl) { w.Name = " " }, "name", "Give the whorl a name"},
		{"too low a ratio", func(w *Whorl) { *w.Stated = 0.1 }, "stated", "A ratio of 0.1"},
		{"too high a ratio", func(w *Whorl) { *w.Stated = 501 }, "stated", "A ratio of 501"},
		{"no ratio", func(w *Whorl) { *w.Stated = wheel.Ratio(nan) }, "stated", "cannot be meant"},
		{"no turns", func(w *Whorl) { w.Counts[0].Turns = 0 }, "turns", "no count"},
		{"no treadles", func(w *Whorl) { w.Counts[0].Treadles = 0.5 }, "turns", "no count"},
		{"no number", func(w *Whorl) { w.Counts[0].Turns = wheel.Turns(nan) }, "turns", "no count"},
		{"backwards", func(w *Whorl) { w.Counts[0] = Count{Turns: 10, Treadles: 83} }, "turns", "10 turns over 83 treadles"},
		{"a slipped point", func(w *Whorl) { w.Counts[0].Turns = 8300 }, "turns", "8300 turns over 10"},
	})
}

func TestMotorSettingCheck(t *testing.T) {
	good := func() MotorSetting {
		return MotorSetting{Name: "at three", Stated: ptr(wheel.Speed(700)), Timings: []Timing{{Seen: Seen{How: ByEye, Turns: 41, Time: 60}}}}
	}
	seen := func(change func(*Seen)) func(*MotorSetting) {
		return func(s *MotorSetting) { change(&s.Timings[0].Seen) }
	}
	film := func(frames int, rate float64) func(*MotorSetting) {
		return seen(func(s *Seen) { *s = Seen{How: OnFilm, Turns: 10, Frames: frames, FramesPerSecond: rate} })
	}
	checkAll(t, good, []checked[MotorSetting]{
		{"timed only", func(s *MotorSetting) { s.Stated = nil }, "", ""},
		{"stated only", func(s *MotorSetting) { s.Timings = nil }, "", ""},
		{"neither", func(s *MotorSetting) { s.Stated, s.Timings = nil, nil }, "turns", "Time it"},
		{"no name", func(s *MotorSetting) { s.Name = "" }, "name", "Give the setting a name"},
		{"too slow", func(s *MotorSetting) { *s.Stated = 0 }, "stated", "0 turns a minute"},
		{"too fast", func(s *MotorSetting) { *s.Stated = 20_001 }, "stated", "turns a minute"},
		{"by untwisting", seen(func(s *Seen) { s.How = ByUntwist }), "", ""},
		{"in no way there is", seen(func(s *Seen) { s.How = "by ear" }), "how", "by eye, on film or by untwisting"},
		{"in no time", seen(func(s *Seen) { s.Time = 0 }), "seconds", "how many seconds"},
		{"without end", seen(func(s *Seen) { s.Time = wheel.Seconds(nan) }), "seconds", "how many seconds"},
		{"no turns", seen(func(s *Seen) { s.Turns = 0 }), "turns", "too few"},
		{"on film", film(171, 240), "", ""},
		{"on no film", film(0, 240), "frames", "how many frames"},
		{"on a still", film(171, 0), "frames", "how many frames"},
		{"on too slow a film", film(20, 240), "turns", "too few"},
	})
}

func TestSlipCheck(t *testing.T) {
	good := func() Slip {
		return Slip{Machine: 1, Whorl: 1, Rhythm: 70, Seen: Seen{How: ByEye, Turns: 280, Time: 30}}
	}
	checkAll(t, good, []checked[Slip]{
		{"no rhythm", func(s *Slip) { s.Rhythm = 0 }, "rhythm", "0 treadles a minute"},
		{"too fast a rhythm", func(s *Slip) { s.Rhythm = 401 }, "rhythm", "401 treadles a minute"},
		{"no rhythm at all", func(s *Slip) { s.Rhythm = wheel.Rhythm(nan) }, "rhythm", "cannot be meant"},
		{"nothing seen", func(s *Slip) { s.Seen = Seen{} }, "how", "Say how"},
	})
}

func TestSpoolCheck(t *testing.T) {
	good := func() Spool {
		return Spool{Name: "oak", Core: ptr(38 * unit.Millimetre), Full: ptr(100 * unit.Millimetre), Tare: ptr(60 * unit.Gram), Holds: ptr(110 * unit.Gram)}
	}
	checkAll(t, good, []checked[Spool]{
		{"no name", func(s *Spool) { s.Name = "" }, "name", "Give the bobbin a name"},
		{"core only", func(s *Spool) { *s = Spool{Name: "oak", Core: s.Core} }, "", ""},
		{"tare only", func(s *Spool) { *s = Spool{Name: "oak", Tare: s.Tare} }, "", ""},
		{"nothing", func(s *Spool) { *s = Spool{Name: "oak"} }, "core", "bare core"},
		{"no core", func(s *Spool) { s.Core = nil }, "core", "beside that of the full"},
		{"too thin a core", func(s *Spool) { *s.Core = 4 * unit.Millimetre }, "core", "A core of "},
		{"no thickness", func(s *Spool) { *s.Core = 0 }, "core", "A core of "},
		{"too thick a core", func(s *Spool) { *s.Core = 1.1 * unit.Metre }, "core", "A core of "},
		{"no number", func(s *Spool) { *s.Core = unit.Length(nan) }, "core", "cannot be meant"},
		{"full and thinner", func(s *Spool) { *s.Full = 30 * unit.Millimetre }, "full", "does not fit"},
		{"full and huge", func(s *Spool) { *s.Full = 2 * unit.Metre }, "full", "does not fit"},
		{"weightless", func(s *Spool) { *s.Tare = 0 }, "tare", "An empty bobbin of "},
		{"too heavy", func(s *Spool) { *s.Tare = 6 * unit.Kilogram }, "tare", "An empty bobbin of "},
		{"holds nothing", func(s *Spool) { *s.Holds = 0 }, "holds", "A bobbin that holds "},
		{"holds a sheep", func(s *Spool) { *s.Holds = 11 * unit.Kilogram }, "holds", "A bobbin that holds "},
	})
}

func TestDriveOfAMachine(t *testing.T) {
	good := func() Run {
		return Run{Name: "x", Plan: Plan{Strands: 2}, Started: dawn, Feeds: []Feed{{Bobbin: 1}}, Drive: Drive{Machine: 1, Whorl: 2, Spool: 3}}
	}
	checkAll(t, good, []checked[Run]{
		{"motor", func(r *Run) { r.Drive = Drive{Machine: 1, Setting: 2} }, "", ""},
		{"machine alone", func(r *Run) { r.Drive = Drive{Machine: 1} }, "", ""},
		{"whorl of nothing", func(r *Run) { r.Drive.Machine = 0 }, "machine", "Choose the machine"},
		{"whorl and setting", func(r *Run) { r.Drive.Setting = 2 }, "machine", "treadled or has a motor"},
		{"machine and ratio", func(r *Run) { r.Drive.Ratio = ptr(8.0) }, "machine", "leave one of them out"},
		{"machine and speed", func(r *Run) { r.Drive.RPM = ptr(800.0) }, "machine", "leave one of them out"},
	})
}
