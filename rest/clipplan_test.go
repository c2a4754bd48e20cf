package rest

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"waketwist/unit"
)

func TestClipPlan(t *testing.T) {
	even := []Stretch{long(spun(9.99, 10), 100)}
	week := []Stretch{long(spun(0, 0.2), 60), long(spun(9.8, 10), 40)}
	tests := []struct {
		name   string
		spun   []Stretch
		change Share
		at     float64 // days
		want   int
	}{
		{"all of one age", even, 0.1, 30, 1},
		{"two sittings far apart", week, 0.1, 12, 2},
		{"the same, asked less closely", week, 0.5, 12, 1},
		{"fresh off the wheel", week, 0.05, 10, 7}, // the outside runs from 0 to 0.27 in five hours: six places
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			clips, err := ClipPlan(mustLayers(t, tt.spun, nil, on(tt.at)), middling, nil, tt.change)
			if err != nil {
				t.Fatal(err)
			}
			if len(clips) != tt.want {
				t.Errorf("%d places, want %d: %+v", len(clips), tt.want, clips)
			}
		})
	}
}

// The parts cover the bobbin; inside each, the share keeps to the change asked
// about, and the sample is one of its own ages.
func TestClipPlanCovers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWound(t)
		fibre := []Blend{{{anyCurve(t), 1}}}
		change := Share(rapid.Float64Range(0.01, 1).Draw(t, "change"))
		rh := anyHumidity(t)
		clips, err := ClipPlan(w, fibre, Steady(rh), change)
		if err != nil {
			t.Fatal(err)
		}
		var at Share
		for i, c := range clips {
			if c.From != at || c.To < c.From || c.Depth < float64(c.From) || c.Depth > float64(c.To) {
				t.Fatalf("part %d: %+v begins at %v", i, c, at)
			}
			at = c.To
			if f := fibre[0].Dormant(c.Age, rh); math.Abs(float64(f-c.Dormant.Value)) > 1e-9 {
				t.Fatalf("%v old: %v, said to be %v", c.Age, f, c.Dormant.Value)
			}
			if c.Again != nil {
				grown := fibre[0].after(Steady(rh), c.Age, *c.Again) - c.Dormant.Value
				if grown < change || *c.Again <= 0 {
					t.Fatalf("after %v the share has grown by %v of %v", *c.Again, grown, change)
				}
			}
		}
		if at != 1 {
			t.Fatalf("the last part ends at %v", at)
		}
	})
}

// No plan with one place fewer could do: the dormant share of the oldest and the
// youngest metre are further apart than so few parts allow.
func TestClipPlanIsFewest(t *testing.T) {
	w := mustLayers(t, []Stretch{spun(0, 10)}, nil, on(10.5))
	for _, change := range []Share{0.02, 0.05, 0.1, 0.2} {
		clips, err := ClipPlan(w, middling, nil, change)
		if err != nil {
			t.Fatal(err)
		}
		all := middling[0].Dormant(252*time.Hour, 65) - middling[0].Dormant(12*time.Hour, 65)
		// Steps between the places looked at lose a little of each part.
		if least := int(math.Ceil(float64(all / change))); len(clips) < least || len(clips) > least+1 {
			t.Errorf("change of %v in %v: %d places, at least %d are needed", change, all, len(clips), least)
		}
	}
}

func TestClipPlanRefusals(t *testing.T) {
	w := mustLayers(t, []Stretch{spun(0, 1)}, nil, on(2))
	endless := w
	endless.Length = unit.Length(math.Inf(1))
	tests := []struct {
		name   string
		wound  Wound
		fibre  []Blend
		room   Room
		change Share
	}{
		{"no change", w, middling, nil, 0},
		{"change not a number", w, middling, nil, Share(math.NaN())},
		{"no layers", Wound{}, middling, nil, 0.1},
		{"endless", endless, middling, nil, 0.1},
		{"no curve", w, []Blend{}, nil, 0.1},
		{"humidity", w, middling, Steady(200), 0.1},
	}
	for _, tt := range tests {
		_, err := ClipPlan(tt.wound, tt.fibre, tt.room, tt.change)
		refused(t, tt.name, err)
	}
}

func TestClipPlanTakesRewoundBobbins(t *testing.T) {
	stretches := []Stretch{long(spun(0, 0.2), 60), long(spun(9.8, 10), 40)}
	over := Rewind{OverEnd: true, Adds: 'S', Full: 80 * unit.Millimetre}
	clips, err := ClipPlan(mustLayers(t, stretches, []Rewind{over}, on(12)), nil, nil, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	if first, last := clips[0], clips[len(clips)-1]; first.Age < last.Age || last.DrawOff < 60*unit.Metre {
		t.Errorf("rewound, the oldest lies outside: %+v", clips)
	}
}

func ExampleClipPlan() {
	w, err := Layers([]Stretch{
		{Start: on(0), End: on(0.1), Length: 60 * unit.Metre},
		{Start: on(6), End: on(6.1), Length: 40 * unit.Metre},
	}, nil, on(7))
	if err != nil {
		fmt.Println(err)
		return
	}
	clips, err := ClipPlan(w, middling, Steady(65), 0.1)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range clips {
		fmt.Printf("draw off %.0f m: %s old, %.2f dormant\n", c.DrawOff.Metres(), unit.FormatDuration(c.Age), c.Dormant.Value)
	}
	// Output:
	// draw off 20 m: 22 h 46 min old, 0.40 dormant
	// draw off 70 m: 6 days 23 h old, 0.59 dormant
}

func BenchmarkClipPlan(b *testing.B) {
	w := mustLayers(b, []Stretch{spun(0, 4), spun(5, 9)}, nil, on(10))
	for b.Loop() {
		if _, err := ClipPlan(w, nil, nil, 0.1); err != nil {
			b.Fatal(err)
		}
	}
}
