package unit

import (
	"math"
	"slices"
	"strings"
)

// A symbol is a unit as written, with its size in the base unit.
type symbol struct {
	size float64
	// grouped says that the unit is an inch-pound one, in whose numbers a comma
	// before exactly three digits parts thousands.
	grouped bool
}

// A symbolTable holds the written forms of the units of one kind.
type symbolTable struct {
	kind    Kind
	symbols map[string]symbol
	refused map[string]string // written forms that have two meanings, and what to do
}

// spellings adds to m the space-separated written forms of one unit.
func spellings(m map[string]symbol, forms string, size float64, grouped bool) {
	for form := range strings.FieldsSeq(forms) {
		m[form] = symbol{size, grouped}
	}
}

// terms adds up an amount in falling units: 5'6", 1 lb 3 oz, 2 oz 3/4.
func (u symbolTable) terms(toks []token) (float64, *fault) {
	var sum float64
	var prev term
	for prev.name == "" || len(toks) > 0 {
		t, rest, f := u.term(toks, prev)
		if f != nil {
			return 0, f
		}
		if f := t.follows(prev); f != nil {
			return 0, f
		}
		sum, prev, toks = sum+t.value*t.unit.size, t, rest
	}
	return sum, nil
}

// A term is one amount with its unit.
type term struct {
	value float64
	unit  symbol
	name  string
}

// term reads the term at the start of toks, which comes after prev.
func (u symbolTable) term(toks []token, prev term) (term, []token, *fault) {
	a, rest, f := takeAmount(toks)
	if f != nil && prev.name != "" {
		f = &fault{problem: quoted(spell(toks)) + " cannot follow the value", advice: "give the number and its unit alone"}
	}
	if f != nil {
		return term{}, nil, f
	}
	t := term{}
	switch {
	case len(rest) > 0 && isUnit(rest[0]):
		t.name, rest = rest[0].text, rest[1:]
	case len(rest) > 0:
		return t, nil, &fault{problem: quoted(spell(rest)) + " cannot follow the number", advice: "use " + accepted[u.kind]}
	case a.whole == "" && prev.name != "":
		t.name = prev.name // the 3/4 of 2 oz 3/4
	case prev.name == "'":
		t.name = `"`
	default:
		return t, nil, noUnit(u.kind)
	}
	if t.unit, f = u.find(t.name); f != nil {
		return t, nil, f
	}
	t.value, f = a.value(t.unit.grouped)
	return t, rest, f
}

func (u symbolTable) find(name string) (symbol, *fault) {
	if s, ok := u.symbols[name]; ok {
		return s, nil
	}
	if advice, ok := u.refused[name]; ok {
		return symbol{}, &fault{problem: quoted(name) + " has two meanings", advice: advice}
	}
	return symbol{}, unknownUnit(u.kind, name)
}

// follows refuses a term that does not continue prev: the unit before must be
// larger and its amount whole, and what follows must not make up one more of it.
// That catches the slip of 1 lb 30 oz for 1 lb 3.0 oz.
func (t term) follows(prev term) *fault {
	if prev.name == "" {
		return nil
	}
	part := t.value * t.unit.size
	if prev.value == math.Trunc(prev.value) && part < prev.unit.size {
		return nil
	}
	return &fault{
		problem: "what follows the first unit is not a part of it",
		advice:  "write a whole number of the larger unit and then the rest in the smaller one, as in 1 lb 3 oz",
	}
}

// perMark returns the index of the "/" or "per" that divides one unit by
// another, or -1. A slash between two numbers is a fraction.
func perMark(toks []token) int {
	for i := 1; i < len(toks); i++ {
		if toks[i].is(word, "per") || toks[i].is(mark, "/") && isUnit(toks[i-1]) {
			return i
		}
	}
	return -1
}

// orOne puts the number 1 before a unit that has none: the m of 350 t/m.
func orOne(toks []token) []token {
	if len(toks) > 0 && isUnit(toks[0]) {
		return append([]token{{number, "1"}}, toks...)
	}
	return toks
}

// A rate is a kind that counts something per length: turns or wraps.
type rate struct {
	kind  Kind
	short map[string]symbol // whole units in one word, such as tpi
	nouns string            // space-separated words for what is counted
}

// read reads 9 tpi, 350 turns/m or 12 turns per 4 in.
func (r rate) read(toks []token) (float64, *fault) {
	a, rest, f := takeAmount(toks)
	if f != nil {
		return 0, f
	}
	if len(rest) == 0 {
		return 0, noUnit(r.kind)
	}
	n, f := a.value(false)
	if s, ok := r.short[rest[0].text]; ok && len(rest) == 1 {
		return n * s.size, f
	}
	if !r.counts(rest[0].text) {
		return 0, unknownUnit(r.kind, spell(rest))
	}
	if f != nil {
		return 0, f
	}
	if perMark(rest) != 1 || len(rest) < 3 {
		return 0, &fault{problem: "it does not say in which length", advice: "use " + accepted[r.kind]}
	}
	length, f := lengthSymbols.terms(orOne(rest[2:]))
	if f == nil {
		f = lengthScale.within(length)
	}
	return n / length, f
}

func (r rate) counts(name string) bool {
	return slices.Contains(strings.Fields(r.nouns), name)
}
