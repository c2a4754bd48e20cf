package plan

import (
	"math"
	"testing"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/wheel"
	"waketwist/yarn"
)

func near(t *testing.T, what string, got, want, off float64) {
	t.Helper()
	if !(math.Abs(got-want) <= off) {
		t.Errorf("%s = %.6g, want %.6g, give or take %.3g", what, got, want, off)
	}
}

func weave(t testing.TB, name string) cloth.Weave {
	t.Helper()
	w, err := cloth.Named(name)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func mustSolve(t *testing.T, w Wish) *Result {
	t.Helper()
	r, err := Solve(w)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func fixedLoss(l cloth.Loss) estimate.Estimate[cloth.Loss] { return cloth.Exactly(l) }

// shawl is a plain shawl with every range fixed.
func shawl(t testing.TB) Wish {
	takeUp := fixedLoss(0.05)
	return Wish{
		Woven: &Woven{Weave: weave(t, "plain"), Order: cloth.Order{
			Width: 20 * unit.Inch, Length: 72 * unit.Inch, DrawIn: fixedLoss(0.06), TakeUp: fixedLoss(0.10), WashWidth: fixedLoss(0.12), WashLength: fixedLoss(0.12),
			Waste: cloth.Exactly(24 * unit.Inch), Ends: cloth.PerInch[cloth.OnLoom](12), Picks: cloth.Exactly(cloth.PerInch[cloth.OffLoom](12)),
			WeftCrimp: cloth.WeftCrimp, Spare: cloth.Spare,
		}},
		Yarn: Yarn{
			Grist: cloth.Exactly(unit.FromYardsPerPound(1600)), Plies: 2, Wash: fixedLoss(0.10), TakeUp: &takeUp,
			Angle: cloth.Exactly(25 * unit.Degree), Direction: yarn.S,
		},
		Fibre: Fibre{Spinning: fixedLoss(0.10)},
	}
}

// TestShawl holds a shawl's chain to hand arithmetic. 505 g of yarn at a loss of
// 10 % are 561 g of fibre.
func TestShawl(t *testing.T) {
	r := mustSolve(t, shawl(t))
	near(t, "reed width, in", r.Reed.Value.Inches(), 24.18, 0.005)
	near(t, "ends", float64(r.Cloth.Ends), 290, 0)
	near(t, "picks", float64(r.Cloth.Picks), 982, 0)
	near(t, "warp length, in", r.End.Value.Inches(), 114.91, 0.005)
	near(t, "warp, yd", r.Warp.Value.Yards(), 925.7, 0.1)
	near(t, "weft, yd", r.Weft.Value.Yards(), 692.4, 0.1)
	near(t, "yarn, yd", r.Yarn.Value.Yards(), 1780, 0.5)
	near(t, "mass, g", r.Mass.Value.Grams(), 505, 0.5)
	near(t, "fibre, g", r.Fibre.Value.Grams(), 561, 0.5)
	near(t, "before its wash, yd", r.AtWheel.Value.Yards(), 1978, 0.5)
	near(t, "singles, yd", r.Singles.Value.Yards(), 4163, 3)
	near(t, "spread of the fibre", float64(r.Fibre.High-r.Fibre.Low), 0, 1e-9)
	if len(r.FibreBlame) != 0 {
		t.Errorf("fixed values are blamed: %v", r.FibreBlame)
	}
	if len(r.Conflicts) != 0 {
		t.Errorf("conflicts: %v", r.Conflicts)
	}
}

// TestFleece holds 400 g of yarn from raw fleece: scouring leaves 1.7 of 3.0 lb,
// combing 673 g of that, spinning 97 %.
func TestFleece(t *testing.T) {
	scoured := 1.7 * unit.Pound
	w := Wish{
		Length: 4000 * unit.Metre,
		Yarn:   Yarn{Grist: cloth.Exactly(unit.FromMetresPer100g(1000)), Plies: 1, Angle: cloth.Exactly(25 * unit.Degree)},
		Fibre:  Fibre{Scouring: fixedLoss(1 - 1.7/3.0), Preparing: fixedLoss(cloth.Loss(1 - 673*unit.Gram/scoured)), Spinning: fixedLoss(0.03)},
	}
	near(t, "raw, g", mustSolve(t, w).Fibre.Value.Grams(), 834, 0.5)
}

// TestLeftovers holds three bobbins plied straight.
func TestLeftovers(t *testing.T) {
	got, err := Leftovers([]unit.Mass{60 * unit.Gram, 55 * unit.Gram, 49 * unit.Gram})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "used", got.Used.Grams(), 147, 1e-9)
	for i, want := range []float64{11, 6, 0} {
		near(t, "left", got.Left[i].Grams(), want, 1e-9)
	}
	near(t, "even", got.Even.Grams(), 54.67, 0.005)
	for n, want := range map[int]float64{2: 0.667, 3: 0.75, 4: 0.80} {
		near(t, "rule of thumb", Thumb(n), want, 0.0005)
	}
}

// TestTreadles holds the wheel's part: turns times draw over ratio where nothing
// slips, and the rule of thumb beside the balance.
func TestTreadles(t *testing.T) {
	w := shawl(t)
	w.Wheel = &Wheel{Treadled: wheel.Treadled{Kind: wheel.FlyerLed, Whorl: wheel.Whorl{Stated: 8}, Slip: wheel.Slip{Low: 0.999999, High: 1}}, Draw: 24 * unit.Inch}
	r := mustSolve(t, w)
	near(t, "treadles, singles", float64(r.Treadles.Value), r.Twist.Value.PerInch()*24/8, 0.1)
	near(t, "treadles, ply", float64(r.PlyTreadles.Value), r.PlyTwist.Value.PerInch()*24/8, 0.1)
	near(t, "rule of thumb", float64(r.ThumbTwist/r.PlyTwist.Value), 1.5, 1e-9)
}

// TestSinglesBalance plies the singles that a plan asks for, and finds them at
// rest at the angle that was wished.
func TestSinglesBalance(t *testing.T) {
	for n := 2; n <= 5; n++ {
		for _, degrees := range []float64{12, 20, 28} {
			for _, k := range []yarn.Stiffness{0.3, 0.7, 1.5} {
				b := yarn.CentreAngle(unit.Angle(degrees) * unit.Degree)
				a, _, err := singlesOf(n, k, b)
				if err != nil {
					t.Fatal(err)
				}
				near(t, "angle at rest", yarn.Balanced(n, k, yarn.SurfaceAngle(a).Living()).Degrees(), degrees, 0.01)
			}
		}
	}
}

// TestSwatch scales a swatch: 2.5 g in 100 cm2 are 150 g in 6000 cm2.
func TestSwatch(t *testing.T) {
	w := shawl(t)
	w.Woven, w.Knitted = nil, &Knitted{
		Width: 100 * unit.Centimetre, Length: 60 * unit.Centimetre, SwatchWidth: 10 * unit.Centimetre, SwatchLength: 10 * unit.Centimetre,
		SwatchMass: cloth.Exactly(2.5 * unit.Gram), Spare: 0.1,
	}
	near(t, "mass, g", mustSolve(t, w).Mass.Value.Grams(), 165, 1e-6)
}
