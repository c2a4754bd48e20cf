package cli

import (
	"fmt"
	"math"
	"strings"
	"text/tabwriter"

	"waketwist/unit"
	"waketwist/yarn"
)

// prose is the ply for a spinner: the whole, strand by strand, and what to know.
func (l *laid) prose() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n%s\n", folded(l.whole(), proseWidth), l.table())
	for _, paragraph := range l.remarks() {
		fmt.Fprintf(&b, "%s\n\n", folded(paragraph, proseWidth))
	}
	fmt.Fprintln(&b, folded(l.basis(), proseWidth))
	return b.String()
}

// whole says what ply it is and what it does when let go.
func (l *laid) whole() string {
	switch {
	case l.core > 0:
		return l.roundCore()
	case l.turns != nil:
		return fmt.Sprintf("Held at %s, these %d strands make %s, %s thick.%s%s",
			unit.Twist(l.ply.Turns), len(l.spun), named(l.direction, "ply"), l.ply.Envelope, stateSentence(l.ply), l.letGo())
	case l.ply.State == yarn.Unplied:
		return fmt.Sprintf("These %d strands stay unplied: nothing turns them about each other.", len(l.spun))
	}
	how := "come to rest as"
	if stateOfPly(l.ply) == comesLoose {
		how = "make, laid as close as they can be,"
	}
	return fmt.Sprintf("These %d strands %s %s of %s, %s thick.%s%s",
		len(l.spun), how, named(l.direction, "ply"), unit.Twist(l.ply.Turns), l.ply.Envelope, stateSentence(l.ply), l.letGo())
}

// named is a ply or cable with its direction.
func named(d yarn.Direction, what string) string {
	switch d {
	case yarn.S:
		return "an S " + what
	case yarn.Z:
		return "a Z " + what
	}
	return "a " + what
}

func stateSentence(p yarn.Ply) string {
	if stateOfPly(p) == comesLoose {
		return " It comes loose: a strand has more length than the others can hold, and stands off in loops."
	}
	if p.State == yarn.Locked {
		return " It is locked: the strands lie so steep that a further turn takes no more twist out of them."
	}
	return ""
}

// letGo says which way the ply would turn.
func (l *laid) letGo() string {
	share, ok := l.pull()
	switch {
	case !ok && l.ply.Torque < 0:
		return " Let go, it would turn back: its strands have no twist awake."
	case !ok, share == 0 && l.turns == nil:
		return ""
	case share == 0:
		return " Let go, it turns neither way."
	}
	way, towards := "on with the ply", l.ply.Torque.Turning(l.direction)
	if share < 0 {
		way = "back against the ply"
	}
	s := fmt.Sprintf(" Let go, it would turn %s", way)
	if towards != yarn.NoDirection {
		s += fmt.Sprintf(", towards %s", towards)
	}
	s += fmt.Sprintf(", with %.2g times the torque with which its liveliest strand untwists by itself", math.Abs(share))
	switch {
	case l.rest == nil:
		return s + "."
	case l.rest.State == yarn.Unplied:
		return s + "; it does not rest before it is unplied."
	}
	return s + fmt.Sprintf("; it rests at %s.", unit.Twist(l.rest.Turns))
}

func (l *laid) roundCore() string {
	s := fmt.Sprintf("At %s, %d strands round a straight core of %s make %s, %s thick.",
		unit.Twist(l.ply.Turns), len(l.spun), l.core.Metric(), named(l.direction, "ply"), l.ply.Envelope)
	if l.bears {
		return s + " The core bears them and keeps them apart."
	}
	return s + " The core lies in their hollow and changes nothing about how they lie."
}

// table is a line for each strand.
func (l *laid) table() string {
	var b strings.Builder
	t := tabwriter.NewWriter(&b, 0, 0, 3, ' ', 0)
	fmt.Fprintln(t, "  strand\tlies at\tfrom the axis\tin 1 m of ply\ttwist left")
	for i, s := range l.ply.Strands {
		loose := ""
		if s.Loose {
			loose = ", loose"
		}
		fmt.Fprintf(t, "  %d: %s, %.4g° %s\t%.1f°\t%.3f mm\t%.3f m%s\t%s\n",
			i+1, s.Diameter.Metric(), unit.Angle(l.spun[i].angle).Degrees(), l.spun[i].direction, s.Angle.Degrees(),
			s.HelixRadius.Millimetres(), float64(s.Share), loose, leftWords(l.left(i)))
	}
	t.Flush()
	return b.String()
}

// leftWords is twist in the direction in which it was spun, or the other way.
func leftWords(u unit.Twist) string {
	if u < 0 {
		return (-u).String() + " the other way"
	}
	return u.String()
}

// remarks are what else to know of this ply, each its own paragraph.
func (l *laid) remarks() (out []string) {
	if how := yarn.JudgePlying(l.direction, directions(l.spun)...); how == yarn.WithSingles || how == yarn.MixedSingles {
		words := how.String()
		out = append(out, strings.ToUpper(words[:1])+words[1:]+".")
	}
	if l.feed.Slips {
		out = append(out, "The strands share the length out as under equal tension.")
	}
	if l.core > 0 {
		out = append(out,
			"The core itself takes the turns of the ply: out of its own twist where it was spun against the ply, into it where it was spun with it.",
			"Not covered: where such a ply comes to rest, which way it turns when let go, and a core that bends or gives.")
	}
	if l.plies > 0 {
		out = append(out, l.cabling())
	}
	for _, s := range l.spun {
		if s.asleep > 0 {
			return append(out, "Water wakes what sleeps: for the washed ply ask again without the share asleep.")
		}
	}
	return out
}

func (l *laid) cabling() string {
	if l.cable.State == yarn.Unplied {
		return "These plies do not cable: they have no turns to spare. Put more turns into them than they rest at, with --turns."
	}
	one := l.cable.Strands[0]
	return fmt.Sprintf("%d of these plies, laid together the other way round, come to rest as %s of %s, %s thick.%s The plies lie in it at %.1f°, %.3f m of each in a metre, and keep %s. Roughly: each ply counts as a round rod.",
		l.plies, named(l.direction.Opposite(), "cable"), unit.Twist(l.cable.Turns), l.cable.Envelope, stateSentence(l.cable),
		one.Angle.Degrees(), float64(one.Share), l.pliesKeep())
}

// pliesKeep is what the cable leaves of the turns of its plies.
func (l *laid) pliesKeep() unit.Twist {
	return unit.Twist(yarn.TwistLeft(yarn.StrandTwist(l.ply.Turns), l.cable.Turns, l.cable.Strands[0].Angle))
}

func (l *laid) basis() string {
	s := "Modelled, for round strands that touch"
	if l.core == 0 {
		s += fmt.Sprintf(", a stiffness ratio of %v, and torsion that grows with the square of the thickness", l.k)
	}
	return s + ". The twist left counts all turns that were spun, awake or asleep, the ends held while plying."
}
