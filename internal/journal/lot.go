package journal

import (
	"time"

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
}

// Check refuses a lot that cannot be meant.
func (l Lot) Check() error {
	if err := checkName(l.Name, "fibre lot"); err != nil {
		return err
	}
	if len(l.Fibre) > longestName {
		return invalid("fibre", "The kind of fibre is longer than %d letters; shorten it.", longestName)
	}
	return checkNote("note", l.Note)
}
