package job

import (
	"math"
	"strings"
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/hand"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

func measured(state estimate.State, loops int, girth unit.Length, mass unit.Mass, wraps unit.Wraps) journal.Measure {
	return journal.Measure{State: state, Loops: &loops, Girth: &girth, Mass: &mass, Wraps: &wraps}
}

// Two washed skeins measured before and after (common practice): 600 yd on a
// 72 in reel came to 433 yd; a girth of 36 in came to 30 in.
func TestChangesOfMeasuredSkeins(t *testing.T) {
	tests := []struct {
		loops         int
		before, after unit.Length
		loss          float64 // %
		afterYards    float64
	}{
		{300, 72 * unit.Inch, 51.96 * unit.Inch, 27.8, 433},
		{230, 36 * unit.Inch, 30 * unit.Inch, 16.7, 191.7},
	}
	for _, tt := range tests {
		s := journal.Skein{Run: 1, Measures: []journal.Measure{
			measured(estimate.Rested, tt.loops, tt.before, 100, 16*unit.WrapPerInch),
			measured(estimate.Washed, tt.loops, tt.after, 100, 13*unit.WrapPerInch),
		}}
		changes := Changes(s, finish.Woollen)
		if loss := 100 * (1 - changes[0].Factor); math.Abs(loss-tt.loss) > 0.06 {
			t.Errorf("length lost %.2f %%, want %.1f", loss, tt.loss)
		}
		l, _ := s.Measures[1].Length()
		if math.Abs(l.Yards()-tt.afterYards) > 0.5 {
			t.Errorf("washed length %.1f yd, want %.1f", l.Yards(), tt.afterYards)
		}
		// The same mass on less length: yards per pound fall with the length.
		if want := 1 / changes[0].Factor; math.Abs(changes[2].Factor-want) > 1e-9 {
			t.Errorf("grist grew by %.3f, want %.3f", changes[2].Factor, want)
		}
	}
}

// The same dry wool weighed in damp and in dry air is one weight at one regain.
func TestChangesCorrectForMoisture(t *testing.T) {
	damp, dry := 80.0, 30.0
	before, after := measured(estimate.Rested, 60, unit.Metre, 119.9, 0), measured(estimate.Washed, 60, unit.Metre, 108.9, 0)
	before.Humidity, after.Humidity = &damp, &dry
	changes := Changes(journal.Skein{Run: 1, Measures: []journal.Measure{before, after}}, finish.Unknown)
	if c := changes[1]; math.Abs(c.Factor-0.908) > 0.001 {
		t.Errorf("as weighed: %+v", c)
	}
	if c := changes[2]; math.Abs(c.Factor-1) > 1e-9 || !strings.Contains(c.Name, "modelled") {
		t.Errorf("at one regain: %+v", c)
	}
}

func TestChangesSayWhatIsMissing(t *testing.T) {
	for _, c := range Changes(journal.Skein{Run: 1}, finish.Unknown) {
		if c.Factor != 0 || c.Words() != "" || c.Before != "" {
			t.Errorf("%s of nothing: %+v", c.Name, c)
		}
	}
	c := Change{Factor: 0.5, Expected: &finish.Range{Low: 0.8, High: 0.95}}
	if !strings.Contains(c.Words(), "below the") {
		t.Errorf("half the length: %q", c.Words())
	}
}

// Z singles plied S: a washed skein that hangs Z is over-plied (common practice).
func TestVerdictAndRemedy(t *testing.T) {
	ratio, draw, loop := 8.0, 60*unit.Centimetre, 50*unit.Centimetre
	drive := DriveOf(journal.Drive{Ratio: &ratio, Draw: &draw}, nil)
	hung := func(state estimate.State, d yarn.Direction, half float64) journal.Skein {
		return journal.Skein{Run: 1, Hangs: []journal.Hang{{State: state, Direction: d, HalfTurns: half, Length: &loop}}}
	}
	tests := []struct {
		name  string
		skein journal.Skein
		want  finish.Balance
		known bool
		says  string
	}{
		{"over", hung(estimate.Washed, yarn.Z, 20), finish.OverPlied, true, "turning Z"},
		{"under", hung(estimate.Washed, yarn.S, 20), finish.UnderPlied, true, "turning S"},
		{"open", hung(estimate.Washed, yarn.NoDirection, 0), finish.Balanced, true, ""},
		{"unwashed", hung(estimate.Rested, yarn.S, 9), finish.Balanced, false, ""},
		{"not hung", journal.Skein{Run: 1}, finish.Balanced, false, ""},
	}
	for _, tt := range tests {
		v := VerdictOf(tt.skein, yarn.S, drive)
		if v.Balance != tt.want || v.Known != tt.known || v.Words == "" || !strings.Contains(v.Remedy, tt.says) {
			t.Errorf("%s: %+v", tt.name, v)
		}
	}
	// 10 turns over half a metre are 20 a metre, 12 a draw, 1.5 treadles.
	if v := VerdictOf(tests[0].skein, yarn.S, drive); !strings.Contains(v.Remedy, "20.0 turns/m") || !strings.Contains(v.Remedy, "1.5 treadles") {
		t.Errorf("remedy %q", v.Remedy)
	}
	singles := hung(estimate.Washed, yarn.S, 8)
	singles.Run, singles.Bobbin = 0, 1
	if v := VerdictOf(singles, yarn.NoDirection, drive); !strings.Contains(v.Words, "energised") || !strings.Contains(v.Remedy, "collapse") {
		t.Errorf("lively singles: %+v", v)
	}
}

// 6 turns per inch over 24 in on an 8:1 wheel are 18 treadles (common practice).
func TestSetting(t *testing.T) {
	ratio, draw, rpm := 8.0, 24*unit.Inch, 810.0
	if got := Setting(DriveOf(journal.Drive{Ratio: &ratio, Draw: &draw}, nil), 6*unit.TurnPerInch); !strings.HasPrefix(got, "18.0 treadles") {
		t.Errorf("setting %q", got)
	}
	// 9 turns per inch over 6 in at 810 a minute take 4 seconds (arithmetic).
	six := 6 * unit.Inch
	if got := Setting(DriveOf(journal.Drive{RPM: &rpm, Draw: &six}, nil), 9*unit.TurnPerInch); !strings.HasPrefix(got, "4.0 seconds") {
		t.Errorf("setting %q", got)
	}
	fast := 1800.0
	if got := Setting(DriveOf(journal.Drive{RPM: &fast, Draw: &six}, nil), 9*unit.TurnPerInch); !strings.Contains(got, "maker's limit") {
		t.Errorf("1,800 turns a minute without a word: %q", got)
	}
	if got := Setting(Drive{}, 100); got != "" {
		t.Errorf("a setting out of nothing: %q", got)
	}
}

// Bobbin A spun on days 0 to 4, B on days 5 to 9, plied on day 10 straight from
// the bobbins: A begins 6 days old against 1, and ends 10 against 5 (arithmetic).
func TestMeetPairsLayers(t *testing.T) {
	day := func(n int) time.Time { return noon.AddDate(0, 0, n) }
	spun := func(id journal.ID, name string, from, to int) journal.Bobbin {
		return journal.Bobbin{ID: id, Name: name, Direction: yarn.Z, Stretches: []journal.Stretch{{Started: day(from), Ended: day(to)}}}
	}
	p := projectOf(spun(1, "A", 0, 4), spun(2, "B", 5, 9))
	m, err := Meet(p, hand.Record{}, journal.Run{Plan: p.Plan, Feeds: []journal.Feed{{Bobbin: 1}, {Bobbin: 2}}}, day(10))
	if err != nil {
		t.Fatal(err)
	}
	first, last := m.Stations[0], m.Stations[len(m.Stations)-1]
	for i, want := range [][]float64{{6, 1}, {10, 5}} {
		ages := [][]time.Duration{first.Ages, last.Ages}[i]
		for j := range want {
			if got := ages[j].Hours() / 24; math.Abs(got-want[j]) > 0.05 {
				t.Errorf("station %d, strand %d: %.2f days, want %v", i, j, got, want[j])
			}
		}
	}
	m, err = Meet(p, hand.Record{}, journal.Run{Plan: p.Plan, Feeds: []journal.Feed{{Bobbin: 1, Rewound: 1}, {Bobbin: 2}}}, day(10))
	if err != nil {
		t.Fatal(err)
	}
	if got := m.Stations[0].Ages[0].Hours() / 24; math.Abs(got-10) > 0.05 {
		t.Errorf("A wound over begins at %.2f days, want 10", got)
	}
	if _, err := Meet(projectOf(bobbinOf(1, "A"), bobbinOf(2, "B")), hand.Record{}, journal.Run{Feeds: []journal.Feed{{Bobbin: 1}, {Bobbin: 2}}}, noon); err == nil {
		t.Error("bobbins of unknown age were compared")
	}
}

func TestClipsCoverTheBobbin(t *testing.T) {
	b := bobbinOf(1, "A")
	if _, err := Clips(b, hand.Record{}, noon); err == nil {
		t.Error("a bobbin of unknown age got a plan")
	}
	b.Stretches = []journal.Stretch{{Started: noon.AddDate(0, 0, -12), Ended: noon.Add(-2 * time.Hour)}}
	clips, err := Clips(b, hand.Record{}, noon)
	if err != nil || len(clips) < 2 {
		t.Fatalf("%d clips for layers of two hours to twelve days: %v", len(clips), err)
	}
	for i, c := range clips {
		if w := ClipWords(c); !strings.HasPrefix(w, "From ") || !strings.Contains(w, "modelled") {
			t.Errorf("clip %d: %q", i, w)
		}
		if i > 0 && c.Age <= clips[i-1].Age {
			t.Error("deeper layers must be older")
		}
	}
}
