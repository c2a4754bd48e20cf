package unit_test

import (
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"waketwist/unit"
)

// parsers are the parsers under the names that testdata/parse.txt gives them.
// Each returns the value in base units.
var parsers = map[string]func(string) (float64, error){
	"length":      func(s string) (float64, error) { v, err := unit.ParseLength(s); return float64(v), err },
	"mass":        func(s string) (float64, error) { v, err := unit.ParseMass(s); return float64(v), err },
	"density":     func(s string) (float64, error) { v, err := unit.ParseLinearDensity(s); return float64(v), err },
	"twist":       func(s string) (float64, error) { v, err := unit.ParseTwist(s); return float64(v), err },
	"wraps":       func(s string) (float64, error) { v, err := unit.ParseWraps(s); return float64(v), err },
	"angle":       func(s string) (float64, error) { v, err := unit.ParseAngle(s); return float64(v), err },
	"temperature": func(s string) (float64, error) { v, err := unit.ParseTemperature(s); return float64(v), err },
	"time":        func(s string) (float64, error) { v, err := unit.ParseDuration(s); return v.Seconds(), err },
	"number":      unit.ParseNumber,
	"any":         parseAny,
}

func parseAny(s string) (float64, error) {
	q, err := unit.Parse(s)
	return base(q), err
}

// base returns the value of q in its base unit.
func base(q unit.Quantity) float64 {
	switch q := q.(type) {
	case unit.Length:
		return float64(q)
	case unit.Mass:
		return float64(q)
	case unit.LinearDensity:
		return float64(q)
	case unit.Twist:
		return float64(q)
	case unit.Wraps:
		return float64(q)
	case unit.Angle:
		return float64(q)
	case unit.Temperature:
		return float64(q)
	}
	return math.NaN()
}

// expected reads the right side of a case. Its units are defined here by their
// numbers, apart from the package under test.
func expected(t *testing.T, text string) float64 {
	t.Helper()
	digits, name, _ := strings.Cut(text, " ")
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		t.Fatal(err)
	}
	const inch, pound = 0.0254, 453.59237
	switch name {
	case "", "m", "g", "tex", "t/m", "s", "rad", "°C":
		return v
	case "in":
		return v * inch
	case "yd":
		return v * 36 * inch
	case "oz":
		return v * pound / 16
	case "yd/lb":
		return pound * 1000 / (v * 36 * inch)
	case "Nm":
		return 1000 / v
	case "Ne":
		return pound * 1000 / (v * 840 * 36 * inch)
	case "tpi", "wpi":
		return v / inch
	case "°":
		return v * math.Pi / 180
	}
	t.Fatalf("no unit %q for an expected value", name)
	return 0
}

func TestParseVectors(t *testing.T) {
	data, err := os.ReadFile("testdata/parse.txt")
	if err != nil {
		t.Fatal(err)
	}
	ran := make(map[string]bool)
	for line := range strings.Lines(string(data)) {
		line = strings.TrimSuffix(line, "\n")
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		name, rest, okName := strings.Cut(line, " | ")
		text, want, okWant := strings.Cut(rest, " => ")
		parse, okParser := parsers[name]
		if !okName || !okWant || !okParser {
			t.Fatalf("not a case: %s", line)
		}
		ran[name] = true
		t.Run(name+" "+text, func(t *testing.T) { checkVector(t, parse, text, want) })
	}
	for name := range parsers {
		if !ran[name] {
			t.Errorf("no case for %s", name)
		}
	}
}

func checkVector(t *testing.T, parse func(string) (float64, error), text, want string) {
	t.Helper()
	got, err := parse(text)
	if fragment, ok := strings.CutPrefix(want, "error: "); ok {
		if err == nil || !strings.Contains(err.Error(), fragment) {
			t.Errorf("got %v, %v, want an error with %q", got, err, fragment)
		}
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	if value := expected(t, want); !(math.Abs(got-value) <= 1e-9*math.Abs(value)) {
		t.Errorf("got %v, want %v", got, value)
	}
}

func TestParseErrorFields(t *testing.T) {
	_, err := unit.ParseMass("5 gr")
	var got *unit.ParseError
	if !errors.As(err, &got) {
		t.Fatalf("got %T, want a *unit.ParseError", err)
	}
	want := &unit.ParseError{
		Kind: unit.KindMass, Text: "5 gr",
		Problem: "“gr” has two meanings", Advice: "write g for grams or grain for grains",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// TestParseErrorIsOneLine: a text of any length or content gives one printable
// line, for it may come from a file or a form.
func TestParseErrorIsOneLine(t *testing.T) {
	for _, text := range []string{strings.Repeat("9", 5000) + " m", "5\n\x1b[31m m", "\xff\xfe"} {
		_, err := unit.Parse(text)
		if err == nil {
			t.Errorf("%.20q was read", text)
			continue
		}
		if s := err.Error(); len(s) > 400 || strings.ContainsAny(s, "\n\x1b") {
			t.Errorf("%.20q gives %q", text, s)
		}
	}
}

func TestParseKinds(t *testing.T) {
	want := map[string]unit.Kind{
		`54"`: unit.KindLength, "2 oz 3/4": unit.KindMass, "3360 yd/lb": unit.KindLinearDensity,
		"9 tpi": unit.KindTwist, "18 wpi": unit.KindWraps, "38°": unit.KindAngle, "40 °C": unit.KindTemperature,
	}
	got := make(map[string]unit.Kind)
	for text := range want {
		q, err := unit.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		got[text] = q.Kind()
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestFormatDuration(t *testing.T) {
	cases := map[time.Duration]string{
		0:                              "0 s",
		45 * time.Second:               "45 s",
		20 * time.Minute:               "20 min",
		90 * time.Minute:               "1 h 30 min",
		59*time.Minute + 59700*1e6:     "1 h",
		23*time.Hour + 59*time.Minute:  "23 h 59 min",
		24*time.Hour - 10*time.Second:  "1 day",
		76*time.Hour + 20*time.Minute:  "3 days 4 h",
		-90 * time.Minute:              "-1 h 30 min",
		time.Duration(math.MinInt64):   "-106751 days 23 h",
		500 * 24 * time.Hour:           "500 days",
		2*time.Minute + 500*1e6:        "2 min 1 s",
		time.Duration(400) * time.Hour: "16 days 16 h",
	}
	for d, want := range cases {
		if got := unit.FormatDuration(d); got != want {
			t.Errorf("%d ns: got %q, want %q", d, got, want)
		}
	}
}
