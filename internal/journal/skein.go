package journal

import (
	"slices"
	"strings"
	"time"

	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// Skein is yarn off the wheel: of a run of plying, or singles of a bobbin that
// are to stay singles.
type Skein struct {
	ID       ID
	Run      ID // zero for singles
	Bobbin   ID // zero for plied yarn
	Name     string
	Note     string
	Recorded time.Time
	Measures []Measure // in order of recording; the latest of a state counts
	Washes   []Wash
	Hangs    []Hang
	Samples  []Sample // readings of its angle, by state
	Uses     []Use    // what became of it, in order of recording
}

// Measure is a skein laid on the reel and the scale: rested is off the wheel
// and not washed, washed is finished and dry.
type Measure struct {
	ID        ID
	Skein     ID
	State     estimate.State // Rested or Washed
	Loops     *int
	Girth     *unit.Length // of one loop, hanging under LoadGrams
	LoadGrams *float64
	Mass      *unit.Mass
	Humidity  *float64 // of the room in % RH
	Wraps     *unit.Wraps
	Recorded  time.Time
}

// Wash is what was done to a skein.
type Wash struct {
	ID        ID
	Skein     ID
	Treatment string // of Treatments
	Water     *unit.Temperature
	Minutes   *float64
	HungGrams *float64 // weight it dried under; nil for free
	Note      string
	Recorded  time.Time
}

// Treatments are the ways of finishing a skein.
var Treatments = []string{"soak", "soak and snap", "full", "steam", "weight", "size"}

// Hang is a hang test: the skein hung as an open loop.
type Hang struct {
	ID        ID
	Skein     ID
	State     estimate.State // Rested or Washed
	Direction yarn.Direction // in which it turned about itself; none for an open loop
	HalfTurns float64        // 0 for an open loop
	Length    *unit.Length   // of the hanging loop
	Recorded  time.Time
}

// Check refuses a skein that cannot be meant.
func (s Skein) Check() error {
	if err := checkName(s.Name, "skein"); err != nil {
		return err
	}
	if (s.Run == 0) == (s.Bobbin == 0) {
		return invalid("", "A skein comes from one run of plying, or from one bobbin of singles.")
	}
	return checkNote("note", s.Note)
}

// Measured returns what was last measured of the whole skein in a state, nil
// without any measure: the girth of one day and the weight of another stand
// together, the girth with the load it hung under and the weight with the humidity
// of its air. ID and day are those of the latest measure. What was measured after
// some of the skein had left the stash is of the rest of it: see MeasuredSince.
func (s Skein) Measured(state estimate.State) *Measure {
	taken := s.taken()
	return s.lastMeasure(func(one Measure) bool {
		return one.State == state && (len(taken) == 0 || one.Recorded.Before(taken[0]))
	})
}

// MeasuredSince returns what was last measured, in any state, since some of the
// skein left the stash; nil where nothing was. back is false where none left.
func (s Skein) MeasuredSince() (rest *Measure, back bool) {
	taken := s.taken()
	if len(taken) == 0 {
		return nil, false
	}
	last := taken[len(taken)-1]
	return s.lastMeasure(func(one Measure) bool { return !one.Recorded.Before(last) }), true
}

// lastMeasure is the latest of some measures, completed from the earlier ones.
func (s Skein) lastMeasure(of func(Measure) bool) (out *Measure) {
	for _, one := range s.Measures {
		if !of(one) {
			continue
		}
		if out != nil {
			one.completeFrom(*out)
		}
		out = &one
	}
	return out
}

// completeFrom takes from an earlier measure what m does not hold.
func (m *Measure) completeFrom(earlier Measure) {
	if m.Loops == nil {
		m.Loops = earlier.Loops
	}
	if m.Girth == nil {
		m.Girth, m.LoadGrams = earlier.Girth, earlier.LoadGrams
	}
	if m.Mass == nil {
		m.Mass, m.Humidity = earlier.Mass, earlier.Humidity
	}
	if m.Wraps == nil {
		m.Wraps = earlier.Wraps
	}
}

// Hung returns the latest hang test of a state, nil without one.
func (s Skein) Hung(state estimate.State) *Hang {
	for i := len(s.Hangs) - 1; i >= 0; i-- {
		if s.Hangs[i].State == state {
			return &s.Hangs[i]
		}
	}
	return nil
}

// Length is that of the yarn, loops times girth; ok is false where either is not measured.
func (m Measure) Length() (l unit.Length, ok bool) {
	if m.Loops == nil || m.Girth == nil {
		return 0, false
	}
	return *m.Girth * unit.Length(*m.Loops), true
}

// Check refuses a measure that cannot be meant.
func (m Measure) Check() error {
	switch {
	case m.Loops == nil && m.Girth == nil && m.Mass == nil && m.Wraps == nil:
		return invalid("loops", "Give the loops and the girth, the weight, or the wraps.")
	case m.Loops != nil && !(*m.Loops >= 1 && *m.Loops <= 100_000):
		return invalid("loops", "%d loops cannot be meant; count them once more.", *m.Loops)
	case m.Girth != nil && !(*m.Girth >= 10*unit.Centimetre && *m.Girth <= 10*unit.Metre):
		return invalid("girth", "A girth of %s cannot be meant; hang the skein and measure once round.", m.Girth)
	case m.LoadGrams != nil && !(*m.LoadGrams > 0 && *m.LoadGrams <= 20_000):
		return invalid("load", "A load of %.4g g cannot be meant; about the skein's own weight is usual.", *m.LoadGrams)
	case m.Mass != nil && !(*m.Mass > 0 && *m.Mass <= 100*unit.Kilogram):
		return invalid("mass", "A skein of %s cannot be meant.", m.Mass)
	case m.Humidity != nil && !(*m.Humidity >= 0 && *m.Humidity <= 100):
		return invalid("humidity", "Air of %.4g %% relative humidity cannot be meant.", *m.Humidity)
	case m.Wraps != nil && !(m.Wraps.PerInch() >= 0.5 && m.Wraps.PerInch() <= 400):
		return invalid("wraps", "%.3g wraps per inch cannot be meant.", m.Wraps.PerInch())
	}
	return checkFinished(m.State)
}

// Check refuses a wash that cannot be meant.
func (w Wash) Check() error {
	if w.Water != nil && !(*w.Water >= 0 && *w.Water <= 100) {
		return invalid("water", "Water of %.4g °C cannot be meant.", w.Water.Celsius())
	}
	if w.Minutes != nil && !(*w.Minutes >= 0 && *w.Minutes <= LongestSoak) {
		return invalid("minutes", "%.4g minutes cannot be meant; 20 are usual.", *w.Minutes)
	}
	if w.HungGrams != nil && !(*w.HungGrams > 0 && *w.HungGrams <= 20_000) {
		return invalid("hung", "A weight of %.4g g cannot be meant.", *w.HungGrams)
	}
	if !slices.Contains(Treatments, w.Treatment) {
		return invalid("treatment", "Say how the skein was finished: %s.", strings.Join(Treatments, ", "))
	}
	return checkNote("note", w.Note)
}

// Check refuses a hang test that cannot be meant.
func (h Hang) Check() error {
	switch {
	case !(h.HalfTurns >= 0 && h.HalfTurns <= 200):
		return invalid("turns", "%.4g half turns cannot be meant; count how often the hanging loop crosses itself.", h.HalfTurns)
	case h.HalfTurns > 0 && h.Direction == yarn.NoDirection:
		return invalid("direction", "Say which way the hanging loop turns: S or Z.")
	case h.HalfTurns == 0 && h.Direction != yarn.NoDirection:
		return invalid("turns", "A loop that turns %s has half turns; count them, or leave the direction out for an open loop.", h.Direction)
	case h.Length != nil && !(*h.Length >= 5*unit.Centimetre && *h.Length <= 5*unit.Metre):
		return invalid("length", "A hanging loop of %s cannot be meant.", h.Length)
	}
	if err := checkDirection(h.Direction); err != nil {
		return err
	}
	return checkFinished(h.State)
}

func checkFinished(s estimate.State) error {
	if s != estimate.Rested && s != estimate.Washed {
		return invalid("state", "Say whether the skein is as it came off the wheel, or washed and dried.")
	}
	return nil
}
