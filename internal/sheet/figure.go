package sheet

import "strings"

// halves takes "50 cm (20 in)" apart into both systems of units; the second is
// empty where there is only one.
func halves(text string) (first, second string) {
	first, second, two := strings.Cut(text, " (")
	if !two {
		return text, ""
	}
	return first, strings.TrimSuffix(second, ")")
}

// spans takes "50 cm (20 in) to 60 cm (24 in)" apart into a span in each.
func spans(text string) (first, second string) {
	low, high, two := strings.Cut(text, " to ")
	if !two {
		return halves(text)
	}
	lowFirst, lowSecond := halves(low)
	highFirst, highSecond := halves(high)
	return span(lowFirst, highFirst), span(lowSecond, highSecond)
}

// span says a unit that both ends share once.
func span(low, high string) string {
	unit := unitOf(low)
	switch {
	case low == "":
		return ""
	case unit == unitOf(high) && !strings.ContainsAny(unit, "0123456789"):
		low = strings.TrimSuffix(low, unit)
	}
	return low + " to " + high
}

// unitOf is what stands behind the leading figure, with its blank.
func unitOf(text string) string { return strings.TrimLeft(text, "0123456789.,") }
