package sqlite

import (
	"fmt"
	"math"
	"time"

	"waketwist/internal/journal"
)

// timeForm is RFC 3339 with as many decimals in every time, so that times sort
// as text.
const timeForm = "2006-01-02T15:04:05.000000000Z"

func stamp(t time.Time) string { return t.UTC().Format(timeForm) }

func stampOrNil(t *time.Time) *string {
	if t == nil {
		return nil
	}
	text := stamp(*t)
	return &text
}

// inUnits returns a quantity as a number of units, nil for nil.
func inUnits[T ~float64](quantity *T, unit T) *float64 {
	if quantity == nil {
		return nil
	}
	number := float64(*quantity / unit)
	return &number
}

// inSeconds returns a duration in seconds, nil for nil.
func inSeconds(d *time.Duration) *float64 {
	if d == nil {
		return nil
	}
	seconds := d.Seconds()
	return &seconds
}

// numberOrNil returns nil for a record that is not kept.
func numberOrNil(id journal.ID) *journal.ID {
	if id == 0 {
		return nil
	}
	return &id
}

// column is where a value read from the database goes.
type column func(value any) error

// Scan implements sql.Scanner.
func (c column) Scan(value any) error { return c(value) }

// moment reads a time.
func moment(into *time.Time) column {
	return func(value any) error {
		text, err := textOf(value)
		if err != nil {
			return err
		}
		*into, err = time.Parse(timeForm, text)
		return err
	}
}

func momentOrNil(into **time.Time) column {
	return orNil(into, moment)
}

// amount reads a number of units.
func amount[T ~float64](into *T, unit T) column {
	return func(value any) error {
		number, ok := value.(float64)
		if !ok {
			return fmt.Errorf("%T where a number is kept", value)
		}
		*into = T(number) * unit
		return nil
	}
}

func amountOrNil[T ~float64](into **T, unit T) column {
	return orNil(into, func(into *T) column { return amount(into, unit) })
}

// seconds reads a duration, to the nanosecond.
func seconds(into *time.Duration) column {
	return func(value any) error {
		var number float64
		err := amount(&number, 1)(value)
		*into = time.Duration(math.Round(number * float64(time.Second)))
		return err
	}
}

func secondsOrNil(into **time.Duration) column {
	return orNil(into, seconds)
}

// word reads a text that parse understands.
func word[T any](into *T, parse func(string) (T, error)) column {
	return func(value any) error {
		text, err := textOf(value)
		if err != nil {
			return err
		}
		*into, err = parse(text)
		return err
	}
}

// orNil makes a value where the column has one and nil where it is NULL.
func orNil[T any](into **T, of func(*T) column) column {
	return func(value any) error {
		if value == nil {
			*into = nil
			return nil
		}
		*into = new(T)
		return of(*into)(value)
	}
}

// orZero leaves a value as it is where the column is NULL.
func orZero[T any](into *T, of func(*T) column) column {
	return func(value any) error {
		if value == nil {
			return nil
		}
		return of(into)(value)
	}
}

// wholeNumber reads a whole number.
func wholeNumber(into *int) column {
	return func(value any) error {
		number, ok := value.(int64)
		if !ok {
			return fmt.Errorf("%T where a whole number is kept", value)
		}
		*into = int(number)
		return nil
	}
}

func textOf(value any) (string, error) {
	text, ok := value.(string)
	if !ok {
		return "", fmt.Errorf("%T where a text is kept", value)
	}
	return text, nil
}
