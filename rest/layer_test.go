package rest

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waketwist/unit"
	"waketwist/yarn"
)

// begin is day 0 of the worked examples.
var begin = time.Date(2031, time.March, 1, 9, 0, 0, 0, time.UTC)

// on returns a moment some days after begin.
func on(days float64) time.Time { return begin.Add(time.Duration(days * float64(day))) }

// spun is a stretch of spinning between two days.
func spun(from, to float64) Stretch { return Stretch{Start: on(from), End: on(to)} }

func long(s Stretch, metres float64) Stretch {
	s.Length = unit.Length(metres) * unit.Metre
	return s
}

func mustLayers(t testing.TB, stretches []Stretch, rewinds []Rewind, at time.Time) Wound {
	t.Helper()
	w, err := Layers(stretches, rewinds, at)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func days(d ...float64) (out []time.Duration) {
	for _, v := range d {
		out = append(out, time.Duration(v*float64(day)))
	}
	return out
}

func TestLayers(t *testing.T) {
	two := []Stretch{long(spun(5, 5.5), 30), long(spun(0, 1), 90)} // in no order
	tests := []struct {
		name    string
		spun    []Stretch
		rewinds int
		want    []Layer
	}{
		{"one stretch", []Stretch{spun(0, 4)}, 0, []Layer{{0, 1, 6 * day, 10 * day}}},
		{"last on, first off", two, 0, []Layer{{0, 0.25, 108 * hour, 5 * day}, {0.25, 1, 9 * day, 10 * day}}},
		{"rewound once", two, 1, []Layer{{0, 0.75, 10 * day, 9 * day}, {0.75, 1, 5 * day, 108 * hour}}},
		{"rewound twice", two, 2, []Layer{{0, 0.25, 108 * hour, 5 * day}, {0.25, 1, 9 * day, 10 * day}}},
		{"by share", []Stretch{{on(0), on(1), 0, 3}, {on(5), on(6), 0, 1}}, 0, []Layer{{0, 0.25, 4 * day, 5 * day}, {0.25, 1, 9 * day, 10 * day}}},
		{"evenly with time", []Stretch{spun(0, 3), spun(5, 6)}, 0, []Layer{{0, 0.25, 4 * day, 5 * day}, {0.25, 1, 7 * day, 10 * day}}},
		{"in one moment", []Stretch{spun(2, 2)}, 0, []Layer{{0, 1, 8 * day, 8 * day}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := mustLayers(t, tt.spun, make([]Rewind, tt.rewinds), on(10))
			if diff := cmp.Diff(tt.want, w.Layers()); diff != "" {
				t.Error(diff)
			}
		})
	}
	if w := mustLayers(t, two, nil, on(10)); w.Length != 120*unit.Metre {
		t.Errorf("length %v", w.Length.Metric())
	}
}

func TestAgeAlongABobbin(t *testing.T) {
	w := mustLayers(t, []Stretch{long(spun(0, 1), 90), long(spun(5, 6), 30)}, nil, on(10))
	for _, tt := range []struct {
		at   Share
		want float64 // days
	}{{0, 4}, {0.125, 4.5}, {0.25, 9}, {0.625, 9.5}, {1, 10}, {-1, 4}, {2, 10}} {
		inside(t, fmt.Sprintf("age at %v in days", tt.at), w.Age(tt.at).Hours()/24, tt.want-1e-9, tt.want+1e-9)
	}
	if nowhere := w.Age(Share(math.NaN())); nowhere < 4*day || nowhere > 10*day {
		t.Errorf("age at no number: %v", nowhere)
	}
	if none := (Wound{}).Age(0.5); none != 0 {
		t.Errorf("an empty bobbin is %v old", none)
	}
}

func anyStretches(t *rapid.T) (out []Stretch, end time.Time) {
	end = begin
	by := rapid.IntRange(0, 2).Draw(t, "by length, share or time")
	for range rapid.IntRange(1, 6).Draw(t, "stretches") {
		start := end.Add(time.Duration(rapid.Int64Range(0, int64(20*day)).Draw(t, "pause")))
		end = start.Add(time.Duration(rapid.Int64Range(1, int64(2*day)).Draw(t, "spinning")))
		s := Stretch{Start: start, End: end}
		amount := rapid.Float64Range(0.001, 500).Draw(t, "amount")
		switch by {
		case 0:
			s.Length = unit.Length(amount) * unit.Metre
		case 1:
			s.Share = Share(amount)
		}
		out = append(out, s)
	}
	return out, end
}

func anyWound(t *rapid.T) Wound {
	stretches, end := anyStretches(t)
	rewinds := make([]Rewind, rapid.IntRange(0, 2).Draw(t, "rewinds"))
	w, err := Layers(stretches, rewinds, end.Add(time.Duration(rapid.Int64Range(0, int64(month)).Draw(t, "lain"))))
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// Rewinding turns the order round and changes no age; twice is as before.
func TestRewindingKeepsAges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWound(t)
		once, err := w.Rewound(Rewind{})
		if err != nil {
			t.Fatal(err)
		}
		twice, err := once.Rewound(Rewind{})
		if err != nil {
			t.Fatal(err)
		}
		for range 20 {
			at := Share(rapid.Float64Range(0.001, 0.999).Draw(t, "at"))
			near := func(l Layer) bool { return math.Abs(float64(l.To-at)) < 1e-6 }
			if l := w.layers[w.layerAt(at)]; near(l) || near(Layer{To: l.From}) {
				continue
			}
			if a, b := w.Age(at), once.Age(1-at); (a - b).Abs() > time.Second {
				t.Fatalf("at %v %v old, after rewinding %v", at, a, b)
			}
			if a, b := w.Age(at), twice.Age(at); (a - b).Abs() > time.Second {
				t.Fatalf("at %v %v old, after rewinding twice %v", at, a, b)
			}
		}
	})
}

// The layers cover the bobbin without a gap, and as wound they only get older.
func TestLayersCoverTheBobbin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stretches, end := anyStretches(t)
		w, err := Layers(stretches, nil, end)
		if err != nil {
			t.Fatal(err)
		}
		var at Share
		var age time.Duration
		for _, l := range w.Layers() {
			if l.From != at || l.To < l.From || l.FromAge < age || l.ToAge < l.FromAge {
				t.Fatalf("layer %+v follows %v at %v", l, age, at)
			}
			at, age = l.To, l.ToAge
		}
		if at != 1 || age != end.Sub(stretches[0].Start) {
			t.Fatalf("the last layer ends at %v, %v old", at, age)
		}
	})
}

// One turn per wrap: 25 mm gives 12.73 turns/m, 80 mm 3.98.
func TestOverEnd(t *testing.T) {
	over := func(full, core float64, adds yarn.Direction) Rewind {
		return Rewind{OverEnd: true, Adds: adds, Full: unit.Length(full) * unit.Millimetre, Core: unit.Length(core) * unit.Millimetre}
	}
	tests := []struct {
		name    string
		rewinds []Rewind
		at      Share
		want    float64
	}{
		{"sideways", []Rewind{{}}, 0.5, 0},
		{"25 mm", []Rewind{over(25, 0, yarn.Z)}, 0.5, 12.73},
		{"80 mm, taking away", []Rewind{over(80, 0, yarn.S)}, 0.5, -3.98},
		{"there and back", []Rewind{over(80, 0, yarn.S), over(80, 0, yarn.Z)}, 0.5, 0},
		{"full to the core: first off is now last", []Rewind{over(80, 25, yarn.Z)}, 1, 3.98},
		{"the core's yarn is now first", []Rewind{over(80, 25, yarn.Z)}, 0, 12.73},
		{"and last after another rewind", []Rewind{over(80, 25, yarn.Z), {}}, 1, 12.73},
		// Half of the yarn off: d^2 = (80^2 + 25^2)/2.
		{"half way", []Rewind{over(80, 25, yarn.Z)}, 0.5, 1000 / (math.Pi * 59.27)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := mustLayers(t, []Stretch{spun(0, 4)}, tt.rewinds, on(10))
			inside(t, "turns/m", float64(w.Added(tt.at, yarn.Z)), tt.want-0.005, tt.want+0.005)
			inside(t, "turns/m of S singles", float64(w.Added(tt.at, yarn.S)), -tt.want-0.005, -tt.want+0.005)
		})
	}
}

func TestLayerRefusals(t *testing.T) {
	nan := math.NaN()
	many := make([]Stretch, maxStretches+1)
	for i := range many {
		many[i] = spun(float64(i)/100, float64(i+1)/100)
	}
	over := Rewind{OverEnd: true, Adds: yarn.S, Full: 80 * unit.Millimetre}
	noDirection, noDiameter, wideCore := over, over, over
	noDirection.Adds, noDiameter.Full, wideCore.Core = 0, 0, 90*unit.Millimetre
	tests := []struct {
		name    string
		spun    []Stretch
		rewinds []Rewind
	}{
		{"nothing", nil, nil},
		{"too many", many, nil},
		{"ends before it begins", []Stretch{spun(3, 2)}, nil},
		{"ends in the future", []Stretch{spun(3, 11)}, nil},
		{"no date", []Stretch{{}}, nil},
		{"overlapping", []Stretch{spun(0, 3), spun(2, 4)}, nil},
		{"one length of two", []Stretch{long(spun(0, 1), 100), spun(2, 3)}, nil},
		{"one share of two", []Stretch{{on(0), on(1), 0, 0.5}, spun(2, 3)}, nil},
		{"negative length", []Stretch{long(spun(0, 1), -5)}, nil},
		{"length not a number", []Stretch{long(spun(0, 1), nan)}, nil},
		{"endless", []Stretch{long(spun(0, 1), math.Inf(1))}, nil},
		{"share not a number", []Stretch{{on(0), on(1), 0, Share(nan)}}, nil},
		{"no time and no length", []Stretch{spun(0, 1), spun(2, 2)}, nil},
		{"over the end, which way", []Stretch{spun(0, 1)}, []Rewind{noDirection}},
		{"over the end of what", []Stretch{spun(0, 1)}, []Rewind{noDiameter}},
		{"core wider than the package", []Stretch{spun(0, 1)}, []Rewind{wideCore}},
		{"rewound for ever", []Stretch{spun(0, 1)}, make([]Rewind, maxRewinds+1)},
	}
	for _, tt := range tests {
		_, err := Layers(tt.spun, tt.rewinds, on(10))
		refused(t, tt.name, err)
	}
}

func ExampleLayers() {
	w, err := Layers([]Stretch{
		{Start: on(0), End: on(0.1), Length: 60 * unit.Metre},
		{Start: on(3), End: on(3.2), Length: 40 * unit.Metre},
	}, nil, on(7))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range w.Layers() {
		fmt.Printf("%3.0f %% to %3.0f %%: %s to %s\n", 100*l.From, 100*l.To, unit.FormatDuration(l.FromAge), unit.FormatDuration(l.ToAge))
	}
	// Output:
	//   0 % to  40 %: 3 days 19 h to 4 days
	//  40 % to 100 %: 6 days 22 h to 7 days
}
