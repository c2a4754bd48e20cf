package job

import (
	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

// Wish is a twist that a machine is to put into each draw: of singles when
// spinning, of ply when plying.
type Wish struct {
	Twist   unit.Twist
	Draw    unit.Length
	Whorl   journal.ID // zero for whichever comes nearest
	Setting journal.ID // of a motor
	Spool   journal.ID // zero where none is chosen; a bobbin-led wheel needs one
	Filled  wheel.Filled
	Rhythm  wheel.Rhythm  // treadles a minute, 0 when not asked
	Beat    wheel.Seconds // time for one draw, 0 when not asked
}

// Answer is how to set a machine for a wish.
type Answer struct {
	Turns    wheel.Turns // of the flyer, in each draw
	Name     string      // of the whorl or the setting
	Treadled *wheel.Setting
	Time     *estimate.Estimate[wheel.Seconds] // of a draw at the rhythm asked for
	Rhythm   *estimate.Estimate[wheel.Rhythm]  // for the beat asked for
	Hold     *estimate.Estimate[wheel.Seconds] // of a draw at the motor's setting
	Speed    *estimate.Estimate[wheel.Speed]   // of what is driven at the rhythm, or of the motor
	Needed   *estimate.Estimate[wheel.Speed]   // of the flyer, for the beat asked for
	Choices  []wheel.Choice                    // the whorls in use, nearest first; nil with fewer than two
	Stages   []wheel.Stage                     // as a bobbin-led bobbin fills; nil where nothing changes or it was not measured
	Flags    estimate.Flags                    // of all the numbers
}

// SetMachine says how to set a machine for a wish. It refuses with a *journal.Error
// or a *wheel.Error what the machine does not have or cannot be meant.
func SetMachine(m journal.Machine, w Wish) (*Answer, error) {
	a := &Answer{Turns: wheel.Turns(w.Twist.PerMetre() * w.Draw.Metres())}
	var err error
	if m.Kind == wheel.MotorDriven {
		err = a.hold(m, w)
	} else {
		err = a.treadle(m, w)
	}
	if err == nil && w.Beat != 0 {
		var needed estimate.Estimate[wheel.Speed]
		needed, err = wheel.SpeedFor(w.Twist, w.Draw, w.Beat)
		a.Needed = &needed
		a.flag(needed.Flags)
	}
	if err != nil {
		return nil, err
	}
	return a, nil
}

func (a *Answer) hold(m journal.Machine, w Wish) error {
	if w.Setting == 0 {
		return unfit("Choose the setting at which %s runs.", m.Name)
	}
	motor, err := MotorOf(m, w.Setting)
	if err != nil {
		return err
	}
	hold, err := motor.Hold(w.Twist, w.Draw)
	if err != nil {
		return err
	}
	speed, err := motor.Speed()
	a.Name, a.Hold, a.Speed = m.Setting(w.Setting).Name, &hold, &speed
	a.flag(hold.Flags, speed.Flags)
	return err
}

func (a *Answer) treadle(m journal.Machine, w Wish) error {
	t, err := MachineOf(m, w.Whorl, w.Spool)
	if err != nil {
		return err
	}
	if err := a.choose(&t, m, w); err != nil {
		return err
	}
	setting, err := t.Setting(w.Twist, w.Draw, w.Filled)
	if err != nil {
		return err
	}
	setting.Treadles.Flags = learnt(setting.Treadles.Flags, t.Slip)
	a.Name, a.Treadled = t.Whorl.Name, &setting
	a.flag(setting.Treadles.Flags)
	if t.Kind == wheel.BobbinLed && t.Bobbin.Full != 0 {
		if a.Stages, err = t.Filling(w.Twist, w.Draw); err != nil {
			return err
		}
	}
	return a.pace(t, w)
}

// choose compares the whorls in use, and takes the nearest where none was asked for.
func (a *Answer) choose(t *wheel.Treadled, m journal.Machine, w Wish) error {
	owned := WhorlsOf(m)
	if w.Whorl == 0 && len(owned) == 0 {
		return unfit("No whorl of %s has been counted; count one first.", m.Name)
	}
	if len(owned) > 1 {
		choices, err := t.Choose(owned, w.Twist, w.Draw, w.Filled, 0)
		if err != nil {
			return err
		}
		a.Choices, owned[0] = choices, choices[0].Whorl
	}
	if w.Whorl == 0 {
		t.Whorl = owned[0]
	}
	return nil
}

// pace fills in what a rhythm or a beat asks for.
func (a *Answer) pace(t wheel.Treadled, w Wish) error {
	if w.Rhythm != 0 {
		time, err := a.Treadled.Time(w.Rhythm)
		if err != nil {
			return err
		}
		speed, err := t.Speed(w.Rhythm)
		if err != nil {
			return err
		}
		speed.Flags = learnt(speed.Flags, t.Slip)
		a.Time, a.Speed = &time, &speed
		a.flag(speed.Flags)
	}
	if w.Beat == 0 {
		return nil
	}
	rhythm, err := a.Treadled.Rhythm(w.Beat)
	a.Rhythm = &rhythm
	a.flag(rhythm.Flags)
	return err
}

// flag takes conditions over, each once.
func (a *Answer) flag(all ...estimate.Flags) {
	for _, fs := range all {
		a.Flags = a.Flags.With(fs...)
	}
}

// Done is what was done at a machine with a length.
type Done struct {
	Length   unit.Length
	Treadles wheel.Treadles // or flicks; not with a motor
	Time     wheel.Seconds  // with a motor
	Whorl    journal.ID
	Setting  journal.ID
	Spool    journal.ID
	Filled   wheel.Filled
}

// WentIn says which turns went into a length by what was done. It refuses with a
// *journal.Error or a *wheel.Error what the machine does not have or cannot be
// meant.
func WentIn(m journal.Machine, d Done) (wheel.Put, error) {
	if m.Kind == wheel.MotorDriven {
		if d.Setting == 0 {
			return wheel.Put{}, unfit("Choose the setting at which %s ran.", m.Name)
		}
		motor, err := MotorOf(m, d.Setting)
		if err != nil {
			return wheel.Put{}, err
		}
		return motor.PutIn(d.Time, d.Length)
	}
	if d.Whorl == 0 {
		return wheel.Put{}, unfit("Choose the whorl of %s that was used; where it has none yet, count one first.", m.Name)
	}
	t, err := MachineOf(m, d.Whorl, d.Spool)
	if err != nil {
		return wheel.Put{}, err
	}
	p, err := t.PutIn(d.Treadles, d.Length, d.Filled)
	p.Turns.Flags, p.Twist.Flags = learnt(p.Turns.Flags, t.Slip), learnt(p.Twist.Flags, t.Slip)
	return p, err
}

// learnt adds to the flags of a number that a learnt slip had a part in it: what a
// band will pass on the next time is modelled from what it did.
func learnt(fs estimate.Flags, s wheel.Slip) estimate.Flags {
	if s == (wheel.Slip{}) {
		return fs
	}
	return fs.With(estimate.Modelled)
}
