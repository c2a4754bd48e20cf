package cli

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"waketwist/unit"
	"waketwist/yarn"
)

type thinCmd struct {
	Profile   text `required:"" placeholder:"STEPS" help:"Thickness at equal steps along the singles against --thickness, as in “1, 0.8, 1.3, 0.9”."`
	Twist     text `required:"" placeholder:"TWIST" help:"Mean twist over the steps, as in “300 tpm” or “8 tpi”."`
	Thickness text `required:"" placeholder:"THICKNESS" help:"Thickness of step 1.0, as in “0.8 mm”, or its wraps, as in “18 wpi”."`
	Power     text `default:"2" placeholder:"POWER" help:"Power of its thickness with which singles resist twisting, 0 to 4. Default: ${default}, for fibres that slide over each other; a solid rod has 4, and with 0 the twist stays where it was put."`
	JSON      bool `help:"Print one JSON object."`
}

// Help is the long help.
func (thinCmd) Help() string {
	return `Twist that is free to run gathers in the thin places of singles, because they give way first. This says how many turns per length each place gets of a mean twist, and at what angle the fibres lie there. A power of 1 gives every place the same angle.

    waketwist thin --profile "1, 0.8, 1.3, 0.9" --twist "300 tpm" --thickness "0.8 mm"`
}

// thinJSON is the answer, as JSON. Angles are those of the surface fibres.
type thinJSON struct {
	Steps []thinStepJSON `json:"steps"`
	Mean  float64        `json:"mean_angle_deg"`
	SD    float64        `json:"sd_angle_deg"`
	Least float64        `json:"least_angle_deg"`
	Most  float64        `json:"most_angle_deg"`
}

type thinStepJSON struct {
	Diameter  float64 `json:"diameter_mm"`
	Turns     float64 `json:"turns_per_m"`
	TurnsInch float64 `json:"turns_per_in"`
	Angle     float64 `json:"angle_deg"`
}

// Run prints how the twist lies.
func (c *thinCmd) Run(a *app) error {
	mean, power, diameters, err := c.asked()
	if err != nil {
		return err
	}
	p, err := yarn.SpreadTwist(diameters, mean, power)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(a.Stdout, thinJSONOf(p))
	}
	_, err = fmt.Fprint(a.Stdout, thinProse(p, mean, power))
	return err
}

func (c *thinCmd) asked() (mean yarn.StrandTwist, power yarn.ThicknessExponent, diameters []unit.Length, err error) {
	twist, err := unit.ParseTwist(string(c.Twist))
	if err != nil {
		return 0, 0, nil, misused("--twist: %v", err)
	}
	p, err := parseNumber("--power", c.Power)
	if err != nil {
		return 0, 0, nil, err
	}
	if err := inRange("--power", p, 0, float64(yarn.SolidRod)); err != nil {
		return 0, 0, nil, err
	}
	thickness, err := parseThickness(string(c.Thickness))
	if err != nil {
		return 0, 0, nil, misused("--thickness: %v", err)
	}
	steps, err := parseNumbers("--profile", c.Profile)
	if err != nil {
		return 0, 0, nil, err
	}
	for _, step := range steps {
		if err := inRange("--profile", step, 0.01, 100); err != nil {
			return 0, 0, nil, err
		}
		diameters = append(diameters, unit.Length(step)*thickness)
	}
	return yarn.StrandTwist(twist), yarn.ThicknessExponent(p), diameters, nil
}

func thinJSONOf(p yarn.TwistProfile) thinJSON {
	out := thinJSON{
		Mean: round(p.Mean.Degrees(), 4), SD: round(p.SD.Degrees(), 4),
		Least: round(p.Least.Degrees(), 4), Most: round(p.Most.Degrees(), 4),
	}
	for _, s := range p.Steps {
		turns := unit.Twist(s.Twist)
		out.Steps = append(out.Steps, thinStepJSON{
			round(s.Diameter.Millimetres(), 4), round(turns.PerMetre(), 3), round(turns.PerInch(), 4), round(s.Angle.Degrees(), 4),
		})
	}
	return out
}

func thinProse(p yarn.TwistProfile, mean yarn.StrandTwist, power yarn.ThicknessExponent) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n", folded(fmt.Sprintf(
		"A mean of %s lies at %.1f° on average: %.1f° at the flattest place, %.1f° at the steepest. The usual spread about the average is %.1f°.",
		unit.Twist(mean), p.Mean.Degrees(), p.Least.Degrees(), p.Most.Degrees(), p.SD.Degrees()), proseWidth))
	t := tabwriter.NewWriter(&b, 0, 0, 3, ' ', 0)
	fmt.Fprintln(t, "  step\tthickness\ttwist\tsurface angle")
	for i, s := range p.Steps {
		fmt.Fprintf(t, "  %d\t%s\t%s\t%.1f°\n", i+1, s.Diameter.Metric(), unit.Twist(s.Twist), s.Angle.Degrees())
	}
	t.Flush()
	fmt.Fprintf(&b, "\n%s\n", folded(fmt.Sprintf(
		"Modelled, for twist that is free to run along singles whose resistance to twisting grows with their thickness to the power of %.3g. Twist set while drafting, or caught by a hook or a finger, stays where it is.",
		float64(power)), proseWidth))
	return b.String()
}
