package job

import (
	"fmt"

	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

// Setting says how a drive puts turns per metre into what passes it: treadles for
// each draw, or seconds at the motor's speed. A run does not say what its wheel
// drives nor what slips: a bobbin-led wheel needs a treadle or so more. Empty when
// too little is known.
func Setting(d journal.Drive, turns unit.Twist) string {
	switch {
	case d.Draw == nil:
		return ""
	case d.Ratio != nil:
		return treadling(wheel.Ratio(*d.Ratio), turns, *d.Draw)
	case d.RPM != nil:
		return holding(wheel.Speed(*d.RPM), turns, *d.Draw)
	}
	return ""
}

func treadling(ratio wheel.Ratio, turns unit.Twist, draw unit.Length) string {
	w := wheel.Treadled{Kind: wheel.FlyerLed, Whorl: wheel.Whorl{Stated: ratio}}
	s, err := w.Setting(turns, draw, 0)
	if err != nil { // turns that nobody sets a wheel for
		return ""
	}
	return fmt.Sprintf("%.1f treadles for each draw of %s, at %.4g flyer turns a treadle, and up to %.1f where the band slips",
		float64(s.Gripped.Value), draw, float64(ratio), float64(s.Treadles.High))
}

func holding(speed wheel.Speed, turns unit.Twist, draw unit.Length) string {
	hold, err := wheel.Motor{Stated: speed}.Hold(turns, draw)
	if err != nil { // turns that nobody holds a draw for
		return ""
	}
	words := fmt.Sprintf("%.1f seconds for each draw of %s, at %.0f turns a minute", float64(hold.Value), draw, float64(speed))
	if speed > wheel.FastSpeed {
		words += "; ask for the maker's limit before running so fast"
	}
	return words
}
