package unit_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waketwist/unit"
)

// spread draws from lo to hi, each power of ten alike.
func spread(t *rapid.T, lo, hi float64) float64 {
	return math.Exp(rapid.Float64Range(math.Log(lo), math.Log(hi)).Draw(t, "log"))
}

// quantity draws a quantity of any kind within the limits of its parser, kept
// off the limits by the share margin.
func quantity(t *rapid.T, margin float64) unit.Quantity {
	within := func(lo, hi float64) float64 { return spread(t, lo*(1+margin), hi*(1-margin)) }
	switch rapid.IntRange(0, 6).Draw(t, "kind") {
	case 0:
		return unit.Length(within(1e-7, 1e6))
	case 1:
		return unit.Mass(within(1e-6, 1e6))
	case 2:
		return unit.LinearDensity(within(0.01, 1e5))
	case 3:
		return unit.Twist(within(0.01, 2e4))
	case 4:
		return unit.Wraps(within(0.1, 1000)) * unit.WrapPerInch
	case 5:
		return unit.Angle(within(0.001, 90)) * unit.Degree
	}
	return unit.Temperature(rapid.Float64Range(-60*(1-margin), 300*(1-margin)).Draw(t, "celsius"))
}

// printedWithin is how far a printed value may lie from what was printed: half
// a unit of the last figure.
func printedWithin(q unit.Quantity) float64 {
	v := math.Abs(base(q))
	switch q.(type) {
	case unit.LinearDensity:
		return v * 0.0005001
	case unit.Angle:
		return float64(0.0500001 * unit.Degree)
	case unit.Temperature:
		return 0.0500001
	}
	return v * 0.005001
}

// TestStringParsesBack: what String prints, its own parser reads back to within
// the printed figures.
func TestStringParsesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := quantity(t, 0)
		again, err := unit.Parse(q.String())
		if err != nil {
			t.Fatal(err)
		}
		if again.Kind() != q.Kind() || !(math.Abs(base(again)-base(q)) <= printedWithin(q)) {
			t.Fatalf("%v printed as %q and read as %v", base(q), q.String(), base(again))
		}
	})
}

// TestLinesParseBack: every line says the same quantity. Where the line is of
// the other kind that belongs to wraps, the room for one, its inverse is.
func TestLinesParseBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := quantity(t, 0.01) // a line in another unit may round to just past a limit
		for _, line := range q.Lines() {
			again, err := unit.Parse(line.Text)
			if err != nil {
				t.Fatalf("%s: %v", line.Label, err)
			}
			got := base(again)
			if pitch, ok := again.(unit.Length); ok && q.Kind() == unit.KindWraps {
				got = 1 / pitch.Metres()
			} else if again.Kind() != q.Kind() {
				t.Fatalf("%s: %q is read as %s", line.Label, line.Text, again.Kind())
			}
			if !(math.Abs(got-base(q)) <= 0.0051*math.Abs(base(q))+lineSlack(q)) {
				t.Fatalf("%s: %v printed as %q", line.Label, base(q), line.Text)
			}
		}
	})
}

// lineSlack is the absolute rounding of the lines printed to a fixed place: a
// tenth of an inch, of an ounce or of a degree Fahrenheit or Celsius.
func lineSlack(q unit.Quantity) float64 {
	switch q.(type) {
	case unit.Length:
		return float64(0.05001 * unit.Inch)
	case unit.Mass:
		return float64(0.05001 * unit.Ounce)
	case unit.Temperature:
		return 0.05001
	}
	return 0
}

// TestDensityInvertible: each constructor undoes its getter.
func TestDensityInvertible(t *testing.T) {
	undo := map[string]func(unit.LinearDensity) unit.LinearDensity{
		"tex":    func(d unit.LinearDensity) unit.LinearDensity { return unit.Tex * unit.LinearDensity(d.Tex()) },
		"dtex":   func(d unit.LinearDensity) unit.LinearDensity { return unit.Dtex * unit.LinearDensity(d.Dtex()) },
		"denier": func(d unit.LinearDensity) unit.LinearDensity { return unit.Denier * unit.LinearDensity(d.Denier()) },
		"grains": func(d unit.LinearDensity) unit.LinearDensity {
			return unit.GrainPer120Yards * unit.LinearDensity(d.GrainsPer120Yards())
		},
		"Nm":              func(d unit.LinearDensity) unit.LinearDensity { return unit.FromNm(d.Nm()) },
		"cotton":          func(d unit.LinearDensity) unit.LinearDensity { return unit.FromCottonCount(d.CottonCount()) },
		"worsted":         func(d unit.LinearDensity) unit.LinearDensity { return unit.FromWorstedCount(d.WorstedCount()) },
		"run":             func(d unit.LinearDensity) unit.LinearDensity { return unit.FromWoollenRun(d.WoollenRun()) },
		"lea":             func(d unit.LinearDensity) unit.LinearDensity { return unit.FromLea(d.Lea()) },
		"Yorkshire":       func(d unit.LinearDensity) unit.LinearDensity { return unit.FromYorkshireSkeins(d.YorkshireSkeins()) },
		"yards per pound": func(d unit.LinearDensity) unit.LinearDensity { return unit.FromYardsPerPound(d.YardsPerPound()) },
		"metres in 100 g": func(d unit.LinearDensity) unit.LinearDensity { return unit.FromMetresPer100g(d.MetresPer100g()) },
		"mass of a length": func(d unit.LinearDensity) unit.LinearDensity {
			return unit.LinearDensityOf(d.MassOf(37*unit.Yard), 37*unit.Yard)
		},
		"length of a mass": func(d unit.LinearDensity) unit.LinearDensity {
			return unit.LinearDensityOf(2*unit.Ounce, d.LengthOf(2*unit.Ounce))
		},
	}
	rapid.Check(t, func(t *rapid.T) {
		d := unit.LinearDensity(spread(t, 1e-3, 1e6))
		for name, f := range undo {
			if got := f(d); !(math.Abs(float64(got/d)-1) <= 1e-12) {
				t.Fatalf("%s: %v became %v", name, float64(d), float64(got))
			}
		}
	})
}

// TestFoldsDivideCount: n folds weigh n times one, however the fold is written.
func TestFoldsDivideCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		folds := rapid.IntRange(2, 12).Draw(t, "folds")
		size := folds * rapid.IntRange(3, 8).Draw(t, "times")
		system := rapid.SampledFrom([]string{"Ne", "Nm", "worsted", "run", "lea", "Yorkshire skeins"}).Draw(t, "system")
		one, err := unit.ParseLinearDensity(fmt.Sprintf("%d %s", size, system))
		if err != nil {
			t.Fatal(err)
		}
		for _, form := range []string{"%[1]d/%[2]d %[3]s", "%[2]d/%[1]d %[3]s", "%[2]d/%[1]ds %[3]s", "%[3]s %[1]d/%[2]d", "%[1]d %[3]s/%[2]d", "%[1]d %[3]s x %[2]d"} {
			text := fmt.Sprintf(form, size, folds, system)
			whole, err := unit.ParseLinearDensity(text)
			if err != nil {
				t.Fatal(err)
			}
			if !(math.Abs(float64(whole/one)-float64(folds)) <= 1e-9) {
				t.Fatalf("%s is %v of one strand", text, float64(whole/one))
			}
		}
	})
}

// TestTwistFactorInvertible: the twist that a factor asks for has that factor,
// and yarns of one factor get less twist the heavier they are.
func TestTwistFactorInvertible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := unit.LinearDensity(spread(t, 1, 1e4))
		k := unit.TwistFactor(spread(t, 500, 10000))
		if got := unit.TwistFactorOf(k.Twist(d), d); !(math.Abs(float64(got/k)-1) <= 1e-12) {
			t.Fatalf("factor %v became %v", float64(k), float64(got))
		}
		if ratio := k.Twist(4*d) / k.Twist(d); !(math.Abs(float64(ratio)-0.5) <= 1e-12) {
			t.Fatalf("four times the density takes %v of the twist, want half", float64(ratio))
		}
	})
}

func TestFormatDurationParsesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := time.Duration(spread(t, 1, 3e9)) * time.Second
		text := unit.FormatDuration(d)
		got, err := unit.ParseDuration(text)
		if err != nil {
			t.Fatal(err)
		}
		// The second of two units is at most a twenty-fourth of the first.
		if math.Abs(float64(got-d)) > float64(d)/48 {
			t.Fatalf("%v printed as %q", d, text)
		}
	})
}

func TestConversionsKeys(t *testing.T) {
	data, err := json.Marshal(unit.FromYardsPerPound(3360).Conversions())
	if err != nil {
		t.Fatal(err)
	}
	var values map[string]float64
	if err := json.Unmarshal(data, &values); err != nil {
		t.Fatal(err)
	}
	want := []string{"denier", "lea", "m_per_100g", "ne", "nm", "run", "tex", "worsted", "yd_per_lb"}
	var got []string
	for key, v := range values {
		values[key] = math.Round(v*1000) / 1000
		got = append(got, key)
	}
	slices.Sort(got)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("keys (-want +got):\n%s", diff)
	}
	wantValues := map[string]float64{
		"tex": 147.635, "denier": 1328.718, "nm": 6.773, "ne": 4, "worsted": 6, "run": 2.1, "lea": 11.2,
		"yd_per_lb": 3360, "m_per_100g": 677.345,
	}
	if diff := cmp.Diff(wantValues, values); diff != "" {
		t.Errorf("values (-want +got):\n%s", diff)
	}
}
