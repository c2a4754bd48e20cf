package cli

import (
	"fmt"

	"waketwist/internal/job"
	"waketwist/wheel"
)

type wheelCmd struct {
	Machine text `placeholder:"NAME" group:"machine" help:"A machine of the journal, by its name or a part of it, with all that was counted on it; “waketwist machine” lists them."`
	Whorl   text `placeholder:"NAME" group:"machine" help:"The whorl of --machine. Without it: whichever comes nearest."`
	Bobbin  text `placeholder:"NAME" group:"machine" help:"The bobbin of --machine; a bobbin-led wheel with several needs it."`
	Setting text `placeholder:"NAME" group:"machine" help:"The setting of the motor of --machine."`
	Data    text `placeholder:"FOLDER" group:"machine" help:"Folder of the journal, for --machine. Default: WAKETWIST_DATA, else your user data folder."`

	Kind    text  `placeholder:"KIND" group:"machine" help:"flyer-led (the bobbin is braked), bobbin-led (the flyer is braked), double-drive, spindle or motor. Default: motor where a speed or a time says so, else flyer-led."`
	Ratio   text  `placeholder:"TURNS" group:"machine" help:"Turns for one treadle, of the flyer, or of the bobbin on a bobbin-led wheel; for a spindle, turns a flick."`
	Counted texts `placeholder:"TURNS/TREADLES" group:"machine" help:"Turns counted over treadles, as in 83/10. Count several times for a surer ratio: 83/10,82.5/10."`
	Whorls  text  `placeholder:"RATIOS" group:"machine" help:"The ratios of the whorls you own, as in 6,8,11: which comes nearest, and what stays off. One that was counted may be given as 83/10."`
	Slip    text  `placeholder:"SHARE" group:"machine" help:"Share of the turns that the band passes on at work, as in 0.9 or 0.61-1; 1 loses none. Unknown, it is taken to lie between 0.61 and 1, mostly near 1."`
	Core    text  `placeholder:"LENGTH" group:"machine" help:"Diameter of the bare bobbin, or across the yarn as it stands. A bobbin-led wheel needs it."`
	Full    text  `placeholder:"LENGTH" group:"machine" help:"Diameter of the full bobbin, to see how the setting changes as it fills."`
	Filled  text  `default:"0" placeholder:"PERCENT" group:"machine" help:"How full the bobbin is, 0 to 100; with --full."`

	Rpm       text  `placeholder:"TURNS" group:"speed" help:"Turns of the flyer a minute."`
	Timed     texts `placeholder:"TURNS/SECONDS" group:"speed" help:"Turns counted by eye at a slow setting, as in 41/60."`
	Filmed    texts `placeholder:"TURNS/FRAMES/RATE" group:"speed" help:"Turns counted on a film of so many frames, at so many a second, as in 10/171/240."`
	Untwisted texts `placeholder:"TURNS/SECONDS" group:"speed" help:"Turns counted out of a piece that was held still at the orifice so long."`
	Treadling text  `placeholder:"BEATS" xor:"pace" group:"speed" help:"Treadles a minute."`
	Beat      text  `placeholder:"TIME" xor:"pace" group:"speed" help:"Time for one draw, as in “4 s”."`

	Twist    text `placeholder:"TWIST" xor:"question" group:"asked" help:"Twist wanted, as in “6 tpi” or “240 t/m”: how to treadle or hold it. Needs --draw."`
	Draw     text `placeholder:"LENGTH" group:"asked" help:"Length let in at a time, as in “24 in” or “60 cm”."`
	Length   text `placeholder:"LENGTH" xor:"question" group:"asked" help:"Length spun or plied: what twist went in, with --treadles, or with --beat and a speed."`
	Treadles text `placeholder:"N" group:"asked" help:"Treadles that went into --length; with --whorls, those wanted for each draw. For a spindle, flicks."`
	OverEnd  text `placeholder:"LENGTH" xor:"question" group:"asked" help:"Diameter of a package that yarn is drawn off over the end: what twist that adds or takes."`
	PlyBack  text `placeholder:"TWIST" xor:"question" group:"asked" help:"Twist of a ply-back that is to be matched: what singles to spin."`
	Singles  text `placeholder:"TWIST" xor:"question" group:"asked" help:"Twist of the singles: what balanced two-ply they make."`
	Wpi      text `placeholder:"WRAPS" group:"asked" help:"Wraps per inch of the singles, for --ply-back and --singles: the answer grows surer."`
	K        text `placeholder:"RATIO" group:"asked" help:"Bending over torsional stiffness of the singles, for --ply-back and --singles, as the workbench learns it; unknown, it is taken widely around 0.7."`
	JSON     bool `help:"Print one JSON object."`
}

// Help is the long help.
func (wheelCmd) Help() string {
	return `Twist comes from the turns of the flyer. This says how to treadle, or how long to hold at a motor's speed, for a twist that is wanted, and which twist went in with what was done. Count your ratio: put a flag on the flyer (on the bobbin, of a bobbin-led wheel), turn the wheel ten times slowly by hand, and count. Lengths and twists may be in inches or metric.

How to treadle for a twist, on one whorl or on whichever you own; at a rhythm or a beat:

    waketwist wheel --counted 83/10 --twist "6 tpi" --draw "24 in"
    waketwist wheel --whorls 6,8,11,14 --twist "240 t/m" --draw "60 cm" --treadling 70

On a bobbin-led wheel each wrap takes a turn away, most on an empty bobbin:

    waketwist wheel --kind bobbin-led --ratio 8 --core "1.5 in" --full "4 in" --twist "6 tpi" --draw "24 in"
    waketwist wheel --kind bobbin-led --ratio 8 --core "1.5 in" --treadles 10 --length "36 in"

With a machine that you counted in the workbench, ratio, slip and bobbins are known:

    waketwist wheel --machine "Upright" --twist "6 tpi" --draw "24 in" --treadling 70
    waketwist wheel --machine "Plying wheel" --bobbin "Thin core" --treadles 10 --length "36 in"

With a motor: the speed for a beat, the time at a speed, the twist that went in, and a speed measured without an instrument:

    waketwist wheel --twist "9 tpi" --draw "6 in" --beat "4 s"
    waketwist wheel --rpm 810 --beat "4 s" --length "6 in"
    waketwist wheel --filmed 10/171/240 --twist "9 tpi" --draw "6 in"

What slips, from a speed seen at work against ratio and rhythm; what a ply-back asks of its singles; what unwinding over the end does:

    waketwist wheel --ratio 29 --treadling 90 --rpm 1600
    waketwist wheel --ply-back "6 tpi" --wpi 30
    waketwist wheel --over-end "25 mm"`
}

// Run answers the one question that the flags ask.
func (c *wheelCmd) Run(a *app) error {
	setup, err := c.setup(a)
	if err != nil {
		return err
	}
	answer, err := c.answer(setup)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(a.Stdout, setup.named(answer.json()))
	}
	all := answer.said()
	if setup.of != nil {
		all = append([]string{setup.of.said()}, all...)
	}
	for i, said := range all {
		if i > 0 {
			fmt.Fprintln(a.Stdout)
		}
		fmt.Fprintln(a.Stdout, folded(said, 72))
	}
	return nil
}

// wheelAnswer is an answer in both of its forms: paragraphs, and JSON.
type wheelAnswer interface {
	said() []string
	json() any
}

func (c *wheelCmd) answer(s wheelSetup) (wheelAnswer, error) {
	switch {
	case c.OverEnd != "":
		return c.overEnd()
	case c.PlyBack != "" || c.Singles != "":
		return c.plies()
	case c.Twist != "":
		return c.wanted(s)
	case c.Length != "":
		return c.done(s)
	case s.motor != nil && s.whorled && s.rhythm != 0:
		return slipSeen(s)
	case s.motor != nil:
		return speedSeen(s)
	case s.whorled && s.rhythm != 0:
		return speedDriven(s)
	case len(c.Counted) > 0 || s.whorled && s.of != nil:
		return ratioSeen(s)
	}
	return nil, misused("nothing is asked: give --twist with --draw, --length with --treadles, or another question; see “waketwist wheel --help”")
}

const twoDrives = "a flyer's speed and a treadled machine were both given; leave one out, or give them alone with --treadling to see what slips"

func (c *wheelCmd) wanted(s wheelSetup) (wheelAnswer, error) {
	twist, err := twistFlag("--twist", c.Twist)
	if err != nil {
		return nil, err
	}
	if c.Draw == "" {
		return nil, misused("--twist needs --draw, the length let in at a time, as in “24 in”")
	}
	draw, err := lengthFlag("--draw", c.Draw)
	if err != nil {
		return nil, err
	}
	w := wanted{twist: twist, draw: draw, setup: s}
	switch {
	case s.motor != nil && s.kind != wheel.MotorDriven:
		return nil, misused("%s", twoDrives)
	case c.Whorls != "":
		return c.choose(w)
	case s.of != nil && len(s.of.owned) > 0:
		return w.choose(s.of.owned)
	case s.kind == wheel.MotorDriven:
		return w.hold()
	}
	return w.treadle()
}

func (c *wheelCmd) choose(w wanted) (wheelAnswer, error) {
	whorls, err := c.whorls()
	if err != nil {
		return nil, err
	}
	return w.choose(whorls)
}

func (c *wheelCmd) done(s wheelSetup) (wheelAnswer, error) {
	length, err := lengthFlag("--length", c.Length)
	if err != nil {
		return nil, err
	}
	d := done{length: length, setup: s}
	switch {
	case s.motor != nil && s.kind != wheel.MotorDriven:
		return nil, misused("%s", twoDrives)
	case s.kind == wheel.MotorDriven && (s.motor == nil || s.beat == 0):
		return nil, misused("--length with a motor needs its speed (--rpm, --timed, --filmed or --untwisted) and --beat, the time that the length took")
	case s.kind == wheel.MotorDriven:
		d.put, err = s.motor.PutIn(s.beat, length)
	case s.of != nil && !s.whorled && s.motor == nil:
		return nil, misused("--length needs --whorl, the one of %s that was used: %s", s.of.Name, job.QuotedNames(s.of.Whorls, whorlKey))
	case s.treadles == 0:
		return nil, misused("--length needs --treadles, those that went into it, or a motor's speed with --beat")
	default:
		d.put, err = s.wheel.PutIn(s.treadles, length, s.filled)
	}
	return d, err
}
