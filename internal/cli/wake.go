package cli

import (
	"fmt"
	"regexp"
	"strings"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/internal/job"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

type wakeCmd struct {
	Dry           texts `placeholder:"PHOTO" group:"samples" help:"Photographs of the dry ply-back."`
	Rewet         texts `placeholder:"PHOTO" group:"samples" help:"Photographs of the ply-back that was soaked, still wet."`
	RewetDried    texts `placeholder:"PHOTO" group:"samples" help:"Photographs of the ply-back soaked and dried again, hanging free."`
	DryDeg        texts `placeholder:"DEGREES" group:"samples" help:"Angles read by eye on the dry ply-back, as in 20,21,19."`
	RewetDeg      texts `placeholder:"DEGREES" group:"samples" help:"Angles read by eye on the wet ply-back."`
	RewetDriedDeg texts `placeholder:"DEGREES" group:"samples" help:"Angles read by eye on the ply-back soaked and dried."`
	Soak          text  `placeholder:"MINUTES" group:"samples" help:"How long the wet sample lay in water."`

	Plies  whole `default:"0" placeholder:"N" group:"ply" help:"Strands in the ply: 2, 3 or 4. Default: 2, or 3 with --chain."`
	Chain  bool  `group:"ply" help:"Chain-plied: three strands from one bobbin."`
	Offset text  `default:"0%" placeholder:"PERCENT" group:"ply" help:"Turns beyond balance, as in 10%, or short of it, as in -10%."`
	Want   text  `placeholder:"DEGREES" group:"ply" help:"Work backwards from the angle wanted in the re-wet ply: what twist to add to the singles or take from them."`

	Wpi      text `placeholder:"WRAPS" xor:"thickness" group:"singles" help:"Wraps per inch of the singles, not of the ply."`
	Wraps    text `placeholder:"WRAPS" xor:"thickness" group:"singles" help:"Wraps of the singles with their unit, as in “12 wpc”."`
	Diameter text `placeholder:"LENGTH" xor:"thickness" group:"singles" help:"Measured diameter of the singles, as in “0.8 mm”."`

	SinglesAngle     text `placeholder:"DEGREES" group:"singles" help:"Surface angle of the singles, fresh or re-wet, read by eye."`
	SinglesDirection text `placeholder:"S|Z" group:"singles" help:"Direction in which the singles were spun."`
	Prep             text `placeholder:"KIND" group:"singles" help:"Preparation and draw: worsted, semi or woollen."`

	JSON bool `help:"Print one JSON object."`
}

// Help is the long help.
func (wakeCmd) Help() string {
	return `Clip two lengths of the singles where the bobbin is outermost. Fold each back on itself so that it plies up. Photograph the one dry; soak the other for 20 to 30 minutes in cool water with a drop of detergent and photograph it wet. Or read the angles by eye, several times each, along the border between the two strands.

The answer is the angle that a re-wet piece of the ply must show, on the line on which you read the sample, with its 90 % interval for the whole bobbin; then the ply washed and dried, the look at the wheel, the turns where the thickness is known, and how dormant the singles are. Photographs and angles read by eye may be mixed.

    waketwist wake --dry dry.jpg --rewet wet1.jpg wet2.jpg
    waketwist wake --dry-deg 20,21,19 --rewet-deg 38,39 --wpi 30 --plies 3`
}

// Run answers what ply to hold.
func (c *wakeCmd) Run(a *app) error {
	plan, err := c.plan()
	if err != nil {
		return err
	}
	wanted, err := c.wanted()
	if err != nil {
		return err
	}
	soak, err := c.soak()
	if err != nil {
		return err
	}
	bobbin, err := c.bobbin()
	if err != nil {
		return err
	}
	photos, err := c.photograph(a, bobbin)
	if err != nil {
		return err
	}
	if len(bobbin.Clips) == 0 {
		return misused("no sample was given; name photographs with --dry and --rewet, or angles with --dry-deg and --rewet-deg")
	}
	soaked(bobbin, soak)
	answer, err := rest.Wake([]rest.Bobbin{*bobbin}, plan)
	if err != nil {
		return err
	}
	if answer.Turns != nil && c.Diameter == "" { // wraps are no measured thickness
		answer.Turns.Flags = answer.Turns.Flags.With(estimate.Modelled)
	}
	w := woken{Answer: answer, plan: plan, photos: photos, wanted: wanted}
	if wanted != nil {
		if w.retwist, err = answer.Retwist(*wanted); err != nil {
			return err
		}
	}
	if c.JSON {
		return writeJSON(a.Stdout, w.asJSON())
	}
	_, err = fmt.Fprint(a.Stdout, w.prose())
	return err
}

// woken is an answer with what was asked.
type woken struct {
	*rest.Answer
	plan    rest.Plan
	photos  []sampled
	wanted  *unit.Angle // nil when not asked backwards
	retwist rest.Retwist
}

// leastAngle is the least that an eye tells from strands lying straight. Further
// down a reading's error spans all orders of magnitude and says nothing.
const leastAngle = 1 * unit.Degree

// bobbin is the bobbin with what was typed about it.
func (c *wakeCmd) bobbin() (*rest.Bobbin, error) {
	direction, err := yarn.ParseDirection(string(c.SinglesDirection))
	if err != nil {
		return nil, misused("--singles-direction: %v", err)
	}
	b := &rest.Bobbin{Direction: direction}
	if b.Singles, err = c.singles(); err != nil {
		return nil, err
	}
	for _, s := range []struct {
		flag  string
		typed texts
		state estimate.State
	}{
		{"--dry-deg", c.DryDeg, estimate.Rested},
		{"--rewet-deg", c.RewetDeg, estimate.Rewet},
		{"--rewet-dried-deg", c.RewetDriedDeg, estimate.RewetDried},
	} {
		if len(s.typed) == 0 {
			continue
		}
		angles, err := job.ParseAngles(strings.Join(s.typed, " "))
		if err != nil {
			return nil, misused("%s: %v", s.flag, err)
		}
		clip := clipOf(b, s.state)
		for _, angle := range angles {
			if angle < leastAngle {
				return nil, misused("%s: a lean of %.3g degrees cannot be told from none by eye; read the sample again, or leave it out where its strands lie straight", s.flag, angle.Degrees())
			}
			clip.Readings = append(clip.Readings, rest.ByEye(angle))
		}
	}
	return b, nil
}

// soaked notes how long the wet samples lay in water, in minutes.
func soaked(b *rest.Bobbin, minutes float64) {
	for i := range b.Clips {
		if b.Clips[i].State == estimate.Rewet {
			b.Clips[i].Soak = minutes
		}
	}
}

// clipOf is the bobbin's clip of a state, made where it is missing. Without
// other knowledge all samples are one place in the outermost layer, the zero
// values.
func clipOf(b *rest.Bobbin, state estimate.State) *rest.Clip {
	for i := range b.Clips {
		if b.Clips[i].State == state {
			return &b.Clips[i]
		}
	}
	b.Clips = append(b.Clips, rest.Clip{State: state})
	return &b.Clips[len(b.Clips)-1]
}

func (c *wakeCmd) singles() (*rest.SinglesReading, error) {
	if c.SinglesAngle == "" {
		return nil, nil
	}
	angle, err := unit.ParseAngle(string(c.SinglesAngle))
	if err != nil {
		return nil, misused("--singles-angle: %v", err)
	}
	if !(angle > 0) || angle >= 75*unit.Degree {
		return nil, misused("--singles-angle: %.4g degrees is no angle that singles show; give one over 0 and under 75", angle.Degrees())
	}
	return &rest.SinglesReading{Angle: yarn.SurfaceAngle(angle), SD: rest.EyeSD}, nil
}

var bareNumber = regexp.MustCompile(`^[-−]?[\d.,]+$`)

// soak is the time in water in minutes, zero when not given.
func (c *wakeCmd) soak() (float64, error) {
	if c.Soak == "" {
		return 0, nil
	}
	written := string(c.Soak)
	if bareNumber.MatchString(written) {
		written += " min"
	}
	d, err := unit.ParseDuration(written)
	if err != nil {
		return 0, misused("--soak: %v", err)
	}
	return d.Minutes(), nil
}

func (c *wakeCmd) wanted() (*unit.Angle, error) {
	if c.Want == "" {
		return nil, nil
	}
	angle, err := unit.ParseAngle(string(c.Want))
	if err != nil {
		return nil, misused("--want: %v", err)
	}
	return &angle, nil
}

// plan is the ply wanted of the bobbin.
func (c *wakeCmd) plan() (rest.Plan, error) {
	plan := rest.Plan{Strands: int(c.Plies), Chain: c.Chain}
	switch {
	case c.Chain && c.Plies == 0:
		plan.Strands = 3
	case c.Chain && c.Plies != 3:
		return plan, misused("--chain: a chain-ply has three strands; leave --plies out")
	case c.Plies == 0:
		plan.Strands = 2
	case c.Plies < 2 || c.Plies > 4:
		return plan, misused("--plies: a ply of %d strands is not covered; give 2, 3 or 4", c.Plies)
	}
	var err error
	if plan.Preparation, err = finish.ParsePreparation(strings.ToLower(string(c.Prep))); err != nil {
		return plan, misused("--prep: %v", err)
	}
	if plan.Offset, err = c.offset(); err != nil {
		return plan, err
	}
	return plan, c.thickness(&plan)
}

// offset reads a percentage. A number under one without its sign could be meant
// as a share, so it must say.
func (c *wakeCmd) offset() (rest.Share, error) {
	number, signed := strings.CutSuffix(string(c.Offset), "%")
	v, err := parseNumber("--offset", text(strings.Replace(strings.TrimSpace(number), "−", "-", 1)))
	if err != nil {
		return 0, err
	}
	if !signed && v > -1 && v < 1 && v != 0 {
		return 0, misused("--offset: “%s” may be a share or a percentage; write %v%% or %v%%", c.Offset, v, 100*v)
	}
	return rest.Share(v / 100), inRange("--offset", v, -50, 50)
}

// thickness fills in the diameter of the singles. Wraps are not a contact
// diameter, so they count for less than a measured one.
func (c *wakeCmd) thickness(plan *rest.Plan) error {
	if c.Diameter != "" {
		d, err := unit.ParseLength(string(c.Diameter))
		if err != nil {
			return misused("--diameter: %v", err)
		}
		plan.Diameter, plan.DiameterCV = &d, job.DiameterCV
		return nil
	}
	flag, written := "--wraps", string(c.Wraps)
	if c.Wpi != "" {
		flag, written = "--wpi", string(c.Wpi)
		if bareNumber.MatchString(written) {
			written += " wpi"
		}
	}
	if written == "" {
		return nil
	}
	wraps, err := unit.ParseWraps(written)
	if err != nil {
		return misused("%s: %v", flag, err)
	}
	d := wraps.Pitch()
	plan.Diameter, plan.DiameterCV = &d, job.WrapsCV
	return nil
}
