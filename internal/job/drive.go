package job

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

// Drive is what puts the turns into a run: a treadled machine, a motor, or neither
// where too little is known.
type Drive struct {
	Name     string // of the machine and its parts, with what is known of slip; empty for typed figures
	Treadled *wheel.Treadled
	Motor    *wheel.Motor
	Draw     *unit.Length   // length let in at a time
	Beat     *time.Duration // time for one draw, with a motor
	Why      string         // why a chosen machine answers nothing
}

// DriveOf returns the drive of a run with what is known of its machine among those
// of the journal, or with its typed figures: a typed ratio is one of the flyer.
func DriveOf(d journal.Drive, machines []journal.Machine) Drive {
	out := Drive{Draw: d.Draw, Beat: d.Beat}
	switch {
	case d.Machine != 0:
		out.choose(d, machines)
	case d.Ratio != nil:
		out.Treadled = &wheel.Treadled{Kind: wheel.FlyerLed, Whorl: wheel.Whorl{Stated: wheel.Ratio(*d.Ratio)}}
	case d.RPM != nil:
		out.Motor = &wheel.Motor{Stated: wheel.Speed(*d.RPM)}
	}
	return out
}

func (d *Drive) choose(from journal.Drive, machines []journal.Machine) {
	i := slices.IndexFunc(machines, func(m journal.Machine) bool { return m.ID == from.Machine })
	if i < 0 {
		d.Why = journal.Missing("machine", from.Machine).Error()
		return
	}
	m := machines[i]
	d.Name = driveName(m, from)
	var err error
	switch {
	case from.Setting != 0:
		var motor wheel.Motor
		if motor, err = MotorOf(m, from.Setting); err == nil {
			d.Motor = &motor
		}
	case from.Whorl != 0:
		var treadled wheel.Treadled
		if treadled, err = MachineOf(m, from.Whorl, from.Spool); err == nil {
			d.Treadled = &treadled
			_, err = treadled.Setting(unit.TurnPerInch, unit.Metre, 0) // a machine that cannot be set says so once
		}
	case m.Kind == wheel.MotorDriven:
		d.Why = "Choose the setting at which " + m.Name + " runs."
	default:
		d.Why = "Choose the whorl on which the band of " + m.Name + " runs."
	}
	if err != nil {
		d.Why, d.Treadled, d.Motor = err.Error(), nil, nil
	}
}

func driveName(m journal.Machine, d journal.Drive) string {
	names := []string{m.Name}
	if w := m.Whorl(d.Whorl); w != nil {
		names = append(names, "whorl “"+w.Name+"”")
	}
	if s := m.Setting(d.Setting); s != nil {
		names = append(names, "“"+s.Name+"”")
	}
	if s := m.Spool(d.Spool); s != nil {
		names = append(names, "bobbin “"+s.Name+"”")
	}
	out := strings.Join(names, ", ")
	if m.CheckSlip() == nil {
		out += "; " + SlipWords(SlipOf(m))
	}
	return out
}

// turnsATreadle is the turns of what the whorl drives for a treadle: counted, less
// slip where it was seen. It is the turns that a further treadle puts into the same
// length, on a bobbin-led wheel too, where the wraps stay the same. Zero without
// treadles.
func (d Drive) turnsATreadle() float64 {
	if d.Treadled == nil {
		return 0
	}
	if d.Treadled.Slip != (wheel.Slip{}) {
		if v, err := d.Treadled.Speed(1); err == nil { // a treadle a minute
			return float64(v.Value)
		}
	}
	ratio, err := d.Treadled.Whorl.Ratio()
	if err != nil {
		return 0
	}
	return float64(ratio.Value)
}

// Setting says how a drive puts turns per metre into what passes it: treadles for
// each draw, or seconds at the motor's speed. Empty when too little is known.
func Setting(d Drive, turns unit.Twist) string {
	switch {
	case d.Draw == nil:
		return ""
	case d.Treadled != nil:
		return treadling(*d.Treadled, turns, *d.Draw)
	case d.Motor != nil:
		return holding(*d.Motor, turns, *d.Draw)
	}
	return ""
}

func treadling(w wheel.Treadled, turns unit.Twist, draw unit.Length) string {
	s, err := w.Setting(turns, draw, 0)
	if err != nil { // turns that nobody sets a wheel for
		return ""
	}
	ratio, err := w.Whorl.Ratio()
	if err != nil {
		return ""
	}
	strokes, per := Strokes(w.Kind), fmt.Sprintf(" for each draw of %s, at %s %s turns a %s", draw, Three(float64(ratio.Value)), DrivenPart(w.Kind), Stroke(w.Kind))
	slips := s.Treadles.Flags.Has(wheel.SlipUnknown)
	words := fillingWords(w, turns, draw)
	switch {
	case words != "":
		words += per
	case s.Gripped.Value < 0.8: // of which nobody can do a part
		return seldom(s, Stroke(w.Kind), draw)
	case slips:
		words = fmt.Sprintf("%.1f %s%s", float64(s.Gripped.Value), strokes, per)
	default:
		words = fmt.Sprintf("%.1f %s (%.1f to %.1f)%s", float64(s.Treadles.Value), strokes, float64(s.Treadles.Low), float64(s.Treadles.High), per)
	}
	if slips {
		words += fmt.Sprintf(", and up to %.1f where the band slips", float64(s.Treadles.High))
	}
	return words
}

// seldom says a stroke that is due once in several draws.
func seldom(s wheel.Setting, stroke string, draw unit.Length) string {
	least, most := math.Round(1/float64(s.Treadles.High)), math.Round(1/float64(s.Gripped.Low))
	every := fmt.Sprintf("%.0f to %.0f draws", least, most)
	switch {
	case least == most && most <= 1:
		every = "draw"
	case least == most:
		every = fmt.Sprintf("%.0f draws", most)
	}
	return fmt.Sprintf("one %s for every %s of %s", stroke, every, draw)
}

// fillingWords are the treadles as a bobbin-led bobbin fills; empty where they stay
// the same or the full bobbin was not measured.
func fillingWords(w wheel.Treadled, turns unit.Twist, draw unit.Length) string {
	if w.Kind != wheel.BobbinLed || w.Bobbin.Full == 0 {
		return ""
	}
	stages, err := w.Filling(turns, draw)
	if err != nil {
		return ""
	}
	at := func(i int) float64 { return float64(stages[i].Setting.Known().Value) }
	return fmt.Sprintf("%.1f treadles on the bare core, %.1f half full and %.1f on the full bobbin", at(0), at(1), at(2))
}

func holding(m wheel.Motor, turns unit.Twist, draw unit.Length) string {
	hold, err := m.Hold(turns, draw)
	if err != nil { // turns that nobody holds a draw for
		return ""
	}
	speed, err := m.Speed()
	if err != nil {
		return ""
	}
	words := fmt.Sprintf("%.1f seconds (%.1f to %.1f) for each draw of %s, at %.0f turns a minute",
		float64(hold.Value), float64(hold.Low), float64(hold.High), draw, float64(speed.Value))
	if speed.Value > wheel.FastSpeed {
		words += "; ask for the maker's limit before running so fast"
	}
	return words
}

// Stroke names what a machine is driven with: a treadle, or a flick of a spindle.
func Stroke(k wheel.Kind) string {
	if k == wheel.Spindle {
		return "flick"
	}
	return "treadle"
}

// Strokes is Stroke for several.
func Strokes(k wheel.Kind) string { return Stroke(k) + "s" }

// DrivenPart names what a whorl drives: the flyer, the bobbin or the spindle.
func DrivenPart(k wheel.Kind) string {
	switch k {
	case wheel.BobbinLed:
		return "bobbin"
	case wheel.Spindle:
		return "spindle"
	}
	return "flyer"
}
