package unit

import (
	"math"
	"strconv"
	"strings"
)

// fixed prints v with the given number of decimal places, and no minus sign on
// what rounds to zero.
func fixed(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// figures prints v to at least sig significant figures, never rounding a figure
// before the decimal point away: 3 figures of 1.5 are 1.50, of 3359.6 are 3360.
func figures(v float64, sig int) string {
	if v == 0 {
		return "0"
	}
	return fixed(v, max(0, sig-1-exponent(v, sig)))
}

// tenth prints v to one decimal place, from 100 on to none, and below 1 to two
// significant figures.
func tenth(v float64) string {
	if math.Abs(v) < 1 {
		return figures(v, 2)
	}
	return fixed(v, min(1, max(0, 2-exponent(v, 3))))
}

// exponent returns the power of ten of v's first figure once v is rounded to
// sig figures, so that 9.996 counts as 10.0.
func exponent(v float64, sig int) int {
	s := strconv.FormatFloat(v, 'e', sig-1, 64)
	_, digits, _ := strings.Cut(s, "e")
	n, _ := strconv.Atoi(digits) // no exponent is NaN or infinite, which print as themselves
	return n
}

// trimmed takes zeros off the end of a decimal fraction.
func trimmed(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// grouped parts the thousands of a printed number by commas. Only numbers in
// inch-pound units are printed so: in metric ones a comma may be the decimal mark.
func grouped(s string) string {
	whole, fraction, dot := strings.Cut(s, ".")
	digits := strings.TrimPrefix(whole, "-")
	sign := whole[:len(whole)-len(digits)]
	for i := len(digits) - 3; i > 0 && digits[0] >= '0'; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	if dot {
		digits += "." + fraction
	}
	return sign + digits
}

// bothSystems joins the two ways of saying one value.
func bothSystems(first, second string) string { return first + " (" + second + ")" }
