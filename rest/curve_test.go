package rest

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"waketwist/estimate"
)

const (
	hour  = time.Hour
	month = 30 * day
	// rounding is what the last digits of a share may be off.
	rounding Share = 1e-12
)

// anyCurve draws a curve that passes Check, over the whole range of it or near
// to what yarn does.
func anyCurve(t *rapid.T) Curve {
	if rapid.Bool().Draw(t, "wild") {
		return Curve{
			rapid.Float64Range(-12, 12).Draw(t, "log10 hours"), rapid.Float64Range(1e-6, 10).Draw(t, "p"),
			Share(rapid.Float64Range(0, 1).Draw(t, "f_max")), rapid.Float64Range(0, 1).Draw(t, "c"),
		}
	}
	return usualCurve(t)
}

func usualCurve(t *rapid.T) Curve {
	return Curve{
		rapid.Float64Range(0, 3).Draw(t, "log10 hours"), rapid.Float64Range(0.2, 0.7).Draw(t, "p"),
		Share(rapid.Float64Range(0.2, 0.95).Draw(t, "f_max")), rapid.Float64Range(0, 0.08).Draw(t, "c"),
	}
}

func anyHumidity(t *rapid.T) Humidity { return Humidity(rapid.Float64Range(0, 100).Draw(t, "% RH")) }

func anyAge(t *rapid.T) time.Duration {
	return time.Duration(math.Exp(rapid.Float64Range(0, math.Log(float64(oldest))).Draw(t, "log age")))
}

// Worked by hand: at t = T a share 1-1/e of f_max; at 75 % RH and c = 0.03 T is
// shorter by 10^0.3.
func TestCurveValues(t *testing.T) {
	c := Curve{Log10Hours: 2, Power: 0.5, Most: 0.8, PerPercentRH: 0.03}
	tests := []struct {
		age  time.Duration
		rh   Humidity
		want float64
	}{
		{0, 65, 0},
		{-hour, 65, 0},
		{100 * hour, 65, 0.8 * 0.6321205588},
		{25 * hour, 65, 0.8 * 0.3934693403}, // 1 - exp(-1/2)
		{25 * hour, 75, 0.8 * 0.5065181},    // 1 - exp(-(1.99526/4)^0.5)
		{oldest, 100, 0.8},
	}
	for _, tt := range tests {
		inside(t, fmt.Sprint(tt.age, " at ", tt.rh), float64(c.Dormant(tt.age, tt.rh)), tt.want-1e-6, tt.want+1e-6)
	}
}

func TestDormancyOnlyGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, rh, age := anyCurve(t), anyHumidity(t), anyAge(t)
		f := c.Dormant(age, rh)
		if !(f >= 0 && f <= c.Most+rounding) {
			t.Fatalf("dormant share %v of at most %v", f, c.Most)
		}
		if later := c.Dormant(age+anyAge(t), rh); later < f-rounding {
			t.Fatalf("dormant share falls with time from %v to %v", f, later)
		}
		if damper := c.Dormant(age, min(rh+10, 100)); damper < f-rounding {
			t.Fatalf("dormant share falls with damp from %v to %v", f, damper)
		}
		if s := c.PerDecade(age, rh); !(s >= 0) || math.IsInf(float64(s), 0) {
			t.Fatalf("slope %v", s)
		}
	})
}

func TestAgeIsTheInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, rh := usualCurve(t), anyHumidity(t)
		share := c.Most * Share(rapid.Float64Range(0.05, 0.999).Draw(t, "part of f_max"))
		age, ok := c.Age(share, rh)
		if !ok || age < time.Minute { // a Duration's nanoseconds are too coarse for the first moments
			return
		}
		if back := c.Dormant(age, rh); math.Abs(float64(back-share)) > 1e-9 {
			t.Fatalf("the age at which %v is reached, %v, has %v", share, age, back)
		}
	})
}

func TestAgeNever(t *testing.T) {
	c := Curve{Log10Hours: 2, Power: 0.5, Most: 0.8}
	for _, share := range []Share{0.8, 0.9, 1, Share(math.NaN()), Share(math.Inf(1))} {
		if age, ok := c.Age(share, 65); ok {
			t.Errorf("a share of %v is said to be reached after %v", share, age)
		}
	}
	if age, ok := c.Age(0, 65); !ok || age != 0 {
		t.Errorf("nothing dormant: %v %v", age, ok)
	}
	slow := Curve{Log10Hours: 12, Power: 0.5, Most: 0.8}
	if _, ok := slow.Age(0.7, 65); ok {
		t.Error("a time longer than a Duration was given")
	}
}

func TestPerDecadeIsTheSlope(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, rh := usualCurve(t), anyHumidity(t)
		h := rapid.Float64Range(1, 1e5).Draw(t, "hours")
		at := func(log float64) Share { return c.at(math.Pow(10, log) / c.hours(rh)) }
		const e = 1e-4
		want := float64(at(math.Log10(h)+e)-at(math.Log10(h)-e)) / (2 * e)
		age, _ := fromHours(h)
		if got := float64(c.PerDecade(age, rh)); math.Abs(got-want) > 1e-6 {
			t.Fatalf("slope %v, by differences %v", got, want)
		}
	})
}

func TestPriorCurves(t *testing.T) {
	curves := PriorCurves(estimate.NewSampler(2000, 1))
	var hours, most, perRH []float64
	for _, c := range curves {
		if err := c.Check(); err != nil {
			t.Fatal(err)
		}
		hours, most, perRH = append(hours, c.Log10Hours), append(most, float64(c.Most)), append(perRH, c.PerPercentRH)
	}
	h, m, c := estimate.FromDraws(hours), estimate.FromDraws(most), estimate.FromDraws(perRH)
	inside(t, "log10 T_65", h.Value, 1.67, 1.69)
	inside(t, "its sd", h.SD, 0.88, 0.92)
	inside(t, "f_max", m.Value, 0.745, 0.755)
	// N(0.03, 0.02) above zero: the median lies at the middle of what is left, at
	// 0.03 + 0.02 x 0.0838.
	inside(t, "c", c.Value, 0.0316, 0.0318)
	if c.Low < 0 {
		t.Errorf("c of %v", c.Low)
	}
}

func TestCurveRefusals(t *testing.T) {
	good := Curve{Log10Hours: 2, Power: 0.5, Most: 0.8}
	nan := math.NaN()
	for _, c := range []Curve{{nan, 1, 0.5, 0}, {13, 1, 0.5, 0}, {1, 0, 0.5, 0}, {1, nan, 0.5, 0}, {1, 1, 1.1, 0}, {1, 1, Share(nan), 0}, {1, 1, 0.5, -1}, {1, 1, 0.5, nan}} {
		refused(t, fmt.Sprint(c), c.Check())
	}
	for _, h := range []Humidity{-1, 101, Humidity(nan), Humidity(math.Inf(1))} {
		refused(t, fmt.Sprint(h), h.Check())
	}
	refused(t, "a spell that ends before it begins", Room{{-hour, 50}}.Check())
	refused(t, "a spell of 120 %", Room{{hour, 120}}.Check())
	for _, parts := range [][]Fibre{nil, {{nil, 1}}, {{[]Curve{good}, 1}, {nil, 1}}, {{[]Curve{good}, 0}}, {{[]Curve{good}, Share(nan)}}, {{[]Curve{{}}, 1}}} {
		_, err := Mix(parts...)
		refused(t, fmt.Sprint(parts), err)
	}
}

func refused(t *testing.T, name string, err error) {
	t.Helper()
	e, ok := err.(*Error)
	if !ok || e.Problem == "" || e.Advice == "" {
		t.Errorf("%s: want a refusal with advice, got %v", name, err)
	}
}

// Time at one humidity is worth time at another: however the spells are cut,
// the equivalent age at a steady humidity is as dormant.
func TestEquivalentAge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, at := usualCurve(t), anyHumidity(t)
		var room Room
		for range rapid.IntRange(0, 5).Draw(t, "spells") {
			room = append(room, Spell{time.Duration(rapid.Int64Range(0, int64(month)).Draw(t, "spell")), anyHumidity(t)})
		}
		age := time.Duration(rapid.Int64Range(0, int64(3*month)).Draw(t, "age"))
		even := c.EquivalentAge(room, age, at)
		got, want := c.Dormant(even, at), c.DormantIn(room, age)
		if even > hour && even < oldest && math.Abs(float64(got-want)) > 1e-9 {
			t.Fatalf("%v in %v is as dormant as %v at %v, but %v against %v", age, room, even, at, want, got)
		}
		if younger := c.DormantIn(room, age/2); younger > want+rounding {
			t.Fatalf("half the age is more dormant: %v against %v", younger, want)
		}
	})
}

func TestRoom(t *testing.T) {
	c := Curve{Log10Hours: 2, Power: 0.5, Most: 0.8, PerPercentRH: 0.03}
	tests := []struct {
		name string
		room Room
		age  time.Duration
		want time.Duration // at 65 %
	}{
		{"nothing known", nil, 5 * day, 5 * day},
		{"steady", Steady(65), 5 * day, 5 * day},
		{"ten per cent drier", Steady(55), 100 * hour, hoursOf(100 / math.Pow(10, 0.3))},
		{"only the last spell lived through", Room{{day, 0}, {10 * day, 65}}, 3 * day, 3 * day},
		{"both", Room{{day, 55}, {100 * hour, 65}}, 110 * hour, hoursOf(100 + 10/math.Pow(10, 0.3))},
		{"older than the record", Room{{0, 55}, {100 * hour, 65}}, 200 * hour, hoursOf(100 + 100/math.Pow(10, 0.3))},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := c.EquivalentAge(tt.room, tt.age, 65)
			inside(t, "hours", got.Hours(), tt.want.Hours()-1e-6, tt.want.Hours()+1e-6)
		})
	}
}

func hoursOf(h float64) time.Duration { d, _ := fromHours(h); return d }

func TestBlendIsBetweenItsFibres(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, rh, age := anyCurve(t), anyCurve(t), anyHumidity(t), anyAge(t)
		parts := []Fibre{{[]Curve{a}, Share(rapid.Float64Range(0.01, 100).Draw(t, "a"))}, {[]Curve{b}, Share(rapid.Float64Range(0.01, 100).Draw(t, "b"))}}
		blends, err := Mix(parts...)
		if err != nil {
			t.Fatal(err)
		}
		fa, fb, f := a.Dormant(age, rh), b.Dormant(age, rh), blends[0].Dormant(age, rh)
		const e = 1e-12
		if !(f >= min(fa, fb)-e && f <= max(fa, fb)+e) {
			t.Fatalf("blend of %v and %v: %v", fa, fb, f)
		}
		want := (fa*parts[0].Share + fb*parts[1].Share) / (parts[0].Share + parts[1].Share)
		if math.Abs(float64(f-want)) > e {
			t.Fatalf("blend by mass %v, want %v", f, want)
		}
	})
}

func ExampleCurve() {
	c := Curve{Log10Hours: math.Log10(48), Power: 0.35, Most: 0.75, PerPercentRH: 0.03}
	for _, d := range []time.Duration{time.Hour, 24 * time.Hour, 10 * 24 * time.Hour} {
		fmt.Printf("after %v: %.2f at 65 %%, %.2f at 45 %%\n", d, c.Dormant(d, 65), c.Dormant(d, 45))
	}
	half, _ := c.Age(0.5, 65)
	fmt.Printf("half asleep after %.0f h\n", half.Hours())
	// Output:
	// after 1h0m0s: 0.17 at 65 %, 0.11 at 45 %
	// after 24h0m0s: 0.41 at 65 %, 0.29 at 45 %
	// after 240h0m0s: 0.62 at 65 %, 0.50 at 45 %
	// half asleep after 63 h
}

func BenchmarkCurve(b *testing.B) {
	c := Curve{Log10Hours: 1.68, Power: 0.35, Most: 0.75, PerPercentRH: 0.03}
	for b.Loop() {
		c.Dormant(3*day, 45)
	}
}
