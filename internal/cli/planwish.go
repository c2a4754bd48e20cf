package cli

import (
	"math"
	"strconv"
	"strings"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/plan"
	"waketwist/unit"
	"waketwist/wheel"
	"waketwist/yarn"
)

// planReader reads values and keeps the first error, so that a plan is read
// field by field without a question after each.
type planReader struct{ err error }

// one reads a value; without one it leaves the zero value.
func one[T ~float64](r *planReader, key string, w word, parse func(string) (T, error)) T {
	if w == "" || r.err != nil {
		return 0
	}
	v, err := parse(string(w))
	if err != nil {
		r.err = misused("%s: %v", key, err)
	}
	return v
}

// between reads a value, which is fixed, or two with “to” between them.
func between[T ~float64](r *planReader, key string, w word, parse func(string) (T, error)) (e estimate.Estimate[T]) {
	from, to, two := strings.Cut(string(w), " to ")
	if !two {
		return cloth.Exactly(one(r, key, w, parse))
	}
	if _, err := parse(from); err != nil {
		from += " " + strings.TrimLeft(to, "0123456789., ")
	}
	low, high := one(r, key, word(from), parse), one(r, key, word(to), parse)
	if low > high { // as “1500 to 1700 yd/lb” is in tex
		low, high = high, low
	}
	return estimate.Estimate[T]{Value: T(math.Sqrt(float64(low) * float64(high))), Low: low, High: high}
}

// loss reads a share, or takes usual where there is none.
func (r *planReader) loss(key string, w word, usual estimate.Estimate[cloth.Loss]) estimate.Estimate[cloth.Loss] {
	if w == "" || r.err != nil {
		return usual
	}
	e, err := parseLoss(key, text(w))
	if err != nil {
		r.err = err
		return usual
	}
	if e.Flags.Has(cloth.Assumed) {
		return cloth.Exactly(e.Value)
	}
	return e
}

func (r *planReader) count(key string, w word, usual int) int {
	if w == "" || r.err != nil {
		return usual
	}
	n, err := strconv.Atoi(string(w))
	if err != nil || n < 1 || n > 1000 {
		r.err = misused("%s: “%s” is not a number of them; give a whole number from 1", key, w)
	}
	return n
}

func (r *planReader) density(key string, w word) float64 {
	if w == "" || r.err != nil {
		return 0
	}
	v, err := threadsPerMetre(key, text(w))
	if err != nil {
		r.err = err
	}
	return v
}

// wish puts the file into the terms of the core.
func (f planFile) wish() (w plan.Wish, err error) {
	r := &planReader{}
	f.readYarn(r, &w)
	f.readFibre(r, &w)
	f.readWork(r, &w)
	if f.Cloth != nil {
		w.Woven = f.Cloth.woven(r)
	}
	if f.Knit != nil {
		w.Knitted = f.Knit.knitted(r)
	}
	return w, r.err
}

func (f planFile) readYarn(r *planReader, w *plan.Wish) {
	if f.Yarn == nil || f.Yarn.Grist == "" {
		r.err = misused("the plan has no yarn; give its washed weight for its length under [yarn], as in grist = \"1600 yd/lb\"")
		return
	}
	y := f.Yarn
	w.Length = one(r, "length of the yarn", y.Length, unit.ParseLength)
	w.Yarn.Grist = between(r, "grist", y.Grist, unit.ParseLinearDensity)
	w.Yarn.Plies = r.count("plies", y.Plies, 2)
	w.Yarn.Wash = r.loss("wash-loss", y.WashLoss, cloth.Exactly[cloth.Loss](0))
	w.Yarn.Angle = plan.UsualAngle()
	if y.Angle != "" {
		w.Yarn.Angle = between(r, "angle", y.Angle, unit.ParseAngle)
	}
	if y.PlyTakeUp != "" {
		e := r.loss("ply-take-up", y.PlyTakeUp, cloth.Exactly[cloth.Loss](0))
		w.Yarn.TakeUp = &e
	}
	var err error
	if w.Yarn.Direction, err = yarn.ParseDirection(string(y.Direction)); err != nil && r.err == nil {
		r.err = misused("direction: %v", err)
	}
	if w.Yarn.Preparation, err = finish.ParsePreparation(string(y.Preparation)); err != nil && r.err == nil {
		r.err = misused("preparation: %v", err)
	}
}

func (f planFile) readFibre(r *planReader, w *plan.Wish) {
	none := cloth.Exactly[cloth.Loss](0)
	w.Fibre = plan.Fibre{
		Spinning:  r.loss("spinning", f.Fibre.Spinning, plan.SpinningLoss()),
		Sampling:  r.loss("sampling", f.Fibre.Sampling, plan.SamplingLoss()),
		Preparing: r.loss("preparing", f.Fibre.Preparing, none),
		Scouring:  r.loss("scouring", f.Fibre.Scouring, none),
		InHand:    one(r, "in-hand", f.Fibre.InHand, unit.ParseMass),
	}
}

// parsePace reads a length an hour.
func parsePace(s string) (plan.Pace, error) {
	head, hourly := strings.CutSuffix(s, "/h")
	if !hourly {
		return 0, words("A pace is a length an hour, as in “100 m/h”.")
	}
	l, err := unit.ParseLength(head)
	return plan.Pace(l.Metres()), err
}

func parseRatio(s string) (wheel.Ratio, error) {
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSuffix(s, ":1"), ",", ".", 1), 64)
	if err != nil || !(v > 0) {
		return 0, words("A ratio is written as in “8:1”, turns of the flyer for one treadle.")
	}
	return wheel.Ratio(v), nil
}

func (f planFile) readWork(r *planReader, w *plan.Wish) {
	w.Bobbin = between(r, "bobbin", f.Work.Bobbin, unit.ParseMass)
	w.Pace = between(r, "pace", f.Work.Pace, parsePace)
	w.PlyPace = between(r, "ply-pace", f.Work.PlyPace, parsePace)
	if (f.Work.Ratio == "") != (f.Work.Draw == "") && r.err == nil {
		r.err = misused("ratio and draw go together: turns for a treadle, and the length drawn at a time")
	}
	if f.Work.Ratio != "" {
		w.Wheel = &plan.Wheel{Draw: one(r, "draw", f.Work.Draw, unit.ParseLength)}
		w.Wheel.Treadled.Kind = wheel.FlyerLed
		w.Wheel.Treadled.Whorl.Stated = one(r, "ratio", f.Work.Ratio, parseRatio)
	}
}

func (c *planCloth) woven(r *planReader) *plan.Woven {
	o := cloth.Order{
		Width: one(r, "width", c.Width, unit.ParseLength), Length: one(r, "length", c.Length, unit.ParseLength),
		DrawIn: r.loss("draw-in", c.DrawIn, cloth.WeavingLoss()), TakeUp: r.loss("take-up", c.TakeUp, cloth.WeavingLoss()),
		WashWidth: r.loss("shrink", c.Shrink, cloth.WashingLoss()),
		Waste:     cloth.LoomWaste(), Fringe: one(r, "fringe", c.Fringe, unit.ParseLength),
		Ends:      cloth.Density[cloth.OnLoom](r.density("sett", c.Sett)),
		Picks:     cloth.Exactly(cloth.Density[cloth.OffLoom](r.density("picks", c.Picks))),
		WeftCrimp: cloth.WeftCrimp, Spare: r.spare(c.Spare),
	}
	o.WashLength = o.WashWidth
	if c.Waste != "" {
		o.Waste = between(r, "waste", c.Waste, unit.ParseLength)
	}
	name := c.Weave
	if name == "" {
		name = "plain"
	}
	weave, err := cloth.Named(string(name))
	if err != nil && r.err == nil {
		r.err = misused("weave: %v", err)
	}
	return &plan.Woven{Order: o, Weave: weave, Shafts: r.count("shafts", c.Shafts, 0)}
}

func (r *planReader) spare(w word) cloth.Allowance {
	return cloth.Allowance(r.loss("spare", w, cloth.Exactly(cloth.Loss(cloth.Spare))).Value)
}

func (k *planKnit) knitted(r *planReader) *plan.Knitted {
	across, along, two := strings.Cut(string(k.Swatch), ", ")
	if !two && r.err == nil {
		r.err = misused("swatch: give its width and length, as in “10 cm, 10 cm”, and its weight as swatch-mass")
	}
	return &plan.Knitted{
		Width: one(r, "width", k.Width, unit.ParseLength), Length: one(r, "length", k.Length, unit.ParseLength),
		SwatchWidth: one(r, "swatch", word(across), unit.ParseLength), SwatchLength: one(r, "swatch", word(along), unit.ParseLength),
		SwatchMass: between(r, "swatch-mass", k.SwatchMass, unit.ParseMass), Spare: r.spare(k.Spare),
	}
}
