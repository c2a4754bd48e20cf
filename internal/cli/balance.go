package cli

import (
	"fmt"

	"waketwist/unit"
	"waketwist/yarn"
)

type balanceCmd struct {
	SinglesAngle text  `xor:"singles" group:"singles" placeholder:"DEGREES" help:"Surface angle of the singles, with all their twist living: fresh or re-wet."`
	Strand       texts `xor:"singles" group:"singles" placeholder:"STRAND" help:"A strand, as in “0.8 mm 25 Z”: its thickness or wraps, its surface angle, and where known its direction and how much of its twist sleeps, as in “18 wpi 25 Z 40%”. Repeat it for strands that differ."`
	K            text  `default:"0.7" group:"singles" placeholder:"RATIO" help:"Bending over torsional stiffness of the strand, 0 to 20. Default: ${default}, the middle of a wide assumption."`

	Plies whole `default:"2" group:"ply" placeholder:"N" help:"Number of strands that are alike, 2 to 7. Default: ${default}."`
	Fed   text  `group:"ply" placeholder:"LENGTHS" help:"Length fed of each --strand against the others, as in “1, 1.2”."`
	Slip  bool  `group:"ply" help:"Let two or three strands share the length out themselves, as under equal tension."`
	Turns text  `group:"ply" placeholder:"TWIST" help:"Turns put into the ply, as in “300 tpm” or “8 tpi S”, whatever it would rest at."`
	Core  text  `group:"ply" placeholder:"THICKNESS" help:"A straight core strand on the axis, as in “1 mm”; needs --turns."`
	Cable whole `default:"0" group:"ply" placeholder:"N" help:"Cable this many such plies back, 2 to 7."`

	JSON bool `help:"Print one JSON object."`
}

// Help is the long help.
func (balanceCmd) Help() string {
	return `A ply rests where the strands' wish to untwist and their unwillingness to bend are even. This finds that angle, and how many turns the ply then has against the turns of its singles, per length of ply and per length of strand fed.

With --strand the thickness is known too, and the strands may differ: a thick one and a thin one, as in spiral yarn, or two bobbins of different age. The answer then gives turns, and for each strand its angle, its distance from the axis, its length in a metre of ply and the twist left in it. A strand without a letter is taken to run against the ply. --turns says what a ply of other turns would do when let go; --cable lays plies with too many turns together, the other way round; round a --core only the lie of the strands is worked out, not where they come to rest.

    waketwist balance --singles-angle 38.66 --plies 2 --k 1.5
    waketwist balance --strand "1.2 mm 15 Z" --strand "0.6 mm 30 Z" --slip
    waketwist balance --strand "0.8 mm 30 Z" --turns "300 tpm" --cable 2
    waketwist balance --strand "0.8 mm 30 Z" --plies 3 --core "1 mm" --turns "200 tpm"`
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
	if len(c.Strand) > 0 {
		return c.runStrands(a)
	}
	if c.SinglesAngle == "" {
		return misused("there are no singles: give --singles-angle, or their thickness as well with --strand; see “waketwist balance --help”")
	}
	if c.Fed != "" || c.Slip || c.Turns != "" || c.Core != "" || c.Cable != 0 {
		return misused("an angle alone says nothing of turns and lengths: give the strands with their thickness, as in --strand “0.8 mm 25”")
	}
	angle, err := c.singlesAngle()
	if err != nil {
		return err
	}
	k, err := c.stiffness()
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

func (c *balanceCmd) singlesAngle() (unit.Angle, error) {
	angle, err := unit.ParseAngle(string(c.SinglesAngle))
	if err != nil {
		return 0, misused("--singles-angle: %v", err)
	}
	if !(angle > 0) || angle > steepestSingles {
		return 0, misused("--singles-angle: %.4g degrees is no angle that singles show; give one over 0 and up to 75", angle.Degrees())
	}
	return angle, inRange("--plies", float64(c.Plies), 2, yarn.MaxStrands)
}

// steepestSingles is a surface angle that no singles reach.
const steepestSingles = 75 * unit.Degree

// stiffness is k.
func (c *balanceCmd) stiffness() (float64, error) {
	k, err := parseNumber("--k", c.K)
	if err != nil {
		return 0, err
	}
	return k, inRange("--k", k, 0, 20)
}
