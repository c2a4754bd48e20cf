package plan

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
)

// TestThereAndBack gives the fibre that a plan asks for, and gets the cloth that
// was wished, for any cloth with fixed values.
func TestThereAndBack(t *testing.T) {
	base := shawl(t)
	rapid.Check(t, func(t *rapid.T) {
		w, order := base, base.Woven.Order
		loss := rapid.Float64Range(0, 0.5)
		order.Length = unit.Length(rapid.Float64Range(0.1, 20).Draw(t, "length"))
		order.Width = unit.Length(rapid.Float64Range(0.1, 3).Draw(t, "width"))
		order.WashLength = fixedLoss(cloth.Loss(loss.Draw(t, "wash")))
		w.Fibre.Scouring = fixedLoss(cloth.Loss(loss.Draw(t, "scouring")))
		w.Yarn.Wash = fixedLoss(cloth.Loss(loss.Draw(t, "yarn wash")))
		w.Woven = &Woven{Weave: base.Woven.Weave, Order: order}
		first, err := solve(w, 2)
		if err != nil {
			t.Fatal(err)
		}
		w.Fibre.InHand = first.Fibre.Value
		again, err := solve(w, 2)
		if err != nil {
			t.Fatal(err)
		}
		if off := again.Made.Cloth.Value/order.Length - 1; off > 1e-6 || off < -1e-6 {
			t.Errorf("the fibre makes %s of cloth, and %s were wished", again.Made.Cloth.Value, order.Length)
		}
		if again.Made.Enough < 0.99 {
			t.Errorf("just enough fibre is said to suffice with %v", again.Made.Enough)
		}
	})
}

// TestMoreFibreIsSafer finds the chance rising with what is in hand, and the
// interval of the fibre widening with that of a loss.
func TestMoreFibreIsSafer(t *testing.T) {
	w := shawl(t)
	w.Fibre.Spinning = cloth.LossBetween(0.02, 0.2)
	wide := mustSolve(t, w)
	last := -1.0
	for _, share := range []unit.Mass{0.9, 0.97, 1, 1.03, 1.4} {
		w.Fibre.InHand = wide.Fibre.Value * share
		if enough := mustSolve(t, w).Made.Enough; enough < last {
			t.Errorf("with %v of the fibre it suffices with %v, with less with %v", share, enough, last)
		} else {
			last = enough
		}
	}
	near(t, "chance with much", last, 1, 0.05)
	w.Fibre.Spinning = cloth.LossBetween(0.08, 0.14)
	narrow := mustSolve(t, w)
	if a, b := narrow.Fibre.High-narrow.Fibre.Low, wide.Fibre.High-wide.Fibre.Low; a >= b {
		t.Errorf("the narrower loss gives an interval of %s, the wider one of %s", a, b)
	}
}

// TestRangeIsKept finds a range that stands alone in the total as it was given,
// however wide.
func TestRangeIsKept(t *testing.T) {
	w := shawl(t)
	w.Yarn.Grist = estimate.Estimate[unit.LinearDensity]{Value: 300 * unit.Tex, Low: 100 * unit.Tex, High: 900 * unit.Tex}
	r := mustSolve(t, w)
	near(t, "low", float64(r.Mass.Low/unit.LinearDensity(100*unit.Tex).MassOf(r.Yarn.Value)), 1, 0.01)
	near(t, "high", float64(r.Mass.High/unit.LinearDensity(900*unit.Tex).MassOf(r.Yarn.Value)), 1, 0.01)
}

// TestBlame names the one assumption that is wide, and shares of two that go with
// their squared spreads.
func TestBlame(t *testing.T) {
	w := shawl(t)
	w.Fibre.Spinning, w.Fibre.Scouring = cloth.LossBetween(0.08, 0.12), cloth.LossBetween(0.2, 0.4)
	r := mustSolve(t, w)
	if len(r.FibreBlame) == 0 || r.FibreBlame[0].Name != "loss in scouring" {
		t.Fatalf("blamed: %v", r.FibreBlame)
	}
	near(t, "share of scouring", r.FibreBlame[0].Share, 0.976, 0.02)
	if len(r.YarnBlame) != 0 {
		t.Errorf("the yarn hangs on no fibre, and blames %v", r.YarnBlame)
	}
}

// TestLeftoversKeepMass loses no fibre.
func TestLeftoversKeepMass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		grams := rapid.SliceOfN(rapid.Float64Range(0.1, 500), 2, 7).Draw(t, "bobbins")
		bobbins, sum := make([]unit.Mass, len(grams)), unit.Mass(0)
		for i, g := range grams {
			bobbins[i] = unit.Mass(g) * unit.Gram
			sum += bobbins[i]
		}
		out, err := Leftovers(bobbins)
		if err != nil {
			t.Fatal(err)
		}
		kept := out.Used
		for _, m := range out.Left {
			kept += m
		}
		if off := float64(kept/sum) - 1; off > 1e-9 || off < -1e-9 {
			t.Errorf("%s became %s", sum, kept)
		}
	})
}

// TestConflicts names wishes that contradict each other.
func TestConflicts(t *testing.T) {
	tests := []struct {
		name   string
		change func(*Wish)
		says   string
	}{
		{"fibre", func(w *Wish) { w.Fibre.InHand = 300 * unit.Gram }, "fibre in hand"},
		{"sett", func(w *Wish) { w.Woven.Order.Ends = cloth.PerInch[cloth.OnLoom](30) }, "sett and the weave"},
		{"steep", func(w *Wish) { w.Yarn.Angle = cloth.Exactly(40 * unit.Degree) }, "lose their strength"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := shawl(t)
			tt.change(&w)
			r := mustSolve(t, w)
			if len(r.Conflicts) != 1 || !strings.Contains(r.Conflicts[0].Problem, tt.says) || !strings.HasPrefix(r.Conflicts[0].Drop, "Drop ") {
				t.Errorf("conflicts: %v", r.Conflicts)
			}
		})
	}
}

// TestRefused says what leaves no plan.
func TestRefused(t *testing.T) {
	tests := []struct {
		name   string
		change func(*Wish)
		says   string
	}{
		{"nothing wanted", func(w *Wish) { w.Woven = nil }, "0 are given"},
		{"two wanted", func(w *Wish) { w.Length = 1 }, "2 are given"},
		{"no size", func(w *Wish) { w.Woven.Order.Width = 0 }, "no width"},
		{"all lost", func(w *Wish) { w.Woven.Order.WashWidth = fixedLoss(1) }, "100 %"},
		{"backwards", func(w *Wish) { w.Fibre.Spinning = estimate.Estimate[cloth.Loss]{Value: 0.1, Low: 0.2, High: 0.1} }, "backwards"},
		{"few shafts", func(w *Wish) { w.Woven.Weave, w.Woven.Shafts = weave(t, "2/2 twill"), 2 }, "2 are there"},
		{"too steep", func(w *Wish) { w.Yarn.Angle = cloth.Exactly(50 * unit.Degree) }, "rests in balance below 44"},
		{"plies", func(w *Wish) { w.Yarn.Plies = 8 }, "8 plies"},
		{"long draw", func(w *Wish) { w.Wheel = &Wheel{Draw: unit.Kilometre} }, "is not one"},
		{"backwards grist", func(w *Wish) { w.Yarn.Grist.Low *= 2 }, "lacks the weight"},
		{"no grist", func(w *Wish) { w.Yarn.Grist = cloth.Exactly[unit.LinearDensity](0) }, "lacks the weight"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := shawl(t)
			tt.change(&w)
			_, err := Solve(w)
			if err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("error %v, want one with %q", err, tt.says)
			}
		})
	}
}

func BenchmarkPlan(b *testing.B) {
	w := shawl(b)
	w.Fibre = Fibre{Spinning: SpinningLoss(), Sampling: SamplingLoss(), Scouring: cloth.LossBetween(0.3, 0.5), InHand: unit.Kilogram}
	w.Woven.Order.WashWidth, w.Woven.Order.DrawIn = cloth.WashingLoss(), cloth.WeavingLoss()
	w.Yarn.Angle, w.Yarn.TakeUp, w.Yarn.Plies = UsualAngle(), nil, 3
	for b.Loop() {
		if _, err := solve(w, 5000); err != nil {
			b.Fatal(err)
		}
	}
}
