package plan

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"waketwist/cloth"
	"waketwist/unit"
	"waketwist/wheel"
)

// TestAnyWay fixes what a plan gave and frees what it was given, and gets that
// back: from the cloth to each quantity below it, and up again.
func TestAnyWay(t *testing.T) {
	base := shawl.with("fibre.sampling", "5%", "yarn.ply-take-up", "", "singles.stiffness", "0.7", "singles.packing", "45%", "yarn.wrap-factor", "1.4",
		"work.pace", "90 m/h", "work.ply-pace", "60 m/h")
	down := solved(t, base)
	tests := []struct {
		free, fixed string
		from, to    quantity
	}{
		{"cloth.length", "yarn.length", qLength, qYarn},
		{"cloth.length", "yarn.mass", qLength, qMass},
		{"cloth.length", "singles.length", qLength, qSingles},
		{"cloth.length", "fibre.bought", qLength, qFibre},
		{"cloth.length", "work.hours", qLength, qHours},
		{"cloth.length", "work.ply-hours", qLength, qPlyHours},
		{"cloth.length", "cloth.warp-length", qLength, qWarpLength},
		{"cloth.length", "cloth.length-off", qLength, qLengthOff},
		{"cloth.width", "cloth.reed-width", qWidth, qReed},
		{"cloth.width", "cloth.width-off", qWidth, qWidthOff},
		{"cloth.width", "yarn.length", qWidth, qYarn},
		{"cloth.width", "fibre.bought", qWidth, qFibre},
		{"cloth.sett", "yarn.length", qEnds, qYarn},
		{"cloth.sett", "cloth.ends", qEnds, qEndCount},
		{"yarn.grist", "yarn.wraps", qGrist, qWraps},
		{"yarn.grist", "yarn.mass", qGrist, qMass},
		{"yarn.grist", "singles.grist", qGrist, qSinglesGrist},
		{"yarn.grist", "singles.diameter", qGrist, qDiameter},
		{"yarn.grist", "fibre.bought", qGrist, qFibre},
		{"yarn.angle", "singles.angle", qAngle, qSinglesAngle},
		{"yarn.angle", "singles.twist", qAngle, qSinglesTwist},
		{"yarn.angle", "yarn.twist", qAngle, qPlyTwist},
	}
	for _, tt := range tests {
		t.Run(tt.free+" from "+tt.fixed, func(t *testing.T) {
			w, problems := Read(base.with(tt.free, ""))
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			w.given = put(w.given, tt.to, entry{Estimate: cloth.Exactly(down.estimates[tt.to].Value)})
			up, err := Solve(w)
			if err != nil {
				t.Fatal(err)
			}
			if off := up.estimates[tt.from].Value/down.estimates[tt.from].Value - 1; off > 0.004 || off < -0.004 {
				t.Errorf("%s came out as %v, and was %v", tt.free, up.estimates[tt.from].Value, down.estimates[tt.from].Value)
			}
			if len(up.Conflicts) > 0 {
				t.Errorf("it contradicts itself: %v", up.Conflicts)
			}
		})
	}
}

// TestHowFine finds the yarn of which what is in hand makes a cloth of a size, in a
// twill, too.
func TestHowFine(t *testing.T) {
	for _, weave := range []string{"plain", "2/2-twill", "5-end-satin"} {
		free := shawl.with("cloth.sett", "", "cloth.picks", "", "cloth.weave", weave)
		down := solved(t, free)
		w, _ := Read(free.with("yarn.grist", ""))
		Give(&w, FibreInHand, cloth.Exactly(Of(down, Fibre).Value))
		up, err := Solve(w)
		if err != nil {
			t.Fatal(err)
		}
		near(t, weave+": grist of what is in hand", float64(Of(up, Grist).Value/Of(down, Grist).Value), 1, 0.005)
		near(t, weave+": ends", float64(Of(up, Ends).Value/Of(down, Ends).Value), 1, 0.005)
		if len(up.Conflicts) > 0 || !up.FromHand {
			t.Errorf("%s: %v", weave, up.Conflicts)
		}
	}
}

// TestThereAndBack gives the fibre that a plan asks for, and gets the cloth that
// was wished, for any cloth with fixed values.
func TestThereAndBack(t *testing.T) {
	base, _ := Read(shawl)
	rapid.Check(t, func(t *rapid.T) {
		w := base
		loss := rapid.Float64Range(0, 0.5)
		length := unit.Length(rapid.Float64Range(0.1, 20).Draw(t, "length"))
		Give(&w, Length, cloth.Exactly(length))
		Give(&w, Width, cloth.Exactly(unit.Length(rapid.Float64Range(0.1, 3).Draw(t, "width"))))
		Give(&w, WashLength, cloth.Exactly(cloth.Loss(loss.Draw(t, "wash"))))
		Give(&w, Scouring, cloth.Exactly(cloth.Loss(loss.Draw(t, "scouring"))))
		Give(&w, YarnWash, cloth.Exactly(cloth.Loss(loss.Draw(t, "yarn wash"))))
		first, err := solve(w, 2)
		if err != nil {
			t.Fatal(err)
		}
		Give(&w, FibreInHand, cloth.Exactly(Of(first, Fibre).Value))
		again, err := solve(w, 2)
		if err != nil {
			t.Fatal(err)
		}
		if off := Of(again.Made, Length).Value/length - 1; off > 1e-6 || off < -1e-6 {
			t.Errorf("the fibre makes %s of cloth, and %s were wished", Of(again.Made, Length).Value, length)
		}
		if again.Stocks[0].Enough < 0.99 {
			t.Errorf("just enough fibre is said to suffice with %v", again.Stocks[0].Enough)
		}
	})
}

// TestMoreFibreIsSafer finds the chance rising with what is in hand, and the
// interval of the fibre widening with that of a loss.
func TestMoreFibreIsSafer(t *testing.T) {
	w, _ := Read(shawl.with("fibre.spinning", "2-20%"))
	wide, err := Solve(w)
	if err != nil {
		t.Fatal(err)
	}
	last := -1.0
	for _, share := range []unit.Mass{0.9, 0.97, 1, 1.03, 1.4} {
		Give(&w, FibreInHand, cloth.Exactly(Of(wide, Fibre).Value*share))
		r, err := Solve(w)
		if err != nil {
			t.Fatal(err)
		}
		if enough := r.Stocks[0].Enough; enough < last {
			t.Errorf("with %v of the fibre it suffices with %v, with less with %v", share, enough, last)
		} else {
			last = enough
		}
	}
	near(t, "chance with much", last, 1, 0.05)
	narrow := solved(t, shawl.with("fibre.spinning", "8-14%"))
	if a, b := Of(narrow, Fibre), Of(wide, Fibre); a.High-a.Low >= b.High-b.Low {
		t.Errorf("the narrower loss gives an interval of %s, the wider one of %s", a.High-a.Low, b.High-b.Low)
	}
}

// TestRangeIsKept finds a range that stands alone in the total as it was given,
// however wide.
func TestRangeIsKept(t *testing.T) {
	r := solved(t, shawl.with("yarn.grist", "100 to 900 tex"))
	m := Of(r, YarnMass)
	near(t, "low", float64(m.Low/unit.LinearDensity(100*unit.Tex).MassOf(Of(r, YarnLength).Value)), 1, 0.01)
	near(t, "high", float64(m.High/unit.LinearDensity(900*unit.Tex).MassOf(Of(r, YarnLength).Value)), 1, 0.01)
}

// TestBlame names the assumption that is wide, and shares that go with squared
// spreads.
func TestBlame(t *testing.T) {
	r := solved(t, shawl.with("fibre.spinning", "8-12%", "fibre.scouring", "20-40%"))
	if len(r.Width) == 0 || r.Width[0].Total != "fibre to have" || r.Width[0].Of[0].Name != "loss in scouring" {
		t.Fatalf("blamed: %v", r.Width)
	}
	near(t, "share of scouring", r.Width[0].Of[0].Share, 0.976, 0.02)
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

// TestConflicts names wishes that contradict each other, and what each becomes
// when it is let go.
func TestConflicts(t *testing.T) {
	tests := []struct {
		name    string
		changes []string
		says    string
		drops   string
	}{
		{"fibre", []string{"fibre.in-hand", "300 g"}, "fibre in hand and the size", "the finished length, and it becomes"},
		{"sett", []string{"cloth.sett", "30/in"}, "sett and the weave", "the sett, and it becomes 5.3"},
		{"steep", []string{"yarn.angle", "40 deg"}, "lose their strength", "flatter"},
		{"wraps and singles", []string{"yarn.wraps", "10 wpi", "yarn.wrap-factor", "1.4", "yarn.grist", "", "singles.grist", "50 tex"}, "contradicts itself", "wraps of the yarn, and it becomes"},
		{"sizes", []string{"yarn.length", "900 yd"}, "contradicts itself", "finished length, and it becomes"},
		{"angles", []string{"yarn.twist", "20 tpi"}, "contradicts itself", "turns of the ply, and it becomes"},
		{"loom", []string{"cloth.loom-width", "22 in"}, "width and the loom", "finished width, and it becomes 46.2 cm"},
		{"fine", []string{"yarn.grist", "40 tex", "cloth.sett", "", "fibre.breed", "Lincoln"}, "fibre and the yarn", "finest singles"},
		{"pull", []string{"cloth.tension", "100 lb", "yarn.breaks-at", "300 g"}, "tension and the yarn", "slacken"},
		{"waste", []string{"cloth.length", "", "yarn.length", "100 yd"}, "cover the loom waste", "narrower"},
		{"short warp", []string{"cloth.length", "", "cloth.warp-length", "20 in"}, "each end is 50.8 cm (20.0 in) long", "length of the warp"},
		{"fine, and what it becomes", []string{"yarn.grist", "40 tex", "cloth.sett", "", "fibre.breed", "Lincoln"}, "fibre and the yarn", "weight of the yarn for its length, and it becomes"},
		{"finer than any", []string{"yarn.grist", "", "cloth.sett", "", "cloth.picks", "", "yarn.mass", "3 g"}, "fibres thick", "Drop the size and make it smaller"},
		{"picks", []string{"cloth.picks", "60/in"}, "picks and the weave", "Drop the picks, and it becomes"},
		{"reed and loom", []string{"cloth.width", "", "cloth.reed-width", "30 in", "cloth.loom-width", "24 in"}, "width and the loom", "Drop the width in the reed, and it becomes 61.0 cm (24.0 in)"},
		{"loose wraps", []string{"yarn.wraps", "5 wpi"}, "a wrap would hold 7.2 diameters", "Drop the wraps of the yarn, and it becomes 23 wpi"},
		{"close wraps", []string{"yarn.wraps", "100 wpi"}, "the wraps of the yarn contradict each other", "wraps of the yarn, and it becomes"},
		{"stiff", []string{"singles.stiffness", "50"}, "lose their strength", "Drop the stiffness of the wool, and it becomes"},
		{"more fibre than room", []string{"yarn.grist", "", "cloth.sett", "", "singles.grist", "100 tex", "singles.diameter", "0.1 mm"}, "972 % of the singles would be fibre", "Drop the weight of the singles"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := solved(t, shawl.with(tt.changes...))
			if len(r.Conflicts) == 0 || !strings.Contains(r.Conflicts[0].Problem, tt.says) || !strings.Contains(r.Conflicts[0].Drop, tt.drops) {
				t.Errorf("conflicts: %+v", r.Conflicts)
			}
		})
	}
}

// TestNotes finds what else is said of a cloth.
func TestNotes(t *testing.T) {
	tests := []struct {
		changes []string
		says    string
	}{
		{[]string{"cloth.reed", "8/in"}, "Through the reed: 1, 2 in a dent, over and over, in 194 dents, for 4.72/cm (12/in)."},
		{[]string{"cloth.reed", "10/in", "cloth.sett", "12/in"}, "1, 1, 1, 1, 2 in a dent"},
		{[]string{"cloth.reed", "200/in"}, "Take a coarser reed"},
		{[]string{"cloth.tension", "10 lb", "yarn.breaks-at", "300 g"}, "would break at 19.2 times that"},
		{[]string{"yarn.plies", "1", "yarn.ply-take-up", ""}, "the risk is high with lively singles"},
		{nil, "the risk is low with a ply in balance"},
		{[]string{"cloth.weft-twist", "Z"}, "Warp and weft of opposite letters"},
		{[]string{"cloth.take-up", "", "yarn.grist", "20 tex"}, "Taylor's rule"},
		{[]string{"cloth.tension", "290 lb"}, "Each end bears 454 g (16.0 oz). Hang weights"},
	}
	if said := strings.Join(solved(t, shawl.with("cloth.take-up", "")).Notes, "\n"); strings.Contains(said, "Taylor") {
		t.Errorf("a rule for fine cotton is set beside coarse wool: %q", said)
	}
	for _, tt := range tests {
		said := strings.Join(solved(t, shawl.with(tt.changes...)).Notes, "\n")
		if !strings.Contains(said, tt.says) {
			t.Errorf("%v: %q, want %q", tt.changes, said, tt.says)
		}
	}
}

// TestRefused says what leaves no plan.
func TestRefused(t *testing.T) {
	tests := []struct {
		name    string
		changes []string
		says    string
	}{
		{"no size", []string{"cloth.width", "0 in"}, "cannot be"},
		{"all lost", []string{"cloth.shrink", "100%"}, "100 %"},
		{"backwards", []string{"fibre.spinning", "20-10%"}, "backwards"},
		{"few shafts", []string{"cloth.weave", "2/2 twill", "cloth.shafts", "2"}, "2 are there"},
		{"too steep", []string{"yarn.angle", "50 deg"}, "rests in balance below 44"},
		{"plies", []string{"yarn.plies", "8"}, "8 plies"},
		{"long draw", []string{"work.ratio", "8:1", "work.draw", "1 km"}, "is not one"},
		{"breed", []string{"fibre.breed", "griffin"}, "not known here"},
		{"no yarn", []string{"yarn.grist", "", "cloth.sett", ""}, "no yarn yet"},
		{"units mixed", []string{"yarn.grist", "20 in"}, "yarn.grist"},
		{"no place", []string{"cloth.colour", "red"}, "no place"},
		{"ratio alone", []string{"work.ratio", "8:1"}, "draw at a time"},
		{"core", []string{"work.ratio", "8:1", "work.draw", "24 in", "work.wheel", "bobbin-led"}, "bare core"},
		{"weave", []string{"cloth.weave", "9/0-twill"}, "twill"},
		{"count", []string{"cloth.shafts", "four"}, "whole number"},
		{"steep singles", []string{"yarn.plies", "1", "yarn.angle", "70 deg"}, "Singles of 70° cannot be had"},
		{"no yarn, but some in hand", []string{"yarn.grist", "", "cloth.sett", "", "cloth.length", "", "yarn.in-hand", "400 g"}, "no yarn yet"},
		{"two fabrics", []string{"knit.width", "10 cm"}, "of one fabric"},
		{"breed and diameter", []string{"fibre.breed", "lincoln", "fibre.fineness", "15 µm"}, "its fibres are 37 µm to 40 µm"},
		{"capitals of a breed", []string{"fibre.breed", "griffin"}, "Blue-faced Leicester"},
		{"bobbins and their sum", []string{"singles.bobbins", "92 g, 88 g", "singles.in-hand", "300 g"}, "The bobbins hold 180 g"},
		{"swatch in ounces", []string{"cloth.width", "", "cloth.length", "", "cloth.sett", "", "cloth.picks", "", "cloth.weave", "", "cloth.draw-in", "", "cloth.take-up", "", "cloth.shrink", "", "cloth.waste", "",
			"knit.width", "20 cm", "knit.length", "48 cm", "knit.swatch", "10 cm, 10 cm", "knit.swatch-mass", "2.5 oz"}, "would be a fabric of 7087 g/m²"},
		{"dense", []string{"singles.packing", "95%"}, "The density of the fibres in the singles cannot be 95 %"},
		{"in hand twice", []string{"singles.in-hand", "200 g", "fibre.in-hand", "300 g"}, "in one state only"},
		{"motor and ratio", []string{"work.speed", "900", "work.ratio", "8:1", "work.draw", "24 in"}, "not both"},
		{"motor without speed", []string{"work.wheel", "motor", "work.draw", "24 in"}, "motor's speed"},
		{"spindle without flicks", []string{"work.wheel", "spindle", "work.draw", "24 in"}, "a flick gives"},
		{"no unit with nothing", []string{"cloth.waste", "0"}, "the number has no unit"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w, problems := Read(shawl.with(tt.changes...))
			var said []string
			for key, err := range problems {
				said = append(said, key+": "+err.Error())
			}
			if _, err := Solve(w); err != nil {
				said = append(said, err.Error())
			}
			if !strings.Contains(strings.Join(said, "\n"), tt.says) {
				t.Errorf("said %q, want %q", said, tt.says)
			}
		})
	}
}

// TestChoicesAreTaken reads every word that a field offers.
func TestChoicesAreTaken(t *testing.T) {
	for _, f := range Fields() {
		for _, word := range f.Choices {
			if _, problems := Read(Text{f.Key: word}); f.Key != "work.wheel" && problems[f.Key] != nil {
				t.Errorf("%s offers %q: %v", f.Key, word, problems[f.Key])
			}
			if f.Key == "work.wheel" && word != "" {
				if _, err := wheel.ParseKind(word); err != nil {
					t.Errorf("%s offers %q: %v", f.Key, word, err)
				}
			}
		}
	}
}

// TestNothingIsMade says nothing of a cloth from a stock that does not cover the
// loom waste.
func TestNothingIsMade(t *testing.T) {
	r := solved(t, shawl.with("fibre.in-hand", "60 g"))
	for _, l := range r.MadeLines() {
		if l.Field == "cloth.length" {
			t.Errorf("it makes %s of cloth", l.Text)
		}
	}
}

// TestOutlook learns from a weighing: what is left suffices or does not, and more
// surely so than before.
func TestOutlook(t *testing.T) {
	text := shawl.with("fibre.spinning", "2-20%", "weighed.prepared", "660 g", "weighed.left", "360 g", "weighed.spun", "270 g", "weighed.spun-length", "1900 yd")
	out := func(changes ...string) *Outlook {
		t.Helper()
		o, err := solved(t, text.with(changes...)).Outlook()
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	half := out()
	near(t, "waste", float64(half.Waste.Value), 0.10, 0.02)
	near(t, "still to spin, yd", half.Length.Value.Yards(), 4163-1900, 5)
	if enough := half.Enough; enough > 0.9 || half.More <= 0 && enough < 0.95 {
		t.Errorf("it suffices with %v, and more is %s", enough, half.More)
	}
	if less := out("weighed.left", "340 g", "weighed.prepared", "640 g"); less.Enough >= half.Enough || less.More <= half.More {
		t.Errorf("less fibre suffices with %v, more with %v", less.Enough, half.Enough)
	}
	if some := out("singles.bobbins", "120 g, 150 g"); some.Needed.Value/half.Needed.Value > 1.005 || some.Needed.Value/half.Needed.Value < 0.995 || !(some.Waste.Value > 0) {
		t.Errorf("with singles on the bobbins %s are still needed, else %s", some.Needed.Value, half.Needed.Value)
	}
	yarn := out("weighed.prepared", "", "weighed.left", "", "weighed.spun", "", "weighed.spun-length", "", "weighed.done", "50%", "weighed.used", "230 g", "weighed.left-yarn", "250 g")
	near(t, "yarn for the other half, g", yarn.Needed.Value.Grams(), 230, 5)
	if !(yarn.Enough > 0.9) {
		t.Errorf("250 g suffice for 230 g with %v", yarn.Enough)
	}
}

func BenchmarkPlan(b *testing.B) {
	w, _ := Read(shawl.with("fibre.spinning", "", "fibre.sampling", "", "fibre.scouring", "30-50%", "fibre.in-hand", "1 kg", "cloth.shrink", "", "cloth.draw-in", "",
		"yarn.angle", "", "yarn.ply-take-up", "", "yarn.plies", "3"))
	for b.Loop() {
		if _, err := solve(w, 5000); err != nil {
			b.Fatal(err)
		}
	}
}
