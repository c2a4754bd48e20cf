package hand

import (
	"fmt"
	"math"
	"slices"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Record is everything that was read of one spinner's yarn.
type Record struct {
	Bobbins []Bobbin
	Skeins  []Skein
}

// Reading is one angle, read on a line, with the standard deviation that was
// recorded with it.
type Reading struct {
	ID    string // returned by Suspects
	Angle unit.Angle
	Line  yarn.Line // VisibleBorder: by eye; StrandCentre: from a photograph
	SD    unit.Angle
}

// Bobbin is what was read of one bobbin of singles.
type Bobbin struct {
	ID      string
	Fibre   string // bobbins of one word are pooled closely; empty where not known
	Clips   []Clip
	Singles []SinglesReading
}

// Clip is a two-strand ply-back of the singles of a bobbin.
type Clip struct {
	State    estimate.State // Fresh or Rested: dry; Rewet; RewetDried
	Place    string         // clips of one place were cut side by side
	Depth    float64        // 0 the outermost layer, 1 the layer on the core
	Age      time.Duration  // since it was spun, for Fresh and Rested
	Room     rest.Room      // the air in which it rested
	Soak     float64        // minutes in water; 0 when not recorded
	Readings []Reading
}

// SinglesReading is the surface angle of the singles of a bobbin.
type SinglesReading struct {
	ID    string
	Angle yarn.SurfaceAngle
	SD    unit.Angle
	Place string
	Depth float64
}

// Skein is what was read of a ply at the wheel and of the same yarn washed. What
// was not measured stays zero.
type Skein struct {
	ID          string
	Preparation finish.Preparation
	Strands     int // 2 to 4

	WheelLength, WashedLength     unit.Length // of the whole skein, by loops and girth
	WheelDiameter, WashedDiameter unit.Length
	Wheel, Washed                 []Reading // of the ply's angle
}

// Without returns the record less the named bobbins and skeins: what is known
// of the spinner before they are heard.
func (r Record) Without(ids ...string) Record {
	return Record{
		Bobbins: slices.DeleteFunc(slices.Clone(r.Bobbins), func(b Bobbin) bool { return slices.Contains(ids, b.ID) }),
		Skeins:  slices.DeleteFunc(slices.Clone(r.Skeins), func(s Skein) bool { return slices.Contains(ids, s.ID) }),
	}
}

// Readings counts the single numbers in the record.
func (r Record) Readings() (n int) {
	for _, b := range r.Bobbins {
		n += len(b.Singles)
		for _, c := range b.Clips {
			n += len(c.Readings)
		}
	}
	for _, s := range r.Skeins {
		n += len(s.Wheel) + len(s.Washed)
		if s.WheelLength > 0 && s.WashedLength > 0 {
			n++
		}
		if s.WheelDiameter > 0 && s.WashedDiameter > 0 {
			n++
		}
	}
	return n
}

func refuse(advice, problem string, args ...any) error {
	return &rest.Error{Problem: fmt.Sprintf(problem, args...), Advice: advice}
}

// check refuses what cannot be meant; what can be meant but is unlikely is left
// to the model.
func (r Record) check() error {
	seen := map[string]bool{}
	for _, b := range r.Bobbins {
		if seen[b.ID] {
			return refuse("Give each bobbin and each skein a name of its own.", "Two bobbins are called %q.", b.ID)
		}
		seen[b.ID] = true
		if err := b.check(); err != nil {
			return err
		}
	}
	clear(seen)
	for _, s := range r.Skeins {
		if seen[s.ID] {
			return refuse("Give each bobbin and each skein a name of its own.", "Two skeins are called %q.", s.ID)
		}
		seen[s.ID] = true
		if err := s.check(); err != nil {
			return err
		}
	}
	return nil
}

func (b Bobbin) check() error {
	for _, c := range b.Clips {
		if err := c.check(b.ID); err != nil {
			return err
		}
	}
	for _, s := range b.Singles {
		if err := checkAngle(b.ID, unit.Angle(s.Angle), s.SD); err != nil {
			return err
		}
		if err := checkDepth(b.ID, s.Depth); err != nil {
			return err
		}
	}
	return nil
}

func (c Clip) check(of string) error {
	if c.State < estimate.Fresh || c.State > estimate.RewetDried {
		return refuse("Choose fresh, rested, re-wet, or re-wet and dried.", "A ply-back of %s does not say in which state it was read.", of)
	}
	if err := checkDepth(of, c.Depth); err != nil {
		return err
	}
	if c.Age < 0 || !(c.Soak >= 0) {
		return refuse("Give the time since it was spun and the minutes in water, or leave them out.", "A ply-back of %s has an age or a soak below zero.", of)
	}
	if err := c.Room.Check(); err != nil {
		return err
	}
	return checkReadings(of, c.Readings)
}

func (s Skein) check() error {
	if s.Strands < 2 || s.Strands > 4 {
		return refuse("Choose 2, 3 or 4 strands.", "A ply of %d strands is not covered.", s.Strands)
	}
	if err := checkRatio(s.ID, "length", s.WheelLength, s.WashedLength); err != nil {
		return err
	}
	if err := checkRatio(s.ID, "diameter", s.WheelDiameter, s.WashedDiameter); err != nil {
		return err
	}
	if err := checkReadings(s.ID, s.Wheel); err != nil {
		return err
	}
	return checkReadings(s.ID, s.Washed)
}

// checkRatio refuses a change in the wash that nobody could have measured.
func checkRatio(of, what string, before, after unit.Length) error {
	if before == 0 || after == 0 {
		return nil
	}
	if ratio := float64(after / before); !(before > 0 && ratio >= 0.2 && ratio <= 5) {
		return refuse("Measure it before and after the wash in the same way.", "The washed %s of %s is %.3g times that before.", what, of, ratio)
	}
	return nil
}

func checkReadings(of string, readings []Reading) error {
	for _, r := range readings {
		if r.Line != yarn.VisibleBorder && r.Line != yarn.StrandCentre {
			return refuse("Read the border between the strands.", "A ply's angle of %s was read on the %s.", of, r.Line)
		}
		if err := checkAngle(of, r.Angle, r.SD); err != nil {
			return err
		}
	}
	return nil
}

func checkAngle(of string, a, sd unit.Angle) error {
	if deg := a.Degrees(); !(deg >= 1 && deg < 80) {
		return refuse("Measure between the yarn's axis and the line: 0 is along the yarn.", "An angle of %.4g degrees (%s) is outside what yarn can show (1 to 80).", deg, of)
	}
	if !(sd.Degrees() >= 0.1) || sd > unit.Angle(math.Pi/4) {
		return refuse("Give each reading a standard deviation between 0.1 and 45 degrees.", "A reading's standard deviation of %.4g degrees (%s) makes no sense.", sd.Degrees(), of)
	}
	return nil
}

func checkDepth(of string, depth float64) error {
	if depth >= 0 && depth <= 1 {
		return nil
	}
	return refuse("Give 0 for the outermost layer and 1 for the one on the core.", "A depth of %.4g on %s is outside the bobbin.", depth, of)
}
