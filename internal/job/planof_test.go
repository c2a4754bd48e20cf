package job_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"waketwist/finish"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/plan"
	"waketwist/unit"
	"waketwist/yarn"
)

// TestPlanOfProject begins a plan from two bobbins: what they hold, or in the
// middle of the spinning what is left.
func TestPlanOfProject(t *testing.T) {
	lot := journal.Lot{ID: 3, Preparation: finish.Worsted}
	wraps := 42 * unit.WrapPerInch
	bobbin := func(id journal.ID, grams float64) journal.Bobbin {
		tare := 60 * unit.Gram
		return journal.Bobbin{ID: id, Lot: &lot, Direction: yarn.Z, Wraps: &wraps, Weighings: []journal.Weighing{
			{Bobbin: id, What: journal.Spun, Mass: unit.Mass(grams)*unit.Gram + tare, Tare: &tare},
		}}
	}
	p := journal.Project{Plan: journal.Plan{Strands: 2}, Bobbins: []journal.Bobbin{bobbin(1, 92), bobbin(2, 88)}, Targets: []journal.Target{
		{Plan: journal.Plan{Strands: 2}, Line: yarn.StrandCentre, Angle: journal.Interval{Value: 25 * unit.Degree, Low: 22 * unit.Degree, High: 28 * unit.Degree}},
	}}
	want := plan.Text{
		"yarn.plies": "2", "yarn.preparation": "worsted", "yarn.direction": "S", "yarn.angle": "22.0 to 28.0 deg",
		"singles.diameter": "0.530 to 0.689 mm", "singles.bobbins": "92 g, 88 g",
	}
	if diff := cmp.Diff(want, job.PlanOf(p, []journal.Lot{lot})); diff != "" {
		t.Error(diff)
	}
	lot.Weighings = []journal.Weighing{
		{Lot: 3, What: journal.Prepared, Mass: 320 * unit.Gram}, {Lot: 3, What: journal.Sampled, Mass: 20 * unit.Gram}, {Lot: 3, What: journal.Left, Mass: 110 * unit.Gram},
	}
	delete(want, "singles.bobbins")
	want["weighed.prepared"], want["weighed.left"], want["weighed.spun"] = "300 g", "110 g", "180 g"
	got := job.PlanOf(p, []journal.Lot{lot})
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if _, problems := plan.Read(got); len(problems) > 0 {
		t.Errorf("the plan that is begun cannot be read: %v", problems)
	}
}

// TestMidway takes the weighings of a project into its plan: 180 g of singles from
// 190 g of fibre, and 110 g left for the other half.
func TestMidway(t *testing.T) {
	lot := journal.Lot{ID: 3, Weighings: []journal.Weighing{{Lot: 3, What: journal.Prepared, Mass: 300 * unit.Gram}, {Lot: 3, What: journal.Left, Mass: 110 * unit.Gram}}}
	bobbin := func(id journal.ID) journal.Bobbin {
		length := 600 * unit.Metre
		return journal.Bobbin{ID: id, Lot: &lot, Stretches: []journal.Stretch{{Length: &length}}, Weighings: []journal.Weighing{{Bobbin: id, What: journal.Spun, Mass: 90 * unit.Gram}}}
	}
	p := journal.Project{ID: 9, Bobbins: []journal.Bobbin{bobbin(1), bobbin(2)}}
	lots := []journal.Lot{lot}
	m := job.MidwayOf(9, []journal.Project{p}, lots)
	if m == nil || m.Prepared != 300*unit.Gram || *m.Left != 110*unit.Gram || m.Spun != 180*unit.Gram || m.Length != 1200*unit.Metre || !m.Told {
		t.Fatalf("weighed: %+v", m)
	}
	outlook := func(text plan.Text) *plan.Outlook {
		w, _ := plan.Read(text)
		if err := (job.Known{Midway: m}).Tell(&w); err != nil {
			t.Fatal(err)
		}
		r, err := plan.Solve(w)
		if err != nil {
			t.Fatal(err)
		}
		o, err := r.Outlook()
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	text := plan.Text{"yarn.length": "1000 m", "yarn.grist": "300 tex", "yarn.wash-loss": "0%"}
	if o := outlook(text); o == nil || !o.Told || o.Have != 110*unit.Gram || !(o.Needed.Value > 110*unit.Gram && o.Needed.Value < 150*unit.Gram) {
		t.Errorf("outlook: %+v", o)
	}
	if o := outlook(plan.Text{"singles.bobbins": "60 g, 60 g"}); o != nil {
		t.Errorf("without a size: %+v", o)
	}
	text["weighed.prepared"], text["weighed.left"], text["weighed.spun"] = "300 g", "150 g", "140 g"
	if o := outlook(text); o == nil || o.Told || o.Have != 150*unit.Gram {
		t.Errorf("what the wish says does not stand: %+v", o)
	}
	other := journal.Project{ID: 10, Bobbins: []journal.Bobbin{bobbin(3)}}
	plying := p
	plying.Runs = []journal.Run{{}}
	for name, projects := range map[string][]journal.Project{"another project spins of it": {p, other}, "plying": {plying}, "no project": nil} {
		if m := job.MidwayOf(9, projects, lots); m != nil {
			t.Errorf("%s: %+v", name, m)
		}
	}
}
