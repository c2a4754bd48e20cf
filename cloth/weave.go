package cloth

import (
	"slices"
	"strings"

	"waketwist/yarn"
)

// MaxThreads is the most ends, and the most picks, of a repeat.
const MaxThreads = 512

// Weave is one whole repeat of how ends and picks cross. Make it with Named,
// ParseWeave, Drawdown or Draft; the zero Weave has no threads.
type Weave struct {
	up [][]bool // picks from the top of the drawdown down, ends from left to right
}

// Drawdown returns the weave whose repeat is up: a row for each pick, the last
// woven first, as the cloth is seen; true where the end lies over the pick. It
// refuses with an *Error what is no cloth: rows of different length, threads
// that are never woven in, layers that are not bound to each other. A drawdown of
// several whole repeats is cut to one.
func Drawdown(up [][]bool) (Weave, error) {
	if len(up) < 2 || len(up[0]) < 2 {
		return Weave{}, refuse("Draw one whole repeat.", "A weave needs two ends and two picks at the least.")
	}
	if len(up) > MaxThreads || len(up[0]) > MaxThreads {
		return Weave{}, refuse("Draw one repeat only.", "A repeat of more than %d threads is not taken.", MaxThreads)
	}
	w := Weave{}
	for i, row := range up {
		if len(row) != len(up[0]) {
			return Weave{}, refuse("Make all lines equally long.", "Line %d of the drawdown has %d ends and the first has %d.", i+1, len(row), len(up[0]))
		}
		w.up = append(w.up, slices.Clone(row))
	}
	if err := w.check(); err != nil {
		return Weave{}, err
	}
	return w.reduced(), nil
}

// reduced keeps one repeat of several.
func (w Weave) reduced() Weave {
	ends := period(w.Ends(), func(i, by int) bool {
		return slices.Equal(w.column(i), w.column(i+by))
	})
	picks := period(w.Picks(), func(i, by int) bool { return slices.Equal(w.up[i], w.up[i+by]) })
	// A thread that is woven in has two faces, so that neither falls below 2.
	out := Weave{}
	for _, row := range w.up[:picks] {
		out.up = append(out.up, row[:ends])
	}
	return out
}

// period returns the least divisor of n by which the threads can be moved and
// stay the same.
func period(n int, same func(i, by int) bool) int {
	for by := 1; by < n; by++ {
		if n%by != 0 {
			continue
		}
		i := 0
		for i+by < n && same(i, by) {
			i++
		}
		if i+by == n {
			return by
		}
	}
	return n
}

// check refuses threads that nothing holds.
func (w Weave) check() error {
	for i, row := range w.up {
		if changes(row) == 0 {
			return refuse("Bind it at one place at the least.", "The pick in line %d of the drawdown is never woven in.", i+1)
		}
	}
	for e := range w.Ends() {
		if changes(w.column(e)) == 0 {
			return refuse("Bind it at one place at the least.", "End %d from the left is never woven in.", e+1)
		}
	}
	if !w.bound() {
		return refuse("Give each layer as a weave of its own.", "The drawdown falls apart into layers that are not bound to each other.")
	}
	return nil
}

// bound reports whether the cloth hangs together: whether, stepping at crossings
// from the thread above to the thread below, every thread can be reached from
// the first, and the first from every other.
func (w Weave) bound() bool {
	return w.reached(true) && w.reached(false)
}

func (w Weave) reached(down bool) bool {
	ends, picks := w.Ends(), w.Picks()
	seen := make([]bool, ends+picks)
	seen[0] = true
	queue := []int{0}
	for at := 0; at < len(queue); at++ {
		thread := queue[at]
		for other := range ends + picks {
			if !seen[other] && (thread < ends) != (other < ends) && w.above(thread, other) == down {
				seen[other] = true
				queue = append(queue, other)
			}
		}
	}
	return len(queue) == ends+picks
}

// above reports which of an end and a pick lies over the other where they cross;
// ends are counted from 0, and picks on from there.
func (w Weave) above(thread, other int) bool {
	if thread < w.Ends() {
		return w.up[other-w.Ends()][thread]
	}
	return !w.up[thread-w.Ends()][other]
}

// Ends returns the number of ends in the repeat.
func (w Weave) Ends() int {
	if len(w.up) == 0 {
		return 0
	}
	return len(w.up[0])
}

// Picks returns the number of picks in the repeat.
func (w Weave) Picks() int { return len(w.up) }

// Up reports whether an end, from 0 at the left, lies over a pick, from 0 at the
// first woven, which is the lowest line. Both go on over repeat after repeat and
// must not be negative.
func (w Weave) Up(end, pick int) bool {
	return w.up[w.Picks()-1-pick%w.Picks()][end%w.Ends()]
}

// String returns the drawdown, X where the end is over the pick, each line
// ended; ParseWeave reads it back.
func (w Weave) String() string {
	var b strings.Builder
	for _, row := range w.up {
		for _, up := range row {
			b.WriteByte(".X"[bit(up)])
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (w Weave) column(end int) []bool {
	out := make([]bool, w.Picks())
	for i, row := range w.up {
		out[i] = row[end]
	}
	return out
}

// Shafts returns the fewest shafts that weave it: ends that always move together
// share one.
func (w Weave) Shafts() int {
	kinds := map[string]bool{}
	for e := range w.Ends() {
		var key strings.Builder
		for _, up := range w.column(e) {
			key.WriteByte(".X"[bit(up)])
		}
		kinds[key.String()] = true
	}
	return len(kinds)
}

// FitsOn refuses with an *Error a loom of too few shafts.
func (w Weave) FitsOn(shafts int) error {
	switch need := w.Shafts(); {
	case shafts < 2:
		return refuse("Give the loom's shafts, 2 or more.", "No cloth is woven on %d shafts.", shafts)
	case need > shafts:
		return refuse("Choose plain weave, another weave, or a loom with enough shafts.",
			"This weave needs %d shafts and the loom has %d.", need, shafts)
	}
	return nil
}

// Diagonal returns the way a twill line runs on the face: Z rises to the right, S
// to the left. It is NoDirection for a weave that is no regular twill.
func (w Weave) Diagonal() yarn.Direction {
	switch step := w.step(); {
	case w.Family() != Twill:
		return yarn.NoDirection
	case step == 1:
		return yarn.Z
	default:
		return yarn.S
	}
}
