package cli

import (
	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
)

type settCmd struct {
	Yarn  text `arg:"" optional:"" help:"Weight of the washed yarn for its length, such as “3360 yd/lb” or “150 tex”, or its wraps, such as “22 wpi”."`
	Wraps text `placeholder:"WRAPS" group:"yarn" help:"Wraps with their unit, as in “22 wpi”. With both, the yarn shows how many contact diameters a wrap of yours holds."`
	Soft  bool `group:"yarn" help:"A soft woollen yarn, which is thicker for its weight."`

	Weave  text  `default:"plain" placeholder:"WEAVE" group:"weave" help:"plain, 2/2-twill, 5-end-satin, 2/2-hopsack or the like, or a file with a drawdown of X and . or with lists threading:, tie-up: and treadling:; “-” reads it from standard input. Default: ${default}."`
	Shafts whole `default:"0" placeholder:"N" group:"weave" help:"Shafts of the loom, to see whether the weave fits."`
	Sett   text  `placeholder:"DENSITY" group:"weave" help:"Ends as you mean to set them, as in “12/in” or “5/cm”; a bare number is per inch. Without it: the working sett."`
	Picks  text  `placeholder:"DENSITY" group:"weave" help:"Picks, counted off the loom. Without it: as many as ends, where the weave has room."`
	Reed   text  `placeholder:"DENTS" group:"weave" help:"Dents of the reed, as in 10, “10/in” or “4/cm”; a bare number is per inch."`

	Width        text  `placeholder:"LENGTH" group:"piece" help:"Finished width. With --length: warp and weft to have."`
	Length       text  `placeholder:"LENGTH" group:"piece" help:"Finished length."`
	Shrink       text  `placeholder:"PERCENT" group:"piece" help:"Loss in the wash, as in 12% or 10-15%, both ways. Without it: 5 to 20 %."`
	DrawIn       text  `placeholder:"PERCENT" group:"piece" help:"Loss of width from reed to off the loom. Without it: 5 to 15 %."`
	TakeUp       text  `placeholder:"PERCENT" group:"piece" help:"Loss of length from on the loom to off it. Without it: 5 to 15 %, or Taylor's rule for yarn finer than 20s cotton."`
	SampleWidth  text  `placeholder:"LENGTHS" group:"piece" help:"Width of a sample in the reed, off the loom and washed, as in “10 in, 9 in, 8 in”, in place of --draw-in and --shrink across."`
	SampleLength text  `placeholder:"LENGTHS" group:"piece" help:"The same of its length, in place of --take-up and --shrink along."`
	Waste        text  `placeholder:"LENGTH" group:"piece" help:"Warp that the loom keeps. Without it: 27 to 36 in."`
	Fringe       text  `placeholder:"LENGTH" group:"piece" help:"Fringe of both ends together, beyond what waste gives."`
	YarnShrink   text  `placeholder:"PERCENT" group:"piece" help:"Loss of the yarn's length in its own wash, to see what to spin."`
	Plies        whole `default:"0" placeholder:"N" group:"piece" help:"Strands of the yarn, to see how much singles to spin."`
	PlyTakeUp    text  `default:"5%" placeholder:"PERCENT" group:"piece" help:"Loss of the singles' length in plying. Default: ${default}."`

	Break     text  `placeholder:"MASS" group:"strength" help:"What one end bears before it breaks, as a mass hung on it, as in “300 g”."`
	Tension   text  `placeholder:"MASS" group:"strength" help:"Tension on the whole warp, as in “10 lb”. Needs --break."`
	Ends      whole `default:"0" placeholder:"N" group:"strength" help:"Ends in the warp. Without it: as the width takes."`
	Residual  text  `placeholder:"DEGREES" group:"strength" help:"Twist still living and unbalanced in the washed yarn, as the surface angle it gives: near 0 in a balanced ply, the re-wet angle in singles."`
	WarpTwist text  `placeholder:"S|Z" group:"strength" help:"Direction of the warp yarn's twist, with --weft-twist."`
	WeftTwist text  `placeholder:"S|Z" group:"strength" help:"Direction of the weft yarn's twist."`
	JSON      bool  `help:"Print one JSON object."`
}

// Help is the long help.
func (settCmd) Help() string {
	return `How close to set a yarn in a weave, how much warp and weft a finished cloth takes, how the ends go through the reed, whether they bear the tension, and whether their twist will show. All of it is a starting point for a sample; the last lines say which. Inches and metric may be mixed.

    waketwist sett "3360 yd/lb" --weave 2/2-twill --reed 10
    waketwist sett --wraps "22 wpi"
    waketwist sett "1600 yd/lb" --sett 12 --width "20 in" --length "72 in" --shrink 12% --draw-in 6% --take-up 10% --waste "24 in"
    waketwist sett "310 tex" --sett 5/cm --width "50 cm" --length "1.8 m"
    waketwist sett "1600 yd/lb" --ends 100 --tension "10 lb" --break "300 g"

A weave may be drawn: X where the end lies over the pick, the last pick on the first line, one whole repeat.

    printf 'X..X\n..XX\n.XX.\nXX..\n' | waketwist sett "3360 yd/lb" --weave -`
}

// settAnswer is all that can be said; what was not asked is nil.
type settAnswer struct {
	weave     cloth.Weave
	sett      cloth.Sett // by weight where the weight is known, else by wraps
	byWraps   *cloth.Sett
	factor    *estimate.Estimate[cloth.WrapFactor]
	packing   cloth.Packing // of the room that a wrap takes; with factor
	brierley  *estimate.Estimate[cloth.Density[cloth.OnLoom]]
	ends      cloth.Density[cloth.OnLoom]
	picks     cloth.Density[cloth.OffLoom]
	chosen    bool // the ends were given
	sley      *cloth.Sley
	needs     *cloth.Answer
	spin      *unwashed
	washed    *washedCloth
	load      *cloth.WarpLoad
	loadEnds  int
	tracking  cloth.Tracking
	known     bool // the residual twist was given
	arranged  *cloth.Arrangement
	trial     cloth.Trial
	yarn      *unit.LinearDensity
	warpCover cloth.Peirce // on the loom; with yarn
}

// unwashed is what to have before yarn is washed.
type unwashed struct {
	plied, singles unit.Length
	strands        int
	grist          unit.LinearDensity // of the plied yarn at the wheel; 0 when not known
}

// washedCloth is the finished cloth, at the middle of what is known.
type washedCloth struct {
	ends, picks cloth.Density[cloth.Washed]
	narrower    cloth.Loss        // from the reed to the finished width
	shorter     cloth.Loss        // from on the loom to the finished length
	mass        cloth.MassPerArea // 0 when the yarn's weight is not known
}

// Run answers how to set the yarn.
func (c *settCmd) Run(a *app) error {
	ask, err := c.ask(a)
	if err != nil {
		return err
	}
	answer, err := ask.answer()
	if err != nil {
		return misused("%v", err)
	}
	if c.JSON {
		return writeJSON(a.Stdout, settJSON(answer))
	}
	return settProse(a.Stdout, answer)
}

// answer works the question through the core.
func (k settAsk) answer() (*settAnswer, error) {
	if k.shafts != 0 {
		if err := k.weave.FitsOn(k.shafts); err != nil {
			return nil, err
		}
	}
	out := &settAnswer{weave: k.weave, yarn: k.yarn}
	for _, step := range []func(*settAnswer) error{k.set, k.choose, k.throughReed, k.workPiece, k.bear, k.showTwist} {
		if err := step(out); err != nil {
			return nil, err
		}
	}
	out.trial = cloth.Trials(out.sett.Working)
	return out, nil
}

// set finds the setts that yarn and wraps give.
func (k settAsk) set(out *settAnswer) (err error) {
	if k.wraps != nil {
		factor := cloth.PriorWrapFactor()
		if k.yarn != nil {
			factor = cloth.WrapFactorOf(*k.yarn, *k.wraps, k.character)
			out.factor, out.packing = &factor, cloth.VolumeOf(*k.yarn, k.wraps.Pitch()).Wool()
		}
		rule, err := cloth.SettByWraps(*k.wraps, cloth.PriorWrapFactor(), k.weave)
		if err != nil {
			return err
		}
		out.sett, out.byWraps = rule, &rule
	}
	if k.yarn == nil {
		return nil
	}
	if out.sett, err = cloth.SettByWeight(*k.yarn, k.character, k.weave); err != nil {
		return err
	}
	b, err := cloth.Brierley(*k.yarn, cloth.Worsted, k.weave)
	out.brierley = &b
	return err
}

// choose settles ends and picks.
func (k settAsk) choose(out *settAnswer) error {
	out.ends = out.sett.Working.Value
	if k.ends > 0 {
		out.ends, out.chosen = k.ends, true
	}
	out.picks = k.picks
	if k.picks == 0 {
		room := cloth.ClosestPicks(out.sett.Diameters.Value, k.weave) * cloth.Density[cloth.OnLoom](cloth.WorkingShare)
		out.picks = cloth.Density[cloth.OffLoom](min(out.ends, room))
	}
	if k.yarn != nil {
		out.warpCover = cloth.CoverOf(out.ends, *k.yarn)
	}
	return nil
}

func (k settAsk) throughReed(out *settAnswer) error {
	if k.reed == 0 {
		return nil
	}
	s, err := cloth.SleyFor(out.ends, k.reed)
	out.sley = &s
	return err
}
