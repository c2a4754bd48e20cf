package rest

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waketwist/finish"
	"waketwist/unit"
	"waketwist/yarn"
)

func TestNoKnowledgeIsThePrior(t *testing.T) {
	prior := Prior(finish.Woollen)
	plain := mustWake(t, pair(eye(20, 21), eye(38, 39)), Plan{Strands: 3, Preparation: finish.Woollen})
	stated := mustWake(t, pair(eye(20, 21), eye(38, 39)), Plan{Strands: 3, Preparation: finish.Woollen, Known: &prior})
	if diff := cmp.Diff(plain.Target, stated.Target); diff != "" {
		t.Errorf("target (-without +with the prior stated)\n%s", diff)
	}
	if diff := cmp.Diff(plain.Dormant, stated.Dormant); diff != "" {
		t.Errorf("dormant share (-without +with the prior stated)\n%s", diff)
	}
}

// Each thing learnt must reach the answer that rests on it.
func TestKnowledgeSharpens(t *testing.T) {
	tests := []struct {
		name  string
		learn func(*Knowledge)
		width func(*Answer) float64
	}{
		{"stiffness", func(k *Knowledge) { k.Stiffness.Sigma = 0.2 }, func(a *Answer) float64 { return float64(a.Dormant.High - a.Dormant.Low) }},
		{"eye", func(k *Knowledge) { k.EyeSD = 2 * unit.Degree }, func(a *Answer) float64 { return float64(a.Target.High - a.Target.Low) }},
		{"places", func(k *Knowledge) { k.PlaceCV = 0.08 }, func(a *Answer) float64 { return float64(a.Target.High - a.Target.Low) }},
		{"border", func(k *Knowledge) { k.Border.Sigma = 0.05 }, func(a *Answer) float64 { return float64(a.Centre.High - a.Centre.Low) }},
		{"damp", func(k *Knowledge) { k.Wash.Damp = finish.Range{Low: 0.93, High: 0.94} }, func(a *Answer) float64 { return float64(a.Washed.High - a.Washed.Low) }},
		{"wash", func(k *Knowledge) {
			k.Wash.Length, k.Wash.Diameter = finish.Range{Low: 0.86, High: 0.87}, finish.Range{Low: 1.1, High: 1.11}
		}, func(a *Answer) float64 { return float64(a.WheelLook.High - a.WheelLook.Low) }},
	}
	before := mustWake(t, pair(eye(20, 21), eye(36, 37)), Plan{Strands: 2})
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			k := Prior(finish.Unknown)
			tt.learn(&k)
			after := mustWake(t, pair(eye(20, 21), eye(36, 37)), Plan{Strands: 2, Known: &k})
			if tt.width(after) >= tt.width(before) {
				t.Errorf("width %.4f, without the knowledge %.4f", tt.width(after), tt.width(before))
			}
			if after.Target.Measured() != before.Target.Measured() || after.Dormant.Measured() || after.WheelLook.Measured() {
				t.Error("knowledge must not turn what is modelled into a measurement")
			}
		})
	}
}

// An eye that sees two-plies steeper than others sees three-plies so too.
func TestEyeSeesAllPliesAlike(t *testing.T) {
	k := Prior(finish.Unknown)
	two, sigma := yarn.BorderRatio(2)
	k.Border.Median = two * math.Exp(sigma)
	three, sigma3 := yarn.BorderRatio(3)
	if got, want := hold(k).borderRatio(3, 0), three*math.Exp(sigma3); math.Abs(got-want) > 1e-12 {
		t.Errorf("border ratio of a three-ply %v, want %v", got, want)
	}
}

func TestSenselessKnowledgeIsRefused(t *testing.T) {
	for name, spoil := range map[string]func(*Knowledge){
		"stiffness of none": func(k *Knowledge) { k.Stiffness.Median = 0 },
		"no number":         func(k *Knowledge) { k.EyeSD = unit.Angle(math.NaN()) },
		"range upside down": func(k *Knowledge) { k.Wash.Damp = finish.Range{Low: 2, High: 1} },
		"endless border":    func(k *Knowledge) { k.Border.Sigma = math.Inf(1) },
		"residue":           func(k *Knowledge) { k.SoakResidue = -1 },
	} {
		k := Prior(finish.Unknown)
		spoil(&k)
		if _, err := Wake(pair(eye(20), eye(38)), Plan{Strands: 2, Known: &k}); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func TestAnyCheckedKnowledgeGivesFiniteAnswers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		factor := func(name string) finish.Range {
			low := rapid.Float64Range(0.2, 3).Draw(t, name)
			return finish.Range{Low: low, High: low * rapid.Float64Range(1, 2).Draw(t, name+" width")}
		}
		k := Knowledge{
			Stiffness:    Spread{rapid.Float64Range(0.01, 50).Draw(t, "k"), rapid.Float64Range(0, 3).Draw(t, "sigma of k")},
			Singles:      SinglesReading{yarn.SurfaceAngle(rapid.Float64Range(0.1, 1).Draw(t, "singles")), unit.Angle(rapid.Float64Range(0.01, 0.5).Draw(t, "sd"))},
			PlaceCV:      Share(rapid.Float64Range(0, 1).Draw(t, "cv")),
			EyeSD:        unit.Angle(rapid.Float64Range(0.001, 0.5).Draw(t, "eye")),
			PhotographSD: unit.Angle(rapid.Float64Range(0.001, 0.5).Draw(t, "photo")),
			Border:       Spread{rapid.Float64Range(0.3, 3).Draw(t, "border"), rapid.Float64Range(0, 1).Draw(t, "sigma of border")},
			SoakResidue:  Share(rapid.Float64Range(0, 1).Draw(t, "residue")),
			Wash:         finish.Wash{Length: factor("L"), Diameter: factor("D"), Damp: factor("W")},
		}
		a, err := Wake(pair(eye(20), eye(37)), Plan{Strands: rapid.IntRange(2, 4).Draw(t, "strands"), Known: &k})
		if err != nil {
			return
		}
		for _, v := range []float64{float64(a.Target.SD), float64(a.Washed.Value), float64(a.WheelLook.High), float64(a.Dormant.Value)} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("an answer is %v with %+v", v, k)
			}
		}
	})
}
