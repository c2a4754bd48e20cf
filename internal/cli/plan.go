package cli

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"waketwist/plan"
	"waketwist/unit"
)

type planCmd struct {
	File text `arg:"" help:"The plan, a TOML file; “-” reads it from standard input."`
	JSON bool `help:"Print one JSON object."`
}

// Help is the long help.
func (planCmd) Help() string {
	return `What a cloth, a knitted fabric or a length of yarn takes: yarn, singles, fibre, bobbins, hours and treadles, each with the interval that holds it nine times in ten, and what makes the interval wide. With fibre in hand it says what that makes.

Every value stands in quotes with its unit, inches and metric as you like. One value fixes a link of the chain; two, as in “5-15%” or “90 to 110 g”, leave it between them. What is left out is taken from common practice, or left out of the answer.

    [cloth]                    # or [knit], or length under [yarn]
    width = "18 in"            # finished
    length = "40 in"
    weave = "2/2-twill"
    shafts = 4
    sett = "12/in"             # without it: the working sett
    draw-in = "5-10%"          # take-up, shrink, waste, fringe, picks, spare
    shrink = "8-15%"

    [yarn]
    grist = "1500 to 1700 yd/lb"   # washed
    plies = 2
    angle = "24 to 28 deg"     # of the ply, re-wet, on the centre line
    direction = "S"            # of the ply
    preparation = "worsted"
    wash-loss = "5-10%"        # ply-take-up: without it from the angle

    [fibre]
    spinning = "2-5%"          # sampling, preparing, scouring
    in-hand = "350 g"

    [work]
    bobbin = "90 to 110 g"
    pace = "80 to 120 m/h"     # ply-pace
    ratio = "8:1"
    draw = "24 in"

    [leftovers]
    bobbins = ["60 g", "55 g", "49 g"]

A knitted fabric is known by a washed swatch:

    [knit]
    width = "100 cm"
    length = "60 cm"
    swatch = "10 cm, 10 cm"
    swatch-mass = "2.4 to 2.6 g"

    waketwist plan cushion.toml
    waketwist plan - --json < cushion.toml`
}

// Run prints the plan.
func (c *planCmd) Run(a *app) error {
	file, err := c.read(a.Stdin)
	if err != nil {
		return err
	}
	var left *plan.Leftover
	if file.Leftovers != nil {
		if left, err = file.Leftovers.ply(); err != nil {
			return err
		}
	}
	var result *plan.Result
	if file.Yarn != nil || file.Cloth != nil || file.Knit != nil || left == nil {
		wish, err := file.wish()
		if err != nil {
			return err
		}
		if result, err = plan.Solve(wish); err != nil {
			return misused("%v", err)
		}
	}
	if c.JSON {
		return writeJSON(a.Stdout, planJSON(result, left))
	}
	return planProse(a.Stdout, result, left)
}

func planProse(w io.Writer, r *plan.Result, left *plan.Leftover) error {
	var parts []string
	if r != nil {
		parts = append(sayConflicts(r), "Each range holds its value nine times in ten.")
		parts = append(parts, sayLines(r.Lines())...)
		parts = append(parts, sayWidth("fibre", r.FibreBlame), sayWidth("yarn", r.YarnBlame),
			sayAssumed(r.Assumed()), listed("To have", r.Shopping()), listed("To do", r.ToDo()))
	}
	if left != nil {
		parts = append(parts, folded(sayLeft(left), 72))
	}
	parts = slices.DeleteFunc(parts, func(p string) bool { return p == "" })
	_, err := fmt.Fprintln(w, strings.Join(parts, "\n\n"))
	return err
}

func sayConflicts(r *plan.Result) (out []string) {
	for _, c := range r.Conflicts {
		out = append(out, folded(c.Problem+" "+c.Drop, 72))
	}
	return out
}

// sayLines gives each part of the chain a heading, and each line its sentence.
func sayLines(lines []plan.Line) (out []string) {
	var part plan.Part
	for _, l := range lines {
		said := planItem(fmt.Sprintf("%s: %s. %s", l.Name, l.Text, l.Why))
		if l.Range != "" {
			said = planItem(fmt.Sprintf("%s: %s, from %s. %s", l.Name, l.Text, l.Range, l.Why))
		}
		if l.Part != part {
			part = l.Part
			out = append(out, string(part)+"\n"+said)
			continue
		}
		out[len(out)-1] += "\n" + said
	}
	return out
}

// planItem folds a line of the plan, all of it two in and what is folded four.
func planItem(s string) string {
	return "  " + strings.ReplaceAll(folded(s, 68), "\n", "\n    ")
}

func sayWidth(total string, blame []plan.Assumption) string {
	if len(blame) == 0 {
		return folded(fmt.Sprintf("What is known of the %s has no spread: every value is fixed.", total), 72)
	}
	said := make([]string, len(blame))
	for i, a := range blame {
		said[i] = fmt.Sprintf("%s (%.0f %%; to narrow it, %s)", a.Name, 100*a.Share, a.Narrow)
	}
	return folded(fmt.Sprintf("What makes the interval of the %s wide: %s.", total, strings.Join(said, ", ")), 72)
}

func sayAssumed(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return folded("Taken from common practice, or assumed, as the plan leaves it open: "+strings.Join(list, ", ")+".", 72)
}

func listed(title string, items []string) string {
	out := title
	for _, item := range items {
		out += "\n" + planItem(item)
	}
	return out
}

func sayLeft(l *plan.Leftover) string {
	left := make([]string, len(l.Left))
	for i, m := range l.Left {
		left[i] = grams(m)
	}
	return fmt.Sprintf("Plied straight, the bobbins use %s and leave %s. Shared out evenly before plying, each would hold %s, and nothing would be left.",
		grams(l.Used), strings.Join(left, ", "), grams(l.Even))
}

func grams(m unit.Mass) string {
	if m == 0 {
		return "nothing"
	}
	return m.String()
}
