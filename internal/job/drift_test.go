package job

import (
	"strings"
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/internal/journal"
)

func runOf(degrees ...float64) journal.Run {
	run := journal.Run{Plan: journal.Plan{Strands: 2}, Started: noon}
	for i, d := range degrees {
		s := checkSample(estimate.Rested, d, d)
		s.Recorded = noon.Add(time.Duration(i) * 20 * time.Minute)
		run.Checks = append(run.Checks, s)
	}
	return run
}

func TestDrift(t *testing.T) {
	tests := []struct {
		name    string
		degrees []float64
		says    string
	}{
		{"too few", []float64{20, 30, 40}, ""},
		{"steady", []float64{28, 27, 29, 28, 28}, "No drift"},
		{"steeper", []float64{22, 25, 27, 30, 33, 36}, "steeper"},
		{"softer", []float64{36, 33, 31, 28, 25, 22}, "softer"},
		{"wild", []float64{20, 35, 22, 33}, "No drift"},
	}
	for _, tt := range tests {
		got := Drift(runOf(tt.degrees...))
		if tt.says == "" && got != "" || !strings.Contains(got, tt.says) {
			t.Errorf("%s: %q", tt.name, got)
		}
	}
	at := runOf(20, 25, 30, 35, 40)
	for i := range at.Checks {
		at.Checks[i].Recorded = noon
	}
	if got := Drift(at); got != "" {
		t.Errorf("all at one moment: %q", got)
	}
}
