package journal

import (
	"time"

	"waketwist/unit"
)

// SwatchKind is how a swatch was made.
type SwatchKind string

// The kinds of swatch.
const (
	Woven   SwatchKind = "woven"
	Knitted SwatchKind = "knitted"
)

// Swatch is a sample of cloth with its sizes in the states it went through. It
// stays as it was recorded: when more is measured, a later swatch supersedes it.
type Swatch struct {
	ID           ID
	Project      ID // zero for a swatch of no project
	Name         string
	Kind         SwatchKind
	OnLoom       Size       // under tension; of a knitted one, nothing
	OffLoom      Size       // off the loom or the needles, relaxed, not washed
	Washed       Size       // washed and dry
	Mass         *unit.Mass // washed and dry
	Note         string
	Recorded     time.Time
	Supersedes   ID     // swatch that it replaces, zero for none
	SupersededBy ID     // swatch that replaces it, zero while it counts
	Struck       string // why it no longer counts; empty while it does
}

// Size is a width and a length, each nil where not measured. Width runs along
// the weft, or across a knitted fabric.
type Size struct{ Width, Length *unit.Length }

// Counts reports whether the swatch is in force.
func (s Swatch) Counts() bool { return s.Struck == "" && s.SupersededBy == 0 }

// Check refuses a swatch that cannot be meant.
func (s Swatch) Check() error {
	if err := checkName(s.Name, "swatch"); err != nil {
		return err
	}
	if s.Kind != Woven && s.Kind != Knitted {
		return invalid("kind", "Say whether the swatch is woven or knitted.")
	}
	if s.Kind == Knitted && (s.OnLoom != Size{}) {
		return invalid("onwidth", "A knitted swatch has no size on the loom; give its size off the needles.")
	}
	measured := s.Mass != nil
	for _, side := range s.sides() {
		if side.l == nil {
			continue
		}
		measured = true
		if !(*side.l >= 5*unit.Millimetre && *side.l <= 100*unit.Metre) {
			return invalid(side.field, "A swatch %s long or wide cannot be meant; 10 to 30 cm (4 to 12 in) are usual.", side.l)
		}
	}
	if !measured {
		return invalid("washedwidth", "Give at least one size, or the weight.")
	}
	if err := s.checkShrinkage(); err != nil {
		return err
	}
	if s.Mass != nil && !(*s.Mass > 0 && *s.Mass <= 100*unit.Kilogram) {
		return invalid("mass", "A swatch of %s cannot be meant.", s.Mass)
	}
	return checkNote("note", s.Note)
}

// side is one measure of a swatch, under the name of its form field.
type side struct {
	field string
	l     *unit.Length
}

func (s Swatch) sides() []side {
	return []side{
		{"onwidth", s.OnLoom.Width}, {"offwidth", s.OffLoom.Width}, {"washedwidth", s.Washed.Width},
		{"onlength", s.OnLoom.Length}, {"offlength", s.OffLoom.Length}, {"washedlength", s.Washed.Length},
	}
}

// checkShrinkage refuses a side that at one step becomes ten times shorter, or
// half as long again: units were mixed up.
func (s Swatch) checkShrinkage() error {
	sides := s.sides()
	for i := range sides {
		if i%3 == 2 || sides[i].l == nil || sides[i+1].l == nil {
			continue
		}
		if left := *sides[i+1].l / *sides[i].l; !(left >= 0.1 && left <= 1.5) {
			return invalid(sides[i+1].field, "From %s to %s is no shrinkage of cloth; check the units.", sides[i].l, sides[i+1].l)
		}
	}
	return nil
}
