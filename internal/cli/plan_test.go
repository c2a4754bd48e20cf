package cli

import (
	"errors"
	"strings"
	"testing"

	"waketwist/plan"
)

// FuzzPlan gives the command any text for a plan: what it cannot use it refuses
// in words, and what it uses it prints.
func FuzzPlan(f *testing.F) {
	f.Add("[yarn]\ngrist = \"1600 yd/lb\"\nlength = \"500 m\"\nplies = 7\nangle = \"2 to 40 deg\"\n[fibre]\nscouring = \"30-90%\"\nin-hand = \"1 g\"")
	f.Add("[cloth]\nwidth = \"20 in\"\nlength = \"72 in\"\nsett = 12\nweave = \"2/2-twill\"\n[yarn]\ngrist = \"90 to 100 tex\"\n[work]\nratio = \"8:1\"\ndraw = \"24 in\"\nbobbin = \"1 g\"")
	f.Add("[knit]\nwidth = \"1 m\"\nlength = \"1 m\"\nswatch = \"1 cm, 1 cm\"\nswatch-mass = \"1 to 9 g\"\n[yarn]\ngrist = \"1 ktex\"\nplies = 1")
	f.Fuzz(func(t *testing.T, text string) {
		file, err := decodePlan(strings.NewReader(text))
		var usage *usageError
		if err != nil {
			if !errors.As(err, &usage) {
				t.Errorf("%v is not an error of what was typed", err)
			}
			return
		}
		wish, err := wishOf(file)
		if err != nil {
			if !errors.As(err, &usage) {
				t.Errorf("%v is not an error of what was typed", err)
			}
			return
		}
		r, err := plan.Solve(wish)
		if err != nil {
			return
		}
		var out strings.Builder
		if err := errors.Join(planProse(&out, r, nil, nil), writeJSON(&out, planJSON(r, nil, nil))); err != nil {
			t.Error(err)
		}
		if strings.Contains(out.String(), "NaN") || strings.Contains(out.String(), "Inf") {
			t.Errorf("no number is printed:\n%s", out.String())
		}
	})
}
