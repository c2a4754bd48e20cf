package unit_test

import (
	"testing"

	"waketwist/unit"
)

func TestOrNothing(t *testing.T) {
	read := unit.OrNothing(unit.ParseLength)
	for text, want := range map[string]unit.Length{
		"0 in": 0, " 0.0 cm ": 0, "0,00 m": 0, "0yd": 0, "0.5 in": unit.Inch / 2, "24 in": 24 * unit.Inch,
	} {
		if got, err := read(text); err != nil || float64(got-want) > 1e-12 || float64(want-got) > 1e-12 {
			t.Errorf("%q is read as %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "0", "-0 in", "0 g", "0 ells", "nothing", "0 in 4 stone", "-3 in"} {
		if got, err := read(text); err == nil {
			t.Errorf("%q is read as %v", text, got)
		}
	}
}

func TestRoomOfAWrap(t *testing.T) {
	for w, want := range map[unit.Wraps]string{
		26 * unit.WrapPerInch: "0.98 mm (0.038 in)", 7 * unit.WrapPerInch: "3.6 mm (0.14 in)", unit.WrapPerInch: "25 mm (1.0 in)",
	} {
		if got := w.Room(); got != want {
			t.Errorf("%v leaves a wrap %q, want %q", w, got, want)
		}
	}
}
