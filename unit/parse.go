package unit

import (
	"fmt"
	"slices"
)

// A Quantity is a value of one of this package's types, as Parse returns it.
type Quantity interface {
	fmt.Stringer
	// Kind says what is measured.
	Kind() Kind
	// Lines returns the value in every unit that the trade uses for it.
	Lines() []Line
}

// A Line is one value as a row of a table.
type Line struct {
	Label string // the unit or system in words
	Text  string // the value with its unit; the parsers of this package read it back
}

// quantities are the kinds that Parse tries, in this order; of a kind whose unit
// is not in the text the next one is tried.
var quantities = []struct {
	scale scale
	make  func(float64) Quantity
}{
	{twistScale, func(v float64) Quantity { return Twist(v) }},
	{wrapsScale, func(v float64) Quantity { return Wraps(v) }},
	{lengthWithoutRatio, func(v float64) Quantity { return Length(v) }},
	{massWithoutRatio, func(v float64) Quantity { return Mass(v) }},
	{temperatureScale, func(v float64) Quantity { return Temperature(v) }},
	{angleScale, func(v float64) Quantity { return Angle(v) }},
	{linearDensityScale, func(v float64) Quantity { return LinearDensity(v) }},
}

// A length divided by a mass starts like a length, so Parse keeps a ratio from
// those two kinds.
var (
	lengthWithoutRatio = withoutRatio(lengthScale)
	massWithoutRatio   = withoutRatio(massScale)
)

func withoutRatio(s scale) scale {
	read := s.read
	s.read = func(toks []token) (float64, *fault) {
		if perMark(toks) > 0 {
			return 0, unknownUnit(s.kind, spell(toks))
		}
		return read(toks)
	}
	return s
}

// Parse reads a quantity of any kind but time and tells the kind by the unit. A
// number without a unit is refused. The error is a *ParseError, of the kind whose
// unit the text has or else of KindAny.
func Parse(text string) (Quantity, error) {
	main, _ := splitAside(text)
	toks, f := tokenise(main)
	if f != nil {
		return nil, f.in(KindAny, text)
	}
	if !slices.ContainsFunc(toks, isUnit) {
		return nil, noUnit(KindAny).in(KindAny, text)
	}
	for _, q := range quantities {
		v, f := q.scale.value(text)
		if f == nil {
			return q.make(v), nil
		}
		if !f.foreign {
			return nil, f.in(q.scale.kind, text)
		}
	}
	if toks[0].kind != number {
		return nil, noNumber().in(KindAny, text)
	}
	return nil, unknownUnit(KindAny, spell(withoutNumbers(toks))).in(KindAny, text)
}

func withoutNumbers(toks []token) []token {
	return slices.DeleteFunc(slices.Clone(toks), func(t token) bool { return t.kind == number })
}

// Kind returns KindLength.
func (l Length) Kind() Kind { return KindLength }

// Kind returns KindMass.
func (m Mass) Kind() Kind { return KindMass }

// Kind returns KindLinearDensity.
func (t LinearDensity) Kind() Kind { return KindLinearDensity }

// Kind returns KindTwist.
func (u Twist) Kind() Kind { return KindTwist }

// Kind returns KindWraps.
func (w Wraps) Kind() Kind { return KindWraps }

// Kind returns KindAngle.
func (a Angle) Kind() Kind { return KindAngle }

// Kind returns KindTemperature.
func (t Temperature) Kind() Kind { return KindTemperature }
