package journal

import (
	"math"
	"time"
	"unicode/utf8"

	"waketwist/estimate"
	"waketwist/unit"
)

// Depths of the bobbin that a clip may come from, 0 outermost and 1 on the
// core, in the order in which they come off.
var Depths = []struct {
	Depth float64
	Words string
}{
	{0, "the outermost layer"},
	{0.25, "a quarter of the way in"},
	{0.5, "the middle of the bobbin"},
	{0.75, "three quarters of the way in"},
	{1, "the last layer on the core"},
}

// DepthWords returns the words for the depth nearest to d.
func DepthWords(d float64) string {
	best := Depths[0]
	for _, one := range Depths {
		if math.Abs(one.Depth-d) < math.Abs(best.Depth-d) {
			best = one
		}
	}
	return best.Words
}

// Sample is a piece that is read. From a bobbin it is a two-strand ply-back of a
// clipped length; of a run or a skein it is a piece of the yarn itself. Exactly
// one of Bobbin, Run and Skein is set.
type Sample struct {
	ID        ID
	Bobbin    ID
	Run       ID
	Skein     ID
	State     estimate.State
	Place     string  // samples of one place were cut side by side, or are one piece
	Depth     float64 // of a bobbin: 0 outermost layer, 1 on the core
	AgeHours  *float64
	Humidity  *float64 // of the room while it rested, in % RH
	Soak      *float64 // minutes in water
	SoakStart *time.Time
	Water     *unit.Temperature
	Load      estimate.Load
	LoadGrams *float64 // for the Light load
	Note      string
	Recorded  time.Time
	Readings  []Reading // all of them, in order of recording
}

// LongestSoak is the longest time in water that can be meant, in minutes.
const LongestSoak = 2880

// Check refuses a sample that cannot be meant.
func (s Sample) Check() error {
	switch {
	case s.Bobbin != 0 && (s.State < estimate.Fresh || s.State > estimate.RewetDried):
		return invalid("state", "Say whether the sample is fresh, rested, re-wet, or re-wet and dried.")
	case s.State < estimate.Fresh || s.State > estimate.Washed:
		return invalid("state", "Say in which state the yarn was read: fresh, rested, re-wet, re-wet and dried, or washed.")
	case !(s.Depth >= 0 && s.Depth <= 1):
		return invalid("depth", "Say from where on the bobbin it was cut: from the outermost layer (0) to the core (1).")
	case s.AgeHours != nil && !(*s.AgeHours >= 0 && *s.AgeHours < 1e6):
		return invalid("age", "A rest of %.4g hours cannot be meant.", *s.AgeHours)
	case s.Humidity != nil && !(*s.Humidity >= 0 && *s.Humidity <= 100):
		return invalid("humidity", "Air of %.4g %% relative humidity cannot be meant.", *s.Humidity)
	case s.Soak != nil && !(*s.Soak >= 0 && *s.Soak <= LongestSoak):
		return invalid("soak", "A soak of %.4g minutes cannot be meant; 20 to 30 is usual.", *s.Soak)
	case s.Water != nil && !(*s.Water >= 0 && *s.Water <= 100):
		return invalid("water", "Water of %.4g °C cannot be meant; room temperature, near 20, wakes the twist and sets nothing.", s.Water.Celsius())
	case s.Load < estimate.Free || s.Load > estimate.AtWheel:
		return invalid("load", "Say how the sample was held: free, under a light load, or at the wheel.")
	case s.Load == estimate.Light && s.LoadGrams == nil || s.LoadGrams != nil && !(*s.LoadGrams > 0 && *s.LoadGrams < 1000):
		return invalid("load", "Say how many grams the sample hung under.")
	case utf8.RuneCountInString(s.Place) > longestName:
		return invalid("place", "The name of the place is longer than %d letters; shorten it.", longestName)
	}
	if err := s.checkOwner(); err != nil {
		return err
	}
	if s.SoakStart != nil {
		if err := checkYear("soak", *s.SoakStart); err != nil {
			return err
		}
	}
	return checkNote("note", s.Note)
}

// checkOwner refuses a piece of several things, or of none.
func (s Sample) checkOwner() error {
	owners := 0
	for _, id := range []ID{s.Bobbin, s.Run, s.Skein} {
		if id != 0 {
			owners++
		}
	}
	if owners != 1 {
		return invalid("", "A sample is a piece of one bobbin, one run or one skein.")
	}
	return nil
}

// Valid returns the readings that count: those that carry an angle and are
// neither superseded nor struck.
func (s Sample) Valid() (out []Reading) {
	for _, r := range s.Readings {
		if r.Counts() {
			out = append(out, r)
		}
	}
	return out
}
