package cli

import (
	"fmt"
	"math"
	"strings"

	"waketwist/cloth"
	"waketwist/unit"
)

type swatchCmd struct {
	Yarn   text `arg:"" help:"Weight of the washed yarn for its length, such as “200 m/100g”."`
	Swatch text `required:"" placeholder:"W, L, MASS" help:"A washed swatch: its width, length and weight, as in “10 cm, 10 cm, 2.5 g”."`
	Width  text `required:"" placeholder:"LENGTH" help:"Width of the finished fabric, all its pieces side by side."`
	Length text `required:"" placeholder:"LENGTH" help:"Length of the finished fabric."`
	Step   text `placeholder:"MASS" help:"The finest that the scale shows, as in “0.1 g”. Without it: 1 g where the swatch weighs whole grams, else 0.1 g."`
	JSON   bool `help:"Print one JSON object."`
}

// Help is the long help.
func (swatchCmd) Help() string {
	return `How much yarn a knitted or woven fabric takes, from a washed swatch of it: by weight, so that stitches need not be counted. Weigh the swatch in the room in which the yarn is weighed; a swatch of 10 g on a scale that shows whole grams is known to 5 %.

    waketwist swatch "200 m/100g" --swatch "10 cm, 10 cm, 2.5 g" --width "100 cm" --length "60 cm"`
}

// Run prints the yarn that the fabric takes.
func (c *swatchCmd) Run(a *app) error {
	t, err := unit.ParseLinearDensity(string(c.Yarn))
	if err != nil {
		return misused("%v", err)
	}
	swatch, err := parseSwatch(string(c.Swatch))
	if err != nil {
		return err
	}
	width, err := unit.ParseLength(string(c.Width))
	if err != nil {
		return misused("--width: %v", err)
	}
	length, err := unit.ParseLength(string(c.Length))
	if err != nil {
		return misused("--length: %v", err)
	}
	mass, yarn, err := swatch.Yarn(width, length, t)
	if err != nil {
		return misused("%v", err)
	}
	step, err := c.step(swatch.Mass)
	if err != nil {
		return err
	}
	off := swatch.Spread(step)
	m, l := cloth.Within(mass, off), cloth.Within(yarn, off)
	if c.JSON {
		return writeJSON(a.Stdout, map[string]*interval{"mass_g": intervalOf(m, unit.Gram, 2), "length_m": intervalOf(l, unit.Metre, 2)})
	}
	_, err = fmt.Fprintln(a.Stdout, folded(fmt.Sprintf(
		"The fabric takes %s of yarn, washed, from %s to %s: %s, from %s to %s, nine times in ten by tape and scale. That is the swatch scaled up and nothing more; have a tenth more, and what sampling takes (common practice).",
		mass, m.Low, m.High, yarn, l.Low, l.High), 72))
	return err
}

// step is what the scale shows.
func (c *swatchCmd) step(swatch unit.Mass) (unit.Mass, error) {
	if c.Step != "" {
		step, err := unit.ParseMass(string(c.Step))
		switch {
		case err != nil:
			return 0, misused("--step: %v", err)
		case step > swatch:
			return 0, misused("--step: a scale that shows %s does not weigh a swatch of %s; weigh a larger one", step, swatch)
		}
		return step, nil
	}
	if whole := math.Round(swatch.Grams()); whole >= 1 && math.Abs(swatch.Grams()-whole) < 1e-9 {
		return unit.Gram, nil
	}
	return min(unit.Gram/10, swatch), nil
}

// parseSwatch reads width, length and mass, apart by commas.
func parseSwatch(s string) (out cloth.Swatch, err error) {
	parts := strings.Split(s, ", ")
	if len(parts) != 3 {
		return out, misused("--swatch: “%s” is not a swatch; give width, length and weight, as in “10 cm, 10 cm, 2.5 g”", s)
	}
	if out.Width, err = unit.ParseLength(parts[0]); err == nil {
		out.Length, err = unit.ParseLength(parts[1])
	}
	if err == nil {
		out.Mass, err = unit.ParseMass(parts[2])
	}
	if err != nil {
		return out, misused("--swatch: %v", err)
	}
	return out, nil
}
