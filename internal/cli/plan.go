package cli

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"waketwist/internal/job"
	"waketwist/plan"
)

type planCmd struct {
	File   text `arg:"" optional:"" help:"The plan, a TOML file; “-” reads it from standard input."`
	Kept   text `placeholder:"NAME" help:"A plan kept in the journal, by its number or a part of its name, in place of a file."`
	Learnt bool `help:"Take losses, pace and the weighings of the plan's project from your journal, and set the need against its stash."`
	Data   text `placeholder:"FOLDER" help:"Folder of the journal. Default: WAKETWIST_DATA, else your user data folder."`
	Fields bool `help:"List the fields that a plan may have, with an example of each."`
	JSON   bool `help:"Print one JSON object."`

	Print text `placeholder:"FILE" help:"Write the plan as a PDF to print and hang beside the wheel."`
	Paper text `placeholder:"PAPER" help:"The paper to print on: a4 or letter. Without it, a4."`
	Title text `help:"The title of the sheet. Without it, the name of the plan."`
}

// Help is the long help.
func (planCmd) Help() string {
	return `From the cloth that you want back to yarn, singles, fibre, bobbins, hours and treadles; from what is in hand forwards to what it makes; or from the middle, wherever you stand. Each value has the interval that holds it nine times in ten, and the plan says what makes it wide.

Every value stands in quotes with its unit, inches and metric as you like. One value fixes a link of the chain; two, as in “5-15%” or “90 to 110 g”, leave it between them. Any link may be fixed and any left out: what is left out is solved for, else taken from common practice. Where wishes contradict each other the plan says so, and what each would become if you let it go; the exit code is then 1.

    [cloth]                    # or [knit], or neither for yarn alone
    width = "18 in"            # finished
    length = "40 in"           # without it: as much as what is in hand makes
    weave = "2/2-twill"        # or a drawdown in lines of X and .
    shafts = 4
    sett = "12/in"             # without it: the working sett
    draw-in = "5-10%"          # take-up, shrink, waste, fringe, picks, spare
    shrink = "8-15%"           # both ways; shrink-width, shrink-length

    [yarn]
    grist = "1500 to 1700 yd/lb"   # washed; or wraps = "14 wpi"
    plies = 2
    angle = "24 to 28 deg"     # of the ply, re-wet, on the centre line
    direction = "S"            # of the ply
    preparation = "worsted"
    wash-loss = "5-10%"        # ply-take-up: without it from the angle

    [singles]                  # grist, diameter, twist, angle, where you know them
    bobbins = ["92 g", "88 g"] # in hand

    [fibre]
    spinning = "2-5%"          # sampling, preparing, scouring
    in-hand = "350 g"
    from = "prepared"          # as it is bought: raw, scoured or prepared
    breed = "Romney"           # or fineness = "33 µm"

    [work]
    bobbin = "90 to 110 g"     # that one holds
    pace = "80 to 120 m/h"     # ply-pace; time = "30 h" in hand
    ratio = ["8:1", "12:1"]    # the whorls that you own; or machine = "its name"
    draw = "24 in"

    [weighed]                  # in the middle of the work: will it suffice?
    prepared = "260 g"         # when the spinning began
    left = "120 g"
    spun = "130 g"

With --print the plan is a sheet to hang beside wheel and loom: a PDF, of two pages as a rule, with the settings large, the weave drawn, lists to tick and lines to write on. A file that is no such sheet is never written over.

A knitted fabric is known by a washed swatch:

    [knit]
    width = "20 cm"            # of one piece
    length = "48 cm"
    pieces = 2
    swatch = "10 cm, 10 cm"
    swatch-mass = "3.8 to 4.2 g"

    waketwist plan cushion.toml
    waketwist plan cushion.toml --print cushion.pdf --paper letter
    waketwist plan - --json < cushion.toml
    waketwist plan --kept "tea cosy" --learnt
    waketwist plan --fields`
}

// Run prints the plan.
func (c *planCmd) Run(a *app) error {
	if c.Fields {
		return listFields(a.Stdout)
	}
	if c.Print == "" && (c.Paper != "" || c.Title != "") {
		return misused("--paper and --title are for a printed plan; name its file with --print")
	}
	if (c.File == "") == (c.Kept == "") {
		return misused("no plan was given, or two; name its file, “-” for standard input, or --kept; see “waketwist plan --help”")
	}
	ask, err := c.ask(a)
	if err != nil {
		return err
	}
	r, err := plan.Solve(ask.wish)
	if err != nil {
		return misused("%v", err)
	}
	outlook, err := r.Outlook()
	if err != nil {
		return misused("%v", err)
	}
	if err := c.answer(a, ask, r, outlook); err != nil {
		return err
	}
	for _, conflict := range r.Conflicts {
		return words(conflict.Problem + " " + conflict.Drop)
	}
	return nil
}

// answer prints the plan, whether it contradicts itself or not.
func (c *planCmd) answer(a *app, ask planAsk, r *plan.Result, outlook *plan.Outlook) error {
	stash := job.AgainstStash(r, ask.stash)
	if c.Print != "" {
		if err := c.printTo(ask, r, outlook, job.SayStash(stash)); err != nil {
			return err
		}
	}
	switch {
	case c.JSON:
		return writeJSON(a.Stdout, planJSON(r, outlook, stash))
	case c.Print != "":
		_, err := fmt.Fprintf(a.Stdout, "The plan is printed to %s.\n", c.Print)
		return err
	}
	return planProse(a.Stdout, r, outlook, stash)
}

// listFields lists what a plan may hold.
func listFields(w io.Writer) error {
	part := ""
	for _, f := range plan.Fields() {
		head, name, _ := strings.Cut(f.Key, ".")
		if head != part {
			part = head
			fmt.Fprintf(w, "[%s]\n", part)
		}
		example := f.Example
		if f.Choices != nil {
			example = strings.Join(f.Choices[1:], ", ")
		}
		if _, err := fmt.Fprintf(w, "  %-16s %s: %s\n", name, f.Name, example); err != nil {
			return err
		}
	}
	return nil
}

func planProse(w io.Writer, r *plan.Result, o *plan.Outlook, stash []job.Against) error {
	var parts []string
	for _, c := range r.Conflicts {
		parts = append(parts, folded(c.Problem+" "+c.Drop, 72))
	}
	if o != nil {
		parts = append(parts, folded(o.Say(), 72))
	}
	parts = append(parts, folded("Each range holds its value nine times in ten. What follows from your wishes is modelled, and measured by nobody yet.", 72))
	parts = append(parts, sayLines(r.Lines())...)
	parts = append(parts, sayHand(r)...)
	parts = append(parts, listed("In the stash", job.SayStash(stash)))
	for _, b := range r.Width {
		parts = append(parts, sayWidth(b))
	}
	parts = append(parts, sayList("Taken from common practice, or assumed, as the plan leaves it open: ", r.Assumed()),
		sayList("Taught by your own readings: ", r.Taught()))
	for _, note := range r.Notes {
		parts = append(parts, folded(note, 72))
	}
	parts = append(parts, listed("To have", r.Shopping()), listed("To do", r.ToDo()))
	parts = slices.DeleteFunc(parts, func(p string) bool { return p == "" })
	_, err := fmt.Fprintln(w, strings.Join(parts, "\n\n"))
	return err
}

// sayLines gives each part of the chain a heading, and each line its sentence.
func sayLines(lines []plan.Line) (out []string) {
	var part plan.Part
	for _, l := range lines {
		said := planItem(sayLine(l))
		if l.Part != part {
			part = l.Part
			out = append(out, string(part)+"\n"+said)
			continue
		}
		out[len(out)-1] += "\n" + said
	}
	return out
}

func sayLine(l plan.Line) string {
	value := l.Text
	if l.Range != "" {
		value += ", from " + l.Range
	}
	if l.State != "" && !strings.Contains(l.Name, l.State) {
		value += ", " + l.State
	}
	return fmt.Sprintf("%s: %s. %s", l.Name, value, l.Why)
}

// sayHand says what the stock in hand is good for.
func sayHand(r *plan.Result) (out []string) {
	for _, s := range r.Stocks {
		out = append(out, folded(s.Say(r.FromHand), 72))
	}
	if lines := r.MadeLines(); len(lines) > 0 {
		said := "From what is in hand"
		for _, l := range lines {
			said += "\n" + planItem(sayLine(l))
		}
		out = append(out, said)
	}
	return out
}

// planItem folds a line of the plan, all of it two in and what is folded four.
func planItem(s string) string {
	return "  " + strings.ReplaceAll(folded(s, 68), "\n", "\n    ")
}

func sayWidth(b plan.Blame) string {
	said := make([]string, len(b.Of))
	for i, a := range b.Of {
		said[i] = fmt.Sprintf("%s (%.0f %%; to narrow it, %s)", a.Name, 100*a.Share, a.Narrow)
	}
	return folded(fmt.Sprintf("What makes the interval wide (%s): %s.", b.Total, strings.Join(said, ", ")), 72)
}

func sayList(head string, list []string) string {
	if len(list) == 0 {
		return ""
	}
	return folded(head+strings.Join(list, "; ")+".", 72)
}

func listed(title string, items []string) string {
	if len(items) == 0 {
		return ""
	}
	out := title
	for _, item := range items {
		out += "\n" + planItem(item)
	}
	return out
}
