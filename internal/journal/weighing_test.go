package journal

import (
	"strings"
	"testing"
	"time"

	"waketwist/unit"
)

func some[T any](v T) *T { return &v }

func TestWeighingCheck(t *testing.T) {
	good := Weighing{Lot: 1, What: Scoured, Mass: 500 * unit.Gram, Tare: some(20 * unit.Gram), Before: some(900 * unit.Gram), Step: some(unit.Gram), At: time.Now()}
	if err := good.Check(); err != nil {
		t.Fatal(err)
	}
	if good.Net() != 480*unit.Gram {
		t.Errorf("net %v", good.Net())
	}
	tests := []struct {
		name   string
		change func(*Weighing)
		says   string // empty where it is taken
	}{
		{"of nothing", func(w *Weighing) { w.Lot = 0 }, "one fibre lot or of one bobbin"},
		{"of two things", func(w *Weighing) { w.Bobbin = 1 }, "one fibre lot or of one bobbin"},
		{"fibre on a bobbin", func(w *Weighing) { w.Lot, w.Bobbin = 0, 1 }, "singles are weighed"},
		{"singles of a lot", func(w *Weighing) { w.What = Spun }, "what lay on the scale"},
		{"what is not said", func(w *Weighing) { w.What = "" }, "what lay on the scale"},
		{"no weight", func(w *Weighing) { w.Mass, w.Tare = 0, nil }, "above zero"},
		{"all tare", func(w *Weighing) { w.Tare = some(500 * unit.Gram) }, "above zero"},
		{"nothing left", func(w *Weighing) { w.What, w.Mass, w.Tare, w.Before = Left, 0, nil, nil }, ""},
		{"more tare than weight", func(w *Weighing) { w.Tare = some(600 * unit.Gram) }, "cannot be heavier"},
		{"a shed", func(w *Weighing) { w.Mass = 2000 * unit.Kilogram }, "cannot be meant"},
		{"more than went in", func(w *Weighing) { w.Before = some(300 * unit.Gram) }, "More came out"},
		{"damp", func(w *Weighing) { w.Before = some(470 * unit.Gram) }, ""},
		{"before of what was bought", func(w *Weighing) { w.What = Bought }, "weight before"},
		{"before of nothing", func(w *Weighing) { w.Before = some(unit.Mass(0)) }, "cannot be meant"},
		{"a coarse scale", func(w *Weighing) { w.Step = some(5 * unit.Kilogram) }, "steps"},
		{"wet air", func(w *Weighing) { w.Humidity = some(120.0) }, "humidity"},
		{"no day", func(w *Weighing) { w.At = time.Time{} }, "the day"},
		{"a day long ago", func(w *Weighing) { w.At = time.Date(26, 1, 1, 0, 0, 0, 0, time.UTC) }, "year 26"},
		{"a long note", func(w *Weighing) { w.Note = strings.Repeat("x", 5000) }, "longer"},
	}
	for _, tt := range tests {
		w := good
		tt.change(&w)
		checkSays(t, tt.name, w.Check(), tt.says)
	}
}

func checkSays(t *testing.T, name string, err error, says string) {
	t.Helper()
	switch {
	case says == "" && err != nil:
		t.Errorf("%s: %v", name, err)
	case says != "" && (CodeOf(err) != Invalid || !strings.Contains(err.Error(), says)):
		t.Errorf("%s: %v, want %q", name, err, says)
	}
}

func TestSwatchCheck(t *testing.T) {
	good := Swatch{
		Name: "strip", Kind: Woven, OnLoom: Size{some(25 * unit.Centimetre), some(30 * unit.Centimetre)},
		OffLoom: Size{Width: some(23 * unit.Centimetre)}, Washed: Size{Width: some(20 * unit.Centimetre)}, Mass: some(20 * unit.Gram),
	}
	tests := []struct {
		name   string
		change func(*Swatch)
		says   string
	}{
		{"as it is", func(*Swatch) {}, ""},
		{"without a name", func(w *Swatch) { w.Name = " " }, "name"},
		{"of no kind", func(w *Swatch) { w.Kind = "felted" }, "woven or knitted"},
		{"knitted on a loom", func(w *Swatch) { w.Kind = Knitted }, "no size on the loom"},
		{"knitted", func(w *Swatch) { w.Kind, w.OnLoom = Knitted, Size{} }, ""},
		{"of nothing", func(w *Swatch) { *w = Swatch{Name: "x", Kind: Woven} }, "at least one size"},
		{"of a weight only", func(w *Swatch) { *w = Swatch{Name: "x", Kind: Woven, Mass: some(unit.Gram)} }, ""},
		{"a hair wide", func(w *Swatch) { w.OffLoom.Width = some(unit.Millimetre) }, "cannot be meant"},
		{"mixed units", func(w *Swatch) { w.Washed.Width = some(20 * unit.Inch) }, "no shrinkage"},
		{"of a wrong weight", func(w *Swatch) { w.Mass = some(unit.Mass(-1)) }, "cannot be meant"},
	}
	for _, tt := range tests {
		w := good
		tt.change(&w)
		checkSays(t, tt.name, w.Check(), tt.says)
	}
}

func TestUseCheck(t *testing.T) {
	for _, how := range Uses {
		checkSays(t, how, Use{How: how}.Check(), "")
	}
	checkSays(t, "lost", Use{How: "lost"}.Check(), "what became")
	checkSays(t, "a long note", Use{How: "sold", Note: strings.Repeat("x", 5000)}.Check(), "longer")
}

func TestStretchTimeAtTheWheel(t *testing.T) {
	for worked, says := range map[time.Duration]string{time.Hour: "", 0: "cannot be meant", 2000 * time.Hour: "cannot be meant"} {
		s := Stretch{Started: time.Now(), Ended: time.Now(), Worked: &worked}
		s.Ended = s.Started
		checkSays(t, worked.String(), s.Check(), says)
	}
}
