package cli

import (
	"fmt"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

type machineCmd struct {
	Name text `arg:"" optional:"" help:"Name of one machine, or a part of it. Without it: all in use."`
	Data text `placeholder:"FOLDER" help:"Folder of the journal. Default: WAKETWIST_DATA, else your user data folder."`
	JSON bool `help:"Print one JSON object a line."`
}

// Help is the long help.
func (machineCmd) Help() string {
	return `Your wheels, spindles and motors as you counted them in the workbench: the ratio of each whorl with its range, the speed of each motor setting, what slip was seen to take, and the bobbins with their sizes and empty weights. “waketwist wheel --machine NAME” answers with one of them.

    waketwist machine
    waketwist machine "Upright" --json`
}

// Run prints the machines.
func (c *machineCmd) Run(a *app) error {
	machines, err := machinesIn(a, c.Data)
	if err != nil {
		return err
	}
	if c.Name != "" {
		one, err := job.Named(machines, string(c.Name), "machine", job.MachineLabel)
		if err != nil {
			return err
		}
		machines = []journal.Machine{*one}
	}
	n := 0
	for _, m := range machines {
		if m.Struck != "" {
			continue
		}
		if err := c.print(a, m, n > 0); err != nil {
			return err
		}
		n++
	}
	if n == 0 && !c.JSON {
		_, err = fmt.Fprintln(a.Stdout, "No machine is recorded; add one in the workbench, under Machines.")
	}
	return err
}

func (c *machineCmd) print(a *app, m journal.Machine, later bool) error {
	if c.JSON {
		return writeJSON(a.Stdout, machineOf(m))
	}
	if later {
		fmt.Fprintln(a.Stdout)
	}
	fmt.Fprintf(a.Stdout, "%s, %s\n", m.Name, m.Kind)
	for _, line := range job.MachineLines(m) {
		fmt.Fprintln(a.Stdout, "  "+line)
	}
	return nil
}

// machinesIn reads the machines of a journal.
func machinesIn(a *app, data text) (machines []journal.Machine, err error) {
	err = inJournal(a, data, func(store journal.Store) error {
		machines, err = store.Machines(a)
		return err
	})
	return machines, err
}

// machineJSON is a machine, its parts in use, as JSON.
type machineJSON struct {
	ID       journal.ID  `json:"id"`
	Name     string      `json:"name"`
	Kind     string      `json:"kind"`
	Note     string      `json:"note,omitempty"`
	Whorls   []gearJSON  `json:"whorls,omitempty"`
	Settings []gearJSON  `json:"settings,omitempty"`
	Slip     *slipJSON   `json:"slip_factor,omitempty"` // share of the turns that arrives, even between both
	Bobbins  []spoolJSON `json:"bobbins,omitempty"`
}

// gearJSON is a whorl with its ratio or a motor's setting with its speed.
type gearJSON struct {
	Name  string         `json:"name"`
	Ratio *interval      `json:"ratio,omitempty"`     // turns a treadle
	Speed *interval      `json:"speed_rpm,omitempty"` // turns a minute
	Count int            `json:"counts"`
	Why   string         `json:"why,omitempty"` // why there is no figure
	Flags estimate.Flags `json:"flags"`
}

type slipJSON struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

type spoolJSON struct {
	Name  string   `json:"name"`
	Core  *float64 `json:"core_mm,omitempty"`
	Full  *float64 `json:"full_mm,omitempty"`
	Tare  *float64 `json:"tare_g,omitempty"`
	Holds *float64 `json:"holds_g,omitempty"`
}

func machineOf(m journal.Machine) machineJSON {
	out := machineJSON{ID: m.ID, Name: m.Name, Kind: m.Kind.String(), Note: m.Note}
	for _, w := range m.Whorls {
		if w.Struck == "" {
			e, err := job.RatioOf(w)
			one := gearOf(w.Name, e, err)
			if err == nil {
				one.Ratio = plain(e)
			}
			out.Whorls = append(out.Whorls, one)
		}
	}
	for _, s := range m.Settings {
		if s.Struck == "" {
			motor, err := job.MotorOf(m, s.ID)
			var e estimate.Estimate[wheel.Speed]
			if err == nil {
				e, err = motor.Speed()
			}
			one := gearOf(s.Name, e, err)
			if err == nil {
				one.Speed = plain(e)
			}
			out.Settings = append(out.Settings, one)
		}
	}
	if s := job.SlipOf(m); s != (wheel.Slip{}) {
		out.Slip = &slipJSON{round(float64(s.Low), 4), round(float64(s.High), 4)}
	}
	for _, s := range m.Spools {
		if s.Struck == "" {
			out.Bobbins = append(out.Bobbins, spoolJSON{s.Name, in(s.Core, unit.Millimetre), in(s.Full, unit.Millimetre), in(s.Tare, unit.Gram), in(s.Holds, unit.Gram)})
		}
	}
	return out
}

func gearOf[T ~float64](name string, e estimate.Estimate[T], err error) gearJSON {
	out := gearJSON{Name: name, Count: e.N, Flags: append(estimate.Flags{}, e.Flags...)}
	if err != nil {
		out.Why = err.Error()
	}
	return out
}

// in is a quantity as a number of units, nil for nil.
func in[T ~float64](v *T, unit T) *float64 {
	if v == nil {
		return nil
	}
	return ptr(round(float64(*v/unit), 3))
}
