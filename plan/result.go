package plan

import (
	"waketwist/estimate"
)

// Result is the whole chain as far as it follows from a wish.
type Result struct {
	Wish Wish // with the plies that were taken

	Conflicts []Conflict
	Stocks    []Stock // what is in hand against what is needed
	// FromHand is true where what is in hand decided the size, and Made is the
	// plan that it would decide where the size is wished; nil where neither.
	FromHand bool
	Made     *Result
	// Width says, for each total, which assumptions make it wide.
	Width []Blame
	Notes []string // what else to know of the cloth
	// Settings are how the wheel is set for singles and ply; nil without one.
	Settings []Setting

	*chain
	estimates [quantities]estimate.Estimate[float64]
	outlook   *Outlook
	doubtful  error // why there is no outlook
}

// Blame is a total with the assumptions that make it wide, largest first.
type Blame struct {
	Total string
	Of    []Assumption
}

// Of returns a quantity of a plan: its median and 90 % interval. It is zero where
// the plan does not reach it.
func Of[T ~float64](r *Result, k Key[T]) estimate.Estimate[T] { return typed[T](r.estimates[k.q]) }

// SourceOf says where a quantity of a plan comes from.
func SourceOf[T ~float64](r *Result, k Key[T]) Source { return r.source[k.q] }

// Suffices is how likely an amount covers what the plan needs of a quantity; ok is
// false where the plan does not reach it.
func Suffices[T ~float64](r *Result, k Key[T], have T) (chance float64, ok bool) {
	column := r.columns[k.q]
	for _, need := range column {
		if need <= float64(have) {
			chance += 1 / float64(len(column))
		}
	}
	return min(1, chance), column != nil
}

// Solve reckons what follows from a wish, in whichever direction: backwards from
// a fabric, forwards from what is in hand, or from the middle. It refuses with an
// *Error what cannot be meant, and wishes from which nothing follows. Wishes that
// contradict each other are in Conflicts.
func Solve(w Wish) (*Result, error) { return solve(w, drawCount) }

func solve(w Wish, n int) (*Result, error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	w.settlePlies()
	s := work(&w, n)
	if err := s.reached(); err != nil {
		return nil, err
	}
	out := s.result()
	out.outlook, out.doubtful = s.outlook()
	out.Width = s.widths()
	out.Conflicts = s.conflicts(out)
	if !s.seeded && len(s.usableStocks()) > 0 {
		out.Made = w.made(n)
	}
	var err error
	out.Settings, err = out.settings()
	out.Notes = append(out.Notes, s.notes(out)...)
	return out, err
}

// settlePlies finds the plies from the weights of yarn and singles, and else takes
// two.
func (w *Wish) settlePlies() {
	if w.Plies != 0 {
		return
	}
	w.Plies = 2
	yarn, singles := w.given[qGrist], w.given[qSinglesGrist]
	if yarn.Value > 0 && singles.Value > 0 {
		w.Plies = min(7, max(1, int(yarn.Value/singles.Value+0.5)))
	}
}

func (s *solver) result() *Result {
	out := &Result{Wish: *s.w, FromHand: s.seeded, Stocks: s.stockLines(), chain: s.chain}
	for q := range quantities {
		if s.known(q) {
			e := estimate.FromDraws(s.columns[q])
			e.Flags = s.flags[q]
			out.estimates[q] = e
		}
	}
	return out
}

// wide is how uncertain a figure is when a spinner should know why.
const wide = 1.5

// widths are the assumptions behind the first two totals that follow, and behind
// the turns of the singles where they are wide.
func (s *solver) widths() []Blame {
	out := s.totals()
	if e := estimate.FromDraws(s.columns[qSinglesTwist]); !(e.High > wide*e.Low) {
		return out
	}
	if blamed := s.blameOf(qSinglesTwist); len(blamed) > 0 {
		out = append(out, Blame{items[qSinglesTwist].name, blamed})
	}
	return out
}

func (s *solver) totals() (out []Blame) {
	for _, q := range []quantity{qFibre, qYarn, qMass, qLength, qWidth, qKnitLength, qKnitWidth} {
		if len(out) == 2 {
			break
		}
		if blamed := s.blameOf(q); len(blamed) > 0 {
			out = append(out, Blame{items[q].name, blamed})
		}
	}
	return out
}

// blameOf is empty for what was wished, and for what has no spread.
func (s *solver) blameOf(q quantity) []Assumption {
	if s.source[q] != Follows {
		return nil
	}
	return s.blame(s.columns[q])
}

// sizes are what what-is-in-hand decides in place of a wish.
var sizes = []quantity{qLength, qLengthOff, qLengthOn, qWarpLength, qKnitLength, qYarn, qAtWheel, qMass, qSingles, qFibre, qHours, qPlyHours}

// made is the plan that what is in hand makes, at the width that is wished. It is
// nil where the size is not what was wished.
func (w Wish) made(n int) *Result {
	forward := w.without(sizes...)
	s := work(&forward, n)
	if !s.seeded {
		return nil
	}
	return s.result()
}

// MadeLines say what the stock in hand makes, where another size is wished.
func (r *Result) MadeLines() (out []Line) {
	if r.Made == nil {
		return nil
	}
	for _, q := range []quantity{qYarn, qMass, qWidth, qLength, qKnitWidth, qKnitLength} {
		if r.Made.source[q] == Follows && r.Made.shown(q) {
			if r.Made.estimates[q].High < 1e-3 { // it does not even cover the loom waste
				continue
			}
			line := r.Made.line(q)
			line.Key, line.Why = "made_"+line.Key, "What the stock in hand makes, less every loss."
			out = append(out, line)
		}
	}
	return out
}

// reached refuses wishes from which nothing follows.
func (s *solver) reached() error {
	if s.known(qGrist) || s.known(qYarn) || s.known(qMass) && !woven(s.w) {
		return nil
	}
	problem, advice := "From what is given nothing follows yet.", "Give the yarn's weight for its length or its wraps, and a size, a length of yarn or what is in hand."
	if s.w.Fabric == Woven {
		problem, advice = "The cloth has no yarn yet.", "Give the yarn's weight for its length, its wraps, or the sett."
	}
	return &Error{Field: "yarn.grist", Problem: problem, Advice: advice, Incomplete: true}
}
