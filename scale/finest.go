package scale

import (
	"fmt"
	"math"
	"slices"

	"waketwist/unit"
)

// A division is how a ruler's marks are grouped by longer ones.
type division int

const (
	otherwise division = iota
	byTen              // 0.1, 1 or 10 mm: every fifth or tenth is longer
	byHalf             // 0.5 or 5 mm: every second is longer, or every tenth
	byTwo              // halves of the inch, of those and so on: every second is longer
)

// divisionOf is how marks so far apart are grouped (common practice).
func divisionOf(spacing unit.Length) division {
	whole := func(v float64) bool { return math.Abs(v-math.Round(v)) < 1e-6 }
	mm := spacing.Millimetres()
	switch {
	case whole(math.Log2(mm/25.4)) && mm < 25.5:
		return byTwo
	case whole(math.Log10(mm)):
		return byTen
	case whole(math.Log10(2 * mm)):
		return byHalf
	}
	return otherwise
}

// clearPeriod is the step in photo pixels from which marks ten times as fine
// would be seen; without a source.
const clearPeriod = 40

// finest decides whether the marks seen are the finest, so far apart as is
// stated. Where every so-manieth is longer as it should be, they are; where the
// longer ones are grouped otherwise, they are not; where none is longer, finer
// ones may be lost in the blur unless the steps are wide.
func (m marks) finest(spacing unit.Length) error {
	has := func(k ...int) bool {
		return slices.ContainsFunc(k, func(k int) bool { return slices.Contains(m.longer, k) })
	}
	var fits, clashes bool
	switch divisionOf(spacing) {
	case byTen:
		fits, clashes = has(5, 10), has(2, 4, 8) && !has(5)
	case byHalf:
		fits, clashes = has(2, 10), has(5) && !has(2)
	case byTwo:
		fits, clashes = has(2, 4, 8), has(5, 10) && !has(2)
	}
	switch {
	case clashes:
		return &Refusal{Unsure, fmt.Sprintf("of the marks that stand out every %s is longer, which marks %s apart do not have; finer ones may be too small to be seen, or they stand otherwise apart: check the spacing, or come nearer", ordinal(m.longer[0]), spacing)}
	case !fits && m.period < clearPeriod:
		return &Refusal{Unsure, fmt.Sprintf("its marks are %.0f pixels apart and none is told to be longer than the others, so that finer ones between them may be too small to be seen; come nearer, or give two points and the distance between them", m.period)}
	}
	return nil
}

func ordinal(k int) string {
	return map[int]string{2: "second", 4: "fourth", 5: "fifth", 8: "eighth", 10: "tenth", 16: "sixteenth"}[k]
}
