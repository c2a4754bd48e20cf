package web

import (
	"context"
	"net/url"
	"strconv"
	"strings"
	"time"

	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/unit"
)

// driveForm asks what drives a run: a machine of the journal, or typed figures.
type driveForm struct {
	*form
	Machines []driveGroup
}

// driveGroup is a machine with what may be chosen of it.
type driveGroup struct {
	Name           string
	Gears, Bobbins []driveChoice
}

type driveChoice struct{ Key, Name string }

// Keys of the choices: a whorl, a setting, a bobbin.
const (
	keyWhorl   = "whorl-"
	keySetting = "setting-"
	keySpool   = "bobbin-"
)

func keyOf(kind string, id journal.ID) string { return kind + strconv.FormatInt(int64(id), 10) }

// keyed returns the number behind a key of a kind, zero for another.
func keyed(key, kind string) journal.ID {
	n, err := strconv.ParseInt(strings.TrimPrefix(key, kind), 10, 64)
	if err != nil || !strings.HasPrefix(key, kind) || n < 0 {
		return 0
	}
	return journal.ID(n)
}

// driveForm offers the machines in use, and what a run has already.
func (b *bench) driveForm(ctx context.Context, f *form, has journal.Drive) (driveForm, error) {
	all, err := b.Store.Machines(ctx)
	if err != nil {
		return driveForm{}, err
	}
	out := driveForm{form: f}
	for _, m := range all {
		if m.Struck != "" && m.ID != has.Machine {
			continue
		}
		if g := groupOf(m, has); len(g.Gears) > 0 {
			out.Machines = append(out.Machines, g)
		}
	}
	return out, nil
}

func groupOf(m journal.Machine, has journal.Drive) driveGroup {
	g := driveGroup{Name: m.Name}
	for _, w := range m.Whorls {
		if w.Struck == "" || w.ID == has.Whorl {
			g.Gears = append(g.Gears, driveChoice{keyOf(keyWhorl, w.ID), m.Name + ", " + w.Name})
		}
	}
	for _, s := range m.Settings {
		if s.Struck == "" || s.ID == has.Setting {
			g.Gears = append(g.Gears, driveChoice{keyOf(keySetting, s.ID), m.Name + ", " + s.Name})
		}
	}
	for _, s := range m.Spools {
		if s.Struck == "" || s.ID == has.Spool {
			g.Bobbins = append(g.Bobbins, driveChoice{keyOf(keySpool, s.ID), m.Name + ", " + s.Name})
		}
	}
	return g
}

// driveFrom reads what drives a run. Typed figures of a wheel count only where no
// machine is chosen.
func (b *bench) driveFrom(ctx context.Context, f *form) (journal.Drive, error) {
	d := journal.Drive{
		Whorl: keyed(f.text("machine"), keyWhorl), Setting: keyed(f.text("machine"), keySetting),
		Draw: quantity(f, "draw", unit.ParseLength),
	}
	if seconds := quantity(f, "beat", unit.ParseNumber); seconds != nil {
		beat := time.Duration(*seconds * float64(time.Second))
		d.Beat = &beat
	}
	if d.Whorl == 0 && d.Setting == 0 {
		d.Ratio, d.RPM = quantity(f, "ratio", unit.ParseNumber), quantity(f, "rpm", unit.ParseNumber)
		return d, nil
	}
	d.Spool = keyed(f.text("spool"), keySpool)
	all, err := b.Store.Machines(ctx)
	for _, m := range all {
		if d.Whorl != 0 && m.Whorl(d.Whorl) != nil || d.Setting != 0 && m.Setting(d.Setting) != nil {
			d.Machine = m.ID
		}
	}
	return d, err
}

// fillDrive shows in a form what drives a run.
func fillDrive(v url.Values, d journal.Drive) {
	set := func(name string, value *float64, suffix string) {
		if value != nil {
			v.Set(name, strconv.FormatFloat(*value, 'g', 5, 64)+suffix)
		}
	}
	set("ratio", d.Ratio, "")
	set("rpm", d.RPM, "")
	if d.Draw != nil {
		cm := float64(*d.Draw / unit.Centimetre)
		set("draw", &cm, " cm")
	}
	if d.Beat != nil {
		s := d.Beat.Seconds()
		set("beat", &s, "")
	}
	switch {
	case d.Whorl != 0:
		v.Set("machine", keyOf(keyWhorl, d.Whorl))
	case d.Setting != 0:
		v.Set("machine", keyOf(keySetting, d.Setting))
	}
	if d.Spool != 0 {
		v.Set("spool", keyOf(keySpool, d.Spool))
	}
}

// drive is what drives a run, with what is known of its machine.
func (b *bench) drive(ctx context.Context, d journal.Drive) (job.Drive, error) {
	if d.Machine == 0 {
		return job.DriveOf(d, nil), nil
	}
	all, err := b.Store.Machines(ctx)
	return job.DriveOf(d, all), err
}
