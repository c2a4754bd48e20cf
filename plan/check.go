package plan

import (
	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// check refuses wishes that no chain can be reckoned for.
func (w Wish) check() error {
	wanted := 0
	for _, given := range []bool{w.Woven != nil, w.Knitted != nil, w.Length != 0} {
		if given {
			wanted++
		}
	}
	if wanted != 1 {
		return refuse("Give a woven cloth, a knitted fabric or a length of yarn, one of them.", "A plan is of one thing, and %d are given.", wanted)
	}
	if w.Length < 0 || w.Fibre.InHand < 0 {
		return refuse("Give what is above zero.", "The length of yarn or the fibre in hand is below zero.")
	}
	for _, err := range []error{w.checkYarn(), w.checkLosses(), w.checkWork(), w.Woven.check(), w.Knitted.check()} {
		if err != nil {
			return err
		}
	}
	return nil
}

func (w Wish) checkYarn() error {
	y := w.Yarn
	if y.Plies < 1 || y.Plies > yarn.MaxStrands {
		return refuse("Give 1 to 7 plies.", "A yarn of %d plies is not taken.", y.Plies)
	}
	if err := ordered("the weight of the yarn for its length", y.Grist, true); err != nil {
		return err
	}
	if err := ordered("the angle of the yarn", y.Angle, true); err != nil {
		return err
	}
	if most := steepest(y.Plies); y.Angle.High > most {
		return refuse("Drop the angle and give a flatter one, or change the number of plies.",
			"The angle and the plies contradict each other: a yarn of %d strands rests in balance below %.0f degrees, and %.0f are wished.", y.Plies, most.Degrees(), y.Angle.High.Degrees())
	}
	return nil
}

// steepest is the steepest angle that is planned: a little under that at which
// a balanced ply ends, and of singles that at which they break.
func steepest(plies int) unit.Angle {
	if plies == 1 {
		return 60 * unit.Degree
	}
	return unit.Angle(yarn.Limit(plies)) - unit.Degree
}

// namedLoss is a loss with the step it comes from.
type namedLoss struct {
	what string
	e    estimate.Estimate[cloth.Loss]
}

func (w Wish) losses() []namedLoss {
	out := []namedLoss{
		{"the yarn's own wash", w.Yarn.Wash}, {"scouring", w.Fibre.Scouring}, {"preparing", w.Fibre.Preparing},
		{"sampling", w.Fibre.Sampling}, {"spinning", w.Fibre.Spinning},
	}
	if w.Yarn.TakeUp != nil {
		out = append(out, namedLoss{"plying", *w.Yarn.TakeUp})
	}
	if w.Woven != nil {
		o := w.Woven.Order
		out = append(out, namedLoss{"draw-in", o.DrawIn}, namedLoss{"take-up", o.TakeUp},
			namedLoss{"the wash across", o.WashWidth}, namedLoss{"the wash along", o.WashLength})
	}
	return out
}

func (w Wish) checkLosses() error {
	for _, l := range w.losses() {
		if l.e.High > cloth.MostLoss || l.e.Low < cloth.LeastLoss {
			return refuse("Measure a sample before and after; a loss is from -50 % to 90 %.", "A loss of %.4g %% in %s leaves nothing to reckon with.", 100*float64(l.e.High), l.what)
		}
		if !(l.e.Low <= l.e.Value && l.e.Value <= l.e.High) {
			return refuse("Give the smaller one first.", "The range of the loss in %s runs backwards.", l.what)
		}
	}
	return nil
}

// longestDraw is more than any arm draws at a time.
const longestDraw = 10 * unit.Metre

func (w Wish) checkWork() error {
	if w.Wheel != nil && !(w.Wheel.Draw > 0 && w.Wheel.Draw <= longestDraw) {
		return refuse("Give what you draw before it winds on, such as 24 in.", "A draw of %s is not one.", w.Wheel.Draw)
	}
	if err := ordered("what a bobbin holds", w.Bobbin, false); err != nil {
		return err
	}
	if err := ordered("the pace of spinning", w.Pace, false); err != nil {
		return err
	}
	return ordered("the pace of plying", w.PlyPace, false)
}

func (k *Knitted) check() error {
	switch {
	case k == nil:
		return nil
	case !(k.Width > 0 && k.Length > 0 && k.SwatchWidth > 0 && k.SwatchLength > 0):
		return refuse("Give width and length of both.", "The fabric or its swatch has no size.")
	case !(k.Spare >= 0):
		return refuse("Give none, or what to have beyond what is reckoned.", "The spare is below zero.")
	}
	return ordered("the swatch's weight", k.SwatchMass, true)
}

func (c *Woven) check() error {
	if c == nil {
		return nil
	}
	if c.Shafts != 0 {
		if err := c.Weave.FitsOn(c.Shafts); err != nil {
			return refuse("Drop the weave or find a loom with more shafts.", "The weave and the loom contradict each other: the weave takes %d shafts, and %d are there.", c.Weave.Shafts(), c.Shafts)
		}
	}
	if err := ordered("the loom waste", c.Order.Waste, false); err != nil {
		return err
	}
	return ordered("the picks", c.Order.Picks, false)
}

// ordered refuses ranges that run backwards or reach nothing; a zero estimate is
// taken unless it must be there.
func ordered[T ~float64](what string, e estimate.Estimate[T], needed bool) error {
	if !needed && e.Value == 0 && e.High == 0 {
		return nil
	}
	if !(e.Low > 0 && e.Low <= e.Value && e.Value <= e.High) {
		return refuse("Give a value above zero, or a range with the smaller one first.", "The plan lacks %s, or its range is none.", what)
	}
	return nil
}
