package journal

import (
	"math"
	"time"

	"waketwist/wheel"
)

// Whorl is a whorl of a treadled machine, or a way of flicking a spindle, by what
// was counted on it.
type Whorl struct {
	ID       ID
	Machine  ID
	Name     string
	Stated   *wheel.Ratio // by the maker; used only where nothing was counted
	Recorded time.Time
	Struck   string
	Counts   []Count
}

// Count is turns of what a whorl drives, over treadles of the slowly turned wheel
// or over flicks of a spindle.
type Count struct {
	ID       ID
	Whorl    ID
	Turns    wheel.Turns
	Treadles wheel.Treadles
	Recorded time.Time
	Struck   string
}

// MotorSetting is a setting of a motor that can be found again, such as a position of
// its knob.
type MotorSetting struct {
	ID       ID
	Machine  ID
	Name     string
	Stated   *wheel.Speed // as its display shows; used only where nothing was timed
	Recorded time.Time
	Struck   string
	Timings  []Timing
}

// Timing is turns of the flyer at a setting of a motor, over a time.
type Timing struct {
	ID       ID
	Setting  ID
	Seen     Seen
	Recorded time.Time
	Struck   string
}

// Slip is what a band was seen to pass on at work: turns of what the whorl drives,
// over a time, while treadling at a rhythm.
type Slip struct {
	ID       ID
	Machine  ID
	Whorl    ID
	Rhythm   wheel.Rhythm
	Seen     Seen
	Recorded time.Time
	Struck   string
}

// How says in which way turns were counted.
type How string

// The ways of counting turns.
const (
	ByEye     How = "by eye"        // a flag followed by eye, with a watch
	OnFilm    How = "on film"       // a marked arm on a film of a known rate
	ByUntwist How = "by untwisting" // counted out of a piece that was held still
)

// Hows are the ways of counting turns.
var Hows = []How{ByEye, OnFilm, ByUntwist}

// Seen is turns counted over a time: Time by eye and by untwisting, Frames on
// film.
type Seen struct {
	How             How
	Turns           wheel.Turns
	Time            wheel.Seconds // 0 on film
	Frames          int           // 0 except on film
	FramesPerSecond float64       // 0 except on film
}

// Timing returns the turns with what each figure may be off. It refuses with a
// *wheel.Error a film on which turns go unseen.
func (s Seen) Timing() (wheel.Timing, error) {
	over := time.Duration(math.Round(float64(s.Time) * float64(time.Second)))
	switch s.How {
	case OnFilm:
		return wheel.Filmed(s.Turns, s.Frames, s.FramesPerSecond)
	case ByUntwist:
		return wheel.Untwisted(s.Turns, over), nil
	}
	return wheel.Counted(s.Turns, over), nil
}

// Motor returns the turns as a motor that was timed once.
func (s Seen) Motor() (wheel.Motor, error) {
	t, err := s.Timing()
	return wheel.Motor{Timings: []wheel.Timing{t}}, err
}

func (s Seen) check() error {
	switch s.How {
	case ByEye, ByUntwist:
		if !(s.Time > 0 && s.Time <= 1e6) {
			return invalid("seconds", "Say over how many seconds the turns were counted.")
		}
	case OnFilm:
		if s.Frames < 1 || !(s.FramesPerSecond > 0) {
			return invalid("frames", "Say over how many frames the turns were counted, and how many frames the film has in a second.")
		}
	default:
		return invalid("how", "Say how the turns were counted: by eye, on film or by untwisting.")
	}
	m, err := s.Motor()
	if err == nil {
		_, err = m.Speed()
	}
	return outOfCore("turns", err)
}

// Check refuses a whorl that cannot be meant.
func (w Whorl) Check() error {
	if err := checkName(w.Name, "whorl"); err != nil {
		return err
	}
	if w.Stated != nil {
		if _, err := (wheel.Whorl{Stated: *w.Stated}).Ratio(); err != nil {
			return outOfCore("stated", err)
		}
	}
	if w.Stated == nil && len(w.Counts) == 0 {
		return invalid("turns", "Count it, with a flag over ten slow treadles, or give the ratio that its maker states.")
	}
	for _, c := range w.Counts {
		if err := c.Check(); err != nil {
			return err
		}
	}
	return nil
}

// Check refuses a count that cannot be meant.
func (c Count) Check() error {
	w := wheel.Whorl{Counts: []wheel.Count{{Turns: c.Turns, Treadles: c.Treadles}}}
	e, err := w.Ratio()
	if err != nil {
		return outOfCore("turns", err)
	}
	if !(e.Value >= 0.2 && e.Value <= 500) {
		return invalid("turns", "%.4g turns over %.4g treadles cannot be meant; wheels give 3 to 40 turns a treadle.", float64(c.Turns), float64(c.Treadles))
	}
	return nil
}

// Check refuses a setting that cannot be meant.
func (s MotorSetting) Check() error {
	if err := checkName(s.Name, "setting"); err != nil {
		return err
	}
	if s.Stated != nil {
		if _, err := (wheel.Motor{Stated: *s.Stated}).Speed(); err != nil {
			return outOfCore("stated", err)
		}
	}
	if s.Stated == nil && len(s.Timings) == 0 {
		return invalid("turns", "Time it, with a flag or on film, or give the speed that its display shows.")
	}
	for _, t := range s.Timings {
		if err := t.Check(); err != nil {
			return err
		}
	}
	return nil
}

// Check refuses a timing that cannot be meant.
func (t Timing) Check() error { return t.Seen.check() }

// Check refuses slip that cannot be meant.
func (s Slip) Check() error {
	if !(s.Rhythm >= 1 && s.Rhythm <= 400) {
		return invalid("rhythm", "%.4g treadles a minute cannot be meant; count those of a minute, 60 to 90 are usual.", float64(s.Rhythm))
	}
	return s.Seen.check()
}

// Counted returns the whorl by all counts that stand, else by what is stated.
func (w Whorl) Counted() wheel.Whorl {
	out := wheel.Whorl{Name: w.Name}
	if w.Stated != nil {
		out.Stated = *w.Stated
	}
	for _, c := range w.Counts {
		if c.Struck == "" {
			out.Counts = append(out.Counts, wheel.Count{Turns: c.Turns, Treadles: c.Treadles})
		}
	}
	return out
}
