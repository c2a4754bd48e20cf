package journal

import (
	"time"

	"waketwist/unit"
	"waketwist/yarn"
)

// Run is a going of plying: bobbins joined into one yarn.
type Run struct {
	ID        ID
	Project   ID
	Name      string
	Plan      Plan
	Direction yarn.Direction // of the ply
	Feeds     []Feed         // one for each bobbin, in the order of the strands
	Drive     Drive          // what puts the turns in, as far as it is known
	Note      string
	Started   time.Time
	Ended     *time.Time // nil while it goes on
	Recorded  time.Time
	Checks    []Sample // pieces of the ply read during it, in order of recording
	Skeins    []Skein  // in order of recording
}

// Feed is a bobbin as it stands on its holder.
type Feed struct {
	Bobbin  ID
	Rewound int      // times that it was wound over before plying, 0 to 2
	OverEnd *OverEnd // how the last winding drew it off; nil for sideways
}

// OverEnd is a winding over the end of a package that stands still: each wrap
// adds a turn or takes one away.
type OverEnd struct {
	Adds    yarn.Direction // seen from that end, clockwise adds Z, anticlockwise S
	Package unit.Length    // diameter of the full package
}

// Drive is a wheel or a motor in one setting: a machine of the journal, or what
// was typed of one. Turns come from the flyer: a treadled wheel gives Ratio flyer
// turns for each treadle, a motor RPM turns a minute. Draw is the length let in at
// a time, Beat how long that takes.
type Drive struct {
	Machine ID // zero when its figures are typed
	Whorl   ID // of the machine; zero for none
	Setting ID // of the machine's motor; zero for none
	Spool   ID // of the machine, on which the ply winds; zero for none

	Ratio *float64       // flyer turns a treadle, typed
	RPM   *float64       // flyer turns a minute, typed
	Draw  *unit.Length   // length let in at a time
	Beat  *time.Duration // time for one draw, with a motor
}

// Check refuses a run that cannot be meant.
func (r Run) Check() error {
	if err := checkName(r.Name, "run"); err != nil {
		return err
	}
	if err := r.Plan.Check(); err != nil {
		return err
	}
	if err := checkDirection(r.Direction); err != nil {
		return err
	}
	if err := r.checkFeeds(); err != nil {
		return err
	}
	if err := checkYear("started", r.Started); err != nil {
		return err
	}
	if err := r.checkEnd(); err != nil {
		return err
	}
	if err := r.Drive.check(); err != nil {
		return err
	}
	return checkNote("note", r.Note)
}

func (r Run) checkEnd() error {
	switch {
	case r.Ended == nil:
		return nil
	case r.Ended.Before(r.Started):
		return invalid("ended", "The run ended before it started; swap the two.")
	}
	return checkYear("ended", *r.Ended)
}

func (r Run) checkFeeds() error {
	if len(r.Feeds) == 0 {
		return invalid("feeds", "Choose the bobbins that are plied together.")
	}
	if r.Plan.Chain && len(r.Feeds) != 1 {
		return invalid("feeds", "A chain-ply is made from one bobbin; choose one.")
	}
	if !r.Plan.Chain && len(r.Feeds) > r.Plan.Strands {
		return invalid("feeds", "%d bobbins are more than %d strands; leave some out.", len(r.Feeds), r.Plan.Strands)
	}
	seen := map[ID]bool{}
	for _, f := range r.Feeds {
		if f.Rewound < 0 || f.Rewound > 2 {
			return invalid("feeds", "A bobbin wound over %d times is not covered: 0, 1 or 2.", f.Rewound)
		}
		if err := f.checkOverEnd(); err != nil {
			return err
		}
		if seen[f.Bobbin] {
			return invalid("feeds", "One bobbin was chosen twice.")
		}
		seen[f.Bobbin] = true
	}
	return nil
}

func (f Feed) checkOverEnd() error {
	switch {
	case f.OverEnd == nil:
		return nil
	case f.Rewound == 0:
		return invalid("feeds", "A bobbin drawn off over the end has been wound over at least once; say how often.")
	case f.OverEnd.Adds != yarn.S && f.OverEnd.Adds != yarn.Z:
		return invalid("feeds", "Say which twist the winding over the end added: seen from that end, clockwise adds Z, anticlockwise S.")
	case !(f.OverEnd.Package >= 5*unit.Millimetre && f.OverEnd.Package <= unit.Metre):
		return invalid("package", "A package of %s cannot be meant; bobbins are 40 to 100 mm across.", f.OverEnd.Package)
	}
	return nil
}

func (d Drive) check() error {
	if err := d.checkMachine(); err != nil {
		return err
	}
	switch {
	case d.Ratio != nil && !(*d.Ratio >= 0.5 && *d.Ratio <= 200):
		return invalid("ratio", "%.4g flyer turns a treadle cannot be meant; wheels have 3 to 40. Count them with a flag on the flyer.", *d.Ratio)
	case d.RPM != nil && !(*d.RPM >= 1 && *d.RPM <= 10000):
		return invalid("rpm", "%.4g turns a minute cannot be meant; flyers run at 100 to 2000.", *d.RPM)
	case d.Draw != nil && !(*d.Draw >= unit.Centimetre && *d.Draw <= 10*unit.Metre):
		return invalid("draw", "A draw of %s cannot be meant; an arm's length is 60 cm (24 in).", d.Draw)
	case d.Beat != nil && !(*d.Beat >= 100*time.Millisecond && *d.Beat <= 10*time.Minute):
		return invalid("beat", "A beat of %s cannot be meant; a few seconds are usual.", d.Beat)
	}
	return nil
}

func (d Drive) checkMachine() error {
	switch {
	case d.Machine == 0 && (d.Whorl != 0 || d.Setting != 0 || d.Spool != 0):
		return invalid("machine", "Choose the machine whose whorl or bobbin this is.")
	case d.Machine != 0 && (d.Ratio != nil || d.RPM != nil):
		return invalid("machine", "A machine was chosen and figures of another were typed; leave one of them out.")
	case d.Whorl != 0 && d.Setting != 0:
		return invalid("machine", "A machine is treadled or has a motor; choose its whorl or its setting.")
	}
	return nil
}
