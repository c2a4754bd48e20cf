package sqlite

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waketwist/internal/journal"
	"waketwist/wheel"
)

// machineModel is what a machine must read back as, kept beside the store.
type machineModel struct {
	*rapid.T
	store *Store
	now   time.Time
	want  journal.Machine
}

func TestRandomMachinesComeBack(t *testing.T) {
	var now time.Time
	s := openIn(t, t.TempDir(), func() time.Time { return now })
	rapid.Check(t, func(rt *rapid.T) {
		m := &machineModel{T: rt, store: s, want: drawMachine(rt)}
		steps := rapid.IntRange(0, 12).Draw(rt, "steps")
		for step := range steps + 1 {
			now = dawn.Add(time.Duration(step) * 1234567891)
			m.now = now
			m.addSomething()
		}
		got, err := s.Machine(t.Context(), m.want.ID)
		if err != nil {
			rt.Fatal(err)
		}
		if diff := cmp.Diff(&m.want, got, kept); diff != "" {
			rt.Errorf("(-want +got):\n%s", diff)
		}
	})
}

func (m *machineModel) keep(id journal.ID, err error) journal.ID {
	if err != nil {
		m.Fatal(err)
	}
	return id
}

func (m *machineModel) addSomething() {
	if m.want.ID == 0 {
		m.want.ID = m.keep(m.store.AddMachine(m.Context(), m.want))
		m.want.Recorded = m.now
		return
	}
	kinds := []func(){m.addSpool, m.change, m.strike}
	if m.want.Kind == wheel.MotorDriven {
		kinds = append(kinds, m.addSetting)
	} else {
		kinds = append(kinds, m.addWhorl)
	}
	if len(m.want.Whorls) > 0 {
		kinds = append(kinds, m.addCount)
		if m.want.Kind != wheel.Spindle {
			kinds = append(kinds, m.addSlip)
		}
	}
	if len(m.want.Settings) > 0 {
		kinds = append(kinds, m.addTiming)
	}
	rapid.SampledFrom(kinds).Draw(m.T, "kind")()
}

func (m *machineModel) change() {
	m.want.Name, m.want.Note = drawName(m.T), drawText(m.T, 200)
	if err := m.store.ChangeMachine(m.Context(), m.want); err != nil {
		m.Fatal(err)
	}
}

func (m *machineModel) addWhorl() {
	w := drawWhorl(m.T)
	w.Machine = m.want.ID
	w.ID = m.keep(m.store.AddWhorl(m.Context(), w))
	w.Recorded = m.now
	for i := range w.Counts {
		w.Counts[i].Whorl, w.Counts[i].Recorded = w.ID, m.now
	}
	got := m.read()
	for i := range w.Counts {
		w.Counts[i].ID = got.Whorls[len(got.Whorls)-1].Counts[i].ID
	}
	m.want.Whorls = append(m.want.Whorls, w)
}

// read is the machine as it is kept, for the numbers that were given to the parts
// of a part.
func (m *machineModel) read() *journal.Machine {
	got, err := m.store.Machine(m.Context(), m.want.ID)
	if err != nil {
		m.Fatal(err)
	}
	return got
}

func (m *machineModel) addCount() {
	w, c := &m.want.Whorls[rapid.IntRange(0, len(m.want.Whorls)-1).Draw(m.T, "whorl")], drawCount(m.T)
	c.Whorl = w.ID
	c.ID = m.keep(m.store.AddCount(m.Context(), c))
	c.Recorded = m.now
	w.Counts = append(w.Counts, c)
}

func (m *machineModel) addSetting() {
	s := drawSetting(m.T)
	s.Machine = m.want.ID
	s.ID = m.keep(m.store.AddMotorSetting(m.Context(), s))
	s.Recorded = m.now
	got := m.read()
	for i := range s.Timings {
		s.Timings[i].ID, s.Timings[i].Setting, s.Timings[i].Recorded = got.Settings[len(got.Settings)-1].Timings[i].ID, s.ID, m.now
	}
	m.want.Settings = append(m.want.Settings, s)
}

func (m *machineModel) addTiming() {
	s := &m.want.Settings[rapid.IntRange(0, len(m.want.Settings)-1).Draw(m.T, "setting")]
	t := journal.Timing{Setting: s.ID, Seen: drawSeen(m.T)}
	t.ID = m.keep(m.store.AddTiming(m.Context(), t))
	t.Recorded = m.now
	s.Timings = append(s.Timings, t)
}

func (m *machineModel) addSpool() {
	s := drawSpool(m.T)
	s.Machine = m.want.ID
	s.ID = m.keep(m.store.AddSpool(m.Context(), s))
	s.Recorded = m.now
	m.want.Spools = append(m.want.Spools, s)
}

func (m *machineModel) addSlip() {
	s := journal.Slip{
		Machine: m.want.ID, Whorl: rapid.SampledFrom(m.want.Whorls).Draw(m.T, "whorl").ID,
		Rhythm: drawIn[wheel.Rhythm](m.T, "rhythm", 1, 399, 1), Seen: drawSeen(m.T),
	}
	s.ID = m.keep(m.store.AddSlip(m.Context(), s))
	s.Recorded = m.now
	m.want.Slips = append(m.want.Slips, s)
}

// strike strikes the machine or one of its parts, once.
func (m *machineModel) strike() {
	type place struct {
		part   journal.Part
		id     journal.ID
		reason *string
	}
	places := []place{{journal.PartMachine, m.want.ID, &m.want.Struck}}
	for i := range m.want.Whorls {
		w := &m.want.Whorls[i]
		places = append(places, place{journal.PartWhorl, w.ID, &w.Struck})
		for j := range w.Counts {
			places = append(places, place{journal.PartCount, w.Counts[j].ID, &w.Counts[j].Struck})
		}
	}
	for i := range m.want.Settings {
		s := &m.want.Settings[i]
		places = append(places, place{journal.PartSetting, s.ID, &s.Struck})
		for j := range s.Timings {
			places = append(places, place{journal.PartTiming, s.Timings[j].ID, &s.Timings[j].Struck})
		}
	}
	for i := range m.want.Spools {
		places = append(places, place{journal.PartSpool, m.want.Spools[i].ID, &m.want.Spools[i].Struck})
	}
	for i := range m.want.Slips {
		places = append(places, place{journal.PartSlip, m.want.Slips[i].ID, &m.want.Slips[i].Struck})
	}
	one := rapid.SampledFrom(places).Draw(m.T, "struck")
	reason := drawName(m.T)
	err := m.store.StrikePart(m.Context(), one.part, one.id, reason)
	switch {
	case *one.reason != "" && journal.CodeOf(err) != journal.Conflict:
		m.Fatalf("struck twice: %v", err)
	case *one.reason == "" && err != nil:
		m.Fatal(err)
	case *one.reason == "":
		*one.reason = reason
	}
}
