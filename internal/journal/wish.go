package journal

import (
	"context"
	"time"
	"unicode/utf8"
)

// Wishes is the part of a Store that keeps what plans are made from. A wish that
// is changed keeps its former texts.
type Wishes interface {
	Wishes(ctx context.Context) ([]Wish, error) // all of them, the latest changed first
	Wish(ctx context.Context, id ID) (*Wish, error)
	AddWish(ctx context.Context, w Wish) (ID, error)
	ChangeWish(ctx context.Context, w Wish) error // name, project and text

	// AddProjectFor adds the project that is to make a wish.
	AddProjectFor(ctx context.Context, wish ID, p Project) (ID, error)
}

// Wish is what a spinner wants to make, as it was written: values by the keys of
// the fields of package plan. The plan itself follows from it, and from what the
// journal has taught by then.
type Wish struct {
	ID       ID
	Project  ID // that makes it; zero for none yet
	Name     string
	Text     map[string]string
	Demo     bool // made by the program to show the job
	Recorded time.Time
	Changed  time.Time // of the text in force
	Versions int       // texts kept, this one too
}

// longestWish is the most letters of a wish's text, keys and values together.
const longestWish = 20_000

// Check refuses a wish that cannot be kept. Whether anything follows from it is
// for package plan to say.
func (w Wish) Check() error {
	if err := checkName(w.Name, "plan"); err != nil {
		return err
	}
	if len(w.Text) == 0 {
		return invalid("text", "The plan is empty; fill in what you want or what you have.")
	}
	letters := 0
	for key, value := range w.Text {
		if key == "" || value == "" || !utf8.ValidString(key) || !utf8.ValidString(value) {
			return invalid("text", "A value of the plan cannot be kept; write it again.")
		}
		letters += utf8.RuneCountInString(key) + utf8.RuneCountInString(value)
	}
	if letters > longestWish {
		return invalid("text", "The plan is too long to keep; draw one repeat of the weave only.")
	}
	return nil
}
