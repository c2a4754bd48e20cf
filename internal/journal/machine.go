package journal

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"waketwist/unit"
	"waketwist/wheel"
)

// Machines is the part of a Store that keeps wheels, spindles and motors. What
// was counted is added and never changed; what was counted wrongly is struck.
type Machines interface {
	Machines(ctx context.Context) ([]Machine, error) // all of them, whole, in order of recording
	Machine(ctx context.Context, id ID) (*Machine, error)
	AddMachine(ctx context.Context, m Machine) (ID, error) // without its parts
	ChangeMachine(ctx context.Context, m Machine) error    // name and note

	AddWhorl(ctx context.Context, w Whorl) (ID, error) // with its counts
	AddCount(ctx context.Context, c Count) (ID, error)
	AddMotorSetting(ctx context.Context, s MotorSetting) (ID, error) // with its timings
	AddTiming(ctx context.Context, t Timing) (ID, error)
	AddSpool(ctx context.Context, s Spool) (ID, error)
	AddSlip(ctx context.Context, s Slip) (ID, error) // seen on a whorl of its machine

	StrikePart(ctx context.Context, p Part, id ID, reason string) error
}

// Machine is what a spinner spins and plies on. Of it and all its parts, Struck
// says why one no longer counts or is no longer used; it is empty otherwise.
type Machine struct {
	ID       ID
	Name     string
	Kind     wheel.Kind
	Note     string
	Demo     bool // made by the program to show the job
	Recorded time.Time
	Struck   string
	Whorls   []Whorl        // in order of recording, as all the parts
	Settings []MotorSetting // of a motor
	Spools   []Spool
	Slips    []Slip
}

// Check refuses a machine that cannot be meant.
func (m Machine) Check() error {
	if err := checkName(m.Name, "machine"); err != nil {
		return err
	}
	if m.Kind < wheel.FlyerLed || m.Kind > wheel.MotorDriven {
		return invalid("kind", "Say what drives it: flyer-led, bobbin-led, double drive, spindle or motor.")
	}
	return checkNote("note", m.Note)
}

// CheckWhorl refuses a whorl, or the flicks of a spindle, on a machine of a kind
// that has none.
func (m Machine) CheckWhorl() error {
	if m.Kind == wheel.MotorDriven {
		return invalid("name", "A motor has no whorls to count; time its settings instead.")
	}
	return nil
}

// CheckMotorSetting refuses a setting of a motor on a machine without one.
func (m Machine) CheckMotorSetting() error {
	if m.Kind != wheel.MotorDriven {
		return invalid("name", "%s has no motor to time; count its whorls instead.", m.Name)
	}
	return nil
}

// CheckSlip refuses slip on a machine of a kind whose turns no band passes on.
func (m Machine) CheckSlip() error {
	if m.Kind == wheel.Spindle || m.Kind == wheel.MotorDriven {
		return invalid("rhythm", "Slip is seen against a counted ratio, and a %s has none.", m.Kind)
	}
	return nil
}

// Whorl returns the whorl of that number, struck or not, nil when there is none.
func (m Machine) Whorl(id ID) *Whorl {
	for i := range m.Whorls {
		if m.Whorls[i].ID == id {
			return &m.Whorls[i]
		}
	}
	return nil
}

// Setting returns the motor's setting of that number, struck or not, nil when there
// is none.
func (m Machine) Setting(id ID) *MotorSetting {
	for i := range m.Settings {
		if m.Settings[i].ID == id {
			return &m.Settings[i]
		}
	}
	return nil
}

// Spool returns the bobbin of that number, struck or not, nil when there is none.
func (m Machine) Spool(id ID) *Spool {
	for i := range m.Spools {
		if m.Spools[i].ID == id {
			return &m.Spools[i]
		}
	}
	return nil
}

// Spool is an empty bobbin of a machine, by its size and weight.
type Spool struct {
	ID       ID
	Machine  ID
	Name     string
	Core     *unit.Length // across the bare core
	Full     *unit.Length // across the full bobbin
	Tare     *unit.Mass   // empty
	Holds    *unit.Mass   // of yarn, when full
	Recorded time.Time
	Struck   string
}

// Check refuses a bobbin that cannot be meant.
func (s Spool) Check() error {
	if err := checkName(s.Name, "bobbin"); err != nil {
		return err
	}
	if s.Core == nil && s.Tare == nil && s.Holds == nil {
		return invalid("core", "Give the diameter of the bare core, the empty bobbin's weight, or the weight of yarn that it holds.")
	}
	if err := s.checkSize(); err != nil {
		return err
	}
	switch {
	case s.Tare != nil && !(*s.Tare > 0 && *s.Tare <= 5*unit.Kilogram):
		return invalid("tare", "An empty bobbin of %s cannot be meant; 30 to 200 g are usual.", s.Tare)
	case s.Holds != nil && !(*s.Holds > 0 && *s.Holds <= 10*unit.Kilogram):
		return invalid("holds", "A bobbin that holds %s cannot be meant; 50 to 250 g are usual.", s.Holds)
	}
	return nil
}

func (s Spool) checkSize() error {
	if s.Core == nil {
		if s.Full != nil {
			return invalid("core", "Give the diameter of the bare core beside that of the full bobbin.")
		}
		return nil
	}
	b := wheel.Bobbin{Core: *s.Core}
	if _, err := b.Diameter(0); err != nil || *s.Core == 0 {
		return invalid("core", "A core of %s cannot be meant; measure across the bare bobbin, such as 1.5 in or 38 mm.", s.Core)
	}
	if s.Full == nil {
		return nil
	}
	if b.Full = *s.Full; !(b.Full > b.Core && b.Full <= unit.Metre) {
		return invalid("full", "A full bobbin of %s does not fit a core of %s; measure across the yarn when it is full.", s.Full, s.Core)
	}
	return nil
}

// Part is a kind of thing that may be struck.
type Part string

// The parts.
const (
	PartMachine Part = "machine"
	PartWhorl   Part = "whorl"
	PartCount   Part = "count"
	PartSetting Part = "motor setting"
	PartTiming  Part = "timing"
	PartSpool   Part = "bobbin"
	PartSlip    Part = "watching of slip"
)

// Parts are all of them.
var Parts = []Part{PartMachine, PartWhorl, PartCount, PartSetting, PartTiming, PartSpool, PartSlip}

// CheckStrike refuses a strike without a reason, and of what is no part.
func (p Part) CheckStrike(reason string) error {
	if !slices.Contains(Parts, p) {
		return invalid("part", "Say what is to be struck: the machine, or a whorl, count, motor setting, timing, bobbin or watching of slip.")
	}
	if strings.TrimSpace(reason) == "" {
		return invalid("reason", "Say why this %s no longer counts; it stays on record with your reason.", p)
	}
	return checkNote("reason", reason)
}

// Struck reports that a part had been struck already.
func (p Part) Struck(id ID, reason string) error {
	return &Error{Code: Conflict, Text: "The " + string(p) + " has been struck already: " + reason}
}

// outOfCore puts a refusal of package wheel under a field.
func outOfCore(field string, err error) error {
	var known *wheel.Error
	if errors.As(err, &known) {
		return invalid(field, "%s", known.Error())
	}
	return err
}
