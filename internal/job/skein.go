package job

import (
	"fmt"
	"math"
	"strings"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

// Change is one property of a skein before and after the wash.
type Change struct {
	Name          string
	Before, After string
	Factor        float64 // after / before; 0 when either is missing
	Expected      *finish.Range
}

// Words says how the change compares with what was expected.
func (c Change) Words() string {
	if c.Factor == 0 {
		return ""
	}
	words := signed("%+.1f", 100*(c.Factor-1)) + " %"
	if math.Abs(c.Factor-1) < 0.0005 {
		words = "the same"
	}
	if c.Expected == nil {
		return words
	}
	expected := fmt.Sprintf("%s to %s %% expected", signed("%+.0f", 100*(c.Expected.Low-1)), signed("%+.0f", 100*(c.Expected.High-1)))
	switch {
	case c.Factor < c.Expected.Low:
		return words + ", below the " + expected
	case c.Factor > c.Expected.High:
		return words + ", above the " + expected
	}
	return words + ", as expected (" + strings.TrimSuffix(expected, " expected") + ")"
}

// signed prints a number with its sign, a minus as wide as a plus.
func signed(format string, v float64) string {
	return strings.Replace(fmt.Sprintf(format, v), "-", "−", 1)
}

// Changes compares a skein before and after the wash. Weights are compared as
// weighed, and where the humidity is known of both also at the regain of the
// trade, for moisture moves wool by several per cent with the weather.
func Changes(s journal.Skein, p finish.Preparation) []Change {
	before, after := s.Measured(estimate.Rested), s.Measured(estimate.Washed)
	if before == nil {
		before = &journal.Measure{}
	}
	if after == nil {
		after = &journal.Measure{}
	}
	wash := finish.WashOf(p)
	length := change("Length", lengthOf(*before), lengthOf(*after), unit.Length.String)
	length.Expected = &wash.Length
	grist := change("Grist", gristOf(*before), gristOf(*after), unit.LinearDensity.String)
	width := change("Wraps", before.Wraps, after.Wraps, unit.Wraps.String)
	if width.Factor != 0 {
		width.Expected = &finish.Range{Low: 1 / wash.Diameter.High, High: 1 / wash.Diameter.Low}
	}
	changes := []Change{length, change("Weight as weighed", before.Mass, after.Mass, unit.Mass.String)}
	if m, n := conditioned(*before), conditioned(*after); m != nil && n != nil {
		changes = append(changes, change("Weight at 16 % regain, modelled", m, n, unit.Mass.String))
	}
	return append(changes, grist, width)
}

// conditioned is the mass at the regain of the trade, nil where the humidity at
// weighing is not known.
func conditioned(m journal.Measure) *unit.Mass {
	if m.Mass == nil || m.Humidity == nil {
		return nil
	}
	mass := finish.Conditioned(*m.Mass, finish.WoolRegain(*m.Humidity).Value, finish.StandardRegain)
	return &mass
}

func change[T ~float64](name string, before, after *T, text func(T) string) Change {
	c := Change{Name: name}
	if before != nil {
		c.Before = text(*before)
	}
	if after != nil {
		c.After = text(*after)
	}
	if before != nil && after != nil && *before > 0 {
		c.Factor = float64(*after / *before)
	}
	return c
}

func lengthOf(m journal.Measure) *unit.Length {
	l, ok := m.Length()
	if !ok {
		return nil
	}
	return &l
}

func gristOf(m journal.Measure) *unit.LinearDensity {
	l := lengthOf(m)
	if l == nil || m.Mass == nil {
		return nil
	}
	t := unit.LinearDensityOf(*m.Mass, *l)
	return &t
}

// Verdict is the judgement on a finished skein, with the remedy.
type Verdict struct {
	Balance finish.Balance
	Known   bool // a washed skein was hung
	Words   string
	Remedy  string
}

// VerdictOf judges a washed skein by its hang test. ply is the direction of the
// ply; for singles that stay singles it is none.
func VerdictOf(s journal.Skein, ply yarn.Direction, d Drive) Verdict {
	hang := s.Hung(estimate.Washed)
	if hang == nil {
		if s.Hung(estimate.Rested) != nil {
			return Verdict{Words: "It was hung unwashed, which misleads both ways: dormant twist hides in it. Wash it, dry it hanging free, and hang it again."}
		}
		return Verdict{Words: "Wash it, dry it hanging free, then hang it as an open loop and record how it turns."}
	}
	if s.Run == 0 {
		return singlesVerdict(*hang)
	}
	if hang.HalfTurns < 1 {
		return Verdict{Balance: finish.Balanced, Known: true, Words: "Balanced: it hangs open, give or take half a turn."}
	}
	v := Verdict{Balance: finish.Hang(ply, hang.Direction), Known: true}
	if ply == yarn.NoDirection {
		return Verdict{Words: "Say which way it was plied; then the way it hangs says whether it has too many turns or too few."}
	}
	v.Words = fmt.Sprintf("It is %s: it hangs turned %s, %s, by %.3g half turns.", v.Balance, hang.Direction, theWay(v.Balance), hang.HalfTurns)
	v.Remedy = remedy(v.Balance, ply, *hang, d)
	return v
}

func theWay(b finish.Balance) string {
	if b == finish.OverPlied {
		return "the way of the singles"
	}
	return "the way of the ply"
}

// remedy says how to run the yarn through again. The hanging loop shows at least
// the turns that are wrong over its length: the real figure is at least that.
func remedy(b finish.Balance, ply yarn.Direction, h journal.Hang, d Drive) string {
	way, uses := ply, "It can also stay as it is for a soft, drapy knit that is not worn hard."
	if b == finish.OverPlied {
		way, uses = ply.Opposite(), "It can also stay as it is for socks or a hard-wearing weave."
	}
	words := fmt.Sprintf("Run it through the wheel again turning %s", way)
	if h.Length != nil {
		turns := unit.Twist(h.HalfTurns / 2 / h.Length.Metres())
		words += fmt.Sprintf(", at least %s", turns)
		if setting := Setting(d, turns); setting != "" {
			words += " (" + setting + ")"
		}
	}
	return words + ", wash it once more and hang it again. " + uses
}

// singlesVerdict judges singles that are to stay singles.
func singlesVerdict(h journal.Hang) Verdict {
	if h.HalfTurns < 1 {
		return Verdict{Known: true, Words: "These singles hang calm: set as they are, until they are wetted without a weight."}
	}
	per := ""
	if h.Length != nil {
		per = fmt.Sprintf(", %.2g a metre of loop", h.HalfTurns/h.Length.Metres())
	}
	return Verdict{
		Known:  true,
		Words:  fmt.Sprintf("These singles are energised: the loop turns %s by %.3g half turns%s.", h.Direction, math.Abs(h.HalfTurns), per),
		Remedy: "Keep the energy for collapse cloth and do not set it before weaving; or set them by steam while stretched, or by drying under a weight, and know that the next wetting wakes them; or size them for a warp.",
	}
}
