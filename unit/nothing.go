package unit

import "strings"

// OrNothing makes a parser that reads zero, too, with any unit that the given one
// takes: "0 in". Lengths and masses of zero are no yarn, but a
// waste or what is left in a bag may be nothing.
func OrNothing[T ~float64](parse func(string) (T, error)) func(string) (T, error) {
	return func(text string) (T, error) {
		v, err := parse(text)
		if err == nil {
			return v, nil
		}
		after, zero := strings.CutPrefix(strings.TrimSpace(text), "0")
		if !zero {
			return v, err
		}
		if _, wrong := parse("1 " + strings.TrimLeft(after, "0.,")); wrong != nil {
			return v, err
		}
		return 0, nil
	}
}
