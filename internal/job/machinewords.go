package job

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

// Three prints a number to three figures, and none before the point rounded away.
func Three(v float64) string {
	decimals := 2
	switch abs := math.Abs(v); {
	case abs >= 99.95:
		decimals = 0
	case abs >= 9.995:
		decimals = 1
	case abs < 0.9995:
		decimals = 3
	}
	return strconv.FormatFloat(v, 'f', decimals, 64)
}

// TwistWords prints a twist to three figures in both systems, inches first as
// wheels are talked about.
func TwistWords(u unit.Twist) string {
	return fmt.Sprintf("%s tpi (%s turns/m)", Three(u.PerInch()), Three(u.PerMetre()))
}

// SpreadWords prints a value and what it counts, with the interval of what is not
// exact.
func SpreadWords[T ~float64](e estimate.Estimate[T], of string) string {
	value := Three(float64(e.Value)) + " " + of
	if e.Low == e.High {
		return value
	}
	return fmt.Sprintf("%s (nine times in ten %s to %s)", value, Three(float64(e.Low)), Three(float64(e.High)))
}

// LossWords says what a grip loses; a grip over 1 is the counting's doing.
func LossWords(g estimate.Estimate[wheel.Grip]) string {
	lost := func(v wheel.Grip) float64 { return 100 * (1 - min(float64(v), 1)) }
	return fmt.Sprintf("%.1f %% lost, %.1f to %.1f %% nine times in ten", lost(g.Value), lost(g.High), lost(g.Low))
}

// SlipWords says what slip is to be expected of a machine.
func SlipWords(s wheel.Slip) string {
	if s == (wheel.Slip{}) {
		return "slip not watched yet"
	}
	return fmt.Sprintf("slip takes %.0f to %.0f %% of the turns, learnt at work", 100*(1-float64(s.High)), 100*(1-float64(s.Low)))
}

// CountWords says a count of a machine of a kind.
func CountWords(c journal.Count, k wheel.Kind) string {
	return fmt.Sprintf("%.4g turns over %.4g %s", float64(c.Turns), float64(c.Treadles), Strokes(k))
}

// SeenWords says turns that were counted over a time.
func SeenWords(s journal.Seen) string {
	if s.How == journal.OnFilm {
		return fmt.Sprintf("%.4g turns over %d frames at %.4g a second, on film", float64(s.Turns), s.Frames, s.FramesPerSecond)
	}
	return fmt.Sprintf("%.4g turns in %.4g seconds, %s", float64(s.Turns), float64(s.Time), s.How)
}

// SpoolLines say the size and weight of an empty bobbin.
func SpoolLines(s journal.Spool) (out []string) {
	if s.Core != nil {
		words := "core " + s.Core.String()
		if s.Full != nil {
			words += ", full " + s.Full.String()
		}
		out = append(out, words)
	}
	if s.Tare != nil {
		out = append(out, "empty "+s.Tare.String())
	}
	if s.Holds != nil {
		out = append(out, "holds "+s.Holds.String()+" of yarn")
	}
	return out
}

// MachineLines say what is known of a machine that is in use, a line for each
// whorl or setting, one for slip and one for its bobbins.
func MachineLines(m journal.Machine) (out []string) {
	for _, w := range m.Whorls {
		if w.Struck != "" {
			continue
		}
		words := "“" + w.Name + "”: "
		if e, err := RatioOf(w); err != nil {
			words += err.Error()
		} else {
			words += SpreadWords(e, "turns a "+Stroke(m.Kind)) + statedWords(e.Flags, wheel.NotCounted)
		}
		out = append(out, words)
	}
	for _, s := range m.Settings {
		if s.Struck == "" {
			out = append(out, "“"+s.Name+"”: "+settingWords(m, s.ID))
		}
	}
	if m.CheckSlip() == nil {
		out = append(out, SlipWords(SlipOf(m)))
	}
	var spools []string
	for _, s := range m.Spools {
		if s.Struck == "" {
			spools = append(spools, "“"+s.Name+"” ("+strings.Join(SpoolLines(s), ", ")+")")
		}
	}
	if len(spools) > 0 {
		out = append(out, "bobbins: "+strings.Join(spools, "; "))
	}
	return out
}

func settingWords(m journal.Machine, id journal.ID) string {
	motor, err := MotorOf(m, id)
	if err != nil {
		return err.Error()
	}
	e, err := motor.Speed()
	if err != nil {
		return err.Error()
	}
	return SpreadWords(e, "turns a minute") + statedWords(e.Flags, wheel.NotMeasured)
}

func statedWords(fs estimate.Flags, stated estimate.Flag) string {
	if fs.Has(stated) {
		return ", as stated"
	}
	return ""
}

// OffWords says how far a whole number of treadles is off the twist wanted.
func OffWords(s wheel.Share) string {
	percent := 100 * float64(s)
	switch {
	case percent >= 0.05:
		return fmt.Sprintf("%.1f %% more twist than wanted", percent)
	case percent <= -0.05:
		return fmt.Sprintf("%.1f %% less twist than wanted", -percent)
	}
	return "the twist wanted"
}
