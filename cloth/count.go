package cloth

import "slices"

// Intersections counts how often threads pass from one face to the other, in one
// repeat, each counted once a passage: 2 in plain weave, 2 in every satin.
type Intersections struct {
	PerPick, PerEnd         float64 // passages of a pick, of an end: the mean over the repeat
	MostPerPick, MostPerEnd int     // of the one that passes most often
}

// Intersections counts those of the weave.
func (w Weave) Intersections() Intersections {
	var x Intersections
	for _, row := range w.up {
		n := changes(row)
		x.PerPick += float64(n) / float64(w.Picks())
		x.MostPerPick = max(x.MostPerPick, n)
	}
	for e := range w.Ends() {
		n := changes(w.column(e))
		x.PerEnd += float64(n) / float64(w.Ends())
		x.MostPerEnd = max(x.MostPerEnd, n)
	}
	return x
}

// changes counts the changes of face along a thread, the repeat being a ring.
func changes(thread []bool) (n int) {
	for i, up := range thread {
		if up != thread[(i+1)%len(thread)] {
			n++
		}
	}
	return n
}

// Share is a part of a whole, 0 to 1 where not said otherwise.
type Share float64

// EndsShare is the part of the room that the ends themselves take in a row of
// touching threads: ends / (ends + passages of the pick between them).
func (w Weave) EndsShare() Share {
	ends := float64(w.Ends())
	return Share(ends / (ends + w.Intersections().PerPick))
}

// PicksShare is the same of the picks.
func (w Weave) PicksShare() Share {
	picks := float64(w.Picks())
	return Share(picks / (picks + w.Intersections().PerEnd))
}

// Float is a mean number of threads that are crossed between one passage and the
// next: 1 in plain weave, 2 in a 2/2 twill.
type Float float64

// PickFloat returns the mean float of the picks.
func (w Weave) PickFloat() Float {
	return Float(float64(w.Ends()) / w.Intersections().PerPick)
}

// Family is the kind of a weave.
type Family int

// The families.
const (
	OtherWeave Family = iota
	Plain
	Twill
	Satin
	Hopsack
)

// String returns the word for it.
func (f Family) String() string {
	return [...]string{"other weave", "plain weave", "twill", "satin", "hopsack"}[f]
}

// Family tells the kind from the drawdown: plain weave passes between all
// threads; a regular twill moves every pick by one end; a satin moves it by more,
// each pick passing twice; a hopsack is plain weave with groups for threads.
func (w Weave) Family() Family {
	x, step := w.Intersections(), w.step()
	switch {
	case x.PerPick == float64(w.Ends()) && x.PerEnd == float64(w.Picks()):
		return Plain
	case step == 1 || step == w.Ends()-1:
		return Twill
	case step > 1 && x.MostPerPick == 2 && x.MostPerEnd == 2 && w.single():
		return Satin
	case w.Shafts() == 2:
		return Hopsack
	}
	return OtherWeave
}

// single reports whether one end alone is bound in each pick.
func (w Weave) single() bool {
	n := 0
	for _, up := range w.up[0] {
		n += bit(up)
	}
	return n == 1 || n == w.Ends()-1
}

// step returns by how many ends to the right every pick is moved against the one
// woven before it, 0 where there is no such number.
func (w Weave) step() int {
	for s := 1; s < w.Ends(); s++ {
		if w.stepsBy(s) {
			return s
		}
	}
	return 0
}

func (w Weave) stepsBy(s int) bool {
	for pick := range w.Picks() {
		before, after := w.row(pick), w.row(pick+1)
		if !slices.Equal(after, slices.Concat(before[len(before)-s:], before[:len(before)-s])) {
			return false
		}
	}
	return true
}

// row returns a pick, from 0 at the first woven, going on over the repeats.
func (w Weave) row(pick int) []bool { return w.up[w.Picks()-1-pick%w.Picks()] }
