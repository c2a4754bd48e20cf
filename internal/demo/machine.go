package demo

import (
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

// machines makes two wheels: a flyer-led one whose band was watched at work, and a
// bobbin-led one with two bobbins.
func (m maker) machines() error {
	first, err := m.store.AddMachine(m.ctx, journal.Machine{
		Name: "Upright from the loft", Kind: wheel.FlyerLed, Demo: true, Note: "Scotch brake, cotton band.",
	})
	if err != nil {
		return err
	}
	var middle journal.ID
	for i, w := range []journal.Whorl{
		{Name: "large groove", Counts: counts(64.5, 65, 64.5)},
		{Name: "middle groove", Counts: counts(87, 87.5, 87)},
		{Name: "small groove", Counts: counts(118.5, 119)},
	} {
		w.Machine = first
		id, err := m.store.AddWhorl(m.ctx, w)
		if err != nil {
			return err
		}
		if i == 1 {
			middle = id
		}
	}
	// 68 treadles a minute on 8.72:1 would make 297 turns in half a minute.
	for _, turns := range []wheel.Turns{281, 277} {
		if _, err := m.store.AddSlip(m.ctx, journal.Slip{
			Machine: first, Whorl: middle, Rhythm: 68, Seen: journal.Seen{How: journal.ByEye, Turns: turns, Time: 30},
		}); err != nil {
			return err
		}
	}
	if err := m.spool(first, "Bobbin with the notch", 33*unit.Millimetre, 92*unit.Millimetre, 71*unit.Gram); err != nil {
		return err
	}
	return m.bobbinLed()
}

func (m maker) bobbinLed() error {
	id, err := m.store.AddMachine(m.ctx, journal.Machine{
		Name: "Plying wheel", Kind: wheel.BobbinLed, Demo: true, Note: "Leather brake on the flyer; pulls hard.",
	})
	if err != nil {
		return err
	}
	if _, err := m.store.AddWhorl(m.ctx, journal.Whorl{Machine: id, Name: "only groove", Counts: counts(80, 80, 80.5)}); err != nil {
		return err
	}
	if err := m.spool(id, "Thin core", 1.5*unit.Inch, 4*unit.Inch, 118*unit.Gram); err != nil {
		return err
	}
	return m.spool(id, "Thick core", 2.5*unit.Inch, 4*unit.Inch, 136*unit.Gram)
}

func (m maker) spool(machine journal.ID, name string, core, full unit.Length, tare unit.Mass) error {
	_, err := m.store.AddSpool(m.ctx, journal.Spool{Machine: machine, Name: name, Core: &core, Full: &full, Tare: &tare})
	return err
}

// counts are turns counted over ten treadles each.
func counts(turns ...wheel.Turns) (out []journal.Count) {
	for _, n := range turns {
		out = append(out, journal.Count{Turns: n, Treadles: 10})
	}
	return out
}
