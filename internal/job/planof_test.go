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
