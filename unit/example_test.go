package unit_test

import (
	"fmt"

	"waketwist/unit"
)

func ExampleParse() {
	q, err := unit.Parse("3,360 yd/lb")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(q.Kind(), q)
	for _, line := range q.Lines() {
		fmt.Printf("%-32s %s\n", line.Label, line.Text)
	}
	// Output:
	// linear density 147.6 tex (3,360 yd/lb)
	// tex (g/km)                       147.6 tex
	// decitex                          1476 dtex
	// denier                           1329 den
	// metric count                     Nm 6.773
	// cotton count (840 yd)            Ne 4.000
	// worsted count (560 yd)           6.000 worsted
	// woollen run (1600 yd)            2.100 run
	// linen lea, woollen cut (300 yd)  11.20 lea
	// Yorkshire skeins (256 yd)        13.12 Yorkshire skeins
	// yards per pound                  3,360 yd/lb
	// metres in 100 g                  677.3 m/100 g
	// grain count                      250.0 grains/120 yd
}

func ExampleParse_ambiguous() {
	_, err := unit.Parse("1,234 m")
	fmt.Println(err)
	_, err = unit.Parse("64s")
	fmt.Println(err)
	// Output:
	// cannot read “1,234 m” as a length: the comma in “1,234” may mark thousands or decimals; write a plain number, 1234 or 1.234
	// cannot read “64s” as a linear density: it does not say in which count system; name one, as in 20/2 Ne (cotton), 64s worsted, 20s linen, Nm 28/2 or R 60 tex/2; a quality number such as 64s is the fineness of a fibre and not of a yarn
}

func ExampleParseLength() {
	for _, text := range []string{`54"`, "2,5 m", "1/30 in", "1,093 yd"} {
		l, err := unit.ParseLength(text)
		fmt.Println(l, err)
	}
	// Output:
	// 1.37 m (54.0 in) <nil>
	// 2.50 m (98.4 in) <nil>
	// 0.847 mm (0.0333 in) <nil>
	// 999 m (1,093 yd) <nil>
}

func ExampleParseMass() {
	m, err := unit.ParseMass("2 oz 3/4")
	fmt.Println(m, err)
	// Output: 78.0 g (2.75 oz) <nil>
}

func ExampleParseLinearDensity() {
	for _, text := range []string{"Nm 28/2", "20s cotton", "254 yd / 2 1/8 oz", "30 tex x 2"} {
		d, err := unit.ParseLinearDensity(text)
		fmt.Println(d, err)
	}
	// Output:
	// 71.43 tex (6,945 yd/lb) <nil>
	// 29.53 tex (16,800 yd/lb) <nil>
	// 259.4 tex (1,912 yd/lb) <nil>
	// 60.00 tex (8,268 yd/lb) <nil>
}

func ExampleParseTwist() {
	u, err := unit.ParseTwist("8 tpi")
	fmt.Println(u, err)
	// Output: 315 turns/m (8.0 tpi) <nil>
}

func ExampleParseWraps() {
	w, err := unit.ParseWraps("18 wpi")
	fmt.Println(w, err)
	// Output: 18 wpi (7.1 wpc) <nil>
}

func ExampleParseAngle() {
	a, err := unit.ParseAngle("38.5")
	fmt.Println(a, err)
	// Output: 38.5° <nil>
}

func ExampleParseTemperature() {
	t, err := unit.ParseTemperature("104 F")
	fmt.Println(t, err)
	// Output: 40 °C (104 °F) <nil>
}

func ExampleParseDuration() {
	d, err := unit.ParseDuration("76 h")
	fmt.Println(unit.FormatDuration(d), err)
	// Output: 3 days 4 h <nil>
}

// Eight turns per inch in a yarn of worsted count 6 as a cotton twist
// multiplier, and the twist that this multiplier asks of a yarn twice as heavy.
func ExampleTwistFactorOf() {
	k := unit.TwistFactorOf(8*unit.TurnPerInch, unit.FromWorstedCount(6))
	fmt.Printf("%.2f\n", k.TwistMultiplier())
	fmt.Println(k.Twist(unit.FromWorstedCount(3)))
	// Output:
	// 4.00
	// 223 turns/m (5.7 tpi)
}

func ExampleLinearDensityOf() {
	d := unit.LinearDensityOf(100*unit.Gram, 400*unit.Metre)
	fmt.Println(d)
	fmt.Println(d.MassOf(120 * unit.Yard))
	fmt.Println(d.LengthOf(2 * unit.Ounce))
	// Output:
	// 250.0 tex (1,984 yd/lb)
	// 27.4 g (0.968 oz)
	// 227 m (248 yd)
}
