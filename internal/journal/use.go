package journal

import (
	"slices"
	"time"

	"waketwist/unit"
)

// Use is what became of a skein after it was finished. The latest counts.
type Use struct {
	ID       ID
	Skein    ID
	How      string // of Uses
	Note     string
	Recorded time.Time
}

// Uses are the ways a skein leaves the stash, and the one in which it comes
// back.
var Uses = []string{"used up", "given away", "sold", UseBack}

// UseBack is a skein that lies in the stash again.
const UseBack = "back in the stash"

// Check refuses a use that cannot be meant.
func (u Use) Check() error {
	if !slices.Contains(Uses, u.How) {
		return invalid("how", "Say what became of the skein: used up, given away, sold, or back in the stash.")
	}
	return checkNote("note", u.Note)
}

// A skein that comes back within an hour was entered by mistake, unless it weighs
// less afterwards than moisture explains: up to a seventh, an assumption.
const (
	slip    = time.Hour
	lighter = 6.0 / 7
)

// taken are the times at which the skein, or some of it, left the stash.
func (s Skein) taken() (times []time.Time) {
	for i, u := range s.Uses {
		back := i+1 < len(s.Uses) && s.Uses[i+1].How == UseBack && s.Uses[i+1].Recorded.Sub(u.Recorded) < slip
		if u.How != UseBack && !(back && !s.lighterSince(u.Recorded)) {
			times = append(times, u.Recorded)
		}
	}
	return times
}

// lighterSince reports whether less of the skein was weighed after a moment than
// before it.
func (s Skein) lighterSince(t time.Time) bool {
	var before unit.Mass
	for _, one := range s.Measures {
		switch {
		case one.Mass == nil:
		case one.Recorded.Before(t):
			before = *one.Mass
		case *one.Mass < lighter*before:
			return true
		}
	}
	return false
}

// InStash reports whether the skein is still there.
func (s Skein) InStash() bool {
	return len(s.Uses) == 0 || s.Uses[len(s.Uses)-1].How == UseBack
}
