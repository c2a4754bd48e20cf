package unit

import (
	"math"
	"strings"
	"time"
)

const day = 24 * time.Hour

var durationSymbols = symbolTable{
	kind: KindDuration, symbols: durationForms(),
	refused: map[string]string{
		"m":     "write min for minutes, or count months in weeks",
		"month": "count in days or weeks", "months": "count in days or weeks",
	},
}

func durationForms() map[string]symbol {
	m := make(map[string]symbol)
	spellings(m, "s sec secs second seconds", time.Second.Seconds(), false)
	spellings(m, "min mins minute minutes", time.Minute.Seconds(), false)
	spellings(m, "h hr hrs hour hours", time.Hour.Seconds(), false)
	spellings(m, "d day days", day.Seconds(), false)
	spellings(m, "w wk wks week weeks", 7*day.Seconds(), false)
	return m
}

var durationScale = scale{
	kind: KindDuration, read: durationSymbols.terms,
	lo: 1, hi: 36500 * day.Seconds(), limits: "1 s to 36500 days",
}

// ParseDuration reads how long a yarn rested or soaked: 20 min, 1 h 30 min,
// 3 days, 2 weeks. Times from a second to 36,500 days are accepted. Months are
// refused because they differ in length. The error is a *ParseError.
func ParseDuration(text string) (time.Duration, error) {
	v, err := durationScale.parse(text)
	return time.Duration(math.Round(v * float64(time.Second))), err
}

// durationSteps are the units that FormatDuration prints, from the largest.
var durationSteps = []struct {
	size      time.Duration
	one, many string
}{
	{day, "1 day", " days"}, {time.Hour, "1 h", " h"}, {time.Minute, "1 min", " min"}, {time.Second, "1 s", " s"},
}

// FormatDuration returns d in the two largest of days, hours, minutes and
// seconds that it needs, rounded to the second of them: "3 days 4 h",
// "1 h 30 min", "45 s".
func FormatDuration(d time.Duration) string {
	if d < 0 {
		return "-" + FormatDuration(-max(d, -math.MaxInt64))
	}
	first, d := roundedToTwo(d)
	var parts []string
	for _, s := range durationSteps[first : first+2] {
		n := d / s.size
		d -= n * s.size
		switch {
		case n == 1:
			parts = append(parts, s.one)
		case n > 1:
			parts = append(parts, fixed(float64(n), 0)+s.many)
		}
	}
	if len(parts) == 0 {
		return "0 s"
	}
	return strings.Join(parts, " ")
}

// roundedToTwo finds the first of the two steps that d needs and rounds d to the
// second. Rounding may lift d into the next larger step: 59 min 59.7 s is 1 h.
func roundedToTwo(d time.Duration) (first int, rounded time.Duration) {
	for first < len(durationSteps)-2 && d < durationSteps[first].size {
		first++
	}
	rounded = d.Round(durationSteps[first+1].size)
	if first > 0 && rounded >= durationSteps[first-1].size {
		first--
	}
	return first, rounded
}
