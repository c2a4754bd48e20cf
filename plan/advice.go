package plan

import (
	"fmt"

	"waketwist/cloth"
)

// Shopping returns what to have before the work begins, by the upper end of its
// interval; what is in hand is taken off.
func (out *Result) Shopping() []string {
	high := out.Fibre.High
	var list []string
	switch hand := out.Wish.Fibre.InHand; {
	case hand == 0:
		list = append(list, fmt.Sprintf("Fibre: %s; that much suffices nineteen times in twenty.", high))
	case high > hand:
		list = append(list, fmt.Sprintf("Fibre: %s more; with what is in hand that suffices nineteen times in twenty.", high-hand))
	default:
		list = append(list, "Fibre: nothing; what is in hand suffices nineteen times in twenty.")
	}
	if out.Wish.Bobbin.Value > 0 {
		n := out.Bobbins.Value
		if out.Wish.Yarn.Plies > 1 {
			n += out.PlyBobbins.Value
		}
		list = append(list, fmt.Sprintf("Bobbins: %.0f, singles and ply together, or fewer where you wind off.", n))
	}
	return list
}

// ToDo returns the steps of the work in their order, beginning with what narrows
// the plan most.
func (out *Result) ToDo() []string {
	var list []string
	said := map[string]bool{}
	for _, a := range append(append([]Assumption(nil), out.FibreBlame...), out.YarnBlame...) {
		if !said[a.Narrow] {
			said[a.Narrow] = true
			list = append(list, fmt.Sprintf("To narrow the plan, %s, and put the figure into it.", a.Narrow))
		}
	}
	y := out.Wish.Yarn
	spin := fmt.Sprintf("Spin %s of singles, %s, with %s.", out.Singles.Value, out.SinglesGrist.Value, out.Twist.Value)
	if y.Plies > 1 {
		spin += " Read a re-wet ply-back before you spin on."
	}
	list = append(list, spin)
	if y.Plies > 1 {
		list = append(list, fmt.Sprintf("Ply %d strands to %s, and check a re-wet piece.", y.Plies, out.PlyTwist.Value))
	}
	list = append(list, "Wash and dry the yarn, and weigh and measure it against the plan.")
	if out.Cloth != nil {
		list = append(list, fmt.Sprintf("Wind %d ends of %s.", out.Cloth.Ends, out.End.Value))
	}
	return list
}

// Assumed returns what was taken from common practice, or assumed, because the
// wish left it open.
func (out *Result) Assumed() (list []string) {
	w := out.Wish
	for _, l := range w.losses() {
		if l.e.Flags.Has(cloth.CommonPractice) {
			list = append(list, fmt.Sprintf("a loss in %s of %.0f to %.0f %%", l.what, 100*float64(l.e.Low), 100*float64(l.e.High)))
		}
	}
	if w.Woven != nil && w.Woven.Order.Waste.Flags.Has(cloth.CommonPractice) {
		list = append(list, fmt.Sprintf("loom waste of %s to %s", w.Woven.Order.Waste.Low, w.Woven.Order.Waste.High))
	}
	if w.Yarn.Angle.Flags.Has(cloth.Assumed) {
		list = append(list, fmt.Sprintf("an angle of the yarn of %.0f to %.0f degrees", w.Yarn.Angle.Low.Degrees(), w.Yarn.Angle.High.Degrees()))
	}
	return list
}
