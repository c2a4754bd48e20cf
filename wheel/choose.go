package wheel

import (
	"cmp"
	"math"
	"slices"

	"waketwist/estimate"
	"waketwist/unit"
)

// Stage is a setting at one stage of filling the bobbin.
type Stage struct {
	Filled   Filled
	Diameter unit.Length // where yarn winds on
	Setting  Setting
}

// Filling returns the settings on the bare core, the half-full and the full
// bobbin. They differ on a bobbin-led wheel only: each wrap takes a turn, and an
// empty bobbin winds the most. It refuses with an *Error what cannot be meant, and
// a bobbin whose full diameter is not known.
func (t Treadled) Filling(u unit.Twist, draw unit.Length) ([]Stage, error) {
	var out []Stage
	for _, at := range []Filled{0, 0.5, 1} {
		d, err := t.Bobbin.Diameter(at)
		if err != nil {
			return nil, err
		}
		s, err := t.Setting(u, draw, at)
		if err != nil {
			return nil, err
		}
		out = append(out, Stage{at, d, s})
	}
	return out, nil
}

// Choice is a whorl with the whole number of treadles that suits it best.
type Choice struct {
	Whorl    Whorl
	Setting  Setting
	Treadles Treadles // whole, for each draw
	// Off is the twist that they put in over the twist wanted, less 1.
	Off estimate.Estimate[Share]
	// Gripped is the same had nothing slipped.
	Gripped estimate.Estimate[Share]
}

// Choose returns the whorls owned, nearest first, each with the whole number of
// treadles that comes nearest to a twist in a draw. wanted fixes that number; 0
// leaves it free. Whorls are compared by what is known (see Choice.Known): of two
// that are off by less than a hundredth the one with fewer treadles comes first,
// and more treadles than are counted with ease, where the number is free, stand
// behind as if they were off by a tenth more. It refuses with an *Error what cannot
// be meant.
func (t Treadled) Choose(whorls []Whorl, u unit.Twist, draw unit.Length, at Filled, wanted Treadles) ([]Choice, error) {
	if len(whorls) == 0 || len(whorls) > 50 {
		return nil, refuse("Name the ratios that the wheel has, such as 6, 8 and 11.", "There are %d whorls to choose from.", len(whorls))
	}
	if wanted != 0 && !(within(wanted, 1, 1e6) && wanted == Treadles(math.Trunc(float64(wanted)))) {
		return nil, refuse("Give a whole number for each draw, or leave it out.", "%.4g treadles are not counted by feet.", float64(wanted))
	}
	out := make([]Choice, len(whorls))
	for i, w := range whorls {
		t.Whorl = w
		c, err := t.choice(u, draw, at, wanted)
		if err != nil {
			return nil, err
		}
		out[i] = c
	}
	slices.SortStableFunc(out, func(a, b Choice) int {
		return cmp.Or(cmp.Compare(a.behind(wanted), b.behind(wanted)), cmp.Compare(a.Treadles, b.Treadles))
	})
	return out, nil
}

// EasyTreadles is the most treadles of a draw that are counted with ease; who needs
// more takes a faster whorl (common practice).
const EasyTreadles Treadles = 20

// behind is how far down a choice stands, in hundredths of the twist.
func (c Choice) behind(wanted Treadles) float64 {
	off := math.Floor(100 * math.Abs(float64(c.Known().Value)))
	if wanted == 0 && c.Treadles > EasyTreadles {
		off += 10
	}
	return off
}

// Known is how far the treadles are off with the slip that is known, else had
// nothing slipped.
func (c Choice) Known() estimate.Estimate[Share] {
	if c.Off.Flags.Has(SlipUnknown) {
		return c.Gripped
	}
	return c.Off
}

func (t Treadled) choice(u unit.Twist, draw unit.Length, at Filled, wanted Treadles) (Choice, error) {
	s, err := t.Setting(u, draw, at)
	if err != nil {
		return Choice{}, err
	}
	whole := cmp.Or(wanted, Treadles(max(math.Round(float64(s.Known().Value)), 1)))
	m, err := t.columns(at)
	if err != nil {
		return Choice{}, err
	}
	return Choice{t.Whorl, s, whole, m.off(whole, u, draw), m.gripped().off(whole, u, draw)}, nil
}

func (m machine) off(t Treadles, u unit.Twist, draw unit.Length) estimate.Estimate[Share] {
	turns := m.turns(t, draw)
	e := estimate.FromDraws(apply(func(i int) Share { return Share(float64(turns[i])/(u.PerMetre()*draw.Metres()) - 1) }))
	e.N, e.Flags = m.n, m.flags
	return e
}
