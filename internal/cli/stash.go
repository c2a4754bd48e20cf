package cli

import (
	"fmt"
	"strings"

	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/unit"
)

type stashCmd struct {
	Data text `placeholder:"FOLDER" help:"Folder of the journal. Default: WAKETWIST_DATA, else your user data folder."`
	JSON bool `help:"Print one JSON object a line, one for each lot and skein."`
}

// Help is the long help.
func (stashCmd) Help() string {
	return `What is in hand: of every fibre lot what was bought and what is left, by preparation, and the skeins that are not used up. What is left is the latest weighing, else reckoned from what was bought and what was spun; its range holds nine times in ten. Weigh and record on the page of the stash in the workbench.

    waketwist stash
    waketwist stash --json`
}

// Run prints the stash.
func (c *stashCmd) Run(a *app) error {
	seen, err := a.seenIn(c.Data)
	if err != nil {
		return err
	}
	stash := job.StashOf(seen.projects, seen.lots, job.LossesOf(seen.projects, seen.lots, seen.swatches))
	if !c.JSON {
		_, err := fmt.Fprintln(a.Stdout, stashProse(stash))
		return err
	}
	for _, l := range stash.Lots {
		if err := writeJSON(a.Stdout, lotOf(l)); err != nil {
			return err
		}
	}
	for _, s := range stash.Skeins {
		if err := writeJSON(a.Stdout, skeinOf(s)); err != nil {
			return err
		}
	}
	return nil
}

// kept is what the stash and the losses follow from.
type kept struct {
	projects []journal.Project
	lots     []journal.Lot
	swatches []journal.Swatch
}

// seenIn loads it from the journal in a folder, empty for the usual one.
func (a *app) seenIn(data text) (out kept, err error) {
	err = inJournal(a, data, func(store journal.Store) error {
		out, err = keptIn(a, store)
		return err
	})
	return out, err
}

func keptIn(a *app, store journal.Store) (out kept, err error) {
	if out.projects, err = store.Projects(a); err != nil {
		return out, err
	}
	if out.lots, err = store.Lots(a); err != nil {
		return out, err
	}
	out.swatches, err = store.Swatches(a)
	return out, err
}

// stashLot is a lot, as JSON.
type stashLot struct {
	Kind      string      `json:"kind"`
	ID        journal.ID  `json:"id"`
	Name      string      `json:"name"`
	Fibre     string      `json:"fibre"`
	Prep      string      `json:"preparation"`
	Bought    *float64    `json:"bought_g"`
	Left      []stashLeft `json:"left"`
	Unweighed int         `json:"bobbins_not_weighed"`
	Demo      bool        `json:"demo"`
}

type stashLeft struct {
	What  string    `json:"state"`
	Mass  *interval `json:"mass_g"`
	Basis string    `json:"basis"`
}

func lotOf(l job.LotStock) stashLot {
	out := stashLot{
		Kind: "fibre", ID: l.ID, Name: l.Name, Fibre: l.Fibre, Prep: l.Preparation.String(), Left: []stashLeft{}, Unweighed: l.Unweighed, Demo: l.Demo,
	}
	if l.Bought > 0 {
		out.Bought = grams(&l.Bought)
	}
	for _, s := range l.Left {
		out.Left = append(out.Left, stashLeft{string(s.What), intervalOf(s.Mass, unit.Gram, 1), basisOf(s)})
	}
	return out
}

func basisOf(s job.Stock) string {
	if s.Reckoned {
		return "reckoned"
	}
	return "weighed"
}

// stashSkein is a skein, as JSON.
type stashSkein struct {
	Kind    string     `json:"kind"`
	ID      journal.ID `json:"id"`
	Name    string     `json:"name"`
	Project string     `json:"project"`
	State   string     `json:"state"`
	Mass    *float64   `json:"mass_g"`
	Length  *float64   `json:"length_m"`
	Grist   *float64   `json:"grist_tex"`
	Wraps   *float64   `json:"wraps_per_inch"`
	Part    string     `json:"part"` // of what part of the skein they are; empty for the whole
	Demo    bool       `json:"demo"`
}

func skeinOf(s job.SkeinStock) stashSkein {
	out := stashSkein{Kind: "skein", ID: s.ID, Name: s.Name, Project: s.Project, State: s.State.String(), Mass: grams(s.Mass), Part: s.Part.String(), Demo: s.Demo}
	if s.Length != nil {
		v := round(s.Length.Metres(), 2)
		out.Length = &v
	}
	if s.Grist != nil {
		v := round(s.Grist.Tex(), 2)
		out.Grist = &v
	}
	if s.Wraps != nil {
		v := round(s.Wraps.PerInch(), 2)
		out.Wraps = &v
	}
	return out
}

func grams(m *unit.Mass) *float64 {
	if m == nil {
		return nil
	}
	v := round(m.Grams(), 2)
	return &v
}

func stashProse(stash job.Stash) string {
	var lines []string
	for _, l := range stash.Lots {
		line := fmt.Sprintf("%d  %s%s: ", l.ID, l.Name, demoWord(l.Demo))
		switch {
		case len(l.Left) > 0:
			line += stockWords(l)
		case len(l.Weighings) == 0:
			line += "not weighed yet."
		default:
			line += "nothing is left."
		}
		if l.Bought > 0 {
			line += fmt.Sprintf(" Bought: %s.", l.Bought)
		}
		if l.Unweighed > 0 {
			line += fmt.Sprintf(" Bobbins spun from it and not weighed: %d; less may be left.", l.Unweighed)
		}
		lines = append(lines, folded(line, 72))
	}
	for _, s := range stash.Skeins {
		lines = append(lines, folded(skeinWords(s), 72))
	}
	if len(lines) == 0 {
		return folded("Nothing is in the stash. Add a fibre lot on the page of the stash in the workbench; skeins come there by themselves.", 72)
	}
	return strings.Join(lines, "\n")
}

func demoWord(demo bool) string {
	if demo {
		return " (demonstration)"
	}
	return ""
}

func stockWords(l job.LotStock) string {
	var parts []string
	for _, s := range l.Left {
		parts = append(parts, fmt.Sprintf("%s %s (%s to %s, %s)",
			strings.ToLower(job.StockWords(s.What)), s.Mass.Value, s.Mass.Low.Metric(), s.Mass.High.Metric(), basisOf(s)))
	}
	return strings.Join(parts, "; ") + "."
}

func skeinWords(s job.SkeinStock) string {
	parts := []string{}
	if s.Mass != nil {
		parts = append(parts, s.Mass.String())
	}
	if s.Length != nil {
		parts = append(parts, s.Length.String())
	}
	if s.Grist != nil {
		parts = append(parts, s.Grist.String())
	}
	if s.Wraps != nil {
		parts = append(parts, s.Wraps.String())
	}
	if len(parts) == 0 {
		parts = []string{"not measured yet"}
	} else {
		parts = append(parts, job.StateWords(s.State))
		if part := s.Part.String(); part != "" {
			parts = append(parts, part)
		}
	}
	return fmt.Sprintf("Skein %d  %s, of %s%s: %s.", s.ID, s.Name, s.Project, demoWord(s.Demo), strings.Join(parts, "; "))
}
