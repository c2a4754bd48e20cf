package plan

import (
	"errors"

	"waketwist/cloth"
	"waketwist/unit"
	"waketwist/yarn"
)

// check refuses what cannot be meant. What follows from it may still contradict
// itself.
func (w *Wish) check() error {
	if w.Plies < 0 || w.Plies > yarn.MaxStrands {
		return refuseField("yarn.plies", "Give 1 to 7 plies.", "A yarn of %d plies is not taken.", w.Plies)
	}
	for q, e := range w.given {
		if err := q.check(e); err != nil {
			return err
		}
	}
	for q, e := range w.learnt {
		if err := q.check(e); err != nil {
			return err
		}
	}
	for _, err := range []error{w.checkAngle(), w.checkWeave(), w.checkKnit(), w.checkWheel()} {
		if err != nil {
			return err
		}
	}
	return nil
}

// check refuses values outside the bounds of a kind, and ranges that run
// backwards.
func (q quantity) check(e entry) error {
	it := items[q]
	k := it.kind
	switch {
	case !(e.Low <= e.Value && e.Value <= e.High):
		return refuseField(it.field, "Give the smaller one first.", "The range of the %s runs backwards.", it.name)
	case k.loss && e.High > k.most:
		return refuseField(it.field, "Measure a sample before and after; a loss is from -50 % to 90 %.", "A %s of %.4g %% leaves nothing to reckon with.", it.name, 100*e.High)
	case !(e.Low >= k.least && e.High <= k.most) && !(e.Low == 0 && q.mayBeNone()):
		return refuseField(it.field, "Check the number and its unit; it is written as in "+k.wants+".", "The %s cannot be %s.", it.name, k.say(outer(e, k)))
	}
	return nil
}

func outer(e entry, k kind) float64 {
	if e.Low < k.least {
		return e.Low
	}
	return e.High
}

func (q quantity) mayBeNone() bool { return q == qWaste || q == qFringe }

func (w *Wish) checkAngle() error {
	a, ok := w.given[qAngle]
	n := w.Plies
	if n == 0 {
		n = 2
	}
	if most := float64(steepest(n)); ok && a.High > most {
		if n == 1 {
			return refuseField("yarn.angle", "Give a flatter one.", "Singles of %s cannot be had: they break from about %s on.", degrees(a.High), degrees(most))
		}
		return refuseField("yarn.angle", "Drop the angle and give a flatter one, or change the number of plies.",
			"The angle and the plies contradict each other: a yarn of %d strands rests in balance below %s, and %s are wished.", n, degrees(most), degrees(a.High))
	}
	return nil
}

func (w *Wish) checkWeave() error {
	if w.Fabric != Woven {
		return nil
	}
	if w.Weave.Ends() == 0 {
		return refuseField("cloth.weave", "Give plain, 2/2-twill or the like, or draw it.", "The cloth has no weave.")
	}
	if w.Shafts != 0 {
		if err := w.Weave.FitsOn(w.Shafts); err != nil {
			return refuseField("cloth.weave", "Drop the weave or find a loom with more shafts.", "The weave and the loom contradict each other: the weave takes %d shafts, and %d are there.", w.Weave.Shafts(), w.Shafts)
		}
	}
	return nil
}

func (w *Wish) checkKnit() error {
	if w.Fabric != Knitted {
		return nil
	}
	if !(w.SwatchWidth > 0 && w.SwatchLength > 0) || !w.has(qSwatchMass) {
		return refuseField("knit.swatch", "Wash and dry a swatch, and give its width, length and mass.", "A knitted fabric is known by its swatch, and none is given.")
	}
	swatch := cloth.Swatch{Width: w.SwatchWidth, Length: w.SwatchLength, Mass: unit.Mass(w.given[qSwatchMass].Value)}
	var refused *cloth.Error
	if errors.As(swatch.Check(), &refused) {
		return &Error{Field: "knit.swatch-mass", Problem: refused.Problem, Advice: refused.Advice}
	}
	return nil
}

// longestDraw is more than any arm draws at a time, in metres.
const longestDraw = 10

func (w *Wish) checkWheel() error {
	if w.Wheel == nil {
		return nil
	}
	if d := w.Wheel.Draw.Metres(); !(d > 0 && d <= longestDraw) {
		return refuseField("work.draw", "Give what you draw before it winds on, such as 24 in.", "A draw of %s is not one.", w.Wheel.Draw)
	}
	if w.Wheel.Motor == nil && w.Wheel.Treadled == nil {
		return refuseField("work.machine", "Give the name under which your journal has it.", "There is no wheel “%s”.", w.Machine)
	}
	return nil
}
