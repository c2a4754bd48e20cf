package wheel

import (
	"math"
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// near fails unless got is within off of want.
func near[T ~float64](t *testing.T, what string, got T, want, off float64) {
	t.Helper()
	if !(math.Abs(float64(got)-want) <= off) {
		t.Errorf("%s: %.5g, want %.5g within %.2g", what, float64(got), want, off)
	}
}

func must[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func gripping(kind Kind, ratio Ratio) Treadled {
	return Treadled{Kind: kind, Whorl: Whorl{Stated: ratio}, Slip: NoSlip}
}

// The turns put in by a flyer: ratio times treadles over length (arithmetic).
func TestPutInByFlyer(t *testing.T) {
	for _, tt := range []struct {
		ratio    Ratio
		treadles Treadles
		inches   unit.Length
		want     float64 // turns per inch
	}{
		{14, 2, 2, 14},
		{14, 2, 3, 9.333},
		{10, 2, 2, 10},
		{17, 2, 18, 1.889},
		{8, 10, 36, 2.222},
	} {
		p := must(gripping(FlyerLed, tt.ratio).PutIn(tt.treadles, tt.inches*unit.Inch, 0))(t)
		near(t, "turns per inch", p.Twist.Value.PerInch(), tt.want, 0.002)
		near(t, "wraps that count", p.Wraps.Value, 0, 0)
		if !(p.Twist.Low < p.Twist.Value && p.Twist.Value < p.Twist.High) {
			t.Errorf("no interval around %v", p.Twist)
		}
	}
}

// 80 bobbin turns while 36 in wind on at 1.5 in leave 72.36 of the flyer; the
// thicker the bobbin, the fewer turns are lost (arithmetic).
func TestPutInBobbinLed(t *testing.T) {
	w := gripping(BobbinLed, 8)
	for _, tt := range []struct{ inches, want, wraps float64 }{
		{1.5, 2.010, 7.639}, {2.5, 2.095, 4.584}, {4, 2.143, 2.865},
	} {
		w.Bobbin.Core = unit.Length(tt.inches) * unit.Inch
		p := must(w.PutIn(10, 36*unit.Inch, 0))(t)
		near(t, "turns per inch", p.Twist.Value.PerInch(), tt.want, 0.002)
		near(t, "wraps", p.Wraps.Value, tt.wraps, 0.01)
		near(t, "flyer turns", p.Turns.Value, 80-tt.wraps, 0.1)
	}
}

// Motor and rate (arithmetic): 9 tpi on 6 in every 4 s, and on 300 yd an hour.
func TestMotorSpeeds(t *testing.T) {
	near(t, "speed for a beat", must(SpeedFor(9*unit.TurnPerInch, 6*unit.Inch, 4))(t).Value, 810, 1e-6)
	rate := must(SpeedFor(9*unit.TurnPerInch, 300*unit.Yard, 3600))(t)
	near(t, "speed for a rate", rate.Value, 1620, 1e-6)
	if !rate.Flags.Has(FastFlyer) {
		t.Error("1,620 turns a minute go without a warning")
	}
	m := Motor{Stated: 810}
	near(t, "hold", must(m.Hold(9*unit.TurnPerInch, 6*unit.Inch))(t).Value, 4, 0.002)
	near(t, "put in", must(m.PutIn(4, 6*unit.Inch))(t).Twist.Value.PerInch(), 9, 0.005)
}

// 29:1 at 90 treadles a minute would be 2,610; 1,600 were seen: 38.7 % lost.
func TestSlipSeen(t *testing.T) {
	w := Whorl{Stated: 29}
	free := Treadled{Kind: FlyerLed, Whorl: w, Slip: NoSlip}
	near(t, "expected", must(free.Speed(90))(t).Value, 2610, 1)
	seen := must(SlipFrom(w, 90, Motor{Stated: 1600}))(t)
	near(t, "grip", seen.Value, 1-0.387, 0.001)
	if _, err := SlipFrom(w, 90, Motor{Stated: 5000}); err == nil {
		t.Error("a flyer faster than its wheel is taken")
	}
}

// One turn a wrap (arithmetic): 25 mm 12.73 turns a metre, 0.323 an inch; 80 mm 3.98.
func TestOverEnd(t *testing.T) {
	thin, ball := must(OverEnd(25*unit.Millimetre))(t), must(OverEnd(80*unit.Millimetre))(t)
	near(t, "25 mm", thin.Value, 12.73, 0.01)
	near(t, "25 mm, per inch", unit.Twist(thin.Value).PerInch(), 0.323, 0.001)
	near(t, "80 mm", ball.Value, 3.98, 0.01)
}

// Treadles for plies (arithmetic), and the rule of thumb beside the balance.
func TestPlies(t *testing.T) {
	for _, tt := range []struct {
		ratio Ratio
		tpi   unit.Twist
		want  float64
	}{{7, 16, 54.86}, {8, 6, 18}} {
		s := must(gripping(FlyerLed, tt.ratio).Setting(tt.tpi*unit.TurnPerInch, 24*unit.Inch, 0))(t)
		near(t, "treadles", s.Treadles.Value, tt.want, 0.02)
	}
	near(t, "singles by thumb", unit.Twist(SinglesByThumb(yarn.PlyTwist(6*unit.TurnPerInch)).Value).PerInch(), 9, 1e-9)
	for singles, want := range map[unit.Twist]float64{24: 16, 26: 17.33} {
		ply := PlyByThumb(yarn.StrandTwist(singles * unit.TurnPerInch))
		near(t, "ply by thumb", unit.Twist(ply.Value).PerInch(), want, 0.01)
		if !ply.Flags.Has(RuleOfThumb) || ply.Measured() {
			t.Errorf("the rule of thumb passes for more: %v", ply.Flags)
		}
	}
}

// knowing is a spinner whose wool is known to bend with k.
func knowing(k float64) rest.Knowledge {
	known := rest.Prior(finish.Unknown)
	known.Stiffness = rest.Spread{Median: k, Sigma: 0}
	return known
}

// With k known there is one answer, the closed form of two strands:
// tau R = s/(1+s^2) (1 + 2 k s^2/(1-s^2)), with s = pi d U and tau R = pi d u.
func TestBalanceBesideTheThumb(t *testing.T) {
	d := Thickness{Diameter: unit.Inch / 30}
	for _, k := range []float64{0.3, 0.7, 2} {
		ply := yarn.PlyTwist(6 * unit.TurnPerInch)
		s := math.Pi * float64(d.Diameter) * float64(ply)
		want := s / (1 + s*s) * (1 + 2*k*s*s/(1-s*s)) / (math.Pi * float64(d.Diameter))
		e := must(SinglesByBalance(ply, &d, knowing(k)))(t)
		near(t, "singles", e.Value, want, want*1e-6)
		back := must(PlyByBalance(e.Value, &d, knowing(k)))(t)
		near(t, "and back to the ply", back.Value, float64(ply), float64(ply)*1e-4)
	}
}

// A diameter narrows the balance; the interval without one holds the thumb's
// figure, which is one of many.
func TestBalanceIsHonestlyWide(t *testing.T) {
	known, d, ply := rest.Prior(finish.Unknown), Thickness{unit.Inch / 30, 0.15}, yarn.PlyTwist(6*unit.TurnPerInch)
	wide, narrow := must(SinglesByBalance(ply, nil, known))(t), must(SinglesByBalance(ply, &d, known))(t)
	thumb := SinglesByThumb(ply).Value
	if wide.Low > thumb || wide.High < thumb || wide.Measured() {
		t.Errorf("%+v leaves out the thumb's %v, or calls itself measured", wide, thumb)
	}
	if narrow.SD >= wide.SD {
		t.Errorf("a diameter widens: %v against %v", narrow.SD, wide.SD)
	}
}

// A count over ten treadles is surer than over one; several that agree are surer
// still; the truth of a simulated count lies inside.
func TestRatioByCounting(t *testing.T) {
	one := must(Whorl{Counts: []Count{{8, 1}}}.Ratio())(t)
	ten := must(Whorl{Counts: []Count{{83, 10}}}.Ratio())(t)
	more := must(Whorl{Counts: []Count{{83, 10}, {83, 10}, {83, 10}}}.Ratio())(t)
	near(t, "ratio", ten.Value, 8.3, 0.005)
	if !(more.SD < ten.SD && ten.SD < one.SD) {
		t.Errorf("spreads %v, %v, %v do not fall with counting", one.SD, ten.SD, more.SD)
	}
	if ten.N != 1 || !ten.Flags.Has(estimate.FewReadings) || more.Flags.Has(estimate.FewReadings) {
		t.Errorf("%+v and %+v", ten, more)
	}
	for _, truth := range []float64{8.26, 8.3, 8.34} { // each shows 83 half turns near enough
		if truth < float64(ten.Low)-0.01 || truth > float64(ten.High)+0.01 {
			t.Errorf("a ratio of %v counts as 83 in 10, outside %v to %v", truth, ten.Low, ten.High)
		}
	}
	apart := must(Whorl{Counts: []Count{{83, 10}, {70, 10}}}.Ratio())(t)
	if apart.SD < 5*ten.SD {
		t.Errorf("counts that differ give a spread of %v", apart.SD)
	}
	if must(Whorl{Stated: 8}.Ratio())(t).Flags.Has(NotCounted) == false {
		t.Error("a ratio out of a leaflet goes unflagged")
	}
}

// Three ways to the same 600 turns a minute.
func TestMotorMeasured(t *testing.T) {
	film := must(Filmed(10, 240, 240))(t)
	for name, timing := range map[string]Timing{
		"by eye": Counted(100, 10*time.Second), "by film": film, "by untwisting": Untwisted(50, 5*time.Second),
	} {
		e := must(Motor{Timings: []Timing{timing}}.Speed())(t)
		near(t, name, e.Value, 600, 2)
		if !(e.Low < 600 && e.High > 600) {
			t.Errorf("%s: %v to %v", name, e.Low, e.High)
		}
	}
	if _, err := Filmed(100, 200, 240); err == nil {
		t.Error("two frames a turn are taken")
	}
}

// A bobbin-led wheel needs the most treadles on the bare core; the flyer-led the
// same throughout.
func TestFilling(t *testing.T) {
	w := gripping(BobbinLed, 8)
	w.Bobbin = Bobbin{1.5 * unit.Inch, 4 * unit.Inch}
	stages := must(w.Filling(6*unit.TurnPerInch, 24*unit.Inch))(t)
	near(t, "half full", stages[1].Diameter.Inches(), math.Sqrt((1.5*1.5+4*4)/2), 1e-9)
	for i, inches := range []float64{1.5, math.Sqrt(9.125), 4} {
		want := (6*24 + 24/(math.Pi*inches)) / 8
		near(t, "treadles", stages[i].Setting.Treadles.Value, want, 0.01)
	}
	w.Kind = FlyerLed
	same := must(w.Filling(6*unit.TurnPerInch, 24*unit.Inch))(t)
	if same[0].Setting.Treadles.Value != same[2].Setting.Treadles.Value {
		t.Error("a flyer-led wheel asks for another setting as it fills")
	}
}

// 5 tpi over 24 in are 120 turns: 6:1 takes 20 treadles and 8:1 15, exactly; 11:1
// comes 0.8 % over with 11; 14:1 with 9 comes 5 % over (arithmetic).
func TestChoose(t *testing.T) {
	whorls := []Whorl{{Stated: 14}, {Stated: 11}, {Stated: 8}, {Stated: 6}}
	choices := must(gripping(FlyerLed, 0).Choose(whorls, 5*unit.TurnPerInch, 24*unit.Inch, 0, 0))(t)
	for i, want := range []struct {
		ratio, treadles, off float64
	}{{11, 11, 0.0083}, {8, 15, 0}, {6, 20, 0}, {14, 9, 0.05}} {
		near(t, "ratio", choices[i].Whorl.Stated, want.ratio, 0)
		near(t, "treadles", choices[i].Treadles, want.treadles, 0)
		near(t, "off", choices[i].Gripped.Value, want.off, 0.001)
	}
	// 8.2 tpi are 197 turns: 8:1 takes 25 treadles for 1.6 % over, 12:1 takes 16 for
	// 2.4 % under, and those can be counted.
	many := must(gripping(FlyerLed, 0).Choose([]Whorl{{Stated: 8}, {Stated: 12}}, 8.2*unit.TurnPerInch, 24*unit.Inch, 0, 0))(t)
	near(t, "of which treadles can be counted", many[0].Whorl.Stated, 12, 0)
	near(t, "treadles that can be counted", many[0].Treadles, 16, 0)
	fixed := must(gripping(FlyerLed, 0).Choose(whorls, 5*unit.TurnPerInch, 24*unit.Inch, 0, 10))(t)
	near(t, "nearest for ten treadles", fixed[0].Whorl.Stated, 11, 0) // 110 of 120 turns; 14 gives 140
	near(t, "and what remains", fixed[0].Gripped.Value, -1.0/12, 0.002)
	// A grip of 0.8 leaves 8.8 turns a treadle of 11:1, and 14 of them put in 123.2.
	slipping := gripping(FlyerLed, 0)
	slipping.Slip = Slip{0.8, 0.8}
	one := must(slipping.Choose([]Whorl{{Stated: 11}}, 5*unit.TurnPerInch, 24*unit.Inch, 0, 0))(t)[0]
	near(t, "treadles with the slip that is known", one.Treadles, 14, 0)
	near(t, "and what they are off", one.Known().Value, 123.2/120-1, 0.003)
}

// An unknown slip widens the answer upwards and says so.
func TestSlipUnknown(t *testing.T) {
	w := gripping(FlyerLed, 8)
	w.Slip = Slip{}
	s := must(w.Setting(6*unit.TurnPerInch, 24*unit.Inch, 0))(t)
	near(t, "with a grip of one", s.Gripped.Value, 18, 0.01)
	if s.Treadles.Value < s.Gripped.Value || s.Treadles.High < 24 || s.Treadles.High > 18/0.61*1.05 {
		t.Errorf("treadles %+v", s.Treadles)
	}
	if !s.Treadles.Flags.Has(SlipUnknown) || s.Treadles.Measured() {
		t.Errorf("flags %v", s.Treadles.Flags)
	}
	w.Kind = Spindle
	if must(w.Setting(6*unit.TurnPerInch, 24*unit.Inch, 0))(t).Treadles.Flags.Has(SlipUnknown) {
		t.Error("a spindle has no band to slip")
	}
}
