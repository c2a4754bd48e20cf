package cli

import (
	"fmt"
	"math"
	"strings"
	"text/tabwriter"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

const caution = "Cool water only, hot water can set the twist as it lies; and keep bowl, wet yarn and wet hands away from motors, chargers and sockets."

// width of the lines of prose, for reading at arm's length.
const proseWidth = 66

// prose is the answer for a spinner: what to hold in the first line, the
// figures, then what to know about them.
func (w woken) prose() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n", w.headline())
	fmt.Fprintf(&b, "%s\n\n%s\n", folded(w.meaning(), proseWidth), w.figures())
	for _, paragraph := range w.paragraphs() {
		fmt.Fprintf(&b, "%s\n\n", folded(paragraph, proseWidth))
	}
	fmt.Fprintln(&b, folded(caution, proseWidth))
	return b.String()
}

func (w woken) headline() string {
	direction := ""
	if w.Direction != yarn.NoDirection {
		direction = " " + w.Direction.String()
	}
	return fmt.Sprintf("PLY%s TO %.0f° RE-WET", direction, w.Target.Value.Degrees())
}

// meaning says what the target is, of what ply, and whether it is measured.
func (w woken) meaning() string {
	ply := fmt.Sprintf("%d strands", w.plan.Strands)
	if w.plan.Chain {
		ply = "chain-plied, 3 strands"
	}
	switch o := w.plan.Offset; {
	case o > 0:
		ply += fmt.Sprintf(", %.3g %% more turns than balance", 100*o)
	case o < 0:
		ply += fmt.Sprintf(", %.3g %% fewer turns than balance", -100*o)
	default:
		ply += ", in balance"
	}
	s := fmt.Sprintf("A wet piece of the ply (%s) must show this angle at the %s, as your soaked sample did; the true balance of the whole bobbin lies between %.0f° and %.0f° nine times in ten.",
		ply, w.Line, w.Target.Low.Degrees(), w.Target.High.Degrees())
	switch {
	case w.Target.Measured():
		return s + " It is measured: the soaked sample is itself the balanced ply."
	case w.plan.Strands == 2 && w.Flags.Has(rest.ShortSoak):
		return s + " It is modelled: what the short soak left asleep is reckoned in."
	case w.plan.Strands == 2:
		return s + " It is modelled: your sample was read dried, and the damp ply is reckoned from it."
	}
	return s + " It is modelled: your sample has 2 strands, and the mechanics of balance lead from there to this ply."
}

// figures is the table of what follows from the target.
func (w woken) figures() string {
	var b strings.Builder
	t := tabwriter.NewWriter(&b, 0, 0, 3, ' ', 0)
	row := func(label, format string, value, low, high float64, basis string) {
		fmt.Fprintf(t, "  %s\t"+format+"\t"+format+" to "+format+"\t%s\n", label, value, low, high, basis)
	}
	angle := func(label string, e estimate.Estimate[unit.Angle]) {
		row(label, "%.0f°", e.Value.Degrees(), e.Low.Degrees(), e.High.Degrees(), basis(e))
	}
	angle("held re-wet", w.Target)
	angle("washed and dried", w.Washed)
	angle("look at the wheel", w.WheelLook)
	if u := w.Turns; u != nil {
		const inch = yarn.PlyTwist(unit.TurnPerInch)
		row("turns per metre of ply", "%.0f", float64(u.Value), float64(u.Low), float64(u.High), basis(*u))
		row("turns per inch of ply", "%.1f", float64(u.Value/inch), float64(u.Low/inch), float64(u.High/inch), basis(*u))
	}
	if w.Dormant != nil {
		angle("dry look of the singles' ply-back", *w.DryLook)
		row("dormant share of the twist", "%.0f %%", 100*float64(w.Dormant.Value), 100*float64(w.Dormant.Low), 100*float64(w.Dormant.High), basis(*w.Dormant))
	}
	t.Flush()
	return b.String()
}

// paragraphs are what to know about the figures, each its own.
func (w woken) paragraphs() (out []string) {
	if w.TurnShare != nil {
		out = append(out, fmt.Sprintf("Plied to the dry look it would get %.0f %% of the turns it needs, per length of ply.", 100*float64(w.TurnShare.Value)))
	}
	if w.wanted != nil {
		out = append(out, w.backwards())
	}
	if n := w.Next; n != nil {
		out = append(out, fmt.Sprintf("Next clip: a wet sample from %s would narrow the interval most, from %.0f° to about %.0f° wide.",
			journal.DepthWords(n.Depth), n.Now.Degrees(), n.Then.Degrees()))
	}
	for _, s := range w.photos {
		out = append(out, fmt.Sprintf("%s (%s): %s", s.photo, stateOf(s.state), s.prose()))
	}
	for _, f := range w.Flags {
		if f != estimate.Modelled { // the table says so, row by row
			out = append(out, job.FlagSentence(f))
		}
	}
	return out
}

// backwards says what twist the singles need for the wanted ply.
func (w woken) backwards() string {
	share := w.retwist.Share
	sign, lack, way, verb := rest.Share(1), "little", "the way it was spun", "adding"
	low, high := share.Low, share.High
	if share.Value < 0 {
		sign, lack, way, verb = -1, "much", "against the way it was spun", "taking out"
		low, high = -share.High, -share.Low
	}
	if low < 0 {
		return fmt.Sprintf("For a ply of %.0f° re-wet the twist of these singles is about right: the change needed, %+.0f %%, cannot be told from none (%+.0f %% to %+.0f %%).",
			w.wanted.Degrees(), 100*share.Value, 100*share.Low, 100*share.High)
	}
	s := fmt.Sprintf("For a ply of %.0f° re-wet these singles have too %s twist. Before plying, run the bobbin through again %s, %s %.0f %% of its living turns (%.0f %% to %.0f %%)",
		w.wanted.Degrees(), lack, way, verb, 100*sign*share.Value, 100*low, 100*high)
	if u := w.retwist.Turns; u != nil {
		turns := unit.Twist(math.Abs(float64(u.Value)))
		s += fmt.Sprintf(", %s of singles", turns)
	}
	return s + ". Modelled."
}
