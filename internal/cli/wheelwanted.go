package cli

import (
	"fmt"
	"strings"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/unit"
	"waketwist/wheel"
)

// wanted is a twist that each draw is to take.
type wanted struct {
	twist unit.Twist
	draw  unit.Length
	setup wheelSetup
}

func (w wanted) turns() float64 { return w.twist.PerMetre() * w.draw.Metres() }

func (w wanted) words() string {
	return fmt.Sprintf("%s over %s is %s turns a draw.", job.TwistWords(w.twist), w.draw, job.Three(w.turns()))
}

// speed is the flyer's speed at the beat asked for; nil without one.
func (w wanted) speed() (*estimate.Estimate[wheel.Speed], error) {
	if w.setup.beat == 0 {
		return nil, nil
	}
	e, err := wheel.SpeedFor(w.twist, w.draw, w.setup.beat)
	return &e, err
}

// treadled is how to treadle for a twist.
type treadled struct {
	wanted
	setting wheel.Setting
	stages  []wheel.Stage
	rhythm  *estimate.Estimate[wheel.Rhythm]  // for the beat
	time    *estimate.Estimate[wheel.Seconds] // at the rhythm
	speed   *estimate.Estimate[wheel.Speed]   // of the flyer at the beat, else of what is driven at the rhythm
}

func (w wanted) treadle() (wheelAnswer, error) {
	if !w.setup.whorled {
		return nil, misused("--twist needs the wheel's ratio, --counted or --ratio, or --whorls to choose from, or a motor's speed or --beat")
	}
	a := treadled{wanted: w}
	var err error
	if a.setting, err = w.setup.wheel.Setting(w.twist, w.draw, w.setup.filled); err != nil {
		return nil, err
	}
	if w.setup.kind == wheel.BobbinLed && w.setup.wheel.Bobbin.Full != 0 {
		if a.stages, err = w.setup.wheel.Filling(w.twist, w.draw); err != nil {
			return nil, err
		}
	}
	return a, a.pace()
}

// pace fills in what a beat or a rhythm asks for.
func (a *treadled) pace() (err error) {
	if a.setup.rhythm != 0 {
		time, err := a.setting.Time(a.setup.rhythm)
		if err != nil {
			return err
		}
		speed, err := a.setup.wheel.Speed(a.setup.rhythm)
		if err != nil {
			return err
		}
		a.time, a.speed = &time, &speed
	}
	if a.setup.beat == 0 {
		return nil
	}
	rhythm, err := a.setting.Rhythm(a.setup.beat)
	if err != nil {
		return err
	}
	a.rhythm = &rhythm
	a.speed, err = a.wanted.speed()
	return err
}

func (a treadled) flags() estimate.Flags {
	fs := a.setting.Treadles.Flags
	if a.rhythm != nil && a.rhythm.Flags.Has(wheel.UnlikelyBeat) {
		fs = fs.With(wheel.UnlikelyBeat)
	}
	if a.speed != nil && a.speed.Flags.Has(wheel.FastFlyer) {
		fs = fs.With(wheel.FastFlyer)
	}
	return fs
}

func (a treadled) said() []string {
	stroke := job.Strokes(a.setup.kind)
	first := a.words() + " " + treadleWords(a.setting, stroke)
	if a.rhythm != nil {
		first += fmt.Sprintf(" In %s that is %s.", secondsWords(a.setup.beat), job.SpreadWords(*a.rhythm, stroke+" a minute"))
	}
	if a.time != nil {
		first += fmt.Sprintf(" At %s %s a minute a draw takes %s.", job.Three(float64(a.setup.rhythm)), stroke, job.SpreadWords(*a.time, "seconds"))
	}
	if a.speed != nil {
		first += fmt.Sprintf(" %s makes %s.", drivenWords(a.setup.kind, a.setup.beat != 0), job.SpreadWords(*a.speed, turnsAMinute))
	}
	out := []string{first}
	if len(a.stages) > 0 {
		out = append(out, stageWords(a.stages))
	} else if a.setup.kind == wheel.BobbinLed {
		out = append(out, "As the bobbin fills each draw needs fewer; give --full to see how many.")
	}
	out = append(out, kindNotes(a.setup.kind)...)
	return append(append(out, wheelNotes(a.flags())...), careful)
}

// turnsAMinute is what a speed counts.
const turnsAMinute = "turns a minute"

// drivenWords names what turns at a speed: at a beat the flyer's is known, at a
// rhythm that of what is driven.
func drivenWords(k wheel.Kind, atBeat bool) string {
	switch {
	case k == wheel.Spindle:
		return "The spindle"
	case k == wheel.BobbinLed && !atBeat:
		return "The bobbin"
	}
	return "The flyer"
}

func treadleWords(s wheel.Setting, stroke string) string {
	if !s.Treadles.Flags.Has(wheel.SlipUnknown) {
		return fmt.Sprintf("Give each draw %s.", job.SpreadWords(s.Treadles, stroke))
	}
	return fmt.Sprintf("Give each draw %.1f %s if nothing slips. %s to need %s.",
		float64(s.Gripped.Value), stroke, slipWords(), job.SpreadWords(s.Treadles, stroke))
}

func stageWords(stages []wheel.Stage) string {
	words := "As the bobbin fills, each wrap being a turn lost and a thick bobbin winding fewer:"
	names := []string{"bare core", "half full", "full"}
	for i, s := range stages {
		words += fmt.Sprintf(" %s, %s, %.1f treadles;", names[i], s.Diameter, float64(s.Setting.Known().Value))
	}
	end := "."
	if stages[0].Setting.Treadles.Flags.Has(wheel.SlipUnknown) {
		end = ", if nothing slips."
	}
	return words[:len(words)-1] + end
}

// held is how to hold a draw at a motor's speed, or at what speed for a beat.
type held struct {
	wanted
	hold  *estimate.Estimate[wheel.Seconds]
	seen  *estimate.Estimate[wheel.Speed] // what the motor runs at
	speed *estimate.Estimate[wheel.Speed] // what the beat needs
}

func (w wanted) hold() (wheelAnswer, error) {
	a := held{wanted: w}
	if w.setup.motor == nil && w.setup.beat == 0 {
		return nil, misused("with a motor --twist needs --beat, to find the speed, or a speed, to find the time")
	}
	if m := w.setup.motor; m != nil {
		hold, err := m.Hold(w.twist, w.draw)
		if err != nil {
			return nil, err
		}
		seen, err := m.Speed()
		if err != nil {
			return nil, err
		}
		a.hold, a.seen = &hold, &seen
	}
	var err error
	a.speed, err = w.speed()
	return a, err
}

func (a held) flags() (fs estimate.Flags) {
	if a.seen != nil {
		fs = a.seen.Flags
	}
	if a.speed != nil && a.speed.Value > wheel.FastSpeed && !fs.Has(wheel.FastFlyer) {
		fs = fs.With(wheel.FastFlyer)
	}
	return fs
}

func (a held) said() []string {
	words := a.words()
	if a.hold != nil {
		words += fmt.Sprintf(" At %s hold each draw %s.", job.SpreadWords(*a.seen, turnsAMinute), job.SpreadWords(*a.hold, "seconds"))
	}
	if a.speed != nil {
		words += fmt.Sprintf(" In %s it takes a flyer at %s turns a minute.", secondsWords(a.setup.beat), job.Three(float64(a.speed.Value)))
	}
	return append(append([]string{words}, wheelNotes(a.flags())...), careful)
}

// chosen is the spinner's whorls, nearest first.
type chosen struct {
	wanted
	choices []wheel.Choice
	speed   *estimate.Estimate[wheel.Speed] // at the rhythm, on the first
}

func (w wanted) choose(whorls []wheel.Whorl) (wheelAnswer, error) {
	if w.setup.kind == wheel.MotorDriven {
		return nil, misused("--whorls are those of a treadled wheel; leave out --kind motor")
	}
	choices, err := w.setup.wheel.Choose(whorls, w.twist, w.draw, w.setup.filled, w.setup.treadles)
	if err != nil {
		return nil, err
	}
	a := chosen{wanted: w, choices: choices}
	if w.setup.rhythm == 0 {
		a.speed, err = w.speed()
		return a, err
	}
	first := w.setup.wheel
	first.Whorl = choices[0].Whorl
	speed, err := first.Speed(w.setup.rhythm)
	a.speed = &speed
	return a, err
}

func (a chosen) flags() estimate.Flags {
	fs := a.choices[0].Off.Flags
	if a.speed != nil && a.speed.Flags.Has(wheel.FastFlyer) {
		fs = fs.With(wheel.FastFlyer)
	}
	return fs
}

func (a chosen) said() []string {
	stroke := job.Strokes(a.setup.kind)
	as := "with the slip that is known"
	if a.flags().Has(wheel.SlipUnknown) {
		as = "as if nothing slipped"
	}
	out := []string{a.words() + " Your whorls, " + as + ", nearest first, of those as near to a hundredth the quickest, and more than 20 treadles last unless the rest is far off:"}
	for _, c := range a.choices {
		out = append(out, fmt.Sprintf("%s: %.0f %s a draw, %s (exactly %.1f).", c.Whorl.Name, float64(c.Treadles), stroke, job.OffWords(c.Known().Value), float64(c.Setting.Known().Value)))
	}
	if a.speed != nil {
		out = append(out, fmt.Sprintf("On %s: %s makes %s.", a.choices[0].Whorl.Name, strings.ToLower(drivenWords(a.setup.kind, a.setup.rhythm == 0)), job.SpreadWords(*a.speed, turnsAMinute)))
	}
	off := a.choices[0].Off
	out = append(out, fmt.Sprintf("With what is not known of ratio and slip, %s puts in between %+.0f %% and %+.0f %% of the twist wanted, nine times in ten.", a.choices[0].Whorl.Name, 100*float64(off.Low), 100*float64(off.High)))
	out = append(out, kindNotes(a.setup.kind)...)
	return append(append(out, wheelNotes(a.flags())...), careful)
}
