package web

import (
	"net/http"
	"strconv"

	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

// keepOnMachine records something on a machine unless the form is wrong, and goes
// back to that part of its page.
func (b *bench) keepOnMachine(w http.ResponseWriter, r *http.Request, m journal.Machine, f *form, part string, keep func() error) error {
	kept, err := f.keep(keep)
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/machine/%d#%s", m.ID, part)
	}
	return b.machinePage(w, r, m, f, part)
}

// countWhorl adds a count to a whorl, or a whorl with its first count.
func (b *bench) countWhorl(w http.ResponseWriter, r *http.Request) error {
	m, f, err := sent(r, b.machine)
	if err != nil {
		return err
	}
	count := journal.Count{Whorl: idFrom(f, "whorl"), Treadles: 10}
	if n := quantity(f, "treadles", unit.ParseNumber); n != nil {
		count.Treadles = wheel.Treadles(*n)
	}
	one := journal.Whorl{Machine: m.ID, Name: f.text("name"), Stated: quantity(f, "stated", ratio)}
	if turns := quantity(f, "turns", unit.ParseNumber); turns != nil {
		count.Turns = wheel.Turns(*turns)
		one.Counts = []journal.Count{count}
	}
	return b.keepOnMachine(w, r, *m, f, "whorl", func() (err error) {
		if count.Whorl != 0 {
			_, err = b.Store.AddCount(r.Context(), count)
		} else {
			_, err = b.Store.AddWhorl(r.Context(), one)
		}
		return err
	})
}

func ratio(text string) (wheel.Ratio, error) {
	v, err := unit.ParseNumber(text)
	return wheel.Ratio(v), err
}

// timeMotor adds a timing to a motor's setting, or a setting with its first one.
func (b *bench) timeMotor(w http.ResponseWriter, r *http.Request) error {
	m, f, err := sent(r, b.machine)
	if err != nil {
		return err
	}
	timing := journal.Timing{Setting: idFrom(f, "setting"), Seen: seenFrom(f)}
	one := journal.MotorSetting{Machine: m.ID, Name: f.text("name")}
	if v := quantity(f, "stated", unit.ParseNumber); v != nil {
		speed := wheel.Speed(*v)
		one.Stated = &speed
	}
	if f.text("turns") != "" {
		one.Timings = []journal.Timing{timing}
	}
	return b.keepOnMachine(w, r, *m, f, "motor", func() error {
		if timing.Setting != 0 {
			_, err := b.Store.AddTiming(r.Context(), timing)
			return err
		}
		_, err := b.Store.AddMotorSetting(r.Context(), one)
		return err
	})
}

// watchSlip adds what a band was seen to pass on.
func (b *bench) watchSlip(w http.ResponseWriter, r *http.Request) error {
	m, f, err := sent(r, b.machine)
	if err != nil {
		return err
	}
	s := journal.Slip{Machine: m.ID, Whorl: idFrom(f, "whorl"), Seen: seenFrom(f)}
	if v := quantity(f, "rhythm", unit.ParseNumber); v != nil {
		s.Rhythm = wheel.Rhythm(*v)
	}
	return b.keepOnMachine(w, r, *m, f, "slip", func() error { _, err := b.Store.AddSlip(r.Context(), s); return err })
}

// seenFrom reads turns counted over a time.
func seenFrom(f *form) (s journal.Seen) {
	s.How = journal.How(f.text("how"))
	if v := quantity(f, "turns", unit.ParseNumber); v != nil {
		s.Turns = wheel.Turns(*v)
	}
	if s.How != journal.OnFilm {
		if v := quantity(f, "seconds", unit.ParseNumber); v != nil {
			s.Time = wheel.Seconds(*v)
		}
		return s
	}
	if v := quantity(f, "frames", count); v != nil {
		s.Frames = *v
	}
	if v := quantity(f, "rate", unit.ParseNumber); v != nil {
		s.FramesPerSecond = *v
	}
	return s
}

// addSpool adds an empty bobbin.
func (b *bench) addSpool(w http.ResponseWriter, r *http.Request) error {
	m, f, err := sent(r, b.machine)
	if err != nil {
		return err
	}
	s := journal.Spool{
		Machine: m.ID, Name: f.text("name"), Core: quantity(f, "core", unit.ParseLength), Full: quantity(f, "full", unit.ParseLength),
		Tare: quantity(f, "tare", unit.ParseMass), Holds: quantity(f, "holds", unit.ParseMass),
	}
	return b.keepOnMachine(w, r, *m, f, "bobbin", func() error { _, err := b.Store.AddSpool(r.Context(), s); return err })
}

// strikePart notes that the machine or a part of it no longer counts.
func (b *bench) strikePart(w http.ResponseWriter, r *http.Request) error {
	m, f, err := sent(r, b.machine)
	if err != nil {
		return err
	}
	part, id := journal.Part(f.text("part")), idFrom(f, "id")
	return b.keepOnMachine(w, r, *m, f, "strike", func() error { return b.Store.StrikePart(r.Context(), part, id, f.text("reason")) })
}

// idFrom is the number of a record in a field, zero without one.
func idFrom(f *form, name string) journal.ID {
	n, err := strconv.ParseInt(f.text(name), 10, 64)
	if err != nil || n < 0 {
		return 0
	}
	return journal.ID(n)
}
