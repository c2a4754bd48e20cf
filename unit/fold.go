package unit

import "math"

// mostFolds is the most strands that a folded count may state.
const mostFolds = 24

// A count is a yarn number taken apart: its system and, in order, its figures
// and the signs between them.
type count struct {
	system    countSystem
	known     bool   // whether name is that of a system
	name      string // the words that stand for the system
	resultant bool   // led by R: the figure is that of the folded yarn
	plural    bool   // the figure has an s, as in 20s
	figures   []token
}

// takeCount takes apart Nm 28/2, 28/2 Nm, 20s cotton, 2 run/2 and R 60 tex/2.
func takeCount(toks []token) count {
	var c count
	if len(toks) > 0 && toks[0].is(word, "r") {
		c.resultant, toks = true, toks[1:]
	}
	var names []token
	for i, t := range toks {
		switch {
		case t.is(word, "s") && i > 0 && toks[i-1].kind == number:
			c.plural = true
		case t.kind == word:
			names = append(names, t)
		default:
			c.figures = append(c.figures, t)
		}
	}
	c.name = spell(names)
	c.system, c.known = countSystems[c.name]
	return c
}

// perFold reports whether figures are two numbers with a slash between.
func perFold(figures []token) bool {
	_, ok := fraction(figures)
	return ok && len(figures) == 3
}

// density works out the density of the whole yarn.
func (c count) density() (LinearDensity, *fault) {
	if c.resultant && !c.system.direct {
		return 0, &fault{
			problem: "R marks the resultant density in tex, dtex or denier only",
			advice:  "leave out the R; a folded count such as Nm 28/2 is divided by its folds",
		}
	}
	size, folds, f := c.folded()
	switch {
	case f != nil:
		return 0, f
	case size == 0:
		return 0, &fault{problem: "the count cannot be zero", advice: "give a count above zero"}
	case c.resultant:
		return c.system.density(size), nil
	}
	return c.system.density(size) * LinearDensity(folds), nil
}

// folded returns the number of one strand and the number of strands; for a
// resultant density the number is that of the whole.
func (c count) folded() (size, folds float64, f *fault) {
	times := len(c.figures) == 3 && c.figures[1].is(mark, "x") && c.figures[2].kind == number
	if !perFold(c.figures) && !times {
		size, f = c.single()
		return size, 1, f
	}
	if f := c.directFolds(times); f != nil {
		return 0, 0, f
	}
	a, f := decimal(c.figures[0].text, c.system.grouped)
	if f != nil {
		return 0, 0, f
	}
	b, f := decimal(c.figures[2].text, c.system.grouped)
	if f != nil {
		return 0, 0, f
	}
	if c.resultant {
		return a, b, wholeFolds(b)
	}
	return splitFolds(a, b, c.system.direct)
}

// directFolds refuses what a direct system cannot mean: 60 tex/2 may be two
// strands of 60 tex or of 30 tex, and 20/22 den is a range of silk.
func (c count) directFolds(times bool) *fault {
	switch {
	case c.resultant && times:
		return &fault{
			problem: "R marks the whole yarn and x multiplies one strand",
			advice:  "write R 60 tex/2 for the whole or 30 tex x 2 for the strands",
		}
	case c.system.direct && !c.resultant && !times:
		return &fault{
			problem: "a slash does not say whether the number is one strand's or the whole yarn's",
			advice:  "write R 60 tex/2 for the whole, 30 tex x 2 for the strands, or the middle of a range such as 20/22 den",
		}
	}
	return nil
}

// single reads the figures of a yarn of one strand: 6.8 or 2 1/2.
func (c count) single() (float64, *fault) {
	a, rest, f := takeAmount(c.figures)
	if f != nil {
		return 0, &fault{problem: f.problem, advice: f.advice}
	}
	if len(rest) > 0 {
		return 0, &fault{
			problem: quoted(spell(rest)) + " cannot be part of the count",
			advice:  "write one count, folded at most once, as in 20/6 for 20/2/3",
		}
	}
	return a.value(c.system.grouped)
}

// splitFolds tells the count from the folds in 20/2 and in 2/20, which are
// written for the same yarn in different trades (common practice): folds are few
// and whole, so the smaller number is the folds unless it has a fraction. Where
// the first is smaller by less than three times, 2/5, that is no longer sure and
// an indirect count is refused. In a direct system the product is the same either
// way.
func splitFolds(a, b float64, direct bool) (size, folds float64, f *fault) {
	if a >= b || a != math.Trunc(a) {
		return a, b, wholeFolds(b)
	}
	if b < 3*a && !direct {
		return 0, 0, &fault{problem: "it is not plain which number is the folds", advice: "write the count first and the folds after it, as in 5/2"}
	}
	return b, a, wholeFolds(a)
}

func wholeFolds(folds float64) *fault {
	if folds >= 1 && folds <= mostFolds && folds == math.Trunc(folds) {
		return nil
	}
	return &fault{
		problem: quoted(trimmed(figures(folds, 6))) + " is not a number of folds",
		advice:  "give the strands as a whole number from 1 to 24",
	}
}
