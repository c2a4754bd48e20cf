package cli

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
)

// settProse prints the answer for reading.
func settProse(w io.Writer, s *settAnswer) error {
	parts := []string{s.sayWeave(), s.saySett(), s.sayOthers(), s.sayReed()}
	if s.needs != nil {
		parts = append(parts, s.pieceTable(), s.sayPiece())
	}
	parts = append(parts, s.sayLoad(), s.sayTwist(), s.sayTrial(), s.sayGround())
	var kept []string
	for _, p := range parts {
		switch {
		case strings.Contains(p, "\n"):
			kept = append(kept, strings.TrimRight(p, "\n"))
		case p != "":
			kept = append(kept, folded(p, 72))
		}
	}
	_, err := fmt.Fprintln(w, strings.Join(kept, "\n\n"))
	return err
}

func (s *settAnswer) sayWeave() string {
	x := s.weave.Intersections()
	return fmt.Sprintf("%s: %d ends and %d picks in a repeat, on %d shafts or more; each pick changes from one face to the other %s times in it.",
		upperFirst(s.weave.Family().String()), s.weave.Ends(), s.weave.Picks(), s.weave.Shafts(), figure(x.PerPick))
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// figure prints a number to a tenth, without one where it is whole.
func figure(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") }

// bothDensities prints threads in both systems.
func bothDensities[S cloth.State](d cloth.Density[S]) string {
	return fmt.Sprintf("%s/in (%s/cm)", figure(d.PerInch()), figure(d.PerCentimetre()))
}

func densityRange(e estimate.Estimate[cloth.Density[cloth.OnLoom]]) string {
	return fmt.Sprintf("%s ends/in (%s to %s), that is %s/cm (%s to %s)",
		figure(e.Value.PerInch()), figure(e.Low.PerInch()), figure(e.High.PerInch()),
		figure(e.Value.PerCentimetre()), figure(e.Low.PerCentimetre()), figure(e.High.PerCentimetre()))
}

func (s *settAnswer) saySett() string {
	how := "From its weight, %s diameters of the yarn lie in an inch where they touch (%s to %s), each %s. "
	if s.yarn == nil {
		how = "From its wraps, %s diameters of the yarn lie in an inch where they touch (%s to %s), each %s: a wrap is wider than a diameter, and how much wider is hardly known until the yarn is weighed. "
	}
	d := s.sett.Diameters
	return fmt.Sprintf(how, figure(d.Value.PerInch()), figure(d.Low.PerInch()), figure(d.High.PerInch()), d.Value.Contact()) +
		fmt.Sprintf("The closest sett is %s. Working sett, three quarters of it: %s.", densityRange(s.sett.Closest), densityRange(s.sett.Working))
}

// sayOthers gives what the other ways say, and the cover.
func (s *settAnswer) sayOthers() string {
	var out []string
	if s.factor != nil {
		out = append(out, fmt.Sprintf("By wraps alone the working sett would be %s. A wrap of this yarn holds %.2f contact diameters (%.2f to %.2f), and %.2f of its room is fibre; your other yarns of this hand may be alike.",
			densityRange(s.byWraps.Working), s.factor.Value, s.factor.Low, s.factor.High, s.packing))
	}
	if s.brierley != nil {
		out = append(out, fmt.Sprintf("Brierley's formula puts the closest sett at %s ends/in (%s to %s).",
			figure(s.brierley.Value.PerInch()), figure(s.brierley.Low.PerInch()), figure(s.brierley.High.PerInch())))
	}
	which := "At the working sett"
	if s.chosen {
		which = "At " + bothDensities(s.ends)
		if s.ends > s.sett.Closest.Value {
			out = append(out, which+" the ends are closer than the weave has room for; set them wider, or let them float more.")
		}
	}
	if s.picks > cloth.Density[cloth.OffLoom](cloth.ClosestPicks(s.sett.Diameters.Value, s.weave)) {
		out = append(out, "The picks are closer than the weave has room for.")
	}
	cover := fmt.Sprintf("%s and with %s picks, yarn covers %.0f %% of the face.", which, bothDensities(s.picks), 100*s.covered())
	if s.yarn != nil {
		cover += fmt.Sprintf(" The warp's cover factor is %.1f (SI %.1f) of the %.1f at which this yarn touches.", s.warpCover, s.warpCover.SI(),
			cloth.TouchingCover(cloth.VolumeOf(*s.yarn, s.sett.Diameters.Value.Contact())))
		if s.weave.Family() == cloth.Plain {
			weft := cloth.CoverOf(s.picks, *s.yarn)
			cover += fmt.Sprintf(" With the weft's %.1f that is %s, as cotton is graded; wool comes to each grade earlier.", weft, cloth.TightnessOf(s.warpCover, weft))
		}
	}
	return strings.Join(append(out, cover), " ")
}

func (s *settAnswer) sayReed() string {
	if s.sley == nil {
		return ""
	}
	order := make([]string, len(s.sley.Order))
	for i, n := range s.sley.Order {
		order[i] = fmt.Sprint(n)
	}
	out := fmt.Sprintf("Through the reed: %s in a dent, over and over, for %s.", strings.Join(order, ", "), bothDensities(s.sley.Sett))
	if off := 100 * float64(s.sley.Off); off > 0.5 || off < -0.5 {
		word := "closer"
		if off < 0 {
			word, off = "wider", -off
		}
		out += fmt.Sprintf(" That is %.0f %% %s than asked for.", off, word)
	}
	return out
}

// pieceTable lists what the piece takes, each with its interval.
func (s *settAnswer) pieceTable() string {
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 3, ' ', 0)
	n := s.needs
	for _, row := range []struct {
		what string
		e    estimate.Estimate[unit.Length]
	}{
		{"Width in the reed", n.ReedWidth}, {"Width off the loom", n.WidthOffLoom},
		{"Woven, on the loom", n.WovenOnLoom}, {"Woven, off the loom", n.WovenOffLoom}, {"Each end of the warp", n.WarpLength},
		{"Warp yarn", n.Warp}, {"Weft yarn", n.Weft}, {"Both", n.Yarn}, {"With a tenth to spare", n.Spared},
	} {
		fmt.Fprintf(w, "  %s\t%s\t%s\n", row.what, row.e.Value, lengthRange(row.e))
	}
	if s.yarn != nil {
		at := func(l unit.Length) unit.Mass { return s.yarn.MassOf(l) }
		low, high := at(n.Spared.Low), at(n.Spared.High)
		fmt.Fprintf(w, "  Its mass\t%s\t%s\t%s\n", at(n.Spared.Value), span(low.Metric(), high.Metric()), span(low.InchPound(), high.InchPound()))
	}
	w.Flush() // to a strings.Builder, which cannot fail
	return b.String()
}

// lengthRange is an interval in both systems of units, a column each.
func lengthRange(e estimate.Estimate[unit.Length]) string {
	if e.High-e.Low < 1e-9*e.Value {
		return ""
	}
	return span(e.Low.Metric(), e.High.Metric()) + "\t" + span(e.Low.InchPound(), e.High.InchPound())
}

// span says a unit once where both ends have it.
func span(low, high string) string {
	if number, of, found := strings.Cut(low, " "); found && strings.HasSuffix(high, " "+of) {
		low = number
	}
	return low + " to " + high
}

func (s *settAnswer) sayPiece() string {
	n := s.needs.Middle
	out := fmt.Sprintf("%d ends and %d picks", n.Ends, n.Picks)
	if s.sley != nil {
		out += fmt.Sprintf(", in %d dents", s.sley.Dents(n.Ends))
	}
	out += fmt.Sprintf(". Washed, it lies at %s ends and %s picks", bothDensities(s.washed.ends), bothDensities(s.washed.picks))
	if s.yarn != nil {
		out += " and weighs about " + s.washed.mass.String()
	}
	out += fmt.Sprintf(". From loom to finished it loses %.0f %% of its width and %.0f %% of its length", 100*s.washed.narrower, 100*s.washed.shorter)
	out += ". Picks are counted off the loom, and every loss is divided out, not added."
	if s.spin != nil {
		out += " " + s.spin.say()
	}
	return out
}

func (p *unwashed) say() string {
	out := fmt.Sprintf("Before its own wash the yarn is %s", p.plied)
	if p.grist > 0 {
		out += fmt.Sprintf(" at %s", p.grist)
	}
	if p.strands > 1 {
		return out + fmt.Sprintf(", from %s of singles in all.", p.singles)
	}
	return out + "."
}

func (s *settAnswer) sayLoad() string {
	if s.load == nil {
		return ""
	}
	l := s.load
	out := fmt.Sprintf("Each of %d ends bears %s. It would break at %.1f times that (%.1f to %.1f), and at %.1f times (%.1f to %.1f) what it bears when the shed opens, taken to be three times as much.",
		s.loadEnds, l.PerEnd, l.Steady.Value, l.Steady.Low, l.Steady.High, l.AtPeak.Value, l.AtPeak.Low, l.AtPeak.High)
	switch {
	case l.AtPeak.Value < 1:
		return out + " Ends will break: slacken the warp, size it, or ply the yarn."
	case l.AtPeak.Low < 1:
		return out + " The weakest ends may break: slacken the warp or size it. Rubbing in reed and heddles comes on top."
	}
	return out + " Rubbing in reed and heddles comes on top."
}

func (s *settAnswer) sayTwist() string {
	t := s.tracking
	out := fmt.Sprintf("Tracking, crinkled lines once washed: the risk is %s.", t.Most)
	if !s.known {
		out = fmt.Sprintf("Tracking, crinkled lines once washed: the risk is %s where the yarn is balanced, %s where its twist is as lively as that of singles; --residual settles it.", t.Least, t.Most)
	}
	if t.Open && t.Most == cloth.HighRisk {
		out += " A closer sett, a twill or stripes hide it."
	}
	if s.arranged != nil {
		out += " " + s.arranged.Note()
	}
	return out
}

func (s *settAnswer) sayTrial() string {
	setts := make([]string, len(s.trial.Setts))
	for i, d := range s.trial.Setts {
		setts[i] = bothDensities(d)
	}
	side := s.trial.Side
	if len(setts) == 1 {
		return fmt.Sprintf("Weave a sample of %s square first. Measure it on the loom, off it, and washed; divide by what is left.", side)
	}
	return fmt.Sprintf("Weave a sample of %s square first at each of %s. Measure it on the loom, off it, and washed, and give what you read with --sample-width and --sample-length.", side, strings.Join(setts, ", "))
}

// sayGround says what the numbers rest on.
func (s *settAnswer) sayGround() string {
	out := "Modelled; ranges hold nine times in ten."
	flags := s.flags()
	for _, f := range []struct {
		flag estimate.Flag
		says string
	}{
		{cloth.CommonPractice, "The rules are common practice."},
		{cloth.Assumed, "How far each may be off is assumed; a loss given as one number is taken to be right to three tenths of it."},
		{cloth.FromMemory, "Brierley's constants for wool, and the threefold load, are from memory."},
		{cloth.UnevenRows, "Picks pass unequally often here: the busiest have less room than the mean says, so begin wider."},
		{estimate.Extrapolated, "Taylor's rule is stretched beyond the fine cotton that it was made for."},
	} {
		if flags.Has(f.flag) {
			out += " " + f.says
		}
	}
	return out
}
