package journal

import (
	"time"

	"waketwist/unit"
	"waketwist/yarn"
)

// Bobbin is singles on a bobbin.
type Bobbin struct {
	ID        ID
	Project   ID
	Lot       *Lot // nil when not recorded
	Name      string
	Direction yarn.Direction // of the singles
	Diameter  *unit.Length   // of the singles, nil when not measured
	Wraps     *unit.Wraps    // wraps of the singles, nil when not counted
	Singles   *unit.Angle    // surface angle of the singles, fresh or re-wet; nil when not read
	Note      string
	Away      bool // put away: no longer waited for, though what was read of it counts
	Recorded  time.Time
	Stretches []Stretch  // in order of time
	Samples   []Sample   // in order of recording
	Skeins    []Skein    // of its singles that stay singles
	Weighings []Weighing // in order of recording
}

// Stretch is a time of spinning onto a bobbin, from its first metre to its last.
type Stretch struct {
	ID       ID
	Bobbin   ID
	Started  time.Time
	Ended    time.Time
	Length   *unit.Length   // of singles spun in it, nil when not measured
	Worked   *time.Duration // of it at the wheel, nil when not known
	Recorded time.Time
}

// Check refuses a bobbin that cannot be meant.
func (b Bobbin) Check() error {
	if err := checkName(b.Name, "bobbin"); err != nil {
		return err
	}
	if d := b.Diameter; d != nil && !(*d >= 0.05*unit.Millimetre && *d <= 50*unit.Millimetre) {
		return invalid("diameter", "Singles %.3g mm thick are not yarn; give their diameter in mm, or their wraps.", d.Millimetres())
	}
	if w := b.Wraps; w != nil && !(w.PerInch() >= 0.5 && w.PerInch() <= 400) {
		return invalid("wraps", "%.3g wraps per inch cannot be meant for singles; count wraps side by side over an inch or a centimetre.", w.PerInch())
	}
	if a := b.Singles; a != nil && !(*a > 0 && *a < 75*unit.Degree) {
		return invalid("singles", "A surface angle of %.3g degrees cannot be meant; 10 to 50 is usual.", a.Degrees())
	}
	for _, s := range b.Stretches {
		if err := s.Check(); err != nil {
			return err
		}
	}
	if err := checkDirection(b.Direction); err != nil {
		return err
	}
	return checkNote("note", b.Note)
}

// Check refuses a stretch that ends before it starts.
func (s Stretch) Check() error {
	switch {
	case s.Started.IsZero() || s.Ended.IsZero():
		return invalid("started", "Give the day on which spinning this bobbin started and the day it ended.")
	case s.Ended.Before(s.Started):
		return invalid("ended", "Spinning ended (%s) before it started (%s); swap the two days.", s.Ended.Format(time.DateOnly), s.Started.Format(time.DateOnly))
	case s.Length != nil && !(*s.Length > 0 && *s.Length < 100_000):
		return invalid("length", "%.3g m of singles cannot be meant; give the length spun in this stretch.", s.Length.Metres())
	}
	if s.Worked != nil && !(*s.Worked >= time.Minute && *s.Worked <= 1000*time.Hour) {
		return invalid("worked", "A time at the wheel of %s cannot be meant; give hours and minutes, such as 1.5 h or 40 min.", s.Worked)
	}
	if err := checkYear("started", s.Started); err != nil {
		return err
	}
	return checkYear("ended", s.Ended)
}

// Thickness returns the diameter of the singles: measured, or from wraps. ok is
// false when neither is recorded.
func (b Bobbin) Thickness() (d unit.Length, measured, ok bool) {
	switch {
	case b.Diameter != nil:
		return *b.Diameter, true, true
	case b.Wraps != nil:
		return b.Wraps.Pitch(), false, true
	}
	return 0, false, false
}

// SpunUntil returns when the last metre was spun: the zero time when no stretch
// is recorded.
func (b Bobbin) SpunUntil() (last time.Time) {
	for _, s := range b.Stretches {
		if s.Ended.After(last) {
			last = s.Ended
		}
	}
	return last
}

// Age returns the time that the outermost and the innermost metre of a bobbin
// had rested at a moment. Last on is first off: the outside is the youngest.
// What was spun later does not count; in the middle of a stretch the outside is
// new. ok is false when no stretch had been started.
func (b Bobbin) Age(at time.Time) (outside, inside time.Duration, ok bool) {
	for _, s := range b.Stretches {
		if s.Started.After(at) {
			continue
		}
		since := max(0, at.Sub(s.Ended))
		if !ok || since < outside {
			outside = since
		}
		inside = max(inside, at.Sub(s.Started))
		ok = true
	}
	return outside, inside, ok
}
