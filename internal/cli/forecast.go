package cli

import (
	"fmt"
	"strings"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/hand"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
)

type forecastCmd struct {
	Project  text  `arg:"" help:"Number or name of the project in the journal."`
	PlyAngle text  `placeholder:"DEGREES" help:"Angle of the ply at the wheel, dry. Without it: the ply that washes into balance."`
	Rest     text  `placeholder:"TIME" help:"How long the singles have rested, such as “10 days”. Without it: as old as they are."`
	Humidity text  `placeholder:"PERCENT" help:"Relative humidity of the air they rest in. Without it: 65."`
	Prep     text  `placeholder:"PREPARATION" help:"worsted, semi or woollen. Without it: as recorded."`
	Plies    whole `default:"0" placeholder:"N" help:"Number of strands, 2 to 4. Without it: as the project has it."`
	Data     text  `placeholder:"FOLDER" help:"Folder of the journal. Default: WAKETWIST_DATA, else your user data folder."`
	JSON     bool  `help:"Print one JSON object."`
}

// Help is the long help.
func (forecastCmd) Help() string {
	return `What skein will these bobbins make? From everything you have read so far this forecasts the washed yarn: its angle, whether it hangs open or turns, and what the wash does to length and thickness, each with its 90 % interval. Change the rest, the air, the angle or the preparation to see what follows.

    waketwist forecast 3 --ply-angle 33
    waketwist forecast "Lap rug" --rest "10 days" --json`
}

// Run prints the washed skein that follows.
func (c *forecastCmd) Run(a *app) error {
	ask, err := c.ask()
	if err != nil {
		return err
	}
	var projects []journal.Project
	err = inJournal(a, c.Data, func(store journal.Store) error {
		projects, err = store.Projects(a)
		return err
	})
	if err != nil {
		return err
	}
	p, err := job.Named(projects, string(c.Project), "project", projectKey)
	if err != nil {
		return err
	}
	return c.answer(a, projects, *p, ask)
}

func (c *forecastCmd) answer(a *app, projects []journal.Project, p journal.Project, ask job.Ask) error {
	known, err := hand.Fit(job.RecordFor(p, projects))
	if err != nil {
		return err
	}
	f, err := job.Forecast(known, p, ask, time.Now())
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(a.Stdout, foretold(p, f))
	}
	_, err = fmt.Fprintln(a.Stdout, forecastProse(p, f))
	return err
}

// ask reads the flags.
func (c *forecastCmd) ask() (a job.Ask, err error) {
	if c.PlyAngle != "" {
		angle, err := unit.ParseAngle(string(c.PlyAngle))
		if err != nil {
			return a, misused("--ply-angle: %v", err)
		}
		a.Angle = &angle
	}
	if c.Rest != "" {
		rested, err := unit.ParseDuration(string(c.Rest))
		if err != nil {
			return a, misused("--rest: %v", err)
		}
		a.Rested = &rested
	}
	if c.Humidity != "" {
		rh, err := unit.ParseNumber(strings.TrimSuffix(string(c.Humidity), "%"))
		if err != nil || !(rh >= 0 && rh <= 100) {
			return a, misused("--humidity: “%s” is not a relative humidity; give 0 to 100", c.Humidity)
		}
		humidity := rest.Humidity(rh)
		a.Humidity = &humidity
	}
	if c.Prep != "" {
		prep, err := finish.ParsePreparation(string(c.Prep))
		if err != nil {
			return a, misused("--prep: %v", err)
		}
		a.Prepared = &prep
	}
	if c.Plies != 0 {
		if err := inRange("--plies", float64(c.Plies), 2, 4); err != nil {
			return a, err
		}
		a.Strands = int(c.Plies)
	}
	return a, nil
}

// forecast is the answer, as JSON.
type forecast struct {
	Project   string    `json:"project"`
	Line      string    `json:"line"`
	Wheel     *interval `json:"wheel_angle_deg"`
	Look      *interval `json:"wheel_look_deg"`
	Target    *interval `json:"target_angle_deg"`
	Washed    *interval `json:"washed_angle_deg"`
	Balance   *interval `json:"washed_balance_deg"`
	DryLook   *interval `json:"dry_look_deg"`
	Dormant   *interval `json:"dormant_share"`
	Verdict   string    `json:"verdict"`
	Excess    *interval `json:"excess_turns_share"`
	Over      float64   `json:"probability_over_plied"`
	Under     float64   `json:"probability_under_plied"`
	Hangs     *string   `json:"hangs"`
	HalfTurns *interval `json:"half_turns"`
	Length    *interval `json:"length_factor"`
	Diameter  *interval `json:"diameter_factor"`
	Grist     *interval `json:"grist_factor"`
	Basis     string    `json:"basis"`
	Flags     []string  `json:"flags"`
}

func foretold(p journal.Project, f *hand.Forecast) forecast {
	out := forecast{
		Project: p.Name, Line: f.Line.String(),
		Wheel: intervalOf(f.Wheel, unit.Degree, 2), Look: intervalOf(f.WheelLook, unit.Degree, 2), Target: intervalOf(f.Target, unit.Degree, 2),
		Washed: intervalOf(f.Washed, unit.Degree, 2), Balance: intervalOf(f.WashedBalance, unit.Degree, 2), DryLook: intervalOf(f.DryLook, unit.Degree, 2),
		Dormant: intervalOf(f.Dormant, 1, 4), Verdict: f.Verdict.String(), Excess: intervalOf(f.Excess, 1, 4),
		Over: round(float64(f.Over), 3), Under: round(float64(f.Under), 3),
		Length: intervalOf(f.Length, 1, 4), Diameter: intervalOf(f.Diameter, 1, 4), Grist: intervalOf(f.Grist, 1, 4),
		Basis: "modelled", Flags: []string{},
	}
	if d := f.Hangs.String(); d != "" {
		out.Hangs = &d
	}
	if f.HalfTurns != nil {
		out.HalfTurns = intervalOf(*f.HalfTurns, 1, 1)
	}
	for _, flag := range f.Flags {
		out.Flags = append(out.Flags, string(flag))
	}
	return out
}

func forecastProse(p journal.Project, f *hand.Forecast) string {
	deg := func(e estimate.Estimate[unit.Angle]) string {
		if e.High == e.Low {
			return fmt.Sprintf("%.1f°", e.Value.Degrees())
		}
		return fmt.Sprintf("%.0f° (%.0f° to %.0f°)", e.Value.Degrees(), e.Low.Degrees(), e.High.Degrees())
	}
	paragraphs := []string{
		fmt.Sprintf("%s, plied to %s at the wheel, dry, read at the %s: the likeliest verdict on the washed skein is %s (over-plied %.0f %%, under-plied %.0f %% of the time).",
			p.Name, deg(f.Wheel), f.Line, f.Verdict, 100*f.Over, 100*f.Under),
		fmt.Sprintf("Washed and dried it shows %s and would rest at %s. The look at the wheel that washes into balance is %s; the dry look of the rested singles would suggest %s.",
			deg(f.Washed), deg(f.WashedBalance), deg(f.WheelLook), deg(f.DryLook)),
		fmt.Sprintf("Asleep in the singles: %.0f %% (%.0f to %.0f %%). In the wash the length goes to %.0f %% (%.0f to %.0f %%) and the thickness to %.0f %% (%.0f to %.0f %%).",
			100*f.Dormant.Value, 100*f.Dormant.Low, 100*f.Dormant.High, 100*f.Length.Value, 100*f.Length.Low, 100*f.Length.High,
			100*f.Diameter.Value, 100*f.Diameter.Low, 100*f.Diameter.High),
		"All of it is modelled; ranges hold nine times in ten.",
	}
	for _, flag := range f.Flags {
		if flag != estimate.Modelled {
			paragraphs = append(paragraphs, job.FlagSentence(flag))
		}
	}
	for i, text := range paragraphs {
		paragraphs[i] = folded(text, 72)
	}
	return strings.Join(paragraphs, "\n\n")
}
