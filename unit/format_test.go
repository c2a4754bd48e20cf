package unit_test

import (
	"math"
	"testing"

	"waketwist/unit"
)

func TestString(t *testing.T) {
	cases := []struct {
		q    unit.Quantity
		want string
	}{
		{25 * unit.Micrometre, "25.0 µm (0.000984 in)"},
		{unit.Inch / 30, "0.847 mm (0.0333 in)"},
		{12 * unit.Centimetre, "12.0 cm (4.72 in)"},
		{1.5 * unit.Metre, "1.50 m (59.1 in)"},
		{9240 * unit.Yard, "8449 m (9,240 yd)"},
		{999.999 * unit.Metre, "1000 m (1,094 yd)"},
		{42.195 * unit.Kilometre, "42.2 km (46,145 yd)"},
		{-1.5 * unit.Metre, "-1.50 m (-59.1 in)"},
		{45 * unit.Milligram, "45.0 mg (0.694 grains)"},
		{100 * unit.Gram, "100 g (3.53 oz)"},
		{1253 * unit.Gram, "1253 g (2.76 lb)"},
		{12.5 * unit.Kilogram, "12.5 kg (27.6 lb)"},
		{unit.FromYardsPerPound(3360), "147.6 tex (3,360 yd/lb)"},
		{unit.Denier, "0.1111 tex (4,464,492 yd/lb)"},
		{25 * unit.Kilotex, "25.00 ktex (19.8 yd/lb)"},
		{8 * unit.TurnPerInch, "315 turns/m (8.0 tpi)"},
		{0 * unit.TurnPerInch, "0 turns/m (0 tpi)"},
		{-8 * unit.TurnPerInch, "-315 turns/m (-8.0 tpi)"},
		{0.25 * unit.TurnPerInch, "9.84 turns/m (0.25 tpi)"},
		{99.96 * unit.TurnPerInch, "3935 turns/m (100 tpi)"},
		{18 * unit.WrapPerInch, "18 wpi (7.1 wpc)"},
		{18.5 * unit.WrapPerInch, "18.5 wpi (7.3 wpc)"},
		{120 * unit.WrapPerInch, "120 wpi (47.2 wpc)"},
		{38.5 * unit.Degree, "38.5°"},
		{unit.Temperature(40), "40 °C (104 °F)"},
		{unit.Temperature(-0.04), "0 °C (31.9 °F)"},
		{unit.Temperature(20.55), "20.6 °C (69 °F)"},
		{unit.Length(math.NaN()), "NaN km (NaN yd)"},
		{unit.LinearDensity(math.Inf(1)), "+Inf ktex (0 yd/lb)"},
	}
	for _, c := range cases {
		if got := c.q.String(); got != c.want {
			t.Errorf("%v: got %q, want %q", base(c.q), got, c.want)
		}
	}
}
