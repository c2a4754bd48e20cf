package unit

import (
	"strings"
	"unicode"
)

// Kind names what a quantity measures.
type Kind string

// Kinds of quantity. KindAny stands in a ParseError where the text might have
// been of any kind.
const (
	KindAny           Kind = "quantity"
	KindLength        Kind = "length"
	KindMass          Kind = "mass"
	KindLinearDensity Kind = "linear density"
	KindTwist         Kind = "twist"
	KindWraps         Kind = "wraps"
	KindAngle         Kind = "angle"
	KindTemperature   Kind = "temperature"
	KindDuration      Kind = "time"
	KindNumber        Kind = "number"
)

// accepted lists the units of each kind as an error message offers them.
var accepted = map[Kind]string{
	KindAny:           "m, in, yd, g, oz, lb, tex, Nm, Ne, yd/lb, tpi, turns/m, wpi, ° or °C",
	KindLength:        "m, cm, mm, µm, km, in, ft or yd",
	KindMass:          "g, kg, mg, oz, lb or grain",
	KindLinearDensity: "tex, dtex, den, Nm, Ne (cotton), worsted, run, cut, lea, Yorkshire skeins, yd/lb or m/100 g",
	KindTwist:         "tpi, turns/m or turns/cm",
	KindWraps:         "wpi or wpc",
	KindAngle:         "° or rad",
	KindTemperature:   "°C or °F",
	KindDuration:      "s, min, h, days or weeks",
}

// phrase returns k as it stands after "as" or "is not".
func (k Kind) phrase() string {
	switch k {
	case KindAngle:
		return "an angle"
	case KindTwist, KindWraps:
		return string(k)
	}
	return "a " + string(k)
}

// A ParseError says why a text could not be read as a quantity. Every error
// that this package returns is a *ParseError.
type ParseError struct {
	Kind    Kind   // what was looked for
	Text    string // the text as given
	Problem string // what was wrong, a clause without a full stop
	Advice  string // what to do next, a clause without a full stop
}

// Error returns one plain sentence: the text, what was wrong, what to do.
func (e *ParseError) Error() string {
	return "cannot read " + quoted(e.Text) + " as " + e.Kind.phrase() + ": " + e.Problem + "; " + e.Advice
}

// quoted returns s between quotation marks, cut to the length of a line and
// with unprintable characters replaced, so that an error stays one line.
func quoted(s string) string {
	const most = 60
	runes := []rune(strings.ToValidUTF8(s, "?"))
	if len(runes) > most {
		runes = append(runes[:most], '…')
	}
	for i, r := range runes {
		if !unicode.IsPrint(r) {
			runes[i] = '?'
		}
	}
	return "“" + string(runes) + "”"
}

// A fault is a ParseError before it knows the kind and the text. A foreign
// fault says only that the text is in no unit of the kind looked for, so it may
// still be a good quantity of another kind.
type fault struct {
	problem, advice string
	foreign         bool
}

// in turns f into the error for text read as kind.
func (f *fault) in(kind Kind, text string) *ParseError {
	return &ParseError{Kind: kind, Text: text, Problem: f.problem, Advice: f.advice}
}

// noUnit is the fault of a number that stands alone.
func noUnit(kind Kind) *fault {
	return &fault{problem: "the number has no unit", advice: "add one of " + accepted[kind]}
}

// unknownUnit is the fault of a unit that kind does not have.
func unknownUnit(kind Kind, name string) *fault {
	of := " of " + string(kind)
	if kind == KindAny {
		of = ""
	}
	return &fault{
		problem: quoted(name) + " is not a unit" + of + " known here",
		advice:  "use " + accepted[kind],
		foreign: true,
	}
}
