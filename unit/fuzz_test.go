package unit_test

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"waketwist/unit"
)

// seed gives f every text of testdata/parse.txt.
func seed(f *testing.F) {
	data, err := os.ReadFile("testdata/parse.txt")
	if err != nil {
		f.Fatal(err)
	}
	for line := range strings.Lines(string(data)) {
		if _, rest, ok := strings.Cut(line, " | "); ok {
			text, _, _ := strings.Cut(rest, " => ")
			f.Add(text)
		}
	}
}

// fuzzParser looks for a text on which parse panics, gives a value without
// physical meaning, or gives one that its own printed form does not give back.
func fuzzParser[Q unit.Quantity](f *testing.F, parse func(string) (Q, error)) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		q, err := parse(text)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "cannot read “") {
				t.Fatalf("%q: odd error %v", text, err)
			}
			return
		}
		checkPhysical(t, q)
		again, err := parse(q.String())
		if err != nil {
			t.Fatalf("%q was read and printed as %q: %v", text, q.String(), err)
		}
		if !(math.Abs(base(again)-base(q)) <= printedWithin(q)) {
			t.Fatalf("%q was read as %v, printed as %q and read as %v", text, base(q), q.String(), base(again))
		}
	})
}

// checkPhysical fails for infinite values and for those below zero, or at zero
// where there is nothing left to measure.
func checkPhysical(t *testing.T, q unit.Quantity) {
	t.Helper()
	v := base(q)
	ok := v > 0
	switch q.Kind() {
	case unit.KindTwist, unit.KindAngle:
		ok = v >= 0
	case unit.KindTemperature:
		ok = v > -273.15
	}
	if !ok || math.IsInf(v, 0) {
		t.Fatalf("%s of %v", q.Kind(), v)
	}
}

func FuzzParse(f *testing.F)              { fuzzParser(f, unit.Parse) }
func FuzzParseLength(f *testing.F)        { fuzzParser(f, unit.ParseLength) }
func FuzzParseMass(f *testing.F)          { fuzzParser(f, unit.ParseMass) }
func FuzzParseLinearDensity(f *testing.F) { fuzzParser(f, unit.ParseLinearDensity) }
func FuzzParseTwist(f *testing.F)         { fuzzParser(f, unit.ParseTwist) }
func FuzzParseWraps(f *testing.F)         { fuzzParser(f, unit.ParseWraps) }
func FuzzParseAngle(f *testing.F)         { fuzzParser(f, unit.ParseAngle) }
func FuzzParseTemperature(f *testing.F)   { fuzzParser(f, unit.ParseTemperature) }

// FuzzParseNumber looks for a text that is read as no number at all, or that its
// own digits do not give back.
func FuzzParseNumber(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		v, err := unit.ParseNumber(text)
		if err != nil {
			return
		}
		again, err := unit.ParseNumber(strconv.FormatFloat(v, 'f', -1, 64))
		if err != nil || again != v || math.IsInf(v, 0) {
			t.Fatalf("%q was read as %v, and that as %v, %v", text, v, again, err)
		}
	})
}

func FuzzParseDuration(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		d, err := unit.ParseDuration(text)
		if err != nil {
			return
		}
		if d < time.Second {
			t.Fatalf("%q was read as %v", text, d)
		}
		again, err := unit.ParseDuration(unit.FormatDuration(d))
		if err != nil || math.Abs(float64(again-d)) > float64(d)/2 {
			t.Fatalf("%q was read as %v, printed as %q and read as %v, %v", text, d, unit.FormatDuration(d), again, err)
		}
	})
}
