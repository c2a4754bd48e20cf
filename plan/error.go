package plan

import "fmt"

// Error says why a plan cannot be made, and what to do.
type Error struct {
	Problem, Advice string
}

// Error returns the problem and the advice as two sentences.
func (e *Error) Error() string { return e.Problem + " " + e.Advice }

func refuse(advice, format string, args ...any) error {
	return &Error{fmt.Sprintf(format, args...), advice}
}

// Conflict is two wishes that cannot both be had, and which one to let go.
type Conflict struct {
	Problem string
	Drop    string
}
