package cli

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"waketwist/unit"
)

type convertCmd struct {
	Quantity []string `arg:"" help:"A number with its unit, such as “3360 yd/lb”. Quote it where your shell would cut it."`
	JSON     bool     `help:"Print one JSON object."`
}

// Help is the long help.
func (convertCmd) Help() string {
	return `The unit tells what is measured: a count or weight by length in any system of the trade (tex, Nm, 20/2 Ne, worsted, run, lea, yd/lb, m/100 g), a twist (9 tpi, 350 turns/m), wraps (18 wpi, 7 wpc), a length, a mass, an angle or a temperature. A decimal comma will do.

    waketwist convert "3360 yd/lb"
    waketwist convert 9 tpi`
}

// Run prints the quantity in every unit of its kind.
func (c *convertCmd) Run(a *app) error {
	asked := strings.TrimSpace(strings.Join(c.Quantity, " "))
	q, err := unit.Parse(asked)
	if err != nil {
		return misused("%v", err)
	}
	if c.JSON {
		return writeJSON(a.Stdout, converted(q))
	}
	fmt.Fprintf(a.Stdout, "%s as %s:\n", oneLine(asked), q.Kind())
	w := tabwriter.NewWriter(a.Stdout, 0, 0, 3, ' ', 0)
	for _, line := range q.Lines() {
		fmt.Fprintf(w, "  %s\t%s\n", line.Label, line.Text)
	}
	return w.Flush()
}

// converted is a quantity for output as JSON, its units in the keys. It covers
// what unit.Parse returns.
func converted(q unit.Quantity) any {
	switch v := q.(type) {
	case unit.LinearDensity:
		return v.Conversions()
	case unit.Twist:
		return struct {
			PerMetre      float64 `json:"turns_per_m"`
			PerCentimetre float64 `json:"turns_per_cm"`
			PerInch       float64 `json:"turns_per_in"`
		}{v.PerMetre(), v.PerCentimetre(), v.PerInch()}
	case unit.Wraps:
		return struct {
			PerInch       float64 `json:"wraps_per_in"`
			PerCentimetre float64 `json:"wraps_per_cm"`
			Pitch         float64 `json:"pitch_mm"`
		}{v.PerInch(), v.PerCentimetre(), v.Pitch().Millimetres()}
	case unit.Length:
		return struct {
			Metres      float64 `json:"m"`
			Millimetres float64 `json:"mm"`
			Inches      float64 `json:"in"`
			Yards       float64 `json:"yd"`
		}{v.Metres(), v.Millimetres(), v.Inches(), v.Yards()}
	case unit.Mass:
		return struct {
			Grams  float64 `json:"g"`
			Ounces float64 `json:"oz"`
			Pounds float64 `json:"lb"`
			Grains float64 `json:"grain"`
		}{v.Grams(), v.Ounces(), v.Pounds(), v.Grains()}
	case unit.Angle:
		return struct {
			Degrees float64 `json:"deg"`
			Radians float64 `json:"rad"`
		}{v.Degrees(), v.Radians()}
	case unit.Temperature:
		return struct {
			Celsius    float64 `json:"celsius"`
			Fahrenheit float64 `json:"fahrenheit"`
		}{v.Celsius(), v.Fahrenheit()}
	}
	panic(fmt.Sprintf("no JSON for %T", q)) // a kind that unit.Parse has gained
}
