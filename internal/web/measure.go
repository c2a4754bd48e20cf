package web

import (
	"errors"
	"fmt"
	"math"
	"time"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// measure is a number as every page shows it: value, unit, state, spread, and
// whether it was measured or modelled.
type measure struct {
	Label string
	Value string
	Range string // the 90 % interval in words
	State string // key of the state's mark; empty for none
	Words string // the state in words
	Model bool
	Plain bool // the number has no state and no model: a setting
	Bar   *bar
	Note  string
}

// bar is an interval on a scale, in percent of its length.
type bar struct {
	Low, Mid, High float64
	From, To       string // labels of the ends of the scale
	Model          bool
}

// steepest is the end of the scale on which all angles are drawn.
const steepest = 60 * unit.Degree

func barOf(low, mid, high, from, to float64) *bar {
	at := func(v float64) float64 { return 100 * min(1, max(0, (v-from)/(to-from))) }
	return &bar{Low: at(low), Mid: at(mid), High: at(high)}
}

// angleMeasure shows an estimate of an angle.
func angleMeasure(label string, e estimate.Estimate[unit.Angle], note string) measure {
	m := measure{
		Label: label, Note: note, Model: !e.Measured(),
		Value: angleText(e.Value, e.High-e.Low),
		Range: fmt.Sprintf("%s to %s", angleText(e.Low, e.High-e.Low), angleText(e.High, e.High-e.Low)),
		State: e.State.String(), Words: stateWords(e.State, e.Load),
	}
	m.Bar = barOf(float64(e.Low), float64(e.Value), float64(e.High), 0, float64(steepest))
	m.Bar.From, m.Bar.To, m.Bar.Model = "0°", "60°", m.Model
	return m
}

// angleText prints an angle as finely as its spread deserves.
func angleText(a, spread unit.Angle) string {
	if spread > 4*unit.Degree {
		return fmt.Sprintf("%.0f°", a.Degrees())
	}
	return fmt.Sprintf("%.1f°", a.Degrees())
}

// shareMeasure shows a share as a percentage.
func shareMeasure(label string, e estimate.Estimate[rest.Share], note string) measure {
	m := measure{
		Label: label, Note: note, Model: !e.Measured(),
		Value: percent(float64(e.Value)),
		Range: fmt.Sprintf("%s to %s", percent(float64(e.Low)), percent(float64(e.High))),
		State: e.State.String(), Words: stateWords(e.State, e.Load),
	}
	m.Bar = barOf(float64(e.Low), float64(e.Value), float64(e.High), 0, 1)
	m.Bar.From, m.Bar.To, m.Bar.Model = "none", "all", m.Model
	return m
}

// holderMeasure shows which part of the tension that fresh singles need against
// snarling still does once so much of their twist sleeps.
func holderMeasure(asleep estimate.Estimate[rest.Share]) (m measure, ok bool) {
	middle, errMiddle := yarn.SnarlTensionRatio(float64(asleep.Value))
	least, errLeast := yarn.SnarlTensionRatio(float64(asleep.High))
	most, errMost := yarn.SnarlTensionRatio(float64(asleep.Low))
	if errors.Join(errMiddle, errLeast, errMost) != nil {
		return measure{}, false
	}
	needed := asleep
	needed.Value, needed.Low, needed.High = rest.Share(middle), rest.Share(least), rest.Share(most)
	return shareMeasure("Tension on the bobbin holder", needed,
		"of what the same singles needed fresh from the wheel to run off without snarling; it falls with the square of the twist awake"), true
}

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// turnsMeasure shows turns per metre of ply, with turns per inch beside them.
func turnsMeasure(label string, e estimate.Estimate[yarn.PlyTwist], note string) measure {
	both := func(u yarn.PlyTwist) string { return unit.Twist(u).String() }
	return measure{
		Label: label, Note: note, Model: !e.Measured(), Value: both(e.Value),
		Range: fmt.Sprintf("%s to %s", both(e.Low), both(e.High)),
		State: e.State.String(), Words: stateWords(e.State, e.Load),
	}
}

func stateWords(s estimate.State, l estimate.Load) string {
	words := job.StateWords(s)
	if l == estimate.AtWheel {
		words += ", at the wheel"
	}
	return words
}

// day prints a date as a spinner writes it on a tag.
func day(t time.Time) string { return t.Local().Format("2 January 2006") }

// ago prints how long something has rested, in the largest whole unit that
// leaves at least two.
func ago(d time.Duration) string {
	hours := d.Hours()
	switch {
	case hours < 0:
		return "not yet"
	case hours < 2:
		return plural(math.Round(d.Minutes()), "minute")
	case hours < 48:
		return plural(math.Round(hours), "hour")
	case hours < 24*28:
		return plural(math.Round(hours/24), "day")
	}
	return plural(math.Round(hours/24/7), "week")
}

// countWords says how many readings there are; nothing for none.
func countWords(readings int) string {
	if readings == 0 {
		return ""
	}
	return plural(float64(readings), "reading")
}

func plural(n float64, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%.0f %ss", n, what)
}

// retwistShare shows what part of the living turns to add or to take out.
func retwistShare(e estimate.Estimate[rest.Share]) measure {
	m := shareMeasure("Twist to add to the singles", e, "of the turns that live in them now; run the bobbin through again before plying")
	if e.Value < 0 {
		m = shareMeasure("Twist to take out of the singles", turned(e), "of the turns that live in them now; run the bobbin through the other way")
	}
	m.Bar = nil
	return m
}

// retwistTurns shows the same in turns per length of singles.
func retwistTurns(e estimate.Estimate[yarn.StrandTwist]) measure {
	label := "That is, per length of singles"
	if e.Value < 0 {
		e = turned(e)
	}
	both := func(u yarn.StrandTwist) string { return unit.Twist(u).String() }
	return measure{
		Label: label, Model: true, Value: both(e.Value), Range: fmt.Sprintf("%s to %s", both(e.Low), both(e.High)),
		State: e.State.String(), Words: stateWords(e.State, e.Load),
	}
}

// turned is an estimate with its sign turned round.
func turned[T ~float64](e estimate.Estimate[T]) estimate.Estimate[T] {
	e.Value, e.Low, e.High = -e.Value, -e.High, -e.Low
	return e
}
