package journal

import (
	"time"
	"unicode/utf8"

	"waketwist/finish"
)

// Lot is an amount of fibre of one kind and one preparation.
type Lot struct {
	ID          ID
	Name        string
	Fibre       string // such as wool, alpaca, flax; in the spinner's words
	Preparation finish.Preparation
	Note        string
	Recorded    time.Time
	Weighings   []Weighing // in order of recording; a bobbin's lot comes without them
}

// Check refuses a lot that cannot be meant.
func (l Lot) Check() error {
	if err := checkName(l.Name, "fibre lot"); err != nil {
		return err
	}
	if utf8.RuneCountInString(l.Fibre) > longestName {
		return invalid("fibre", "The kind of fibre is longer than %d letters; shorten it.", longestName)
	}
	if l.Preparation < finish.Unknown || l.Preparation > finish.Woollen {
		return invalid("preparation", "Say how the fibre was prepared: worsted, semi, woollen, or unknown.")
	}
	return checkNote("note", l.Note)
}
