package journal

import (
	"fmt"
	"time"

	"waketwist/unit"
)

// Weighed is what lay on the scale.
type Weighed string

// What is put on the scale: of a fibre lot everything but the singles, of a
// bobbin only the singles.
const (
	Bought   Weighed = "bought"   // fibre as it came: a raw fleece, or fibre bought prepared
	Scoured  Weighed = "scoured"  // washed and dry
	Prepared Weighed = "prepared" // carded or combed, ready to spin
	Sampled  Weighed = "sampled"  // prepared fibre that went into samples
	Left     Weighed = "left"     // prepared fibre that is not spun yet, all of it
	Waste    Weighed = "waste"    // what carding or combing took out
	Spun     Weighed = "singles"  // singles on a bobbin
)

// WeighedOfLots are the kinds that a fibre lot is weighed as, in the order of
// the work.
var WeighedOfLots = []Weighed{Bought, Scoured, Prepared, Sampled, Left, Waste}

// Weighing is one time something was put on the scale. It stays as it was
// recorded; a wrong one is struck. Exactly one of Lot and Bobbin is set.
type Weighing struct {
	ID     ID
	Lot    ID
	Bobbin ID
	What   Weighed
	Mass   unit.Mass  // as the scale showed it, with what the tare names
	Tare   *unit.Mass // of the empty bobbin, basket or bag; nil where Mass is net
	// Before is the net mass that this came from: of fibre before it was
	// scoured, prepared or sampled, or of fibre weighed out for a bobbin. Nil of
	// a lot means all of it.
	Before   *unit.Mass
	Step     *unit.Mass // the finest step that the scale shows; nil where not known
	Humidity *float64   // of the room in % RH
	Note     string
	At       time.Time // when it was weighed
	Recorded time.Time
	Struck   string // why it no longer counts; empty while it does
}

// Net is the mass without the tare.
func (w Weighing) Net() unit.Mass {
	if w.Tare == nil {
		return w.Mass
	}
	return w.Mass - *w.Tare
}

// Counts reports whether the weighing is in force.
func (w Weighing) Counts() bool { return w.Struck == "" }

// mostGain is how much heavier than before anything may be: dry wool takes up
// moisture from the air.
const mostGain = 1.2

// heaviest bounds a fleece, or a shed full of them.
const heaviest = 1000 * unit.Kilogram

// Check refuses a weighing that cannot be meant.
func (w Weighing) Check() error {
	if err := w.checkWhat(); err != nil {
		return err
	}
	switch {
	case !(w.Mass >= 0 && w.Mass <= heaviest):
		return invalid("mass", "A weight of %s cannot be meant.", w.Mass)
	case w.Tare != nil && !(*w.Tare >= 0 && *w.Tare <= w.Mass):
		return invalid("tare", "The empty bobbin or bag (%s) cannot be heavier than all that was weighed (%s).", w.Tare, w.Mass)
	case w.Net() == 0 && w.What != Left && w.What != Waste:
		return invalid("mass", "Give the weight that the scale showed, above zero.")
	case w.Step != nil && !(*w.Step >= unit.Gram/1000 && *w.Step <= unit.Kilogram):
		return invalid("step", "A scale that shows steps of %s cannot be meant; kitchen scales show 1 g, fine ones 0.01 g.", w.Step)
	case w.Humidity != nil && !(*w.Humidity >= 0 && *w.Humidity <= 100):
		return invalid("humidity", "Air of %.4g %% relative humidity cannot be meant.", *w.Humidity)
	}
	if err := w.checkBefore(); err != nil {
		return err
	}
	if w.At.IsZero() {
		return invalid("at", "Give the day on which it was weighed.")
	}
	if err := checkYear("at", w.At); err != nil {
		return err
	}
	return checkNote("note", w.Note)
}

func (w Weighing) checkWhat() error {
	if (w.Lot == 0) == (w.Bobbin == 0) {
		return invalid("", "A weighing is of one fibre lot or of one bobbin.")
	}
	if w.Bobbin != 0 && w.What != Spun {
		return invalid("what", "On a bobbin, singles are weighed.")
	}
	if w.Lot != 0 {
		if _, err := ParseWeighed(string(w.What)); err != nil || w.What == Spun {
			return invalid("what", "Say what lay on the scale: fibre as bought, scoured, prepared, gone into samples, left over now, or waste.")
		}
	}
	return nil
}

func (w Weighing) checkBefore() error {
	switch before := w.Before; {
	case before == nil:
		return nil
	case w.What == Bought || w.What == Left || w.What == Waste:
		return invalid("before", "Only what was scoured, prepared, sampled or spun has a weight before.")
	case !(*before > 0 && *before <= heaviest):
		return invalid("before", "A weight before of %s cannot be meant.", before)
	case w.Net() > *before*mostGain:
		return invalid("before", "More came out (%s) than went in (%s); check the two weights and the tare.", w.Net(), before)
	}
	return nil
}

// ParseWeighed reads the word of a kind.
func ParseWeighed(word string) (Weighed, error) {
	switch w := Weighed(word); w {
	case Bought, Scoured, Prepared, Sampled, Left, Waste, Spun:
		return w, nil
	}
	return "", fmt.Errorf("nothing is weighed as %q", word)
}
