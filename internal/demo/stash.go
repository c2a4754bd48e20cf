package demo

import (
	"waketwist/internal/journal"
	"waketwist/unit"
)

// stash records what became of the demonstration's fleece, and a trial strip of
// the cloth in its three states.
func (m maker) stash(project, lot journal.ID) error {
	step := unit.Gram
	for _, one := range []journal.Weighing{
		{What: journal.Bought, Mass: 1150 * unit.Gram, At: m.daysAgo(75), Note: "The whole fleece, skirted."},
		{What: journal.Scoured, Mass: 702 * unit.Gram, At: m.daysAgo(68), Note: "Two soaks at 60 °C, two rinses; dried for a week."},
		{What: journal.Prepared, Mass: 655 * unit.Gram, At: m.daysAgo(60)},
		{What: journal.Sampled, Mass: 24 * unit.Gram, At: m.daysAgo(45)},
	} {
		one.Lot, one.Step = lot, &step
		if _, err := m.store.AddWeighing(m.ctx, one); err != nil {
			return err
		}
	}
	length := func(cm unit.Length) *unit.Length { l := cm * unit.Centimetre; return &l }
	mass := 21.5 * unit.Gram
	_, err := m.store.AddSwatch(m.ctx, journal.Swatch{
		Project: project, Name: "Trial strip for the rug", Kind: journal.Woven,
		OnLoom:  journal.Size{Width: length(25), Length: length(30)},
		OffLoom: journal.Size{Width: length(23.1), Length: length(27.4)},
		Washed:  journal.Size{Width: length(20.4), Length: length(24)},
		Mass:    &mass, Note: "Plain weave, 8 ends and 8 picks to the inch.",
	})
	return err
}

// weigh records the singles on a bobbin and the fibre that was weighed out for
// it.
func (m maker) weigh(id journal.ID, one bobbin) error {
	tare, before := 92*unit.Gram, one.fibre
	_, err := m.store.AddWeighing(m.ctx, journal.Weighing{
		Bobbin: id, What: journal.Spun, Mass: one.net + tare, Tare: &tare, Before: &before, At: m.daysAgo(one.ended),
	})
	return err
}
