package unit

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Shapes of a number before its exponent.
var (
	plainNumber       = regexp.MustCompile(`^(?:\d+(?:\.\d+)?|\.\d+)$`)
	oneComma          = regexp.MustCompile(`^\d+,\d+$`)
	oneGroup          = regexp.MustCompile(`^[1-9]\d{0,2},\d{3}$`)
	groupedByCommas   = regexp.MustCompile(`^[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?$`)
	groupedByFullStop = regexp.MustCompile(`^[1-9]\d{0,2}(?:\.\d{3})+,\d+$`)
)

// decimal reads one number token. A full stop is the decimal mark. A comma is
// the decimal mark too, except where it can only part thousands (1,234.5) or
// where grouped says that the unit is an inch-pound one and exactly three digits
// follow (3,360). In a metric unit 1,234 may be meant either way and is refused.
func decimal(raw string, grouped bool) (float64, *fault) {
	mantissa, exponent, _ := strings.Cut(raw, "e")
	switch {
	case plainNumber.MatchString(mantissa):
	case oneGroup.MatchString(mantissa) && !grouped:
		return 0, ambiguousComma(mantissa)
	case groupedByCommas.MatchString(mantissa):
		mantissa = strings.ReplaceAll(mantissa, ",", "")
	case oneComma.MatchString(mantissa):
		mantissa = strings.Replace(mantissa, ",", ".", 1)
	case groupedByFullStop.MatchString(mantissa):
		mantissa = strings.Replace(strings.ReplaceAll(mantissa, ".", ""), ",", ".", 1)
	default:
		return 0, &fault{problem: quoted(raw) + " is not a number", advice: "write it with digits and one decimal point"}
	}
	if exponent != "" {
		mantissa += "e" + exponent
	}
	return finite(mantissa)
}

var numberScale = scale{
	kind: KindNumber, read: readNumber,
	lo: -1e15, hi: 1e15, limits: "-10^15 to 10^15", zero: true, signed: true,
}

// ParseNumber reads a number that has no unit, such as 25, 2.5, 2,5, 7 1/2 or
// -10. A comma is the decimal mark; one that may part thousands as well, as in
// 1,200, is refused. The error is a *ParseError.
func ParseNumber(text string) (float64, error) {
	return numberScale.parse(strings.TrimPrefix(strings.TrimSpace(text), "+"))
}

func readNumber(toks []token) (float64, *fault) {
	sign := 1.0
	if toks[0].is(mark, "-") {
		sign, toks = -1, toks[1:]
	}
	a, rest, f := takeAmount(toks)
	if f != nil && f.foreign || len(rest) > 0 {
		return 0, &fault{problem: "it is not a number by itself", advice: "write it with digits and without a unit, such as 25 or 2.5"}
	}
	if f != nil {
		return 0, f
	}
	v, f := a.value(false)
	return sign * v, f
}

func finite(digits string) (float64, *fault) {
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, &fault{problem: quoted(digits) + " is too large a number", advice: "check the number of digits"}
	}
	return v, nil
}

func ambiguousComma(raw string) *fault {
	return &fault{
		problem: "the comma in " + quoted(raw) + " may mark thousands or decimals",
		advice:  "write a plain number, " + strings.Replace(raw, ",", "", 1) + " or " + strings.Replace(raw, ",", ".", 1),
	}
}

// An amount is a number as spinners write it: 2.75, 2 3/4, 2-3/4 or 3/4. It
// keeps the digits because the meaning of a comma depends on the unit after it.
type amount struct {
	whole    string // "" for a fraction alone
	num, den string // "" where there is no fraction
}

// takeAmount reads the amount at the start of toks and returns what follows it.
func takeAmount(toks []token) (amount, []token, *fault) {
	if len(toks) == 0 || toks[0].kind != number {
		return amount{}, nil, noNumber()
	}
	if a, ok := fraction(toks); ok {
		return a, toks[3:], nil
	}
	whole, rest := toks[0].text, toks[1:]
	hyphen := len(rest) > 0 && rest[0].is(mark, "-")
	if hyphen {
		rest = rest[1:]
	}
	if a, ok := fraction(rest); ok {
		a.whole = whole
		return a, rest[3:], nil
	}
	if hyphen {
		return amount{}, nil, &fault{problem: "it looks like a range", advice: "give one number, such as the middle of the range"}
	}
	if len(rest) > 0 && rest[0].kind == number {
		return amount{}, nil, &fault{problem: "two numbers stand side by side", advice: "write one number without spaces, as in 3360"}
	}
	return amount{whole: whole}, rest, nil
}

// noNumber is the fault of a text that does not start with a number.
func noNumber() *fault {
	return &fault{
		problem: "it does not start with a number",
		advice:  "put the number first and its unit after it",
		foreign: true,
	}
}

// fraction reads num/den at the start of toks.
func fraction(toks []token) (amount, bool) {
	if len(toks) < 3 || toks[0].kind != number || !toks[1].is(mark, "/") || toks[2].kind != number {
		return amount{}, false
	}
	return amount{num: toks[0].text, den: toks[2].text}, true
}

// value works out a for a unit whose numbers may be grouped by commas.
func (a amount) value(grouped bool) (float64, *fault) {
	if a.num == "" {
		return decimal(a.whole, grouped)
	}
	part, f := ratioOf(a.num, a.den)
	if f != nil || a.whole == "" {
		return part, f
	}
	whole, err := strconv.ParseUint(a.whole, 10, 32)
	if err != nil || part >= 1 {
		return 0, &fault{
			problem: quoted(a.whole+" "+a.num+"/"+a.den) + " is not a whole number and a fraction below one",
			advice:  "write it like 2 3/4 or 2.75",
		}
	}
	return float64(whole) + part, nil
}

// ratioOf divides two whole numbers.
func ratioOf(num, den string) (float64, *fault) {
	n, errN := strconv.ParseUint(num, 10, 32)
	d, errD := strconv.ParseUint(den, 10, 32)
	if errN != nil || errD != nil || d == 0 {
		return 0, &fault{
			problem: quoted(num+"/"+den) + " is not a fraction of two whole numbers",
			advice:  "write it like 3/4 or 0.75",
		}
	}
	return float64(n) / float64(d), nil
}
