package plan

import (
	"fmt"
	"math"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
)

// Line is one link of the chain in words.
type Line struct {
	Part  Part
	Key   string // a name with its unit, for programs
	Name  string
	Value float64 // these three in the unit of Key
	Low   float64
	High  float64
	Text  string // the value in both systems of units
	Range string // the same of the interval; empty where there is no spread
	Why   string // one sentence
}

// Part is a part of the chain.
type Part string

// The parts, from the top.
const (
	ClothPart   Part = "Cloth"
	YarnPart    Part = "Yarn"
	SinglesPart Part = "Singles"
	FibrePart   Part = "Fibre"
	WorkPart    Part = "Work"
	InHandPart  Part = "From what is in hand"
)

// value makes a line. said prints a value, and scale is the unit of the key.
func value[T ~float64](part Part, key, name string, e estimate.Estimate[T], scale T, said func(T) string, why string) Line {
	l := Line{Part: part, Key: key, Name: name, Value: float64(e.Value / scale), Low: float64(e.Low / scale), High: float64(e.High / scale), Text: said(e.Value), Why: why}
	if math.Abs(float64(e.High-e.Low)) > 1e-9*math.Abs(float64(e.Value)) {
		l.Range = said(e.Low) + " to " + said(e.High)
	}
	return l
}

func length(part Part, key, name string, e estimate.Estimate[unit.Length], why string) Line {
	return value(part, key+"_m", name, e, unit.Metre, unit.Length.String, why)
}

func mass(part Part, key, name string, e estimate.Estimate[unit.Mass], why string) Line {
	return value(part, key+"_g", name, e, unit.Gram, unit.Mass.String, why)
}

func grist(part Part, key, name string, e estimate.Estimate[unit.LinearDensity], why string) Line {
	return value(part, key+"_tex", name, e, unit.LinearDensity(unit.Tex), unit.LinearDensity.String, why)
}

func twist(part Part, key, name string, e estimate.Estimate[unit.Twist], why string) Line {
	return value(part, key+"_per_m", name, e, 1, unit.Twist.String, why)
}

func number[T ~float64](part Part, key, name, of string, e estimate.Estimate[T], why string) Line {
	said := func(v T) string {
		if v >= 100 {
			return fmt.Sprintf("%.0f%s", float64(v), of)
		}
		return fmt.Sprintf("%.3g%s", float64(v), of)
	}
	return value(part, key, name, e, 1, said, why)
}

// Lines returns the chain from cloth at the top to work at the bottom; what was
// not asked has no line.
func (out *Result) Lines() []Line {
	lines := out.clothLines()
	lines = append(lines, out.yarnLines()...)
	lines = append(lines, out.singlesLines()...)
	lines = append(lines, out.fibreLines()...)
	lines = append(lines, out.workLines()...)
	return append(lines, out.madeLines()...)
}

func (out *Result) clothLines() []Line {
	if out.Cloth == nil {
		return nil
	}
	o := out.Wish.Woven.Order
	sett := "It is as you wish it."
	if !out.SettWasGiven {
		sett = "It is three quarters of the closest that the weave has room for."
	}
	per := fmt.Sprintf("%d ends and %d picks at the middle of every range.", out.Cloth.Ends, out.Cloth.Picks)
	return []Line{
		length(ClothPart, "width", "Finished width", cloth.Exactly(o.Width), "It is as you wish it."),
		length(ClothPart, "length", "Finished length", cloth.Exactly(o.Length), "It is as you wish it."),
		density(ClothPart, "ends", "Ends", cloth.Exactly(o.Ends), sett),
		density(ClothPart, "picks", "Picks, off the loom", o.Picks, per),
		length(ClothPart, "reed_width", "Width in the reed", out.Reed, "The finished width, divided by what wash and draw-in leave of it."),
		length(ClothPart, "warp_length", "Each end of the warp", out.End, "The finished length, divided by what wash and take-up leave, and loom waste and fringe."),
		length(ClothPart, "warp", "Warp yarn", out.Warp, "As many ends as the reed takes, each of that length."),
		length(ClothPart, "weft", "Weft yarn", out.Weft, "As many picks as are woven, each as long as the reed is wide and the weft's crimp."),
	}
}

func density[S cloth.State](part Part, key, name string, e estimate.Estimate[cloth.Density[S]], why string) Line {
	said := func(d cloth.Density[S]) string {
		return fmt.Sprintf("%.3g/cm (%.3g/in)", d.PerCentimetre(), d.PerInch())
	}
	return value(part, key+"_per_cm", name, e, cloth.PerCentimetre[S](1), said, why)
}

func (out *Result) yarnLines() []Line {
	y := out.Wish.Yarn
	needed := "It is the length that you wish."
	switch {
	case out.Cloth != nil:
		needed = "Warp and weft, and what you have to spare."
	case out.Wish.Knitted != nil:
		needed = "The swatch's yarn for its size, scaled up, and what you have to spare."
	}
	lines := []Line{
		length(YarnPart, "yarn", "Yarn, washed", out.Yarn, needed),
		grist(YarnPart, "grist", "Its weight for its length", y.Grist, "It is as you wish it."),
		mass(YarnPart, "yarn_mass", "Its mass", out.Mass, "Length times weight for length."),
		length(YarnPart, "yarn_at_wheel", "Yarn before its wash", out.AtWheel, "The washed length, divided by what the wash leaves of it."),
		grist(YarnPart, "grist_at_wheel", "Its weight then", out.GristAtWheel, "Longer yarn of the same mass is lighter for its length."),
	}
	if y.Plies == 1 {
		return lines
	}
	why := fmt.Sprintf("The turns of %d strands that lie at %.0f degrees, re-wet, on the centre line; twist %s.", y.Plies, y.Angle.Value.Degrees(), or(y.Direction.String(), "against that of the singles"))
	return append(lines, twist(YarnPart, "ply_twist", "Turns of the ply", out.PlyTwist, why))
}

func or(word, other string) string {
	if word == "" {
		return other
	}
	return word
}

func (out *Result) singlesLines() []Line {
	y := out.Wish.Yarn
	angle := "It is as you wish it, or assumed where you left it open."
	turns := "The turns that give singles of this thickness that angle."
	all := "The yarn before its wash."
	if y.Plies > 1 {
		all = fmt.Sprintf("%d strands, each longer than the ply by %.2g %%, which plying takes up.", y.Plies, 100*float64(out.TakeUp.Value/(1-out.TakeUp.Value)))
		angle = "The fibres on the surface lie so in singles whose ply rests in balance at that angle, every turn living."
		turns = fmt.Sprintf("Balance asks for them, twist %s; the rule of thumb of %d/%d would say %s.", or(y.Direction.Opposite().String(), "against that of the ply"), y.Plies, y.Plies+1, out.ThumbTwist)
	}
	degrees := func(a unit.Angle) string { return fmt.Sprintf("%.0f°", a.Degrees()) }
	return []Line{
		length(SinglesPart, "singles", "Singles, all strands", out.Singles, all),
		grist(SinglesPart, "singles_grist", "Their weight for their length", out.SinglesGrist, "The mass of the yarn over the length of its strands."),
		length(SinglesPart, "singles_diameter", "Their diameter", out.Diameter, "From their weight and how densely fibres lie, which differs from hand to hand."),
		value(SinglesPart, "singles_angle_deg", "Angle of their fibres", out.Angle, unit.Degree, degrees, angle),
		twist(SinglesPart, "singles_twist", "Their turns", out.Twist, turns),
	}
}

func (out *Result) fibreLines() []Line {
	return []Line{
		mass(FibrePart, "fibre_spun", "Into the spinning", out.Spun, "The yarn, divided by what spinning and plying leave."),
		mass(FibrePart, "fibre_prepared", "Prepared fibre", out.Prepared, "That, and what samples take."),
		mass(FibrePart, "fibre", "Fibre to have", out.Fibre, "That, divided by what scouring and preparing leave, where you do them."),
	}
}

func (out *Result) workLines() (lines []Line) {
	w := out.Wish
	if w.Bobbin.Value > 0 {
		lines = append(lines, number(WorkPart, "bobbins", "Bobbins of singles", "", out.Bobbins, "Each strand's mass over what a bobbin holds, rounded up."))
		if w.Yarn.Plies > 1 {
			lines = append(lines, number(WorkPart, "ply_bobbins", "Bobbins of ply", "", out.PlyBobbins, "The yarn's mass over what a bobbin holds, rounded up; ply takes more room than singles."))
		}
	}
	if w.Pace.Value > 0 {
		lines = append(lines, number(WorkPart, "hours", "Hours of spinning", " h", out.Hours, "Singles over the length that you spin in an hour."))
	}
	if w.PlyPace.Value > 0 && w.Yarn.Plies > 1 {
		lines = append(lines, number(WorkPart, "ply_hours", "Hours of plying", " h", out.PlyHours, "Yarn over the length that you ply in an hour."))
	}
	if out.Treadles != nil {
		lines = append(lines, number(WorkPart, "treadles", "Treadles a draw, singles", "", *out.Treadles, fmt.Sprintf("The middle twist times %s, over the ratio and what the band loses.", w.Wheel.Draw)))
	}
	if out.PlyTreadles != nil {
		lines = append(lines, number(WorkPart, "ply_treadles", "Treadles a draw, ply", "", *out.PlyTreadles, "The same for the ply, on the same whorl."))
	}
	return lines
}

func (out *Result) madeLines() []Line {
	m := out.Made
	if m == nil {
		return nil
	}
	lines := []Line{
		mass(InHandPart, "in_hand", "Fibre in hand", cloth.Exactly(out.Wish.Fibre.InHand), fmt.Sprintf("It suffices with a probability of %.0f %%.", 100*m.Enough)),
		length(InHandPart, "made_yarn", "Yarn that it makes", m.Yarn, "The fibre, less every loss, over the yarn's weight for its length; washed."),
	}
	if out.Wish.Length == 0 {
		lines = append(lines, length(InHandPart, "made_length", "Fabric that it makes", m.Cloth, "Its finished length at the width that you wish, with the same spare."))
	}
	return lines
}
