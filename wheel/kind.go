package wheel

import "waketwist/unit"

// Kind says what the whorl of a machine drives.
type Kind int

// The kinds of machine.
const (
	FlyerLed    Kind = iota + 1 // the flyer is driven, the bobbin braked
	BobbinLed                   // the bobbin is driven, the flyer braked
	DoubleDrive                 // both are; its ratio is that of the flyer, counted while yarn winds on
	Spindle                     // no whorl and no ratio but turns a flick
	MotorDriven                 // the flyer turns at a motor's speed; see Motor
)

var kindWords = []string{"", "flyer-led", "bobbin-led", "double drive", "spindle", "motor"}

// String returns the kind in words.
func (k Kind) String() string {
	if k < FlyerLed || k > MotorDriven {
		return "unknown machine"
	}
	return kindWords[k]
}

// ParseKind is the inverse of String; double-drive may have its hyphen. It refuses
// other words with an *Error.
func ParseKind(words string) (Kind, error) {
	if words == "double-drive" {
		return DoubleDrive, nil
	}
	for k := FlyerLed; k <= MotorDriven; k++ {
		if words == kindWords[k] {
			return k, nil
		}
	}
	return 0, refuse("Say flyer-led, bobbin-led, double-drive, spindle or motor.", "“%s” is no kind of machine.", words)
}

// slips reports whether a band passes the turns on.
func (k Kind) slips() bool { return k != Spindle }

// Bobbin is a bobbin by its diameters, between which it fills.
type Bobbin struct {
	Core unit.Length // across the bare core, or across the yarn as it stands
	Full unit.Length // across the full bobbin; 0 when not known
}

// Filled is how much yarn is on a bobbin, as a share of the yarn that it holds: 0
// on the bare core, 1 when full.
type Filled float64

// Diameter returns the diameter at which yarn winds on. Yarn of even thickness
// fills equal areas of the end face with equal lengths. It refuses with an *Error
// diameters that cannot be, and a part-filled bobbin whose full diameter is not
// known.
func (b Bobbin) Diameter(at Filled) (unit.Length, error) {
	if err := b.check(at); err != nil {
		return 0, err
	}
	return b.diameter(at), nil
}

func (b Bobbin) diameter(at Filled) unit.Length {
	if b.Full == 0 {
		return b.Core
	}
	square := float64(b.Core*b.Core) + float64(at)*float64(b.Full*b.Full-b.Core*b.Core)
	return root(square)
}

func (b Bobbin) check(at Filled) error {
	const measure = "Measure across the bobbin where the yarn lies, such as 1.5 in or 38 mm."
	switch {
	case b.Core == 0:
		return refuse(measure, "How thick the bobbin's core is was not said, and each wrap takes a turn away.")
	case !within(b.Core, 5*unit.Millimetre, unit.Metre):
		return refuse(measure, "A bobbin of %.4g mm is outside 5 mm to 1 m.", b.Core.Millimetres())
	case b.Full != 0 && !within(b.Full, b.Core, unit.Metre):
		return refuse(measure, "A full bobbin of %.4g mm does not fit a core of %.4g mm.", b.Full.Millimetres(), b.Core.Millimetres())
	case !within(at, 0, 1):
		return refuse("0 is the bare core, 1 a full bobbin.", "A bobbin cannot be filled to %.4g of what it holds.", float64(at))
	case at > 0 && b.Full == 0:
		return refuse("Give the diameter of the full bobbin as well, or that of the yarn as it stands as the core.", "How thick the bobbin is when full was not said.")
	}
	return nil
}
