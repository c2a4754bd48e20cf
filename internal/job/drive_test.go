package job

import (
	"math"
	"strings"
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

// 6 turns an inch over 24 in: 144 turns, and on the bare core of 1.5 in 5.09 wraps
// more, over 8 turns a treadle: 18.6; on the full bobbin 18.2 (arithmetic).
func TestSettingOfAMachine(t *testing.T) {
	draw, beat := 24*unit.Inch, 4*time.Second
	watched := bobbinLed()
	watched.Slips = []journal.Slip{seenAt(60, 432)}
	motor := journal.Machine{ID: 2, Name: "Hum", Kind: wheel.MotorDriven, Settings: []journal.MotorSetting{{ID: 1, Name: "at three", Stated: at(wheel.Speed(810))}}}
	for _, tt := range []struct {
		name  string
		m     journal.Machine
		drive journal.Drive
		says  string
		why   string
	}{
		{"bobbin-led", bobbinLed(), journal.Drive{Machine: 1, Whorl: 1, Spool: 1, Draw: &draw}, "18.6 treadles on the bare core, 18.3 half full and 18.2 on the full bobbin for each draw of", ""},
		{"slip watched", watched, journal.Drive{Machine: 1, Whorl: 1, Spool: 1, Draw: &draw}, "20.7 treadles on the bare core", ""},
		{"no bobbin", bobbinLed(), journal.Drive{Machine: 1, Whorl: 1, Draw: &draw}, "", "How thick the bobbin's core is was not said"},
		{"no whorl", bobbinLed(), journal.Drive{Machine: 1, Draw: &draw}, "", "Choose the whorl"},
		{"another machine", bobbinLed(), journal.Drive{Machine: 7, Draw: &draw}, "", "no machine number 7"},
		{"no draw", bobbinLed(), journal.Drive{Machine: 1, Whorl: 1, Spool: 1}, "", ""},
		{"motor", motor, journal.Drive{Machine: 2, Setting: 1, Draw: &draw, Beat: &beat}, "10.7 seconds (", ""},
		{"motor without a setting", motor, journal.Drive{Machine: 2, Draw: &draw}, "", "Choose the setting"},
	} {
		d := DriveOf(tt.drive, []journal.Machine{tt.m})
		got := Setting(d, 6*unit.TurnPerInch)
		if !strings.HasPrefix(got, tt.says) || (tt.says == "") != (got == "") {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.says)
		}
		if !strings.Contains(d.Why, tt.why) || (tt.why == "") != (d.Why == "") {
			t.Errorf("%s: why %q, want %q", tt.name, d.Why, tt.why)
		}
	}
}

// A further treadle puts in what the band passes on: less where slip was seen.
func TestCheckOnASlippingMachine(t *testing.T) {
	draw, d := 24*unit.Inch, unit.Inch/30
	m := bobbinLed()
	m.Slips = []journal.Slip{seenAt(60, 432)}
	drive := DriveOf(journal.Drive{Machine: 1, Whorl: 1, Spool: 1, Draw: &draw}, []journal.Machine{m})
	c := CheckOf(checkSample(estimate.Rewet, 20, 20, 20), targetOf(30, 40, 38), drive, &d)
	// 8.01 - 3.48 turns an inch over 24 in, 8 turns a treadle of which 0.9 arrive.
	if want := (8.01 - 3.48) * 24 / 8 / 0.9; c.Treadles == nil || math.Abs(c.Treadles.Value-want) > 0.3 {
		t.Errorf("treadles %+v, want %.1f", c.Treadles, want)
	}
}

func TestSetMachine(t *testing.T) {
	wish := Wish{Twist: 6 * unit.TurnPerInch, Draw: 24 * unit.Inch, Spool: 1, Rhythm: 60, Beat: 20}
	a, err := SetMachine(bobbinLed(), wish)
	if err != nil {
		t.Fatal(err)
	}
	// 149.1 bobbin turns: 14:1 takes 10.65, and 11 of them are 3.4 % over; 8:1 takes
	// 18.6, and 19 of them 2.0 %.
	if a.Name != "slow" || len(a.Choices) != 2 || a.Choices[0].Treadles != 19 || math.Abs(float64(a.Choices[0].Gripped.Value)-0.02) > 0.003 {
		t.Errorf("%s of %+v", a.Name, a.Choices)
	}
	if math.Abs(float64(a.Turns)-144) > 1e-6 || math.Abs(float64(a.Treadled.Gripped.Value)-18.64) > 0.02 || len(a.Stages) != 3 {
		t.Errorf("%+v", a)
	}
	if a.Time == nil || a.Rhythm == nil || a.Speed == nil || math.Abs(float64(a.Needed.Value)-432) > 1e-6 || !a.Flags.Has(wheel.SlipUnknown) {
		t.Errorf("pace: %+v", a)
	}
	wish.Whorl = 2
	if a, err = SetMachine(bobbinLed(), wish); err != nil || a.Name != "fast" || math.Abs(float64(a.Treadled.Gripped.Value)-149.09/14) > 0.02 || !a.Flags.Has(wheel.NotCounted) {
		t.Errorf("%+v, %v", a, err)
	}
	wish.Spool = 0
	if _, err = SetMachine(bobbinLed(), wish); err == nil || !strings.Contains(err.Error(), "core") {
		t.Errorf("without a bobbin: %v", err)
	}
	if _, err = SetMachine(journal.Machine{Name: "Bare", Kind: wheel.FlyerLed}, wish); err == nil {
		t.Error("a whorl that is not there turns")
	}
}

// 9 turns an inch over 6 in at 810 a minute take 4 seconds, and in 4 seconds 810
// a minute put 9 turns an inch into 6 in (arithmetic).
func TestMotorBothWays(t *testing.T) {
	m := journal.Machine{Name: "Hum", Kind: wheel.MotorDriven, Settings: []journal.MotorSetting{{ID: 1, Name: "at three", Stated: at(wheel.Speed(810))}}}
	a, err := SetMachine(m, Wish{Twist: 9 * unit.TurnPerInch, Draw: 6 * unit.Inch, Setting: 1})
	if err != nil || math.Abs(float64(a.Hold.Value)-4) > 0.01 || a.Name != "at three" {
		t.Errorf("%+v, %v", a, err)
	}
	put, err := WentIn(m, Done{Length: 6 * unit.Inch, Time: 4, Setting: 1})
	if err != nil || math.Abs(put.Twist.Value.PerInch()-9) > 0.01 {
		t.Errorf("%+v, %v", put, err)
	}
	fast, err := SetMachine(m, Wish{Twist: 9 * unit.TurnPerInch, Draw: 6 * unit.Inch, Setting: 1, Beat: 1})
	if err != nil || math.Abs(float64(fast.Needed.Value)-3240) > 1 || !fast.Flags.Has(wheel.FastFlyer) {
		t.Errorf("54 turns a second without a word: %+v, %v", fast, err)
	}
	if _, err := SetMachine(m, Wish{Twist: 9 * unit.TurnPerInch, Draw: 6 * unit.Inch}); err == nil || !strings.Contains(err.Error(), "Choose the setting") {
		t.Errorf("no setting: %v", err)
	}
}

// What goes by a learnt slip is modelled; by counts alone, measured.
func TestLearntSlipIsModelled(t *testing.T) {
	m := bobbinLed()
	m.Kind, m.Slips = wheel.FlyerLed, []journal.Slip{seenAt(60, 432)}
	a, err := SetMachine(m, Wish{Twist: 6 * unit.TurnPerInch, Draw: 24 * unit.Inch, Whorl: 1, Rhythm: 60})
	if err != nil || a.Treadled.Treadles.Measured() || a.Time.Measured() || a.Speed.Measured() || !a.Treadled.Gripped.Measured() {
		t.Errorf("%+v, %v", a, err)
	}
	if put, err := WentIn(m, Done{Length: unit.Metre, Treadles: 10, Whorl: 1}); err != nil || put.Twist.Measured() || put.Turns.Measured() {
		t.Errorf("%+v, %v", put, err)
	}
	m.Kind, m.Slips = wheel.Spindle, nil
	if put, err := WentIn(m, Done{Length: unit.Metre, Treadles: 10, Whorl: 1}); err != nil || !put.Twist.Measured() {
		t.Errorf("%+v, %v", put, err)
	}
}

func TestWentIn(t *testing.T) {
	put, err := WentIn(bobbinLed(), Done{Length: 36 * unit.Inch, Treadles: 10, Whorl: 1, Spool: 1})
	if err != nil || math.Abs(put.Gripped.Value.PerInch()-2.01) > 0.005 || math.Abs(float64(put.Wraps.Value)-7.64) > 0.05 {
		t.Errorf("%+v, %v", put, err)
	}
	if _, err := WentIn(bobbinLed(), Done{Length: 36 * unit.Inch, Treadles: 10, Spool: 1}); err == nil || !strings.Contains(err.Error(), "Choose the whorl of Heather") {
		t.Errorf("no whorl chosen: %v", err)
	}
	motor := journal.Machine{Name: "Hum", Kind: wheel.MotorDriven}
	if _, err := WentIn(motor, Done{Length: unit.Metre, Time: 4}); err == nil || !strings.Contains(err.Error(), "Choose the setting at which Hum ran") {
		t.Errorf("no setting chosen: %v", err)
	}
	if _, err := WentIn(bobbinLed(), Done{Length: 36 * unit.Inch, Treadles: 10, Whorl: 9, Spool: 1}); journal.CodeOf(err) != journal.NotFound {
		t.Errorf("no whorl: %v", err)
	}
}

func TestMachineLines(t *testing.T) {
	m := bobbinLed()
	m.Whorls = append(m.Whorls, journal.Whorl{ID: 4, Name: "blank", Counts: []journal.Count{{Turns: 9, Treadles: 1, Struck: "slipped"}}})
	m.Spools = append(m.Spools, journal.Spool{ID: 2, Name: "split", Tare: at(60 * unit.Gram), Struck: "cracked"}, journal.Spool{ID: 3, Name: "tin", Tare: at(60 * unit.Gram), Holds: at(100 * unit.Gram)})
	lines := strings.Join(MachineLines(m), "\n")
	for _, want := range []string{
		"“slow”: 8.00 turns a treadle (nine times in ten ", "“fast”: 14.0 turns a treadle", ", as stated\n", "“blank”: No count of “blank” stands",
		"slip not watched yet", "bobbins: “oak” (core 38.1 mm (1.50 in), full 10.2 cm (4.00 in)); “tin” (empty 60.0 g (2.12 oz), holds 100 g (3.53 oz) of yarn)",
	} {
		if !strings.Contains(lines, want) {
			t.Errorf("no %q in:\n%s", want, lines)
		}
	}
	if strings.Contains(lines, "lost") || strings.Contains(lines, "split") {
		t.Errorf("what is no longer used is listed:\n%s", lines)
	}
	m.Slips = []journal.Slip{seenAt(60, 432)}
	if lines := strings.Join(MachineLines(m), "\n"); !strings.Contains(lines, "slip takes 3 to 17 % of the turns, learnt at work") {
		t.Errorf("learnt slip:\n%s", lines)
	}
	motor := journal.Machine{Name: "Hum", Kind: wheel.MotorDriven, Settings: []journal.MotorSetting{{ID: 1, Name: "at three", Stated: at(wheel.Speed(810))}, {ID: 2, Name: "blank"}}}
	if got := strings.Join(MachineLines(motor), "\n"); !strings.Contains(got, "“at three”: 810 turns a minute") || !strings.Contains(got, "No timing of “blank” stands") || strings.Contains(got, "slip") {
		t.Errorf("a motor:\n%s", got)
	}
}

func TestWordsOfCounts(t *testing.T) {
	for _, tt := range []struct{ got, want string }{
		{CountWords(journal.Count{Turns: 83, Treadles: 10}, wheel.FlyerLed), "83 turns over 10 treadles"},
		{CountWords(journal.Count{Turns: 61, Treadles: 3}, wheel.Spindle), "61 turns over 3 flicks"},
		{SeenWords(journal.Seen{How: journal.ByUntwist, Turns: 70, Time: 5}), "70 turns in 5 seconds, by untwisting"},
		{SeenWords(journal.Seen{How: journal.OnFilm, Turns: 10, Frames: 171, FramesPerSecond: 240}), "10 turns over 171 frames at 240 a second, on film"},
		{LossWords(estimate.Estimate[wheel.Grip]{Value: 0.95, Low: 0.93, High: 1.01}), "5.0 % lost, 0.0 to 7.0 % nine times in ten"},
		{Three(0.12345), "0.123"}, {Three(9.999), "10.0"}, {Three(99.96), "100"},
		{OffWords(0.0101), "1.0 % more twist than wanted"}, {OffWords(-0.02), "2.0 % less twist than wanted"}, {OffWords(0.0001), "the twist wanted"},
	} {
		if tt.got != tt.want {
			t.Errorf("%q, want %q", tt.got, tt.want)
		}
	}
}
