package plan

import (
	"math"
	"testing"

	"waketwist/cloth"
	"waketwist/unit"
	"waketwist/yarn"
)

func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.6g, want %.6g within %.2g", what, got, want, within)
	}
}

// solved reads and solves a text.
func solved(t testing.TB, text Text) *Result {
	t.Helper()
	w, problems := Read(text)
	for key, err := range problems {
		t.Fatalf("%s: %v", key, err)
	}
	r, err := Solve(w)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// with is a text with some values changed; an empty one takes a value out.
func (t Text) with(changes ...string) Text {
	out := Text{}
	for key, value := range t {
		out[key] = value
	}
	for i := 0; i < len(changes); i += 2 {
		out[changes[i]] = changes[i+1]
	}
	return out
}

// shawl is a plain shawl with every range fixed.
var shawl = Text{
	"cloth.width": "20 in", "cloth.length": "72 in", "cloth.sett": "12/in", "cloth.picks": "12/in", "cloth.weave": "plain",
	"cloth.draw-in": "6%", "cloth.take-up": "10%", "cloth.shrink": "12%", "cloth.waste": "24 in",
	"yarn.grist": "1600 yd/lb", "yarn.plies": "2", "yarn.wash-loss": "10%", "yarn.ply-take-up": "5%", "yarn.angle": "25 deg", "yarn.direction": "S",
	"fibre.spinning": "10%", "fibre.sampling": "0%",
}

// TestShawl holds a shawl's chain to hand arithmetic: each loss divided out.
// 505 g of yarn at a loss of 10 % are 561 g of fibre.
func TestShawl(t *testing.T) {
	r := solved(t, shawl)
	near(t, "width off the loom, in", Of(r, WidthOff).Value.Inches(), 22.73, 0.005)
	near(t, "reed width, in", Of(r, ReedWidth).Value.Inches(), 24.18, 0.005)
	near(t, "ends", float64(Of(r, EndCount).Value), 290, 0)
	near(t, "picks", float64(Of(r, PickCount).Value), 982, 0)
	near(t, "woven off the loom, in", Of(r, LengthOff).Value.Inches(), 81.82, 0.005)
	near(t, "woven on the loom, in", Of(r, LengthOn).Value.Inches(), 90.91, 0.005)
	near(t, "warp length, in", Of(r, WarpLength).Value.Inches(), 114.91, 0.005)
	near(t, "warp, yd", Of(r, Warp).Value.Yards(), 925.7, 0.1)
	near(t, "weft, yd", Of(r, Weft).Value.Yards(), 692.4, 0.1)
	near(t, "yarn, yd", Of(r, YarnLength).Value.Yards(), 1780, 0.5)
	near(t, "mass, g", Of(r, YarnMass).Value.Grams(), 505, 0.5)
	near(t, "fibre, g", Of(r, Fibre).Value.Grams(), 561, 0.5)
	near(t, "before its wash, yd", Of(r, AtWheel).Value.Yards(), 1978, 0.5)
	near(t, "singles, yd", Of(r, SinglesLength).Value.Yards(), 4163, 3)
	near(t, "spread of the fibre", float64(Of(r, Fibre).High-Of(r, Fibre).Low), 0, 1e-9)
	if len(r.Width) != 1 || r.Width[0].Total != "turns of the singles" || len(r.Conflicts) != 0 {
		t.Errorf("fixed values are blamed: %v, or contradict each other: %v", r.Width, r.Conflicts)
	}
}

// TestFleece holds 400 g of yarn from raw fleece: scouring leaves 1.7 of 3.0 lb,
// combing 673 g of that, spinning 97 %.
func TestFleece(t *testing.T) {
	scoured := 1.7 * unit.Pound
	var w Wish
	w.Plies = 1
	Give(&w, YarnMass, cloth.Exactly(400*unit.Gram))
	Give(&w, Scouring, cloth.Exactly(cloth.Loss(1-1.7/3.0)))
	Give(&w, Preparing, cloth.Exactly(cloth.Loss(1-673*unit.Gram/scoured)))
	Give(&w, Spinning, cloth.Exactly(cloth.Loss(0.03)))
	Give(&w, Sampling, cloth.Exactly(cloth.Loss(0)))
	r, err := Solve(w)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "raw, g", Of(r, Fibre).Value.Grams(), 834, 0.5)
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

// TestBobbinsInHand starts in the middle: what three bobbins make, plied straight
// and shared out.
func TestBobbinsInHand(t *testing.T) {
	text := Text{"singles.bobbins": "60 g, 55 g, 49 g", "singles.grist": "100 tex", "yarn.plies": "3", "yarn.ply-take-up": "0%", "yarn.wash-loss": "0%"}
	r := solved(t, text)
	near(t, "yarn, g", Of(r, YarnMass).Value.Grams(), 147, 1e-6)
	near(t, "yarn, m", Of(r, YarnLength).Value.Metres(), 490, 1e-6)
	if !r.FromHand {
		t.Error("the size does not come from what is in hand")
	}
	near(t, "two-ply from three bobbins, g", Of(solved(t, text.with("yarn.plies", "2")), YarnMass).Value.Grams(), 164, 1e-6)
}

// TestTreadles holds the wheel's part: turns times draw over ratio.
func TestTreadles(t *testing.T) {
	r := solved(t, shawl.with("work.ratio", "8:1", "work.draw", "24 in"))
	for i, twist := range []unit.Twist{Of(r, SinglesTwist).Value, Of(r, PlyTwist).Value} {
		s := r.Settings[i]
		if got, want := float64(s.Treadles.Value), twist.PerInch()*24/8; !(got >= want*0.99 && got <= want*1.7) {
			t.Errorf("%s: %.3g treadles, want %.3g and what slips", s.Of, got, want)
		}
	}
	r = solved(t, shawl.with("work.ratio", "6:1, 8:1, 12:1", "work.draw", "24 in"))
	if s := r.Settings[0]; !s.Chosen || s.Off > 0.5/12 || s.Off < -0.5/12 {
		t.Errorf("no whorl is chosen, or a bad one: %+v", s)
	}
	r = solved(t, shawl.with("work.speed", "600", "work.draw", "24 in"))
	near(t, "hold, s", float64(r.Settings[0].Hold.Value), r.Settings[0].Twist.PerInch()*24/600*60, 0.01)
	r = solved(t, shawl.with("work.wheel", "bobbin-led", "work.ratio", "8:1", "work.draw", "36 in", "work.core", "1.5 in", "work.full", "4 in"))
	if s := r.Settings[0]; s.Full == nil || s.Full.Value >= s.Treadles.Value {
		t.Errorf("an empty bobbin takes more treadles than a full one: %v, %v", s.Treadles.Value, s.Full)
	}
}

// TestSinglesBalance plies the singles that a plan asks for, and finds them at
// rest at the angle that was wished.
func TestSinglesBalance(t *testing.T) {
	for n := 2; n <= 5; n++ {
		for _, degrees := range []float64{12, 20, 28} {
			for _, k := range []float64{0.3, 0.7, 1.5} {
				r := row{&solver{w: &Wish{Plies: n}, chain: &chain{}}, 0}
				r.s.columns[qStiffness] = []float64{k}
				a := r.singles(float64(unit.Angle(degrees) * unit.Degree))
				near(t, "angle at rest", yarn.Balanced(n, yarn.Stiffness(k), yarn.SurfaceAngle(a).Living()).Degrees(), degrees, 0.01)
			}
		}
	}
}

// TestSwatch scales a swatch: 2.5 g in 100 cm2 are 150 g in 6000 cm2, and two
// pieces take twice that.
func TestSwatch(t *testing.T) {
	text := Text{"knit.width": "100 cm", "knit.length": "60 cm", "knit.swatch": "10 cm, 10 cm", "knit.swatch-mass": "2.5 g", "knit.spare": "", "yarn.grist": "200 tex"}
	near(t, "mass, g", Of(solved(t, text), YarnMass).Value.Grams(), 165, 1e-6)
	near(t, "mass of two, g", Of(solved(t, text.with("knit.pieces", "2")), YarnMass).Value.Grams(), 330, 1e-6)
	near(t, "length from 165 g, m", Of(solved(t, text.with("knit.length", "", "yarn.mass", "165 g")), KnitLength).Value.Metres(), 0.6, 1e-9)
}
