package cli

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"waketwist/unit"
)

type convertCmd struct {
	Quantity []string `arg:"" help:"A number with its unit, such as “3360 yd/lb”. Quote it where your shell would cut it."`
	Count    text     `placeholder:"COUNT" help:"With a twist: the count of the yarn that has it, for its twist factor and fibre angle."`
	JSON     bool     `help:"Print one JSON object."`
}

// Help is the long help.
func (convertCmd) Help() string {
	return `The unit tells what is measured: a count or weight by length in any system of the trade (tex, Nm, 20/2 Ne, worsted, run, lea, yd/lb, m/100 g), a twist (9 tpi, 350 turns/m), wraps (18 wpi, 7 wpc), a length, a mass, an angle or a temperature. A decimal comma will do.

A count also brings the thickness of such a yarn in wool, and the tension under which its length and twist are measured. A twist with --count brings the twist factor, with which yarns of any thickness compare.

    waketwist convert "3360 yd/lb"
    waketwist convert 9 tpi
    waketwist convert "350 tpm" --count "147 tex"`
}

// Run prints the quantity in every unit of its kind.
func (c *convertCmd) Run(a *app) error {
	asked := strings.TrimSpace(strings.Join(c.Quantity, " "))
	q, err := unit.Parse(asked)
	if err != nil {
		return misused("%v", err)
	}
	if c.Count != "" {
		return c.runFactor(a, asked, q)
	}
	if c.JSON {
		return writeJSON(a.Stdout, converted(q))
	}
	if err := printLines(a.Stdout, asked, q, q.Lines()); err != nil {
		return err
	}
	if t, ok := q.(unit.LinearDensity); ok {
		_, err = fmt.Fprintf(a.Stdout, "\n%s\n\n%s\n", folded(thicknessWords(t), proseWidth), folded(testWords(t), proseWidth))
	}
	return err
}

// printLines prints a table under what was asked.
func printLines(out io.Writer, asked string, q unit.Quantity, lines []unit.Line) error {
	fmt.Fprintf(out, "%s as %s:\n", oneLine(asked), q.Kind())
	w := tabwriter.NewWriter(out, 0, 0, 3, ' ', 0)
	for _, line := range lines {
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
