package journal

import (
	"errors"
	"fmt"
)

// Code classes an Error for whoever has to answer it.
type Code int

// The codes.
const (
	Invalid  Code = iota + 1 // what was given cannot be meant
	NotFound                 // there is no such record
	Conflict                 // the record has moved on meanwhile
)

// Error is a refusal in words for the person: what is wrong, and what to do.
type Error struct {
	Code  Code
	Field string // name of the form field concerned, if any
	Text  string
}

// Error returns the text.
func (e *Error) Error() string { return e.Text }

// CodeOf returns the code of the Error in err's chain, zero without one.
func CodeOf(err error) Code {
	var e *Error
	if errors.As(err, &e) {
		return e.Code
	}
	return 0
}

func invalid(field, text string, args ...any) error {
	return &Error{Code: Invalid, Field: field, Text: fmt.Sprintf(text, args...)}
}

// Missing reports that there is no record of a kind with a number.
func Missing(kind string, id ID) error {
	return &Error{Code: NotFound, Text: fmt.Sprintf("There is no %s number %d in this journal.", kind, id)}
}
