package wheel

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// anything draws numbers that make sense and numbers that do not.
func anything(t *rapid.T, name string, low, high float64) float64 {
	return rapid.OneOf(
		rapid.Float64Range(low, high), rapid.Float64Range(low, high), rapid.Float64Range(low, high), rapid.Float64(),
		rapid.SampledFrom([]float64{0, -1, low, high, math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, 5e-324}),
	).Draw(t, name)
}

// sound fails unless an answer is finite and ordered, or a refusal in two sentences.
func sound[T ~float64](t *rapid.T, e estimate.Estimate[T], err error) {
	t.Helper()
	if err != nil {
		var own *Error
		if !errors.As(err, &own) || own.Problem == "" || own.Advice == "" || strings.Contains(err.Error(), "%!") {
			t.Fatalf("not a refusal with its advice: %v", err)
		}
		return
	}
	for _, v := range []T{e.Value, e.SD, e.Low, e.High} {
		if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
			t.Fatalf("not a number: %+v", e)
		}
	}
	if e.Low > e.Value || e.Value > e.High || e.SD < 0 {
		t.Fatalf("out of order: %+v", e)
	}
}

func drawTreadled(t *rapid.T) Treadled {
	w := Treadled{
		Kind:   Kind(rapid.IntRange(-1, 6).Draw(t, "kind")),
		Whorl:  Whorl{Stated: Ratio(anything(t, "ratio", 0.2, 500))},
		Bobbin: Bobbin{unit.Length(anything(t, "core", 0.005, 0.1)), unit.Length(anything(t, "full", 0.05, 1))},
	}
	for range rapid.IntRange(0, 3).Draw(t, "counts") {
		w.Whorl.Counts = append(w.Whorl.Counts, Count{Turns(anything(t, "turns", 1, 500)), Treadles(anything(t, "over", 1, 50))})
	}
	if rapid.Bool().Draw(t, "slip known") {
		w.Slip = Slip{Grip(anything(t, "least", 0.1, 1)), Grip(anything(t, "most", 0.1, 1))}
	}
	return w
}

func TestTreadledIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, at := drawTreadled(t), Filled(anything(t, "filled", 0, 1))
		l, u := unit.Length(anything(t, "length", 0.01, 100)), unit.Twist(anything(t, "twist", 1, 2000))
		put, err := w.PutIn(Treadles(anything(t, "treadles", 1, 1000)), l, at)
		sound(t, put.Twist, err)
		sound(t, put.Turns, err)
		sound(t, put.Wraps, err)
		s, err := w.Setting(u, l, at)
		sound(t, s.Treadles, err)
		if err == nil {
			rhythm, err := s.Rhythm(Seconds(anything(t, "beat", 1, 100)))
			sound(t, rhythm, err)
		}
		speed, err := w.Speed(Rhythm(anything(t, "rhythm", 10, 200)))
		sound(t, speed, err)
		choices, err := w.Choose([]Whorl{w.Whorl, {Stated: 8}}, u, l, at, 0)
		for _, c := range choices {
			sound(t, c.Off, err)
		}
		if err != nil {
			sound(t, estimate.Estimate[Share]{}, err)
		}
	})
}

func TestMotorIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Motor{Stated: Speed(anything(t, "rpm", 1, 20000))}
		for range rapid.IntRange(0, 3).Draw(t, "timings") {
			m.Timings = append(m.Timings, Timing{
				Turns(anything(t, "turns", 1, 500)), Turns(anything(t, "off", 0, 1)),
				Seconds(anything(t, "time", 1, 500)), Seconds(anything(t, "time off", 0, 1)),
			})
		}
		speed, err := m.Speed()
		sound(t, speed, err)
		put, err := m.PutIn(Seconds(anything(t, "held", 1, 100)), unit.Length(anything(t, "length", 0.01, 10)))
		sound(t, put.Twist, err)
		hold, err := m.Hold(unit.Twist(anything(t, "twist", 1, 2000)), unit.Length(anything(t, "draw", 0.01, 10)))
		sound(t, hold, err)
		grip, err := SlipFrom(Whorl{Stated: 8}, Rhythm(anything(t, "rhythm", 1, 400)), m)
		sound(t, grip, err)
		if film, err := Filmed(Turns(anything(t, "on film", 1, 100)), rapid.Int().Draw(t, "frames"), anything(t, "frames a second", 1, 1000)); err == nil {
			filmed, err := Motor{Timings: []Timing{film}}.Speed()
			sound(t, filmed, err)
		}
	})
}

func TestBalanceIsSound(t *testing.T) {
	known := rest.Prior(finish.Unknown)
	rapid.Check(t, func(t *rapid.T) {
		d := Thickness{unit.Length(anything(t, "diameter", 0.0001, 0.01)), rest.Share(anything(t, "cv", 0, 1))}
		u := anything(t, "twist", 1, 3000)
		singles, err := SinglesByBalance(yarn.PlyTwist(u), &d, known)
		sound(t, singles, err)
		ply, err := PlyByBalance(yarn.StrandTwist(u), &d, known)
		sound(t, ply, err)
		over, err := OverEnd(d.Diameter)
		sound(t, over, err)
	})
}

// What is set is what is put in: the treadles of a setting put the wanted twist
// in, whatever the wheel, when nothing slips.
func TestSettingAndPutInAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Treadled{
			Kind:   Kind(rapid.IntRange(int(FlyerLed), int(Spindle)).Draw(t, "kind")),
			Whorl:  Whorl{Stated: Ratio(rapid.Float64Range(3, 40).Draw(t, "ratio"))},
			Slip:   NoSlip,
			Bobbin: Bobbin{40 * unit.Millimetre, 100 * unit.Millimetre},
		}
		at := Filled(rapid.Float64Range(0, 1).Draw(t, "filled"))
		u := unit.Twist(rapid.Float64Range(40, 800).Draw(t, "twist"))
		s, err := w.Setting(u, unit.Metre, at)
		if err != nil {
			t.Fatal(err)
		}
		put, err := w.PutIn(s.Treadles.Value, unit.Metre, at)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(put.Twist.Value/u)-1) > 0.01 {
			t.Fatalf("wanted %v, put in %v", u, put.Twist.Value)
		}
	})
}

func TestKindsParse(t *testing.T) {
	for k := FlyerLed; k <= MotorDriven; k++ {
		if got, err := ParseKind(k.String()); err != nil || got != k {
			t.Errorf("ParseKind(%q) = %v, %v", k.String(), got, err)
		}
	}
	if _, err := ParseKind("jenny"); err == nil {
		t.Error("a jenny is taken")
	}
}

func BenchmarkChoose(b *testing.B) {
	w := gripping(BobbinLed, 8)
	w.Bobbin.Core = 40 * unit.Millimetre
	whorls := []Whorl{{Stated: 6}, {Stated: 8}, {Stated: 11}, {Stated: 14}}
	for b.Loop() {
		if _, err := w.Choose(whorls, 6*unit.TurnPerInch, 24*unit.Inch, 0, 0); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSinglesByBalance(b *testing.B) {
	d, known := Thickness{unit.Inch / 30, 0.15}, rest.Prior(finish.Unknown)
	for b.Loop() {
		if _, err := SinglesByBalance(yarn.PlyTwist(6*unit.TurnPerInch), &d, known); err != nil {
			b.Fatal(err)
		}
	}
}
