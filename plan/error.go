package plan

import "fmt"

// Error says why a plan cannot be made, and what to do. Field is the key of the
// field that it speaks of, empty where it speaks of several.
type Error struct {
	Field, Problem, Advice string
	Incomplete             bool // nothing is wrong, but nothing follows yet
}

// Error returns the problem and the advice as two sentences.
func (e *Error) Error() string { return e.Problem + " " + e.Advice }

func refuse(advice, format string, args ...any) error {
	return &Error{Problem: fmt.Sprintf(format, args...), Advice: advice}
}

func refuseField(field, advice, format string, args ...any) error {
	return &Error{Field: field, Problem: fmt.Sprintf(format, args...), Advice: advice}
}
