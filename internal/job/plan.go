package job

import (
	"strings"

	"waketwist/internal/journal"
	"waketwist/plan"
	"waketwist/wheel"
)

// FillWheel puts the machine that a wish names into it: all its whorls that are
// in use, or the one motor setting in use that was timed last, and the first
// bobbin. It refuses with a *journal.Error names that no machine, or several,
// have.
func FillWheel(w *plan.Wish, machines []journal.Machine) error {
	if w.Machine == "" || w.Wheel == nil {
		return nil
	}
	m, err := MachineNamed(machines, w.Machine)
	if err != nil {
		return err
	}
	h := &plan.Wheel{Draw: w.Wheel.Draw}
	w.Wheel = h
	if m.Kind == wheel.MotorDriven {
		motor, err := motorInUse(*m)
		h.Motor = &motor
		return err
	}
	treadled, err := MachineOf(*m, 0, spoolInUse(*m))
	if err != nil {
		return err
	}
	h.Treadled, h.Whorls = &treadled, WhorlsOf(*m)
	if len(h.Whorls) == 0 {
		return unfit("No whorl of %s has been counted; count one, with a flag over ten slow treadles.", m.Name)
	}
	return nil
}

func motorInUse(m journal.Machine) (wheel.Motor, error) {
	for i := len(m.Settings) - 1; i >= 0; i-- {
		if m.Settings[i].Struck == "" {
			return MotorOf(m, m.Settings[i].ID)
		}
	}
	return wheel.Motor{}, unfit("No setting of %s has been timed; time one, slow enough to count.", m.Name)
}

// spoolInUse is the first bobbin whose size is known, zero for none.
func spoolInUse(m journal.Machine) journal.ID {
	for _, s := range m.Spools {
		if s.Struck == "" && s.Core != nil {
			return s.ID
		}
	}
	return 0
}

// MachineNamed finds a machine by its name, or a part of it that only it has.
func MachineNamed(machines []journal.Machine, name string) (*journal.Machine, error) {
	var found []*journal.Machine
	for i := range machines {
		m := &machines[i]
		switch {
		case m.Struck != "":
		case strings.EqualFold(m.Name, name):
			return m, nil
		case strings.Contains(strings.ToLower(m.Name), strings.ToLower(name)):
			found = append(found, m)
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return nil, unfit("There is no machine “%s” in the journal; give it as it stands under Machines.", name)
	}
	return nil, unfit("%d machines have “%s” in their names; give the whole name.", len(found), name)
}
