package cli

import (
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/wheel"
)

// ofMachine is what a wheel's answer takes from the journal.
type ofMachine struct {
	journal.Machine
	whorl, setting, bobbin string        // names of what was chosen
	owned                  []wheel.Whorl // to choose from; nil where one was chosen
}

// checkMachine refuses flags that say what the journal's machine says already.
func (c *wheelCmd) checkMachine() error {
	if c.Machine == "" {
		if c.Whorl != "" || c.Bobbin != "" || c.Setting != "" {
			return misused("--whorl, --bobbin and --setting are those of a machine; name it with --machine")
		}
		return nil
	}
	switch {
	case c.Kind != "" || c.Ratio != "" || len(c.Counted) > 0 || c.Whorls != "":
		return misused("--machine says its kind and its ratios; leave out --kind, --ratio, --counted and --whorls")
	case c.Bobbin != "" && (c.Core != "" || c.Full != ""):
		return misused("--bobbin and --core say the same thing; give one of them")
	}
	return nil
}

// setupOf reads the machine from the journal and the rest from the flags.
func (c *wheelCmd) setupOf(a *app) (s wheelSetup, err error) {
	machines, err := machinesIn(a, c.Data)
	if err != nil {
		return s, err
	}
	m, err := job.Named(machines, string(c.Machine), "machine", job.MachineLabel)
	if err != nil {
		return s, err
	}
	s.of = &ofMachine{Machine: *m}
	s.kind = m.Kind
	if m.Kind == wheel.MotorDriven {
		err = c.fillMotorOf(&s)
	} else {
		err = c.fillWheelOf(&s)
	}
	if err != nil {
		return s, err
	}
	for _, fill := range []func(*wheelSetup) error{c.fillSlip, c.fillBobbin, c.fillMotor, c.fillTimes} {
		if err := fill(&s); err != nil {
			return s, err
		}
	}
	return s, nil
}

func (c *wheelCmd) fillWheelOf(s *wheelSetup) error {
	if c.Setting != "" {
		return misused("--setting is one of a motor, and %s is %s; give --whorl", s.of.Name, s.kind)
	}
	whorl, err := only(s.of.Whorls, string(c.Whorl), "whorl", whorlKey)
	if err != nil {
		return err
	}
	spool, err := only(s.of.Spools, string(c.Bobbin), "bobbin", spoolKey)
	if err != nil {
		return err
	}
	if s.kind == wheel.BobbinLed && spool == nil && c.Core == "" {
		return misused("each wrap takes a turn away on a bobbin-led wheel: give --bobbin, one of its bobbins, or --core")
	}
	var ids [2]journal.ID
	if whorl != nil {
		ids[0], s.of.whorl, s.whorled = whorl.ID, whorl.Name, true
	} else {
		s.of.owned = job.WhorlsOf(s.of.Machine)
	}
	if spool != nil && c.Core == "" {
		ids[1], s.of.bobbin = spool.ID, spool.Name
	}
	s.wheel, err = job.MachineOf(s.of.Machine, ids[0], ids[1])
	return err
}

func (c *wheelCmd) fillMotorOf(s *wheelSetup) error {
	if c.Whorl != "" || c.Bobbin != "" || c.Core != "" {
		return misused("%s has a motor: give --setting, and leave out --whorl, --bobbin and --core", s.of.Name)
	}
	if c.Rpm != "" || len(c.Timed)+len(c.Filmed)+len(c.Untwisted) > 0 {
		return misused("the journal says how fast %s runs; leave out --rpm, --timed, --filmed and --untwisted", s.of.Name)
	}
	setting, err := only(s.of.Settings, string(c.Setting), "setting", settingKey)
	if err != nil {
		return err
	}
	if setting == nil {
		return misused("%s has several settings or none; give --setting, one of %s", s.of.Name, job.QuotedNames(s.of.Settings, settingKey))
	}
	motor, err := job.MotorOf(s.of.Machine, setting.ID)
	s.of.setting, s.motor = setting.Name, &motor
	return err
}

// said names the machine and what was chosen of it.
func (o ofMachine) said() string {
	out := "On " + o.Name
	if o.whorl != "" {
		out += ", whorl “" + o.whorl + "”"
	}
	if o.setting != "" {
		out += ", setting “" + o.setting + "”"
	}
	if o.bobbin != "" {
		out += ", bobbin “" + o.bobbin + "”"
	}
	if o.CheckSlip() == nil {
		out += "; " + job.SlipWords(job.SlipOf(o.Machine))
	}
	return out + "."
}
