package cloth

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"waketwist/unit"
)

// grids draws what may be a weave.
func grids(t *rapid.T) [][]bool {
	ends := rapid.IntRange(2, 9).Draw(t, "ends")
	return rapid.SliceOfN(rapid.SliceOfN(rapid.Bool(), ends, ends), 2, 9).Draw(t, "drawdown")
}

// woven draws grids that hold together as a cloth.
var woven = rapid.Custom(grids).Filter(func(up [][]bool) bool {
	_, err := Drawdown(up)
	return err == nil
})

func weaves(t *rapid.T) Weave {
	w, err := Drawdown(woven.Draw(t, "weave"))
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// What a weave is worth does not hang on where its repeat begins, on how many of
// them are drawn, or on which face is seen.
func TestWeaveLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		up := woven.Draw(t, "weave")
		w, err := Drawdown(up)
		if err != nil {
			t.Fatal(err)
		}
		by := rapid.IntRange(0, len(up)-1).Draw(t, "by")
		turned := slices.Concat(up[by:], up[:by])
		var twice, back [][]bool
		for _, row := range slices.Concat(up, up) {
			twice = append(twice, slices.Concat(row, row))
		}
		for _, row := range up {
			other := slices.Clone(row)
			for i := range other {
				other[i] = !other[i]
			}
			back = append(back, other)
		}
		for name, grid := range map[string][][]bool{"turned": turned, "twice": twice, "back": back} {
			v, err := Drawdown(grid)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if math.Abs(float64(v.EndsShare()-w.EndsShare())) > 1e-12 || math.Abs(float64(v.PicksShare()-w.PicksShare())) > 1e-12 || v.Shafts() != w.Shafts() || v.Ends() != w.Ends() {
				t.Fatalf("%s:\n%sof\n%s", name, v, w)
			}
		}
		if s := w.EndsShare(); s < 0.5-1e-12 || s >= 1 {
			t.Fatalf("ends take %v of a row", s)
		}
		again, err := ParseWeave(w.String())
		if err != nil || again.String() != w.String() {
			t.Fatalf("%v: read back as\n%s", err, again)
		}
	})
}

// Thinner yarn and longer floats are set closer, in every formula.
func TestSettLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := weaves(t)
		thin := unit.LinearDensity(rapid.Float64Range(10, 3000).Draw(t, "tex"))
		thick := thin * unit.LinearDensity(rapid.Float64Range(1.01, 5).Draw(t, "thicker"))
		a, err := SettByWeight(thin, Firm, w)
		if err != nil {
			t.Fatal(err)
		}
		b, err := SettByWeight(thick, Firm, w)
		if err != nil {
			t.Fatal(err)
		}
		if !(a.Closest.Value > b.Closest.Value && a.Closest.Low < a.Closest.Value && a.Closest.Value < a.Closest.High) {
			t.Fatalf("%v and %v", a.Closest, b.Closest)
		}
		plain, _ := Named("plain")
		p, err := SettByWeight(thin, Firm, plain)
		if err != nil || p.Closest.Value > a.Closest.Value*(1+1e-12) {
			t.Fatalf("plain weave is set closer than\n%s", w)
		}
		if k := CoverOf(a.Closest.Value, thin); math.Abs(float64(k.SI()-SICoverOf(a.Closest.Value, thin))) > 1e-9 {
			t.Fatalf("cover factors differ")
		}
		d := a.Diameters.Value
		if c := Covered(a.Closest.Value, d, a.Closest.Value, d); !(c > 0 && c <= 1) {
			t.Fatalf("covered %v", c)
		}
	})
}

// What is divided out comes back, and more loss never takes less yarn.
func TestLossLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Loss(rapid.Float64Range(float64(LeastLoss), float64(MostLoss)).Draw(t, "loss"))
		v := unit.Length(rapid.Float64Range(1e-3, 1e3).Draw(t, "length"))
		if got := After(l, Before(l, v)); math.Abs(float64(got/v-1)) > 1e-12 {
			t.Fatalf("%v came back as %v", v, got)
		}
		if got := LossOf(v, After(l, v)); math.Abs(float64(got-l)) > 1e-9 {
			t.Fatalf("loss %v came back as %v", l, got)
		}
		p := shawl
		p.WashWidth, p.WashLength = 0, 0
		less, err := p.Needs()
		if err != nil {
			t.Fatal(err)
		}
		p.WashWidth, p.WashLength = max(0, l), max(0, l)
		more, err := p.Needs()
		if err != nil || more.Yarn < less.Yarn {
			t.Fatalf("%v: %v yd for a loss, %v yd without", err, more.Yarn.Yards(), less.Yarn.Yards())
		}
	})
}

// An order in the reed holds the ends that it says, and Dents counts them.
func TestSleyLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Pairs of which the sett is not too far from the reed.
		pair := rapid.Custom(func(t *rapid.T) [2]float64 {
			return [2]float64{rapid.Float64Range(4, 30).Draw(t, "reed"), rapid.Float64Range(2, 60).Draw(t, "sett")}
		}).Filter(func(p [2]float64) bool {
			_, err := SleyFor(PerInch[OnLoom](p[1]), DentsPerInch(p[0]))
			return err == nil
		}).Draw(t, "reed and sett")
		reed, wanted := DentsPerInch(pair[0]), PerInch[OnLoom](pair[1])
		s, err := SleyFor(wanted, reed)
		if err != nil {
			t.Fatal(err)
		}
		ends, least, most := 0, s.Order[0], s.Order[0]
		for _, n := range s.Order {
			ends, least, most = ends+n, min(least, n), max(most, n)
		}
		if got := float64(reed) * float64(ends) / float64(len(s.Order)); math.Abs(got/float64(s.Sett)-1) > 1e-12 {
			t.Fatalf("%v gives %v, not %v", s.Order, got, s.Sett)
		}
		if most-least > 1 || math.Abs(float64(s.Off)) > 0.51 {
			t.Fatalf("%v is %v off", s.Order, s.Off)
		}
		if got := s.Dents(10 * ends); got < 9*len(s.Order) || got > 10*len(s.Order) {
			t.Fatalf("%d ends by %v take %d dents", 10*ends, s.Order, got)
		}
	})
}
