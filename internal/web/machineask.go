package web

import (
	"errors"
	"fmt"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

// setView is how to set a machine for a twist.
type setView struct {
	Words    string
	Measures []measure
	Choices  []choiceView
	Stages   []stageView
	Gripped  bool // choices and stages are as if nothing slipped
	Notes    []string
}

type choiceView struct{ Name, Treadles, Off string }

type stageView struct{ Filled, Diameter, Treadles string }

// wentView is what twist went into a length.
type wentView struct {
	Measures []measure
	Notes    []string
}

// answer fills in what the page was asked; it reports whether the question could
// be answered.
func (v *machineView) answer() bool {
	f := v.Form
	var err error
	switch v.part {
	case "set":
		err = v.set(f)
	case "went":
		err = v.went(f)
	}
	if err != nil {
		f.refuse("answer", err)
	}
	return !f.Bad()
}

// required parses a field that must not stay empty.
func required[T any](f *form, name, otherwise string, parse func(string) (T, error)) (v T) {
	if f.text(name) == "" {
		f.refuse(name, errors.New(otherwise))
		return v
	}
	if got := quantity(f, name, parse); got != nil {
		v = *got
	}
	return v
}

// spoolFrom is the bobbin chosen, else the only one in use.
func spoolFrom(f *form, m journal.Machine) journal.ID {
	if id := idFrom(f, "spool"); id != 0 {
		return id
	}
	var only journal.ID
	for _, s := range m.Spools {
		if s.Struck != "" {
			continue
		}
		if only != 0 {
			return 0
		}
		only = s.ID
	}
	return only
}

func filledFrom(f *form) (at wheel.Filled) {
	if v := quantity(f, "filled", share); v != nil {
		at = wheel.Filled(*v)
	}
	return at
}

func (v *machineView) set(f *form) error {
	wish := job.Wish{
		Twist: required(f, "twist", "Give the twist that is wanted, such as 6 tpi or 240 t/m.", unit.ParseTwist),
		Draw:  required(f, "draw", "Give the length let in at a time, such as 60 cm or 24 in.", unit.ParseLength),
		Whorl: idFrom(f, "whorl"), Setting: idFrom(f, "setting"), Spool: spoolFrom(f, v.Machine), Filled: filledFrom(f),
	}
	if n := quantity(f, "rhythm", unit.ParseNumber); n != nil {
		wish.Rhythm = wheel.Rhythm(*n)
	}
	if n := quantity(f, "beat", unit.ParseNumber); n != nil {
		wish.Beat = wheel.Seconds(*n)
	}
	if f.Bad() {
		return nil
	}
	a, err := job.SetMachine(v.Machine, wish)
	if err != nil {
		return err
	}
	v.Set = setOf(v.Machine, wish, a)
	return nil
}

func setOf(m journal.Machine, w job.Wish, a *job.Answer) *setView {
	view := &setView{Words: fmt.Sprintf("%s over %s is %s turns a draw, on “%s”.", job.TwistWords(w.Twist), w.Draw, job.Three(float64(a.Turns)), a.Name)}
	add := func(one measure) { view.Measures = append(view.Measures, one) }
	strokes := " " + job.Strokes(m.Kind)
	if a.Treadled != nil {
		add(treadleMeasure(*a.Treadled, strokes))
	}
	if a.Hold != nil {
		add(plainMeasure("Hold each draw", *a.Hold, " seconds"))
	}
	if a.Time != nil {
		add(plainMeasure("One draw takes", *a.Time, " seconds"))
	}
	if a.Rhythm != nil {
		add(plainMeasure("Rhythm for that beat", *a.Rhythm, strokes+" a minute"))
	}
	if a.Speed != nil {
		add(plainMeasure("The "+turning(m.Kind)+" makes", *a.Speed, " turns a minute"))
	}
	if a.Needed != nil {
		add(measure{Label: "The flyer must make, for that beat", Value: job.Three(float64(a.Needed.Value)) + " turns a minute", Plain: true})
	}
	for _, c := range a.Choices {
		view.Choices = append(view.Choices, choiceView{c.Whorl.Name, fmt.Sprintf("%.0f", float64(c.Treadles)), job.OffWords(c.Known().Value)})
	}
	for i, s := range a.Stages {
		view.Stages = append(view.Stages, stageView{
			[]string{"bare core", "half full", "full"}[i], s.Diameter.String(), job.Three(float64(s.Setting.Known().Value)),
		})
	}
	view.Gripped, view.Notes = a.Flags.Has(wheel.SlipUnknown), notesOf(a.Flags)
	return view
}

// turning names what a machine's speed is one of.
func turning(k wheel.Kind) string {
	if k == wheel.MotorDriven {
		return "flyer"
	}
	return job.DrivenPart(k)
}

// treadleMeasure shows treadles for a draw, and those that would do without slip.
func treadleMeasure(s wheel.Setting, strokes string) measure {
	m := plainMeasure("Give each draw", s.Treadles, strokes)
	if s.Treadles.Flags.Has(wheel.SlipUnknown) {
		m.Note = fmt.Sprintf("if nothing slips, %s%s", job.Three(float64(s.Gripped.Value)), strokes)
	}
	return m
}

// plainMeasure shows a number in a unit that only a machine has.
func plainMeasure[T ~float64](label string, e estimate.Estimate[T], unit string) measure {
	return measure{Label: label, Value: job.Three(float64(e.Value)) + unit, Range: rangeText(e, unit), Model: !e.Measured()}
}

func notesOf(fs estimate.Flags) (out []string) {
	for _, f := range fs {
		if f != estimate.Modelled {
			out = append(out, job.FlagSentence(f))
		}
	}
	return out
}

func (v *machineView) went(f *form) error {
	done := job.Done{
		Length: required(f, "length", "Give the length spun or plied, such as 90 cm or 36 in.", unit.ParseLength),
		Whorl:  idFrom(f, "whorl"), Setting: idFrom(f, "setting"), Spool: spoolFrom(f, v.Machine), Filled: filledFrom(f),
	}
	if v.Motor {
		done.Time = wheel.Seconds(required(f, "seconds", "Say for how many seconds the motor ran.", unit.ParseNumber))
	} else {
		done.Treadles = wheel.Treadles(required(f, "treadles", "Say how many "+v.Strokes+" went into it.", unit.ParseNumber))
	}
	if f.Bad() {
		return nil
	}
	put, err := job.WentIn(v.Machine, done)
	if err != nil {
		return err
	}
	v.Went = wentOf(put)
	return nil
}

func wentOf(p wheel.Put) *wentView {
	twist := measure{
		Label: "Twist that went in", Value: job.TwistWords(p.Twist.Value),
		Range: fmt.Sprintf("%s to %s", job.TwistWords(p.Twist.Low), job.TwistWords(p.Twist.High)), Model: !p.Twist.Measured(),
	}
	if p.Twist.Flags.Has(wheel.SlipUnknown) {
		twist.Note = "if nothing slipped, " + job.TwistWords(p.Gripped.Value)
	}
	view := &wentView{Measures: []measure{twist, plainMeasure("Turns of the flyer", p.Turns, " turns")}, Notes: notesOf(p.Twist.Flags)}
	if p.Wraps.Value > 0 {
		wraps := plainMeasure("Wraps wound on", p.Wraps, " wraps")
		wraps.Note = "each took a turn away"
		view.Measures = append(view.Measures, wraps)
	}
	return view
}
