package job

import (
	"slices"
	"strings"
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/hand"
	"waketwist/internal/journal"
	"waketwist/unit"
)

func woolProject(id journal.ID, demo bool) journal.Project {
	lot := &journal.Lot{Fibre: " Wool ", Preparation: finish.Worsted}
	hours := 72.0
	var bobbins []journal.Bobbin
	for i := range journal.ID(3) {
		dry, wet := sample(id*100+i*10+1, estimate.Rested, 20, 21, 20), sample(id*100+i*10+2, estimate.Rewet, 36, 37, 36)
		dry.AgeHours = &hours
		for j := range dry.Readings {
			dry.Readings[j].ID = id*1000 + i*100 + journal.ID(j)
			wet.Readings[j].ID = id*1000 + i*100 + 50 + journal.ID(j)
		}
		b := bobbinOf(id*10+i, "bobbin", dry, wet)
		b.Lot = lot
		b.Stretches = []journal.Stretch{{Started: noon.AddDate(0, 0, -5), Ended: noon.AddDate(0, 0, -3)}}
		bobbins = append(bobbins, b)
	}
	p := projectOf(bobbins...)
	p.ID, p.Demo = id, demo
	return p
}

func TestRecordLeavesTheDemonstrationOut(t *testing.T) {
	own, shown := woolProject(1, false), woolProject(2, true)
	record, demo := RecordOf([]journal.Project{own, shown})
	if demo || len(record.Bobbins) != 3 || record.Bobbins[0].ID != BobbinKey(10) || record.Bobbins[0].Fibre != "wool" {
		t.Errorf("demo %v, record %+v", demo, record)
	}
	record, demo = RecordOf([]journal.Project{shown})
	if !demo || record.Readings() == 0 {
		t.Errorf("the demonstration alone: %v, %d readings", demo, record.Readings())
	}
	own.Bobbins[0].Samples[0].Readings[0].Struck = "slip"
	record, _ = RecordOf([]journal.Project{own})
	if got := record.Readings(); got != 17 {
		t.Errorf("%d readings teach; the struck one must not", got)
	}
}

// What other bobbins taught narrows what one pair of samples leaves open.
func TestWakeLearnsFromOtherBobbins(t *testing.T) {
	taught, fresh := woolProject(1, false), woolProject(5, false)
	fresh.Bobbins = fresh.Bobbins[:1]
	record, _ := RecordOf([]journal.Project{taught, fresh})
	alone, err := Wake(fresh, hand.Record{})
	if err != nil {
		t.Fatal(err)
	}
	knowing, err := Wake(fresh, record)
	if err != nil {
		t.Fatal(err)
	}
	if knowing.Learnt != 18 || alone.Learnt != 0 {
		t.Errorf("learnt from %d readings, want the 18 of the other project", knowing.Learnt)
	}
	if was, is := alone.Dormant.High-alone.Dormant.Low, knowing.Dormant.High-knowing.Dormant.Low; is >= was {
		t.Errorf("the dormant share is known within %.2f after learning, %.2f before", is, was)
	}
}

func TestForecastFollowsTheAsk(t *testing.T) {
	p := woolProject(1, false)
	record, _ := RecordOf([]journal.Project{p})
	known, err := hand.Fit(record)
	if err != nil {
		t.Fatal(err)
	}
	soft, hard := 15*unit.Degree, 44*unit.Degree
	limp, err := Forecast(known, p, Ask{Angle: &soft}, noon)
	if err != nil {
		t.Fatal(err)
	}
	stiff, err := Forecast(known, p, Ask{Angle: &hard}, noon)
	if err != nil {
		t.Fatal(err)
	}
	if limp.Verdict != finish.UnderPlied || stiff.Verdict != finish.OverPlied {
		t.Errorf("plied to 15 and 44 degrees: %s and %s", limp.Verdict, stiff.Verdict)
	}
	short, long := time.Hour, 60*24*time.Hour
	young, err := Forecast(known, p, Ask{Rested: &short}, noon)
	if err != nil {
		t.Fatal(err)
	}
	old, err := Forecast(known, p, Ask{Rested: &long}, noon)
	if err != nil {
		t.Fatal(err)
	}
	if young.Dormant.Value >= old.Dormant.Value {
		t.Errorf("asleep after an hour %.2f, after two months %.2f", young.Dormant.Value, old.Dormant.Value)
	}
}

func TestNextReadingIsNamed(t *testing.T) {
	p := woolProject(1, false)
	record, _ := RecordOf([]journal.Project{p})
	known, err := hand.Fit(record)
	if err != nil {
		t.Fatal(err)
	}
	for _, goal := range []hand.Goal{hand.WantedPly, hand.WantedLook, hand.WantedAsleep} {
		next, err := NextReading(known, p, goal, noon)
		if err != nil || next == nil || next.Then >= next.Now || strings.Contains(next.Words, "bobbin 1") && !strings.Contains(next.Words, "of") {
			t.Errorf("goal %d: %+v, %v", goal, next, err)
		}
	}
	if got := SuspectOf(hand.Suspect{Reading: readingKey(42)}); got != 42 {
		t.Errorf("suspect %d, want 42", got)
	}
}

func TestBlendsRestByTheirParts(t *testing.T) {
	tests := map[string][]fibrePart{
		"wool":                     {{"wool", 1}},
		"70 % wool, 30 % silk":     {{"wool", 0.7}, {"silk", 0.3}},
		"wool 70%, kid mohair 30%": {{"wool", 0.7}, {"kid mohair", 0.3}},
		"100 % wool":               {{"100 % wool", 1}},
		"":                         {{"", 1}},
	}
	for text, want := range tests {
		if got := fibreParts(text); !slices.Equal(got, want) {
			t.Errorf("fibreParts(%q) = %v, want %v", text, got, want)
		}
	}
	record, _ := RecordOf([]journal.Project{woolProject(1, false)})
	b := woolProject(1, false).Bobbins[0]
	b.Lot = &journal.Lot{Fibre: "60 % wool, 40 % silk"}
	blend := restingOf(learnFrom(record), b)
	if len(blend) != curveDraws || len(blend[0]) != 2 || blend[0][1].Share != 0.4 {
		t.Errorf("blend of %d draws, the first %v", len(blend), blend[0])
	}
	if restingOf(learnFrom(hand.Record{}), b) != nil {
		t.Error("nothing read, yet curves are known")
	}
}

func TestAsleepIsSharperWithTheHand(t *testing.T) {
	p := woolProject(1, false)
	record, _ := RecordOf([]journal.Project{p})
	alone, err := Wake(p, hand.Record{})
	if err != nil {
		t.Fatal(err)
	}
	e := Asleep(p, record, p.Bobbins, noon)
	if e == nil || e.High-e.Low >= alone.Dormant.High-alone.Dormant.Low || e.Measured() {
		t.Errorf("by everything read %+v, by the samples %+v", e, alone.Dormant)
	}
	p.Bobbins[0].Lot = &journal.Lot{Fibre: "flax"}
	flax, _ := RecordOf([]journal.Project{p})
	if got := Asleep(p, flax, p.Bobbins[:1], noon); got != nil {
		t.Errorf("flax is outside the model, yet %+v", got)
	}
}
