package journal

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

func TestSkeinCheck(t *testing.T) {
	good := func() Skein { return Skein{Run: 1, Name: "first skein"} }
	checkAll(t, good, []checked[Skein]{
		{"singles", func(s *Skein) { s.Run, s.Bobbin = 0, 1 }, "", ""},
		{"of nothing", func(s *Skein) { s.Run = 0 }, "", "one run of plying, or from one bobbin"},
		{"of both", func(s *Skein) { s.Bobbin = 1 }, "", "one run of plying, or from one bobbin"},
		{"no name", func(s *Skein) { s.Name = "" }, "name", "Give the skein a name"},
		{"too long a note", func(s *Skein) { s.Note = longNote + "s" }, "note", "longer than 4000 letters"},
	})
}

func TestMeasureCheck(t *testing.T) {
	good := func() Measure {
		return Measure{
			State: estimate.Rested, Loops: ptr(120), Girth: ptr(1.5 * unit.Metre), LoadGrams: ptr(100.0),
			Mass: ptr(98 * unit.Gram), Humidity: ptr(60.0), Wraps: ptr(16 * unit.WrapPerInch),
		}
	}
	checkAll(t, good, []checked[Measure]{
		{"nothing measured", func(m *Measure) { *m = Measure{State: estimate.Rested, LoadGrams: m.LoadGrams, Humidity: m.Humidity} }, "loops", "Give the loops"},
		{"loops alone", func(m *Measure) { *m = Measure{State: estimate.Washed, Loops: m.Loops} }, "", ""},
		{"girth alone", func(m *Measure) { *m = Measure{State: estimate.Washed, Girth: m.Girth} }, "", ""},
		{"mass alone", func(m *Measure) { *m = Measure{State: estimate.Washed, Mass: m.Mass} }, "", ""},
		{"wraps alone", func(m *Measure) { *m = Measure{State: estimate.Washed, Wraps: m.Wraps} }, "", ""},
		{"no state", func(m *Measure) { m.State = estimate.Unstated }, "state", "off the wheel, or washed"},
		{"damp", func(m *Measure) { m.State = estimate.Rewet }, "state", "off the wheel, or washed"},
		{"no loops", func(m *Measure) { *m.Loops = 0 }, "loops", "0 loops"},
		{"too many loops", func(m *Measure) { *m.Loops = 100_001 }, "loops", "100001 loops"},
		{"too small a girth", func(m *Measure) { *m.Girth = 9 * unit.Centimetre }, "girth", "A girth of "},
		{"too great a girth", func(m *Measure) { *m.Girth = 11 * unit.Metre }, "girth", "A girth of "},
		{"no girth", func(m *Measure) { *m.Girth = unit.Length(nan) }, "girth", "cannot be meant"},
		{"no load", func(m *Measure) { *m.LoadGrams = 0 }, "load", "A load of 0 g"},
		{"too heavy a load", func(m *Measure) { *m.LoadGrams = 20_001 }, "load", "cannot be meant"},
		{"weightless", func(m *Measure) { *m.Mass = 0 }, "mass", "A skein of "},
		{"too heavy", func(m *Measure) { *m.Mass = 101 * unit.Kilogram }, "mass", "A skein of "},
		{"no weight", func(m *Measure) { *m.Mass = unit.Mass(nan) }, "mass", "cannot be meant"},
		{"air below dry", func(m *Measure) { *m.Humidity = -1 }, "humidity", "-1 % relative humidity"},
		{"soaking air", func(m *Measure) { *m.Humidity = 101 }, "humidity", "101 % relative humidity"},
		{"too few wraps", func(m *Measure) { *m.Wraps = 0.4 * unit.WrapPerInch }, "wraps", "0.4 wraps per inch"},
		{"too many wraps", func(m *Measure) { *m.Wraps = 401 * unit.WrapPerInch }, "wraps", "401 wraps per inch"},
	})
}

func TestWashCheck(t *testing.T) {
	good := func() Wash {
		return Wash{Treatment: "soak and snap", Water: ptr(unit.Temperature(35)), Minutes: ptr(20.0), HungGrams: ptr(50.0)}
	}
	tests := []checked[Wash]{
		{"bare", func(w *Wash) { *w = Wash{Treatment: "steam"} }, "", ""},
		{"no treatment", func(w *Wash) { w.Treatment = "" }, "treatment", "soak, soak and snap, full, steam, weight, size"},
		{"no treatment there is", func(w *Wash) { w.Treatment = "Soak" }, "treatment", "Say how"},
		{"ice", func(w *Wash) { *w.Water = -1 }, "water", "-1 °C"},
		{"over boiling", func(w *Wash) { *w.Water = 101 }, "water", "101 °C"},
		{"less than no time", func(w *Wash) { *w.Minutes = -1 }, "minutes", "-1 minutes"},
		{"over two days", func(w *Wash) { *w.Minutes = 2881 }, "minutes", "2881 minutes"},
		{"no time", func(w *Wash) { *w.Minutes = nan }, "minutes", "cannot be meant"},
		{"no weight", func(w *Wash) { *w.HungGrams = 0 }, "hung", "A weight of 0 g"},
		{"too heavy a weight", func(w *Wash) { *w.HungGrams = 20_001 }, "hung", "cannot be meant"},
		{"too long a note", func(w *Wash) { w.Note = longNote + "s" }, "note", "longer than 4000 letters"},
	}
	for _, one := range Treatments {
		tests = append(tests, checked[Wash]{one, func(w *Wash) { w.Treatment = one }, "", ""})
	}
	checkAll(t, good, tests)
}

func TestHangCheck(t *testing.T) {
	good := func() Hang {
		return Hang{State: estimate.Washed, Direction: yarn.Z, HalfTurns: 1.5, Length: ptr(70 * unit.Centimetre)}
	}
	checkAll(t, good, []checked[Hang]{
		{"open loop", func(h *Hang) { *h = Hang{State: estimate.Rested} }, "", ""},
		{"no state", func(h *Hang) { h.State = estimate.Unstated }, "state", "off the wheel, or washed"},
		{"wet", func(h *Hang) { h.State = estimate.Rewet }, "state", "off the wheel, or washed"},
		{"turns neither way", func(h *Hang) { h.Direction = yarn.NoDirection }, "direction", "S or Z"},
		{"turns no way there is", func(h *Hang) { h.Direction = 'X' }, "direction", "S or Z"},
		{"open loop that turns", func(h *Hang) { h.HalfTurns = 0 }, "turns", "A loop that turns Z has half turns"},
		{"turns backwards", func(h *Hang) { h.HalfTurns = -1 }, "turns", "-1 half turns"},
		{"turns without end", func(h *Hang) { h.HalfTurns = math.Inf(1) }, "turns", "cannot be meant"},
		{"turns of no number", func(h *Hang) { h.HalfTurns = nan }, "turns", "cannot be meant"},
		{"too short", func(h *Hang) { *h.Length = 4 * unit.Centimetre }, "length", "A hanging loop of "},
		{"too long", func(h *Hang) { *h.Length = 6 * unit.Metre }, "length", "A hanging loop of "},
	})
}

// Of a state, the latest counts.
func TestLatestOfAState(t *testing.T) {
	s := Skein{
		Measures: []Measure{{ID: 1, State: estimate.Rested}, {ID: 2, State: estimate.Rested}, {ID: 3, State: estimate.Washed}},
		Hangs:    []Hang{{ID: 1, State: estimate.Rested}, {ID: 2, State: estimate.Rested}, {ID: 3, State: estimate.Washed}},
	}
	if got := s.Measured(estimate.Rested); got == nil || got.ID != 2 {
		t.Errorf("measured off the wheel: %+v", got)
	}
	if got := s.Measured(estimate.Washed); got == nil || got.ID != 3 {
		t.Errorf("measured washed: %+v", got)
	}
	if got := s.Hung(estimate.Rested); got != &s.Hangs[1] {
		t.Errorf("hung off the wheel: %+v", got)
	}
	if got := s.Hung(estimate.Washed); got != &s.Hangs[2] {
		t.Errorf("hung washed: %+v", got)
	}
	s = Skein{Measures: s.Measures[2:], Hangs: s.Hangs[2:]}
	if m, h := s.Measured(estimate.Rested), s.Hung(estimate.Rested); m != nil || h != nil {
		t.Errorf("of none: %+v, %+v", m, h)
	}
}

func TestMeasuredLength(t *testing.T) {
	loops, girth := ptr(120), ptr(1.5*unit.Metre)
	if got, ok := (Measure{Loops: loops, Girth: girth}).Length(); got != 180*unit.Metre || !ok {
		t.Errorf("%v, %v", got, ok)
	}
	for _, m := range []Measure{{}, {Loops: loops}, {Girth: girth}} {
		if got, ok := m.Length(); got != 0 || ok {
			t.Errorf("%+v: %v", m, got)
		}
	}
}

func TestMeasuredTakesTheLatestOfEach(t *testing.T) {
	s := Skein{Measures: []Measure{
		{ID: 1, State: estimate.Rested, Loops: ptr(60), Mass: ptr(98 * unit.Gram), Humidity: ptr(60.0)},
		{ID: 2, State: estimate.Washed, Loops: ptr(59)},
		{ID: 3, State: estimate.Rested, Girth: ptr(1.5 * unit.Metre), LoadGrams: ptr(100.0)},
		{ID: 4, State: estimate.Rested, Mass: ptr(97 * unit.Gram)},
	}}
	want := &Measure{ID: 4, State: estimate.Rested, Loops: ptr(60), Girth: ptr(1.5 * unit.Metre), LoadGrams: ptr(100.0), Mass: ptr(97 * unit.Gram)}
	if diff := cmp.Diff(want, s.Measured(estimate.Rested)); diff != "" {
		t.Errorf("measured off the wheel (-want +got):\n%s", diff)
	}
	if got := s.Measured(estimate.RewetDried); got != nil {
		t.Errorf("never measured, yet %+v", got)
	}
	if s.Measures[3].Loops != nil {
		t.Error("the record itself was changed")
	}
}
