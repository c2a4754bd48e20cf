package job_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waketwist/internal/job"
	"waketwist/plan"
)

// TestPlanTextComesBack writes a plan and reads it again, a drawn weave too.
func TestPlanTextComesBack(t *testing.T) {
	want := plan.Text{"cloth.width": "18 in", "cloth.weave": "X.\n.X", "yarn.grist": "1500 to 1700 yd/lb", "singles.bobbins": "92 g, 88 g", "weighed.done": "40%"}
	written, err := job.WritePlan(want)
	if err != nil {
		t.Fatal(err)
	}
	got, err := job.ReadPlan(bytes.NewReader(written))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestReadPlan(t *testing.T) {
	got, err := job.ReadPlan(strings.NewReader("[cloth]\nsett = 12\n[singles]\nbobbins = [\"92 g\", \"88 g\"]\n"))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(plan.Text{"cloth.sett": "12", "singles.bobbins": "92 g, 88 g"}, got); diff != "" {
		t.Error(diff)
	}
	for text, says := range map[string]string{
		"cushion, please":            "line 1 of the plan cannot be read",
		"width = \"5 cm\"":           "stands under no heading",
		"[yarn]\ngrist = true":       "in quotes",
		"[yarn]\n[yarn.more]\na=1":   "in quotes",
		strings.Repeat("#", 1<<20+1): "too long",
	} {
		if _, err := job.ReadPlan(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("error %v, want %q", err, says)
		}
	}
}
