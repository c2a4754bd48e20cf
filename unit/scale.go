package unit

import (
	"math"
	"strings"
)

// A scale is what one kind of quantity needs to be read: how, and between which
// limits. Values are in the kind's base unit.
type scale struct {
	kind   Kind
	read   func([]token) (float64, *fault)
	lo, hi float64
	limits string  // lo and hi in words
	slack  float64 // by how much two statements of one value may differ, besides agreement
	zero   bool    // whether zero has a meaning although it is below lo
	signed bool    // whether a value below zero has a meaning
}

// agreement is the share by which the value in brackets may differ from the one
// before it. Two figures that are each rounded to two digits can be 5 % apart.
const agreement = 0.06

// parse reads text, which may repeat the value in another unit in brackets, as
// this package prints it: "1.50 m (59.1 in)".
func (s scale) parse(text string) (float64, error) {
	v, f := s.value(text)
	if f != nil {
		return 0, f.in(s.kind, text)
	}
	return v, nil
}

func (s scale) value(text string) (float64, *fault) {
	main, aside := splitAside(text)
	v, f := s.readText(main)
	if f != nil {
		return 0, f
	}
	if f := s.within(v); f != nil {
		return 0, f
	}
	if aside == "" {
		return v, nil
	}
	return v, s.agree(v, aside)
}

// readText reads text without looking at the limits.
func (s scale) readText(text string) (float64, *fault) {
	toks, f := tokenise(text)
	if f != nil {
		return 0, f
	}
	if !toks[0].is(mark, "-") || s.signed {
		return s.read(toks)
	}
	if _, f := s.read(toks[1:]); f != nil {
		return 0, f
	}
	return 0, s.negative()
}

func (s scale) negative() *fault {
	f := &fault{problem: s.kind.phrase() + " cannot be negative", advice: "leave out the minus sign"}
	if s.kind == KindTwist || s.kind == KindAngle {
		f.advice = "leave out the minus sign and say the direction, S or Z, separately"
	}
	return f
}

// within refuses values outside the limits. The limits give a hair so that a
// value on a limit survives its own conversion.
func (s scale) within(v float64) *fault {
	const hair = 1e-9
	problem := ""
	switch {
	case math.IsNaN(v):
		problem = "the result is not a number"
	case v == 0 && s.zero:
		return nil
	case v == 0 && s.lo > 0:
		problem = s.kind.phrase() + " cannot be zero"
	case v < s.lo-math.Abs(s.lo)*hair:
		problem = "the value is smaller than any that spinners meet"
	case v > s.hi+math.Abs(s.hi)*hair:
		problem = "the value is larger than any that spinners meet"
	default:
		return nil
	}
	return &fault{problem: problem, advice: "check the number and its unit; the limits are " + s.limits}
}

// agree refuses text in brackets that does not say v again in another unit.
func (s scale) agree(v float64, aside string) *fault {
	again, f := s.readText(aside)
	if f == nil && math.Abs(v-again) <= agreement*math.Max(math.Abs(v), math.Abs(again))+s.slack {
		return nil
	}
	return &fault{
		problem: "the text in brackets does not say the same value in another unit",
		advice:  "leave out what is in brackets",
	}
}

// splitAside parts "1.50 m (59.1 in)" into its two values.
func splitAside(text string) (main, aside string) {
	open := strings.IndexByte(text, '(')
	trimmed := strings.TrimRight(text, " ")
	if open < 0 || !strings.HasSuffix(trimmed, ")") {
		return text, ""
	}
	return text[:open], trimmed[open+1 : len(trimmed)-1]
}
