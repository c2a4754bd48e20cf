package job

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

func at[T any](v T) *T { return &v }

// bobbinLed is a wheel of 8 bobbin turns a treadle, counted, with a bobbin that
// fills from 1.5 to 4 in.
func bobbinLed() journal.Machine {
	return journal.Machine{
		ID: 1, Name: "Heather", Kind: wheel.BobbinLed,
		Whorls: []journal.Whorl{
			{ID: 1, Name: "slow", Counts: []journal.Count{{Turns: 80, Treadles: 10}, {Turns: 80, Treadles: 10}, {Turns: 80, Treadles: 10}}},
			{ID: 2, Name: "fast", Stated: at(wheel.Ratio(14))},
			{ID: 3, Name: "lost", Stated: at(wheel.Ratio(11)), Struck: "lost"},
		},
		Spools: []journal.Spool{{ID: 1, Name: "oak", Core: at(1.5 * unit.Inch), Full: at(4 * unit.Inch)}},
	}
}

func seenAt(rhythm wheel.Rhythm, turns wheel.Turns) journal.Slip {
	return journal.Slip{Whorl: 1, Rhythm: rhythm, Seen: journal.Seen{How: journal.ByEye, Turns: turns, Time: 60}}
}

// Ten treadles of 8:1 with 36 in wound on: a core of 1.5 in leaves 2.01 turns an
// inch, one of 2.5 in 2.09, of 4 in 2.14 (arithmetic).
func TestMachineOfBobbinLed(t *testing.T) {
	m, err := MachineOf(bobbinLed(), 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		at   wheel.Filled
		want float64
	}{{0, 2.01}, {(2.5*2.5 - 1.5*1.5) / (4*4 - 1.5*1.5), 2.09}, {1, 2.14}} {
		put, err := m.PutIn(10, 36*unit.Inch, tt.at)
		if err != nil || math.Abs(put.Gripped.Value.PerInch()-tt.want) > 0.005 {
			t.Errorf("%.2f full: %v tpi, %v", float64(tt.at), put.Gripped.Value.PerInch(), err)
		}
		if !put.Twist.Flags.Has(wheel.SlipUnknown) {
			t.Error("slip that nobody watched goes unsaid")
		}
	}
}

func TestMachineOfRefuses(t *testing.T) {
	struck := bobbinLed()
	for i := range struck.Whorls[0].Counts {
		struck.Whorls[0].Counts[i].Struck = "the flag came off"
	}
	motor := journal.Machine{Name: "Hum", Kind: wheel.MotorDriven, Settings: []journal.MotorSetting{{ID: 1, Name: "at three"}}}
	for _, tt := range []struct {
		name         string
		machine      journal.Machine
		whorl, spool journal.ID
		says         string
	}{
		{"motor", motor, 0, 0, "no treadles"},
		{"no such whorl", bobbinLed(), 9, 0, "no whorl number 9"},
		{"no such bobbin", bobbinLed(), 1, 9, "no bobbin number 9"},
		{"every count struck", struck, 1, 1, "No count of “slow” stands"},
	} {
		_, err := MachineOf(tt.machine, tt.whorl, tt.spool)
		if journal.CodeOf(err) == 0 || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
	if _, err := MotorOf(motor, 1); journal.CodeOf(err) != journal.Invalid {
		t.Errorf("a setting that nobody timed: %v", err)
	}
	if _, err := MotorOf(motor, 2); journal.CodeOf(err) != journal.NotFound {
		t.Errorf("no such setting: %v", err)
	}
}

// A lost whorl is not offered; a run that it drove still is answered for.
func TestStruckWhorl(t *testing.T) {
	if got := WhorlsOf(bobbinLed()); len(got) != 2 || got[0].Name != "slow" || got[1].Name != "fast" {
		t.Errorf("whorls in use: %+v", got)
	}
	quarrel := bobbinLed()
	quarrel.Whorls[0].Counts[1].Turns = 20
	if got := WhorlsOf(quarrel); len(got) != 1 || got[0].Name != "fast" {
		t.Errorf("whorls without one whose counts contradict each other: %+v", got)
	}
	if m, err := MachineOf(bobbinLed(), 3, 1); err != nil || m.Whorl.Stated != 11 {
		t.Errorf("%+v, %v", m, err)
	}
}

func TestMotorOf(t *testing.T) {
	m := journal.Machine{Kind: wheel.MotorDriven, Settings: []journal.MotorSetting{{ID: 1, Timings: []journal.Timing{
		{Seen: journal.Seen{How: journal.ByEye, Turns: 100, Time: 10}},
		{Seen: journal.Seen{How: journal.OnFilm, Turns: 10, Frames: 240, FramesPerSecond: 240}},
		{Seen: journal.Seen{How: journal.ByUntwist, Turns: 90, Time: 3}, Struck: "lost count"},
	}}}}
	motor, err := MotorOf(m, 1)
	if err != nil {
		t.Fatal(err)
	}
	speed, err := motor.Speed()
	if err != nil || math.Abs(float64(speed.Value)-600) > 5 || speed.N != 2 {
		t.Errorf("%+v, %v", speed, err)
	}
}

// 8:1 at 60 treadles a minute would drive 480 turns; 432 are a grip of 0.9.
func TestSlipIsLearnt(t *testing.T) {
	m := bobbinLed()
	if SlipOf(m) != (wheel.Slip{}) {
		t.Error("slip out of nothing")
	}
	m.Slips = []journal.Slip{seenAt(60, 432)}
	one := SlipOf(m)
	if !(one.Low < 0.9 && one.High > 0.9 && one.Low > 0.8 && one.High <= 1) {
		t.Errorf("one sighting: %+v", one)
	}
	for range 5 {
		m.Slips = append(m.Slips, seenAt(60, 432))
	}
	if six := SlipOf(m); six.High-six.Low >= one.High-one.Low {
		t.Errorf("six that agree are no surer: %+v after %+v", six, one)
	}
	m.Slips = []journal.Slip{seenAt(60, 432), seenAt(60, 380)}
	if two := SlipOf(m); two.High-two.Low <= one.High-one.Low {
		t.Errorf("two that differ are as sure: %+v after %+v", two, one)
	}
	m.Slips[1].Struck = "the band was off"
	if SlipOf(m) != one {
		t.Error("a struck sighting bears on the slip")
	}
	m.Slips = []journal.Slip{seenAt(60, 20)}
	if got := Sightings(m); SlipOf(m) != (wheel.Slip{}) || got[0].Grip != nil || !strings.Contains(got[0].Why, "less than a tenth") {
		t.Errorf("a standing flyer: %+v", got)
	}
	m.Slips = []journal.Slip{seenAt(60, 900)}
	if got := Sightings(m); SlipOf(m) != (wheel.Slip{}) || got[0].Grip != nil || !strings.Contains(got[0].Why, "faster than") {
		t.Errorf("an impossible speed: %+v", got)
	}
}

// Whatever was seen, the learnt slip can be worked with.
func TestLearntSlipIsASlip(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var seen []estimate.Estimate[wheel.Grip]
		for range rapid.IntRange(1, 6).Draw(rt, "sightings") {
			seen = append(seen, estimate.Estimate[wheel.Grip]{
				Value: wheel.Grip(rapid.Float64Range(0.05, 1.1).Draw(rt, "grip")), SD: wheel.Grip(rapid.Float64Range(0, 0.2).Draw(rt, "sd")),
			})
		}
		w := wheel.Treadled{Kind: wheel.FlyerLed, Whorl: wheel.Whorl{Stated: 8}, Slip: nextGrip(seen)}
		if _, err := w.Setting(6*unit.TurnPerInch, 24*unit.Inch, 0); err != nil {
			rt.Errorf("%+v: %v", w.Slip, err)
		}
	})
}
