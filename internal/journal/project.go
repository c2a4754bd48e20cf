package journal

import (
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"waketwist/unit"
	"waketwist/yarn"
)

// Longest texts kept, in letters.
const (
	longestName = 120
	longestNote = 4000
)

// Project is a yarn in the making, with everything recorded under it.
type Project struct {
	ID       ID
	Name     string
	Aim      string // what it is to become, in the spinner's words
	Plan     Plan
	Want     *unit.Angle // that a re-wet piece of the ply should show; nil for what balances
	Demo     bool        // made by the program to show the job
	Created  time.Time
	Touched  time.Time  // of the latest record under it
	Finished *time.Time // nil while in work
	Bobbins  []Bobbin   // in order of recording
	Runs     []Run      // in order of recording
	Targets  []Target   // the latest last
}

// Plan is the ply wanted of the project's bobbins.
type Plan struct {
	Strands int     // 2 to 4
	Chain   bool    // chain-plied: one bobbin, three strands
	Offset  float64 // share of turns beyond balance, -0.5 to 0.5
}

// Check refuses a project that cannot be meant.
func (p Project) Check() error {
	if err := checkName(p.Name, "project"); err != nil {
		return err
	}
	if err := checkNote("aim", p.Aim); err != nil {
		return err
	}
	if w := p.Want; w != nil && !(*w >= unit.Degree && *w < 75*unit.Degree) {
		return invalid("want", "A ply at %.4g degrees cannot be meant; a soft one shows 15 to 25, a firm one 30 to 45.", w.Degrees())
	}
	if p.Finished != nil {
		if err := checkYear("finished", *p.Finished); err != nil {
			return err
		}
	}
	return p.Plan.Check()
}

// Check refuses a plan that no ply can follow.
func (p Plan) Check() error {
	switch {
	case p.Strands < 2 || p.Strands > 4:
		return invalid("strands", "A ply has 2, 3 or 4 strands here, not %d.", p.Strands)
	case p.Chain && p.Strands != 3:
		return invalid("strands", "A chain-ply always has three strands; choose 3, or leave chain-plying out.")
	case !(math.Abs(p.Offset) <= 0.5):
		return invalid("offset", "Going %.0f %% past balance is more than a ply can hold; stay between -50 and 50.", 100*p.Offset)
	}
	return nil
}

// Target returns the target in force, nil before one is set.
func (p Project) Target() *Target {
	if len(p.Targets) == 0 {
		return nil
	}
	return &p.Targets[len(p.Targets)-1]
}

// Bobbin returns the project's bobbin of that number, nil when it has none.
func (p Project) Bobbin(id ID) *Bobbin {
	for i := range p.Bobbins {
		if p.Bobbins[i].ID == id {
			return &p.Bobbins[i]
		}
	}
	return nil
}

// AtWork is the project without the bobbins that are put away.
func (p Project) AtWork() Project {
	p.Bobbins = slices.DeleteFunc(slices.Clone(p.Bobbins), func(b Bobbin) bool { return b.Away })
	return p
}

// Target is a decision: the ply that the spinner means to hold, as the program
// put it that day. Later targets of the same project replace it.
type Target struct {
	ID       ID
	Project  ID
	Recorded time.Time
	Plan     Plan
	Line     yarn.Line
	Angle    Interval // of a re-wet piece of the ply, on Line
	Washed   Interval // washed and dried
	Wheel    Interval // the look to aim for at the wheel
	TurnsTPM *Turns   // turns per metre of ply, nil without a diameter
	Measured bool     // no modelled step had a part in Angle
	Note     string
}

// Interval is an angle with its 90 % interval.
type Interval struct{ Value, Low, High unit.Angle }

// Turns is a number of turns per metre of ply with its 90 % interval.
type Turns struct{ Value, Low, High yarn.PlyTwist }

// Check refuses a target that is no angle of a ply.
func (t Target) Check() error {
	if err := t.Plan.Check(); err != nil {
		return err
	}
	for _, i := range []Interval{t.Angle, t.Washed, t.Wheel} {
		if !(i.Low > 0 && i.Low <= i.Value && i.Value <= i.High && i.High < 90*unit.Degree) {
			return invalid("", "The target %.1f degrees (%.1f to %.1f) is no angle of a ply.", i.Value.Degrees(), i.Low.Degrees(), i.High.Degrees())
		}
	}
	if t.Line != yarn.VisibleBorder && t.Line != yarn.StrandCentre {
		return invalid("", "A target needs the line on which it is to be read.")
	}
	if n := t.TurnsTPM; n != nil && !(n.Low >= 0 && n.Low <= n.Value && n.Value <= n.High && n.High < 1e6) {
		return invalid("", "The target %.0f turns per metre (%.0f to %.0f) is no twist of a ply.", float64(n.Value), float64(n.Low), float64(n.High))
	}
	return checkNote("note", t.Note)
}

func checkName(name, kind string) error {
	switch {
	case strings.TrimSpace(name) == "":
		return invalid("name", "Give the %s a name, so that you find it again.", kind)
	case utf8.RuneCountInString(name) > longestName:
		return invalid("name", "That name is longer than %d letters; shorten it and put the rest in a note.", longestName)
	}
	return nil
}

// checkYear refuses times that only a slip of the pen can mean.
func checkYear(field string, t time.Time) error {
	if year := t.UTC().Year(); year < 1900 || year > 2999 {
		return invalid(field, "The year %d cannot be meant; correct the day.", year)
	}
	return nil
}

func checkDirection(d yarn.Direction) error {
	switch d {
	case yarn.NoDirection, yarn.S, yarn.Z:
		return nil
	}
	return invalid("direction", "Twist runs S or Z: hold the yarn upright and see which letter's middle stroke it follows.")
}

func checkNote(field, text string) error {
	if utf8.RuneCountInString(text) > longestNote {
		return invalid(field, "That text is longer than %d letters; shorten it.", longestNote)
	}
	return nil
}
