package estimate

import "fmt"

// State is what had happened to the yarn when a number about it was true. A
// number without its state means nothing: angles, diameters and lengths change
// from one state to the next, only the turns in a marked piece stay.
type State int

// The states of singles and of yarn.
const (
	Unstated   State = iota
	Fresh            // off the wheel within minutes
	Rested           // lain on the bobbin; the age is recorded beside it
	Rewet            // soaked in cool water and still damp
	RewetDried       // soaked, then dried hanging free
	Washed           // finished and dry
)

var stateNames = [...]string{"", "fresh", "rested", "rewet", "rewet-dried", "washed"}

// String returns the word under which the state is stored; empty for Unstated.
func (s State) String() string {
	if s < 0 || int(s) >= len(stateNames) {
		return fmt.Sprintf("State(%d)", int(s))
	}
	return stateNames[s]
}

// ParseState is the inverse of String.
func ParseState(word string) (State, error) {
	for s, name := range stateNames {
		if name == word && name != "" {
			return State(s), nil
		}
	}
	return Unstated, fmt.Errorf("there is no state %q; choose one of fresh, rested, rewet, rewet-dried, washed", word)
}

// Dry reports whether yarn in this state has not been woken by water: its
// twist may be dormant.
func (s State) Dry() bool { return s == Fresh || s == Rested }

// Load is how the yarn was held while it was read.
type Load int

// The loads under which yarn is read.
const (
	Free    Load = iota // hanging or lying free
	Light               // under a stated few grams
	AtWheel             // between the hands and the orifice
)

var loadNames = [...]string{"free", "light", "at the wheel"}

// String returns the word under which the load is stored.
func (l Load) String() string {
	if l < 0 || int(l) >= len(loadNames) {
		return fmt.Sprintf("Load(%d)", int(l))
	}
	return loadNames[l]
}

// ParseLoad is the inverse of String.
func ParseLoad(word string) (Load, error) {
	for l, name := range loadNames {
		if name == word {
			return Load(l), nil
		}
	}
	return Free, fmt.Errorf("there is no load %q; choose one of free, light, at the wheel", word)
}
