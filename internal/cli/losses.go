package cli

import (
	"fmt"
	"text/tabwriter"

	"waketwist/internal/job"
)

type lossesCmd struct {
	Data text `placeholder:"FOLDER" help:"Folder of the journal. Default: WAKETWIST_DATA, else your user data folder."`
	JSON bool `help:"Print one JSON object a line, one for each loss."`
}

// Help is the long help.
func (lossesCmd) Help() string {
	return `What is lost on the way from fleece to cloth, as your weighings and measures teach it: scouring, carding or combing, sampling, spinning, ply take-up, the washes, draw-in and take-up, and how fast you spin and ply. Each range holds nine times in ten for the next time you do it. Without readings it is common practice, or not known.

    waketwist losses
    waketwist losses --json`
}

// Run prints what was learnt.
func (c *lossesCmd) Run(a *app) error {
	seen, err := a.seenIn(c.Data)
	if err != nil {
		return err
	}
	known := job.LossesOf(seen.projects, seen.lots, seen.swatches)
	if c.JSON {
		for _, r := range known.Rows() {
			if err := writeJSON(a.Stdout, lossOf(r)); err != nil {
				return err
			}
		}
		return nil
	}
	if known.Demo {
		fmt.Fprintln(a.Stdout, folded("Nothing of yours has been weighed yet; what stands here was taught by the demonstration.", 72))
	}
	table := tabwriter.NewWriter(a.Stdout, 0, 8, 2, ' ', 0)
	fmt.Fprintln(table, "LOSS\tVALUE\t9 TIMES IN 10\tREADINGS")
	for _, r := range known.Rows() {
		value, reach := r.Value, r.Range
		if !r.Known {
			value, reach = "not known", ""
		}
		fmt.Fprintf(table, "%s\t%s\t%s\t%d\n", r.Name, value, reach, r.Readings)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	whose := "your readings"
	if known.Demo {
		whose = "those of the demonstration"
	}
	_, err = fmt.Fprintln(a.Stdout, folded("All of it is modelled: what is usual in the trade, narrowed by "+whose+". Where there are none, it is common practice.", 72))
	return err
}

// loss is one quantity, as JSON. Shares are of 1, paces in metres an hour.
type loss struct {
	Key      string    `json:"loss"`
	Name     string    `json:"name"`
	Unit     string    `json:"unit"`
	Value    *interval `json:"value"`
	Readings int       `json:"readings"`
	Basis    string    `json:"basis"`
	Better   string    `json:"to_know_it_better"`
	Demo     bool      `json:"demo"`
}

func lossOf(r job.LossRow) loss {
	out := loss{Key: r.Key, Name: r.Name, Unit: r.Unit, Readings: r.Readings, Basis: "modelled", Better: r.Better, Demo: r.Demo}
	switch {
	case !r.Known:
		out.Basis = "not known"
	case r.Readings == 0:
		out.Basis = "common practice"
	}
	if r.Known {
		out.Value = &interval{round(r.Number[0], 4), round(r.Number[1], 4), round(r.Number[2], 4)}
	}
	return out
}
