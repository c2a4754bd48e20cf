// Package wheel turns a wanted twist into treadles, seconds and speeds, and what
// was treadled back into twist.
//
// Twist comes from the turns of the flyer, whatever is driven. Where the whorl
// drives the flyer, those are its turns; where it drives the bobbin, each wrap
// that winds on takes one away. Nothing here is known better than it was counted:
// every answer is an estimate, and says so when a ratio, a speed or the slip of
// the band was taken and not measured.
//
// Twist is per length of what passes the orifice: of singles when spinning, of
// ply when plying.
package wheel

import (
	"fmt"

	"waketwist/estimate"
	"waketwist/unit"
)

// Error says why a question about a wheel has no answer, and what to do.
type Error struct {
	Problem, Advice string
}

// Error returns the problem and the advice as two sentences.
func (e *Error) Error() string { return e.Problem + " " + e.Advice }

func refuse(advice, problem string, args ...any) error {
	return &Error{Problem: fmt.Sprintf(problem, args...), Advice: advice}
}

// Ratio is turns of what the whorl drives for one treadle: of the flyer, of the
// bobbin on a bobbin-led wheel, of the spindle for one flick.
type Ratio float64

// Turns is a number of turns.
type Turns float64

// Treadles is a number of treadles, or of flicks of a spindle. One treadle is one
// turn of the drive wheel.
type Treadles float64

// Rhythm is treadles a minute.
type Rhythm float64

// Speed is turns a minute.
type Speed float64

// Seconds is a time in seconds.
type Seconds float64

// Grip is the share of the counted turns that the band passes on at work: 1 where
// nothing slips.
type Grip float64

// Share is a part of a whole.
type Share float64

// Conditions of a number that only a wheel has.
const (
	NotCounted   estimate.Flag = "ratio not counted"
	NotMeasured  estimate.Flag = "speed not measured"
	SlipUnknown  estimate.Flag = "slip not measured"
	FastFlyer    estimate.Flag = "over 1,500 turns a minute"
	UnlikelyBeat estimate.Flag = "faster than feet treadle"
	RuleOfThumb  estimate.Flag = "rule of thumb"
)

// FastSpeed is where a maker's limit should be asked for: most wheels are run at
// or below it, and flyers have broken a little above 2,000 (common practice).
const FastSpeed Speed = 1500

// fastFeet is a rhythm that few keep up; 60 to 90 are usual (common practice).
const fastFeet Rhythm = 150

// rows is the number of draws behind an answer.
const rows = 2000

// apply works out a column row by row.
func apply[T ~float64](f func(i int) T) []T {
	out := make([]T, rows)
	for i := range out {
		out[i] = f(i)
	}
	return out
}

// even is a column of one value.
func even(v float64) []float64 { return apply(func(int) float64 { return v }) }

func within[T ~float64](v, low, high T) bool { return v >= low && v <= high }

// checkTwist refuses a twist that no yarn is spun to.
func checkTwist(u unit.Twist) error {
	if !within(u, 0.001*unit.TurnPerMetre, 20000*unit.TurnPerMetre) {
		return refuse("Give turns per inch or per metre, such as 6 tpi.", "A twist of %.4g turns a metre is none to set a wheel for.", u.PerMetre())
	}
	return nil
}

// checkLength refuses a length that does not pass a wheel.
func checkLength(l unit.Length) error {
	if !within(l, unit.Millimetre, 100*unit.Kilometre) {
		return refuse("Give the length that is let in at a time, such as 24 in or 60 cm.", "A length of %.4g m is outside 1 mm to 100 km.", l.Metres())
	}
	return nil
}

func checkTime(t Seconds) error {
	if !within(t, 0.1, 1e6) {
		return refuse("Give the seconds of one draw or of the whole count.", "A time of %.4g seconds is outside a tenth of a second to eleven days.", float64(t))
	}
	return nil
}
