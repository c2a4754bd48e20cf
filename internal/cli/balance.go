package cli

import (
	"fmt"

	"waketwist/unit"
	"waketwist/yarn"
)

type balanceCmd struct {
	SinglesAngle text  `required:"" placeholder:"DEGREES" help:"Surface angle of the singles, with all their twist living: fresh or re-wet."`
	Plies        whole `default:"2" placeholder:"N" help:"Number of strands, 2 to 7. Default: ${default}."`
	K            text  `default:"0.7" placeholder:"RATIO" help:"Bending over torsional stiffness of the strand, 0 to 20. Default: ${default}, the middle of a wide assumption."`
	JSON         bool  `help:"Print one JSON object."`
}

// Help is the long help.
func (balanceCmd) Help() string {
	return `A ply rests where the strands' wish to untwist and their unwillingness to bend are even. This finds that angle, and how many turns the ply then has against the turns of its singles, per length of ply and per length of strand fed.

    waketwist balance --singles-angle 38.66 --plies 2 --k 1.5`
}

// balanced is the answer, as JSON.
type balanced struct {
	Angle           float64 `json:"angle_deg"` // of the strands' centre lines
	PerPlyLength    float64 `json:"ratio_per_ply_length"`
	PerStrandLength float64 `json:"ratio_per_strand_length"`
	TwistLeft       float64 `json:"strand_twist_left_share"`
}

// Run prints where the ply balances.
func (c *balanceCmd) Run(a *app) error {
	angle, k, err := c.check()
	if err != nil {
		return err
	}
	n, surface := int(c.Plies), yarn.SurfaceAngle(angle)
	b := yarn.Balanced(n, yarn.Stiffness(k), surface.Living())
	r := yarn.Ratios(n, b, surface)
	out := balanced{round(b.Degrees(), 4), round(r.PerPlyLength, 6), round(r.PerStrandLength, 6), round(r.TwistLeft, 6)}
	if c.JSON {
		return writeJSON(a.Stdout, out)
	}
	full := ""
	if b >= yarn.Limit(n)-1e-6 {
		full = " That is the steepest a ply of these strands can rest at; it cannot take up all their twist."
	}
	_, err = fmt.Fprintln(a.Stdout, folded(fmt.Sprintf(
		"%d strands of singles at %.1f° rest in a ply at %.1f°, read at the strands' centre line.%s "+
			"The ply has %.3f of the singles' turns per length of ply, or %.3f per length of strand fed. "+
			"%.0f %% of the singles' own twist stays in the strands. Modelled, for round strands that touch and a stiffness ratio of %v.",
		n, angle.Degrees(), out.Angle, full, out.PerPlyLength, out.PerStrandLength, 100*out.TwistLeft, k), 72))
	return err
}

func (c *balanceCmd) check() (unit.Angle, float64, error) {
	angle, err := unit.ParseAngle(string(c.SinglesAngle))
	if err != nil {
		return 0, 0, misused("--singles-angle: %v", err)
	}
	if !(angle > 0) || angle > 75*unit.Degree {
		return 0, 0, misused("--singles-angle: %.4g degrees is no angle that singles show; give one over 0 and up to 75", angle.Degrees())
	}
	if err := inRange("--plies", float64(c.Plies), 2, yarn.MaxStrands); err != nil {
		return 0, 0, err
	}
	k, err := parseNumber("--k", c.K)
	if err != nil {
		return 0, 0, err
	}
	return angle, k, inRange("--k", k, 0, 20)
}
