package plan

import (
	"math"

	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/wheel"
)

// Setting is how the wheel is set for the middle twist of one yarn.
type Setting struct {
	Of    string // "singles" or "ply"
	Twist unit.Twist
	Draw  unit.Length
	Whorl string // its name, or its ratio; empty with a motor
	// Strokes are what the ratio counts: treadles, or flicks of a spindle.
	Strokes string
	// Treadles are for a draw, zero with a motor; on a bobbin-led wheel with the
	// bobbin empty, and full in Full.
	Treadles estimate.Estimate[wheel.Treadles]
	Full     *estimate.Estimate[wheel.Treadles]
	// Whole is the nearest whole number of treadles, and Off the twist that it puts
	// in at the middle of Treadles over the one wanted, less 1.
	Whole  wheel.Treadles
	Off    wheel.Share
	Chosen bool                              // the whorl is the nearest of several
	Hold   *estimate.Estimate[wheel.Seconds] // of a draw, with a motor
}

// settings sets the wheel for singles and ply.
func (r *Result) settings() (out []Setting, err error) {
	if r.Wish.Wheel == nil {
		return nil, nil
	}
	for _, of := range []struct {
		name string
		q    quantity
	}{{"singles", qSinglesTwist}, {"ply", qPlyTwist}} {
		twist := unit.Twist(r.estimates[of.q].Value)
		if twist <= 0 {
			continue
		}
		s, err := r.Wish.Wheel.set(twist)
		if err != nil {
			return nil, err
		}
		s.Of = of.name
		out = append(out, s)
	}
	return out, nil
}

func (w *Wheel) set(u unit.Twist) (s Setting, err error) {
	s = Setting{Twist: u, Draw: w.Draw}
	if w.Motor != nil {
		hold, err := w.Motor.Hold(u, w.Draw)
		s.Hold = &hold
		return s, err
	}
	t := *w.Treadled
	s.Strokes = "treadles"
	if t.Kind == wheel.Spindle {
		s.Strokes = "flicks"
	}
	if len(w.Whorls) > 0 {
		choices, err := t.Choose(w.Whorls, u, w.Draw, 0, 0)
		if err != nil {
			return s, err
		}
		t.Whorl, s.Chosen = choices[0].Whorl, true
	}
	return s, s.treadle(t, w)
}

func (s *Setting) treadle(t wheel.Treadled, w *Wheel) error {
	ratio, err := t.Whorl.Ratio()
	if err != nil {
		return err
	}
	s.Whorl = ratioWords(t.Whorl.Name, float64(ratio.Value))
	empty, err := t.Setting(s.Twist, w.Draw, 0)
	if err != nil {
		return err
	}
	s.Treadles = empty.Treadles
	s.Whole = max(1, wheel.Treadles(math.Round(float64(s.Treadles.Value))))
	s.Off = wheel.Share(s.Whole/s.Treadles.Value) - 1
	if t.Kind != wheel.BobbinLed || t.Bobbin.Full == 0 {
		return nil
	}
	full, err := t.Setting(s.Twist, w.Draw, 1)
	s.Full = &full.Treadles
	return err
}

func ratioWords(name string, ratio float64) string {
	said := sayNumber(ratio) + ":1"
	if name != "" {
		return name + " (" + said + ")"
	}
	return said
}
