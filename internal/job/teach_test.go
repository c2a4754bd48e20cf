package job_test

import (
	"testing"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/plan"
	"waketwist/unit"
	"waketwist/wheel"
)

// TestTeach takes what was learnt in place of common practice, and what is wished
// in place of what was learnt.
func TestTeach(t *testing.T) {
	learnt := job.Losses{Spinning: job.Learnt[cloth.Loss]{Estimate: cloth.LossBetween(0.06, 0.08), Readings: 4}}
	w, problems := plan.Read(plan.Text{"yarn.length": "400 m", "yarn.grist": "300 tex", "fibre.sampling": "0%"})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	open := w
	job.Teach(&open, learnt)
	r, err := plan.Solve(open)
	if err != nil {
		t.Fatal(err)
	}
	if s := plan.SourceOf(r, plan.Spinning); s != plan.Learnt {
		t.Errorf("the waste in spinning is %v", s)
	}
	if fibre := plan.Of(r, plan.Fibre).Value.Grams(); fibre < 120/0.94 || fibre > 120/0.92 {
		t.Errorf("120 g of yarn take %.1f g of fibre", fibre)
	}
	fixed := w
	plan.Give(&fixed, plan.Spinning, cloth.Exactly(cloth.Loss(0.2)))
	job.Teach(&fixed, learnt)
	if r, err = plan.Solve(fixed); err != nil || plan.SourceOf(r, plan.Spinning) != plan.Wished {
		t.Errorf("a wished waste is %v, %v", plan.SourceOf(r, plan.Spinning), err)
	}
	learnt.Demo = true
	shown := w
	job.Teach(&shown, learnt)
	if r, err = plan.Solve(shown); err != nil || plan.SourceOf(r, plan.Spinning) != plan.Assumed {
		t.Errorf("the demonstration teaches: %v, %v", plan.SourceOf(r, plan.Spinning), err)
	}
}

// TestFillWheel sets a plan's treadles by a machine of the journal, of whose
// whorls the nearest is chosen.
func TestFillWheel(t *testing.T) {
	machines := []journal.Machine{
		{Name: "Alder", Kind: wheel.FlyerLed, Whorls: []journal.Whorl{
			{ID: 1, Name: "slow", Counts: []journal.Count{{Turns: 60, Treadles: 10}}},
			{ID: 2, Name: "fast", Counts: []journal.Count{{Turns: 120, Treadles: 10}}},
			{ID: 3, Name: "broken", Counts: []journal.Count{{Turns: 90, Treadles: 10}}, Struck: "split"},
		}},
		{Name: "Hum", Kind: wheel.MotorDriven},
	}
	text := plan.Text{"yarn.length": "400 m", "yarn.grist": "300 tex", "work.machine": "ald", "work.draw": "24 in"}
	solve := func(text plan.Text) (*plan.Result, error) {
		w, problems := plan.Read(text)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		if err := job.FillWheel(&w, machines); err != nil {
			return nil, err
		}
		return plan.Solve(w)
	}
	r, err := solve(text)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Settings) != 2 || !r.Settings[0].Chosen || r.Settings[0].Whorl == "" {
		t.Errorf("settings %+v", r.Settings)
	}
	for _, name := range []string{"Hum", "Elm", "x"} {
		text["work.machine"] = name
		if _, err := solve(text); journal.CodeOf(err) != journal.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestAgainstStash finds fibre and yarn that would do, the surest first.
func TestAgainstStash(t *testing.T) {
	w, _ := plan.Read(plan.Text{"yarn.length": "400 m", "yarn.grist": "300 tex", "fibre.spinning": "10%", "fibre.sampling": "0%"})
	r, err := plan.Solve(w)
	if err != nil {
		t.Fatal(err)
	}
	grams := func(n float64) estimate.Estimate[unit.Mass] { return cloth.Exactly(unit.Mass(n) * unit.Gram) }
	skein := 121 * unit.Gram
	got := job.AgainstStash(r, job.Stash{
		Lots: []job.LotStock{
			{Lot: journal.Lot{Name: "little"}, Left: []job.Stock{{What: journal.Prepared, Mass: grams(100)}}},
			{Lot: journal.Lot{Name: "enough"}, Left: []job.Stock{{What: journal.Prepared, Mass: grams(140)}}},
			{Lot: journal.Lot{Name: "used up"}, Left: []job.Stock{{What: journal.Bought, Mass: estimate.Estimate[unit.Mass]{High: unit.Gram}}}},
			{Lot: journal.Lot{Name: "clean, and short once carded"}, Left: []job.Stock{{What: journal.Scoured, Mass: grams(135)}}},
			{Lot: journal.Lot{Name: "shown"}, Left: []job.Stock{{What: journal.Prepared, Mass: grams(900)}}, Demo: true},
		},
		Skeins: []job.SkeinStock{{Skein: journal.Skein{Name: "grey"}, Mass: &skein}},
	})
	var names []string
	for _, a := range got {
		names = append(names, a.Name)
	}
	if len(got) != 4 || got[2].Name != "little" || got[2].Enough != 0 || got[3].Enough != 0 || got[0].Enough < 0.999 || got[1].Enough < 0.999 {
		t.Errorf("against the stash: %v", names)
	}
}

// Of two machines of one name neither is taken; a whole name goes before a part.
func TestNamed(t *testing.T) {
	machines := []journal.Machine{{ID: 1, Name: "Oak"}, {ID: 2, Name: "Oak traveller"}, {ID: 3, Name: "Ash"}, {ID: 4, Name: "ash"}, {ID: 5, Name: "Elm", Struck: "sold"}}
	for wanted, want := range map[string]journal.ID{"oak": 1, "trav": 2, "3": 3, "ash": 0, "elm": 0, "o": 0} {
		m, err := job.Named(machines, wanted, "machine", job.MachineLabel)
		if (err == nil) != (want != 0) || m != nil && m.ID != want {
			t.Errorf("%q: %v, %v, want %d", wanted, m, err, want)
		}
	}
}
