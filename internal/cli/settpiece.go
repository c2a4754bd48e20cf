package cli

import (
	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// workPiece finds what a piece of finished size takes.
func (k settAsk) workPiece(out *settAnswer) error {
	if k.order == nil {
		return nil
	}
	o := *k.order
	o.Ends, o.Picks = out.ends, cloth.Exactly(out.picks)
	if out.sley != nil {
		o.Ends = out.sley.Sett
	}
	if !k.takeUpGiven && k.yarn != nil && k.yarn.CottonCount() >= 20 {
		beaten := cloth.OnTheLoom(out.picks, o.TakeUp.Value)
		t, err := cloth.TakeUp(k.weave, beaten, *k.yarn)
		if err != nil {
			return err
		}
		o.TakeUp = t
	}
	needs, err := o.Answer()
	if err != nil {
		return err
	}
	out.needs = &needs
	out.finish(o)
	return k.spinFor(out)
}

// finish describes the washed cloth at the middle of the order.
func (out *settAnswer) finish(o cloth.Order) {
	n := out.needs.Middle
	w := washedCloth{
		ends:     cloth.Wash(cloth.CutOff(o.Ends, o.DrawIn.Value), o.WashWidth.Value),
		picks:    cloth.Wash(o.Picks.Value, o.WashLength.Value),
		narrower: o.DrawIn.Value.Then(o.WashWidth.Value), shorter: o.TakeUp.Value.Then(o.WashLength.Value),
	}
	if out.yarn != nil {
		warp := cloth.Allowance(n.WovenOnLoom/o.Length - 1)
		weft := cloth.Allowance(cloth.On(o.WeftCrimp, n.ReedWidth)/o.Width - 1)
		w.mass = cloth.MassOf(w.ends, *out.yarn, warp, w.picks, *out.yarn, weft)
	}
	out.washed = &w
}

// spinFor goes back from the yarn to what leaves the wheel.
func (k settAsk) spinFor(out *settAnswer) error {
	if k.yarnShrink == nil && k.strands == 0 {
		return nil
	}
	lost := cloth.Loss(0)
	if k.yarnShrink != nil {
		lost = *k.yarnShrink
	}
	plied, singles, err := cloth.AtWheel(out.needs.Middle.YarnWithSpare, lost, max(1, k.strands), k.plyTakeUp)
	if err != nil {
		return err
	}
	out.spin = &unwashed{plied: plied, singles: singles, strands: k.strands}
	if k.yarn != nil {
		out.spin.grist = cloth.GristAtWheel(*k.yarn, lost)
	}
	return nil
}

// bear finds what each end bears.
func (k settAsk) bear(out *settAnswer) error {
	if k.tension == 0 {
		return nil
	}
	out.loadEnds = k.warpEnds
	if k.warpEnds == 0 && out.needs != nil {
		out.loadEnds = out.needs.Middle.Ends
	}
	if out.loadEnds == 0 {
		return misused("--tension: it is shared by the ends; give --ends, or --width and --length")
	}
	l, err := cloth.LoadOn(out.loadEnds, k.tension, k.breaking)
	out.load = &l
	return err
}

// showTwist grades tracking, from no twist left to that of lively singles where
// none was given, and notes how warp and weft lie.
func (k settAsk) showTwist(out *settAnswer) error {
	residual := estimate.Estimate[yarn.SurfaceAngle]{High: yarn.SurfaceAngle(30 * unit.Degree)}
	if k.residual != nil {
		residual, out.known = cloth.Exactly(*k.residual), true
	}
	out.tracking = cloth.TrackingRisk(residual, cloth.Share(out.ends/out.sett.Closest.Value), k.weave)
	if k.warpTwist == yarn.NoDirection && k.weftTwist == yarn.NoDirection {
		return nil
	}
	a, err := cloth.Arrange(k.warpTwist, k.weftTwist, k.weave)
	out.arranged = &a
	return err
}
