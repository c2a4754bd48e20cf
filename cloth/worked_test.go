package cloth

import (
	"math"
	"testing"

	"waketwist/unit"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.6g, want %v within %v", what, got, want, within)
	}
}

// 8/2 cotton by Ashenhurst; the printed 34 for the twill is rounded from D = 52.
// 22 wraps by the trade's rule of a half and two thirds.
func TestSettsWorkedByHand(t *testing.T) {
	for _, tt := range []struct {
		weave                     string
		closest, working, byWraps float64
	}{
		{"plain", 26.1, 19.6, 11},
		{"2/2-twill", 34.8, 26.1, 14.7},
	} {
		s, err := SettByWeight(unit.FromYardsPerPound(3360), Firm, named(t, tt.weave))
		if err != nil {
			t.Fatal(err)
		}
		near(t, tt.weave+" diameters", s.Diameters.Value.PerInch(), 52.2, 0.05)
		near(t, tt.weave+" closest", s.Closest.Value.PerInch(), tt.closest, 0.05)
		near(t, tt.weave+" working", s.Working.Value.PerInch(), tt.working, 0.05)
		s, err = SettByWraps(22*unit.WrapPerInch, PriorWrapFactor(), named(t, tt.weave))
		if err != nil {
			t.Fatal(err)
		}
		near(t, tt.weave+" by wraps", s.Working.Value.PerInch(), tt.byWraps, 0.05)
		near(t, tt.weave+" by wraps, least", float64(s.Diameters.Low)/float64(22*unit.WrapPerInch), 1.0, 0.01)
		near(t, tt.weave+" by wraps, most", float64(s.Diameters.High)/float64(22*unit.WrapPerInch), 2.45, 0.01)
	}
}

// Handspun wraps imply the packings 0.10 and 0.14, whose factors the prior spans.
func TestWrapFactorSpansHandspun(t *testing.T) {
	prior := PriorWrapFactor()
	for _, yarn := range []struct{ grist, wraps float64 }{{1900, 16}, {1700, 18}} {
		f := WrapFactorOf(unit.FromYardsPerPound(yarn.grist), unit.Wraps(yarn.wraps)*unit.WrapPerInch, Soft)
		if !(f.Value > prior.Value && f.Value < prior.High) {
			t.Errorf("%v yd/lb at %v wpi: factor %v outside %v to %v", yarn.grist, yarn.wraps, f.Value, prior.Value, prior.High)
		}
	}
}

// shawl is 20 x 72 in finished, plain weave, at 12 ends and 12 picks an inch,
// the picks counted off the loom.
var shawl = Piece{
	Width: 20 * unit.Inch, Length: 72 * unit.Inch, DrawIn: 0.06, TakeUp: 0.10, WashWidth: 0.12, WashLength: 0.12,
	Waste: 24 * unit.Inch, Ends: PerInch[OnLoom](12), Picks: PerInch[OffLoom](12), WeftCrimp: 0.05, Spare: 0.10,
}

func TestShawlWorkedByHand(t *testing.T) {
	n, err := shawl.Needs()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "width off the loom", n.WidthOffLoom.Inches(), 22.73, 0.005)
	near(t, "width in the reed", n.ReedWidth.Inches(), 24.18, 0.005)
	near(t, "ends", float64(n.Ends), 290, 0)
	near(t, "woven, off the loom", n.WovenOffLoom.Inches(), 81.82, 0.005)
	near(t, "woven, on the loom", n.WovenOnLoom.Inches(), 90.91, 0.005)
	near(t, "each end", n.WarpLength.Inches(), 114.91, 0.005)
	near(t, "each end in yards", n.WarpLength.Yards(), 3.19, 0.005)
	near(t, "warp", n.Warp.Yards(), 925.7, 0.05)
	near(t, "picks", float64(n.Picks), 982, 0)
	near(t, "weft", n.Weft.Yards(), 692.4, 0.05)
	near(t, "yarn", n.Yarn.Yards(), 1618, 0.5)
	near(t, "with spare", n.YarnWithSpare.Yards(), 1780, 0.5)
	mass := unit.FromYardsPerPound(1600).MassOf(n.YarnWithSpare)
	near(t, "mass", mass.Grams(), 505, 0.5)
	near(t, "fibre", Before(0.10, mass).Grams(), 561, 0.5)
	plied, singles, err := AtWheel(n.YarnWithSpare, 0.10, 2, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "to ply", plied.Yards(), 1978, 0.5)
	near(t, "singles", singles.Yards(), 4163, 0.5)
}

// Picks of 12 to the inch counted on the loom are more when the cloth relaxes.
func TestShawlPicksCountedOnTheLoom(t *testing.T) {
	p := shawl
	p.Picks = CutOff(PerInch[OnLoom](12), p.TakeUp)
	n, err := p.Needs()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "picks", float64(n.Picks), 1091, 0)
	near(t, "back on the loom", OnTheLoom(p.Picks, p.TakeUp).PerInch(), 12, 1e-12)
}

func TestLossesWorkedByHand(t *testing.T) {
	const in = unit.Inch
	near(t, "10 in at 20 %", Before(0.2, 10*in).Inches(), 12.5, 1e-12)
	near(t, "adding falls short", After(0.2, 12*in).Inches(), 9.6, 1e-12)
	near(t, "10 to 8.5", Before(LossOf(10*in, 8.5*in), 1.0), 1.176, 0.0005)
	near(t, "15 in finished", Before(LossOf(10*in, 8.5*in), 15*in).Inches(), 17.65, 0.005)
	drawIn, wash, err := Measured{54 * in, 48 * in, 40 * in}.Losses(in / 8)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "blanket's draw-in", 100*float64(drawIn.Value), 11.1, 0.05)
	near(t, "blanket's wash", 100*float64(wash.Value), 16.7, 0.05)
	near(t, "blanket's width", 100*float64(drawIn.Value.Then(wash.Value)), 25.9, 0.05)
	near(t, "blanket's length", 100*float64(LossOf(72*in, 52*in)), 27.8, 0.05)
}

// A published page rounds 128 in down to 3.5 yd and prints 1,365 yd for 390
// ends. The page is wrong: 128 in are 3.56 yd, and the warp is 1,387 yd.
func TestWarpWhoseSourceIsWrong(t *testing.T) {
	n, err := Piece{
		Width: 39 * unit.Inch, Length: 128 * unit.Inch,
		Ends: PerInch[OnLoom](10), Picks: PerInch[OffLoom](10),
	}.Needs()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ends", float64(n.Ends), 390, 0)
	near(t, "each end", n.WarpLength.Yards(), 3.56, 0.005)
	near(t, "warp", n.Warp.Yards(), 1387, 0.5)
}

func TestWarpLoadWorkedByHand(t *testing.T) {
	l, err := LoadOn(100, 10*unit.Pound, 300*unit.Gram)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "an end", l.PerEnd.Grams(), 45.4, 0.05)
	near(t, "steady", float64(l.Steady.Value), 6.6, 0.05)
	near(t, "at the peak", float64(l.AtPeak.Value), 2.2, 0.05)
	if !l.AtPeak.Flags.Has(FromMemory) {
		t.Error("the peak factor is from memory")
	}
}

func TestOrderSpreads(t *testing.T) {
	o := order()
	a, err := o.Answer()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "yarn with spare", a.Spared.Value.Yards(), 1780, 15)
	if !(a.Spared.Low < a.Spared.Value && a.Spared.Value < a.Spared.High) || a.Spared.Measured() || !a.Spared.Flags.Has(Assumed) {
		t.Errorf("%+v", a.Spared)
	}
	o.DrawIn, o.TakeUp, o.WashWidth, o.WashLength = Exactly[Loss](0.06), Exactly[Loss](0.10), Exactly[Loss](0.12), Exactly[Loss](0.12)
	b, err := o.Answer()
	if err != nil {
		t.Fatal(err)
	}
	if b.Spared.High-b.Spared.Low > 1e-6 {
		t.Errorf("nothing is uncertain, and yet %+v", b.Spared)
	}
	near(t, "exactly", b.Spared.Value.Yards(), 1779.83, 0.005)
}

func order() Order {
	return Order{
		Width: shawl.Width, Length: shawl.Length, DrawIn: GuessedLoss(0.06), TakeUp: GuessedLoss(0.10),
		WashWidth: GuessedLoss(0.12), WashLength: GuessedLoss(0.12), Waste: Exactly(24 * unit.Inch),
		Ends: shawl.Ends, Picks: Exactly(shawl.Picks), WeftCrimp: WeftCrimp, Spare: Spare,
	}
}

func BenchmarkOrder(b *testing.B) {
	for b.Loop() {
		if _, err := order().Answer(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSett(b *testing.B) {
	w, err := Named("2/2-twill")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := SettByWeight(200, Soft, w); err != nil {
			b.Fatal(err)
		}
	}
}
