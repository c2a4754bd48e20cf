package job

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/hand"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

var noon = time.Date(2026, 3, 14, 12, 0, 0, 0, time.UTC)

func eyeReading(deg float64) journal.Reading {
	return journal.Reading{
		Method: journal.Typed, Structure: journal.Ply, Plies: 2, Line: yarn.VisibleBorder,
		Angle: unit.Angle(deg) * unit.Degree, SD: rest.EyeSD, Direction: yarn.S,
	}
}

func sample(id journal.ID, state estimate.State, degrees ...float64) journal.Sample {
	s := journal.Sample{ID: id, State: state, Place: "place 1"}
	for _, d := range degrees {
		s.Readings = append(s.Readings, eyeReading(d))
	}
	return s
}

func bobbinOf(id journal.ID, name string, samples ...journal.Sample) journal.Bobbin {
	return journal.Bobbin{ID: id, Name: name, Direction: yarn.Z, Samples: samples}
}

func projectOf(bobbins ...journal.Bobbin) journal.Project {
	return journal.Project{ID: 1, Name: "p", Plan: journal.Plan{Strands: 2}, Bobbins: bobbins}
}

func TestWakeUsesWhatCounts(t *testing.T) {
	wet := sample(2, estimate.Rewet, 38, 73, 39)
	wet.Readings[1].Struck = "slip of the pen"
	p := projectOf(
		bobbinOf(1, "A", sample(1, estimate.Rested, 20, 21, 19), wet),
		bobbinOf(2, "B", sample(3, estimate.Rested, 22)))
	w, err := Wake(p, hand.Record{})
	if err != nil {
		t.Fatal(err)
	}
	if got := w.Target.Value.Degrees(); math.Abs(got-38.5) > 0.2 {
		t.Errorf("target %.2f deg; the struck reading must not count", got)
	}
	if len(w.Used) != 1 || len(w.Waiting) != 1 || w.Waiting[0].Name != "B" {
		t.Errorf("used %d, waiting %d", len(w.Used), len(w.Waiting))
	}
	if w.Direction != yarn.S {
		t.Errorf("ply direction %s", w.Direction)
	}
	if err := TargetOf(p, w).Check(); err != nil {
		t.Errorf("the answer is no target to keep: %v", err)
	}
}

func TestWakeTakesThicknessAndPreparation(t *testing.T) {
	b := bobbinOf(1, "A", sample(1, estimate.Rewet, 40))
	wraps := 30 * unit.WrapPerInch
	b.Wraps, b.Lot = &wraps, &journal.Lot{Fibre: "wool", Preparation: finish.Worsted}
	worsted, err := Wake(projectOf(b), hand.Record{})
	if err != nil {
		t.Fatal(err)
	}
	if worsted.Turns == nil || !(worsted.Turns.Low < 315 && worsted.Turns.High > 315) {
		t.Errorf("turns %+v do not hold the 315 per metre of geometry", worsted.Turns)
	}
	b.Lot = &journal.Lot{Fibre: "Wool", Preparation: finish.Woollen}
	woollen, err := Wake(projectOf(b), hand.Record{})
	if err != nil {
		t.Fatal(err)
	}
	if woollen.WheelLook.Value >= worsted.WheelLook.Value {
		t.Error("woollen yarn shrinks more, so it must look softer at the wheel")
	}
	b.Lot = &journal.Lot{Fibre: "long line flax"}
	if w, err := Wake(projectOf(b), hand.Record{}); err != nil || !w.Flags.Has(OutsideFibre) {
		t.Errorf("flax is not flagged: %v, %v", w.Flags, err)
	}
}

func TestWakeRefuses(t *testing.T) {
	singles := sample(2, estimate.Rewet, 38)
	singles.Readings[0].Structure = journal.Singles
	mixed := sample(2, estimate.Rewet, 38, 39)
	mixed.Readings[1].Direction = yarn.Z
	for name, p := range map[string]journal.Project{
		"no re-wet":         projectOf(bobbinOf(1, "A", sample(1, estimate.Rested, 20))),
		"no bobbin":         projectOf(),
		"singles":           projectOf(bobbinOf(1, "A", singles)),
		"S and Z":           projectOf(bobbinOf(1, "A", mixed)),
		"dry steeper":       projectOf(bobbinOf(1, "A", sample(1, estimate.Rested, 40, 41, 40), sample(2, estimate.Rewet, 20, 21, 20))),
		"turns with itself": projectOf(journal.Bobbin{ID: 1, Name: "A", Direction: yarn.S, Samples: []journal.Sample{sample(1, estimate.Rewet, 30)}}),
	} {
		var refusal *rest.Error
		if _, err := Wake(p, hand.Record{}); !errors.As(err, &refusal) || refusal.Advice == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Wake(projectOf(bobbinOf(1, "A", sample(1, estimate.Rewet, 30))), hand.Record{}, 9); journal.CodeOf(err) != journal.NotFound {
		t.Errorf("a bobbin of another project: %v", err)
	}
}

func TestProgressGoesStepByStep(t *testing.T) {
	start := noon.Add(-10 * time.Minute)
	long := noon.Add(-40 * time.Minute)
	minutes := 25.0
	soaking, soaked, timed := sample(2, estimate.Rewet), sample(2, estimate.Rewet), sample(2, estimate.Rewet)
	soaking.SoakStart, soaked.SoakStart = &start, &long
	timed.SoakStart, timed.Soak = &start, &minutes
	dry := sample(1, estimate.Rested, 20)
	tests := []struct {
		name    string
		samples []journal.Sample
		want    Stage
	}{
		{"nothing", nil, Cut},
		{"cut", []journal.Sample{sample(1, estimate.Rested)}, ReadDry},
		{"read dry", []journal.Sample{dry}, Soak},
		{"in the water", []journal.Sample{dry, soaking}, Soaking},
		{"long enough", []journal.Sample{dry, soaked}, ReadWet},
		{"taken out", []journal.Sample{dry, timed}, ReadWet},
		{"read wet", []journal.Sample{dry, sample(2, estimate.Rewet, 38)}, Sampled},
		{"a second round", []journal.Sample{dry, sample(2, estimate.Rewet, 38), sample(3, estimate.Rested)}, ReadDry},
		{"wet only", []journal.Sample{sample(2, estimate.Rewet)}, ReadWet},
	}
	for _, tt := range tests {
		if got := ProgressOf(bobbinOf(1, "A", tt.samples...), noon).Stage; got != tt.want {
			t.Errorf("%s: stage %d, want %d", tt.name, got, tt.want)
		}
	}
	if got := Remaining(soaking, noon); got != 20*time.Minute {
		t.Errorf("remaining %v", got)
	}
	if got := Soaked(soaked, noon); got != 40 {
		t.Errorf("soaked %v minutes", got)
	}
}

func TestNextStepPutsWhatWaitsFirst(t *testing.T) {
	start := noon.Add(-40 * time.Minute)
	wet := sample(2, estimate.Rewet)
	wet.SoakStart = &start
	p := projectOf(bobbinOf(1, "A"), bobbinOf(2, "B", sample(1, estimate.Rested, 20), wet))
	if s := NextStep(p, noon); s.Bobbin != 2 || !s.Urgent {
		t.Errorf("next %+v: the wet sample of B dries", s)
	}
	done := projectOf(bobbinOf(1, "A", sample(1, estimate.Rested, 20), sample(2, estimate.Rewet, 38)))
	if s := NextStep(done, noon); s.Bobbin != 0 || s.Words == "" {
		t.Errorf("next %+v", s)
	}
	done.Finished = &noon
	if s := NextStep(done, noon); s.Words != "Finished." {
		t.Errorf("next %+v", s)
	}
}

func TestDrawnReadingMeasuresLines(t *testing.T) {
	former := journal.Reading{ID: 7, Sample: 3, Plies: 2, Structure: journal.Ply, Photo: &journal.Photo{Hash: "x", Width: 100, Height: 100}}
	tests := []struct {
		axis, strand [2]Spot
		deg          float64
		direction    yarn.Direction
	}{
		// Upright axis, strand rising to the right: the middle stroke of Z.
		{[2]Spot{{50, 90}, {50, 10}}, [2]Spot{{45, 60}, {55, 40}}, 26.565, yarn.Z},
		{[2]Spot{{50, 10}, {50, 90}}, [2]Spot{{55, 40}, {45, 60}}, 26.565, yarn.Z},
		{[2]Spot{{50, 90}, {50, 10}}, [2]Spot{{55, 60}, {45, 40}}, 26.565, yarn.S},
		// A lying axis turned by a quarter keeps its letter.
		{[2]Spot{{10, 50}, {90, 50}}, [2]Spot{{40, 45}, {60, 55}}, 26.565, yarn.Z},
	}
	for _, tt := range tests {
		got, err := DrawnReading(former, Drawn{tt.axis, tt.strand})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.Angle.Degrees()-tt.deg) > 0.01 || got.Direction != tt.direction || got.Supersedes != 7 || got.Line != yarn.VisibleBorder {
			t.Errorf("axis %v, strand %v: %.2f deg %s on the %s", tt.axis, tt.strand, got.Angle.Degrees(), got.Direction, got.Line)
		}
	}
	if _, err := DrawnReading(former, Drawn{}); journal.CodeOf(err) != journal.Invalid {
		t.Errorf("two points are no lines: %v", err)
	}
}

// Twist that was awake when the singles were fresh, or rested for a day, has gone
// dormant since: earlier dry samples say nothing of the look now.
func TestWakeTakesTheLatestDrySamples(t *testing.T) {
	fresh, day, month, wet := sample(1, estimate.Fresh, 36), sample(2, estimate.Rested, 30), sample(3, estimate.Rested, 20), sample(4, estimate.Rewet, 38)
	fresh.Recorded, day.Recorded, month.Recorded, wet.Recorded = noon, noon.Add(24*time.Hour), noon.AddDate(0, 1, 0), noon.AddDate(0, 1, 0)
	other := sample(5, estimate.Rested, 22)
	other.Recorded = month.Recorded.Add(-time.Hour)
	for _, tt := range []struct {
		name    string
		samples []journal.Sample
		want    float64
	}{
		{"of one sitting", []journal.Sample{other, month, wet}, 21},
		{"after others", []journal.Sample{fresh, day, month, wet}, 20},
		{"fresh and rested at once", []journal.Sample{{State: estimate.Fresh, Place: "place 1", Readings: fresh.Readings, Recorded: other.Recorded}, month, wet}, 20},
		{"not read since", []journal.Sample{day, {State: estimate.Rested, Recorded: month.Recorded}, wet}, 30},
	} {
		w, err := Wake(projectOf(bobbinOf(1, "A", tt.samples...)), hand.Record{})
		if err != nil {
			t.Fatal(err)
		}
		if got := w.DryLook.Value.Degrees(); math.Abs(got-tt.want) > 0.3 {
			t.Errorf("%s: dry look of %.1f°, want %.0f", tt.name, got, tt.want)
		}
	}
}

// A soak that was forgotten, or begun on a clock that was set back since, can
// still be ended.
func TestSoakedCanBeRecorded(t *testing.T) {
	for _, ago := range []time.Duration{-time.Hour, 0, 25 * time.Minute, 30 * 24 * time.Hour} {
		start := noon.Add(-ago)
		s := journal.Sample{Bobbin: 1, State: estimate.Rewet, SoakStart: &start}
		minutes := Soaked(s, noon)
		s.Soak = &minutes
		if err := s.Check(); err != nil {
			t.Errorf("after %s: %v", ago, err)
		}
	}
}

// After the target comes the plying, then what each skein waits for.
func TestNextStepFollowsTheYarn(t *testing.T) {
	p := projectOf(bobbinOf(1, "A", sample(1, estimate.Rested, 20), sample(2, estimate.Rewet, 38)), bobbinOf(2, "B"))
	p.Targets = []journal.Target{{Angle: journal.Interval{Value: 38 * unit.Degree}}}
	step := func(what string, want Step) {
		t.Helper()
		got := NextStep(p, noon)
		if got.Words == "" {
			t.Errorf("%s: no words", what)
		}
		if got.Words = ""; got != want {
			t.Errorf("%s: %+v, want %+v", what, got, want)
		}
	}
	step("a bobbin is not sampled", Step{Bobbin: 2})
	p.Bobbins = p.Bobbins[:1]
	step("sampled", Step{Ply: true})
	p.Runs = []journal.Run{{ID: 7, Name: "Run 1", Feeds: []journal.Feed{{Bobbin: 1}}}}
	step("plying", Step{Run: 7})
	p.Runs[0].Ended = &noon
	step("plied", Step{Run: 7})
	p.Runs[0].Skeins = []journal.Skein{{ID: 9, Name: "skein"}}
	step("off the wheel", Step{Skein: 9})
	skein := &p.Runs[0].Skeins[0]
	skein.Washes = []journal.Wash{{}}
	step("washed", Step{Skein: 9})
	skein.Hangs = []journal.Hang{{State: estimate.Washed}}
	step("hung", Step{})
	p.Bobbins = append(p.Bobbins, bobbinOf(2, "B"))
	step("one more bobbin", Step{Bobbin: 2})
	p.Bobbins[1].Skeins = []journal.Skein{{ID: 11, Name: "singles"}}
	step("its singles stay singles", Step{Skein: 11})
	p.Bobbins[1] = bobbinOf(2, "B", sample(3, estimate.Rested, 20), sample(4, estimate.Rewet, 38))
	step("one more bobbin, sampled", Step{Ply: true})
}

func TestSkeinWordsAskNothingOfTheWheel(t *testing.T) {
	target := journal.Target{Line: yarn.VisibleBorder, Plan: journal.Plan{Strands: 2}, Washed: journal.Interval{Value: 35 * unit.Degree, Low: 33 * unit.Degree, High: 37 * unit.Degree}}
	for degrees, says := range map[float64]string{35: "As it was to be", 20: "fewer turns", 50: "more turns"} {
		s := sample(1, estimate.Washed, degrees, degrees, degrees)
		if words := CheckOf(s, target, Drive{}, nil).Found(); !strings.Contains(words, says) || strings.Contains(words, "Go on") {
			t.Errorf("at %v degrees: %q", degrees, words)
		}
	}
}

func TestBobbinPutAway(t *testing.T) {
	sampled := func(id journal.ID, name string, wet float64) journal.Bobbin {
		return bobbinOf(id, name, sample(2*id, estimate.Rested, 20), sample(2*id+1, estimate.Rewet, wet, wet))
	}
	p := projectOf(sampled(1, "A", 38), sampled(2, "B", 30), bobbinOf(3, "C"))
	p.Bobbins[1].Away, p.Bobbins[2].Away = true, true
	if s := NextStep(p, noon); s.Bobbin != 0 {
		t.Errorf("next %+v: C is put away", s)
	}
	w, err := Wake(p, hand.Record{})
	if err != nil {
		t.Fatal(err)
	}
	if len(w.Used) != 1 || len(w.Waiting) != 0 || math.Abs(w.Target.Value.Degrees()-38) > 0.2 {
		t.Errorf("used %d, waiting %d, target %v", len(w.Used), len(w.Waiting), w.Target.Value)
	}
	if w, err := Wake(p, hand.Record{}, 1, 2); err != nil || len(w.Used) != 2 {
		t.Errorf("chosen by hand, the bobbin put away is left out: %v", err)
	}
	p.Bobbins[0].Away = true
	if s := NextStep(p, noon); s.Bobbin != 0 || s.Ply || !strings.Contains(s.Words, "Record") {
		t.Errorf("all put away: next %+v", s)
	}
}

// Turns by wraps are modelled, whatever the angle is.
func TestTurnsByWrapsAreModelled(t *testing.T) {
	centre := func(id journal.ID) journal.Bobbin {
		b := bobbinOf(id, "A", sample(1, estimate.Rested, 20), sample(2, estimate.Rewet, 36, 36))
		for i := range b.Samples {
			for j := range b.Samples[i].Readings {
				b.Samples[i].Readings[j].Line = yarn.StrandCentre
			}
		}
		return b
	}
	measured, wrapped := centre(1), centre(1)
	d, n := 0.8*unit.Millimetre, 26*unit.WrapPerInch
	measured.Diameter, wrapped.Wraps = &d, &n
	for _, tt := range []struct {
		b    journal.Bobbin
		want bool
	}{{measured, true}, {wrapped, false}} {
		w, err := Wake(projectOf(tt.b), hand.Record{})
		if err != nil {
			t.Fatal(err)
		}
		if w.Turns == nil || w.Turns.Measured() != tt.want || !w.Target.Measured() {
			t.Errorf("turns measured: %v, want %v", w.Turns, tt.want)
		}
	}
}
