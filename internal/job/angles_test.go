package job

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"waketwist/unit"
)

func TestParseAngles(t *testing.T) {
	for _, tt := range []struct {
		text string
		want []float64 // degrees
	}{
		{"38", []float64{38}},
		{"20,21,19", []float64{20, 21, 19}},
		{"20, 21, 19", []float64{20, 21, 19}},
		{"20 21 19", []float64{20, 21, 19}},
		{" 20\n21\t19 ", []float64{20, 21, 19}},
		{"20;21;19", []float64{20, 21, 19}},
		{"20,5; 21", []float64{20.5, 21}},
		{"20,5 21", []float64{20.5, 21}},
		{"20,5;", []float64{20.5}},
		{"20.5,21", []float64{20.5, 21}},
		{"20, 21,", []float64{20, 21}},
		{"38°, 39°", []float64{38, 39}},
		{"38 deg 39 deg", []float64{38, 39}},
		{"38 degrees; 39,5 degrees", []float64{38, 39.5}},
	} {
		got, err := ParseAngles(tt.text)
		if err != nil {
			t.Errorf("ParseAngles(%q): %v", tt.text, err)
			continue
		}
		var degrees []float64
		for _, a := range got {
			degrees = append(degrees, a.Degrees())
		}
		if diff := cmp.Diff(tt.want, degrees, cmpopts.EquateApprox(0, 1e-9)); diff != "" {
			t.Errorf("ParseAngles(%q) (-want +got):\n%s", tt.text, diff)
		}
	}
}

func TestParseAnglesRefuses(t *testing.T) {
	for _, tt := range []struct{ text, about string }{
		{"", "no number"},
		{" ; , ", "no number"},
		{"20, 21,5", "semicolons"},
		{"-20,21", "-20"},
		{"20,steep", "steep"},
		{"20,2000", "2000"},
		{"20 mm 21 mm", "mm"},
		{strings.Repeat("20,", 101), "more than 100"},
	} {
		got, err := ParseAngles(tt.text)
		var parse *unit.ParseError
		if !errors.As(err, &parse) {
			t.Errorf("ParseAngles(%q) = %v, %v, want a *unit.ParseError", tt.text, got, err)
			continue
		}
		if parse.Kind != unit.KindAngle || parse.Problem == "" || parse.Advice == "" || !strings.Contains(err.Error(), tt.about) {
			t.Errorf("ParseAngles(%q): %v, want an angle's error about %q with advice", tt.text, err, tt.about)
		}
	}
}

func FuzzParseAngles(f *testing.F) {
	for _, seed := range []string{"20,21,19", "20,5; 21", "38° 39°", ";;", "20, 21,5"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		angles, err := ParseAngles(text)
		if (err == nil) == (len(angles) == 0) {
			t.Errorf("ParseAngles(%q) = %v, %v", text, angles, err)
		}
		for _, a := range angles {
			if !(a.Degrees() >= 0 && a.Degrees() <= 90) {
				t.Errorf("ParseAngles(%q) gave %v", text, a)
			}
		}
	})
}
