package hand

import (
	"math"
	"slices"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Learnt is one value of this hand: what was taken of it before anything was
// read, and what is held now.
type Learnt struct {
	Name             string
	Unit             string // of Before and Now; empty for a pure number
	Before, Now      estimate.Estimate[float64]
	Readings         int // that bear on it
	Meaning          string
	Fibre            string // for a value of one fibre, empty where that is not recorded
	OfOneFibre       bool
	Preparation      finish.Preparation // for a value of one preparation
	OfOnePreparation bool
}

// Learnt lists what the record taught, the values of the hand first, then those
// of each fibre and of each preparation in the record. All of them rest on the
// model.
func (p *Posterior) Learnt() []Learnt {
	before, err := Fit(Record{})
	if err != nil { // cannot be: there is nothing to refuse
		panic(err)
	}
	count := p.record.count()
	out := p.ofHand(before, count)
	for _, b := range p.record.Bobbins {
		if !slices.ContainsFunc(out, func(l Learnt) bool { return l.Fibre == b.Fibre && l.Name == nameStiffness }) {
			out = append(out, p.ofFibre(before, b.Fibre, count.fibres[b.Fibre])...)
		}
	}
	for _, s := range p.record.Skeins {
		if !slices.ContainsFunc(out, func(l Learnt) bool { return l.OfOnePreparation && l.Preparation == s.Preparation }) {
			out = append(out, p.ofPreparation(before, s.Preparation, count.preps[s.Preparation])...)
		}
	}
	return out
}

const nameStiffness = "stiffness ratio"

// tally counts the readings that bear on a value.
type tally struct {
	eye, photo, clips, dry, singles, dried int
	fibres                                 map[string][3]int // clips, dry, all
	preps                                  map[finish.Preparation][2]int
}

func (r Record) count() tally {
	c := tally{fibres: map[string][3]int{}, preps: map[finish.Preparation][2]int{}}
	lines := func(readings []Reading) {
		for _, one := range readings {
			if one.Line == yarn.VisibleBorder {
				c.eye++
			} else {
				c.photo++
			}
		}
	}
	for _, b := range r.Bobbins {
		f := c.fibres[b.Fibre]
		for _, clip := range b.Clips {
			n := len(clip.Readings)
			lines(clip.Readings)
			f[0] += n
			switch {
			case clip.State.Dry():
				f[1] += n
			case clip.State == estimate.RewetDried:
				c.dried += n
			}
		}
		f[2] = f[0] + len(b.Singles)
		c.fibres[b.Fibre] = f
		c.clips, c.dry, c.singles = c.clips+f[0], c.dry+f[1], c.singles+len(b.Singles)
		c.eye += len(b.Singles)
	}
	for _, s := range r.Skeins {
		lines(s.Wheel)
		lines(s.Washed)
		c.addSkein(s)
	}
	return c
}

func (c *tally) addSkein(s Skein) {
	n := c.preps[s.Preparation]
	if s.WheelLength > 0 && s.WashedLength > 0 {
		n[0]++
	}
	if s.WheelDiameter > 0 && s.WashedDiameter > 0 {
		n[1]++
	}
	if len(s.Wheel) > 0 && len(s.Washed) > 0 {
		n[0] += len(s.Washed)
		n[1] += len(s.Washed)
	}
	c.preps[s.Preparation] = n
}

func (p *Posterior) ofHand(before *Posterior, c tally) []Learnt {
	degrees := func(k scale, sd unit.Angle) (was, is estimate.Estimate[float64]) {
		return before.scatterOf(k, sd.Degrees()), p.scatterOf(k, sd.Degrees())
	}
	eyeWas, eyeIs := degrees(byEye, rest.EyeSD)
	photoWas, photoIs := degrees(byPhoto, rest.PhotographSD)
	row := func(name, unit string, readings int, meaning string, was, is estimate.Estimate[float64]) Learnt {
		is.N = readings
		return Learnt{Name: name, Unit: unit, Readings: readings, Meaning: meaning, Before: was, Now: is}
	}
	pair := func(of func(*Posterior) estimate.Estimate[float64]) (was, is estimate.Estimate[float64]) {
		return of(before), of(p)
	}
	borderWas, borderIs := pair(func(p *Posterior) estimate.Estimate[float64] {
		return p.column(p.eye(), func(v float64) float64 { log, _ := border(2, v); return math.Exp(log) })
	})
	dampWas, dampIs := pair(func(p *Posterior) estimate.Estimate[float64] { return p.column(p.logDamp(), math.Exp) })
	powerWas, powerIs := pair(func(p *Posterior) estimate.Estimate[float64] { return p.column(p.curveOf("")[1], math.Exp) })
	humidWas, humidIs := pair(func(p *Posterior) estimate.Estimate[float64] {
		return p.column(p.curveOf("")[3], func(v float64) float64 { c, _ := humidity(v); return math.Pow(10, 10*c) })
	})
	singlesWas, singlesIs := pair(func(p *Posterior) estimate.Estimate[float64] {
		return p.column(p.singles(-1), func(v float64) float64 { return p.singlesAngles([]float64{v})[0].Degrees() })
	})
	return []Learnt{
		row("scatter of readings by eye", "°", c.eye, "How far one angle read by eye is off: two times in three by no more than this.", eyeWas, eyeIs),
		row("scatter of photographs", "°", c.photo, "How far one angle read from a good photograph is off: two times in three by no more than this.", photoWas, photoIs),
		row("border seen by this eye", "", c.eye, "How much steeper the border between two strands looks to this eye than the strands run: the ratio of the tangents.", borderWas, borderIs),
		row("evenness along a bobbin", "%", c.clips+c.singles, "How much the turns vary from place to place along a bobbin, two times in three by no more than this: the less, the fewer samples a bobbin needs.",
			before.scatterOf(ofPlaces, 100*rest.PlaceCV), p.scatterOf(ofPlaces, 100*rest.PlaceCV)),
		row("lean of the singles", "°", c.clips+c.singles, "The surface angle to expect of the next bobbin.", singlesWas, singlesIs),
		row("course of falling asleep", "", c.dry, "How suddenly twist falls asleep: the smaller, the more evenly over minutes, days and months.", powerWas, powerIs),
		row("damp air", "", c.dry, "How many times as fast twist falls asleep where the air is damper by ten per cent of relative humidity.", humidWas, humidIs),
		row("damp to dry", "", c.dried, "How steep a ply is dry for how steep it was re-wet: the ratio of the tangents.", dampWas, dampIs),
	}
}

func (p *Posterior) ofFibre(before *Posterior, fibre string, n [3]int) []Learnt {
	row := func(name, unit string, readings int, meaning string, of func(*Posterior) estimate.Estimate[float64]) Learnt {
		l := Learnt{Name: name, Unit: unit, Fibre: fibre, OfOneFibre: true, Readings: readings, Meaning: meaning, Before: of(before), Now: of(p)}
		l.Now.N = readings
		return l
	}
	return []Learnt{
		row(nameStiffness, "", n[2], "How hard the strand is to bend against how hard it is to twist: the stiffer to bend, the softer a ply balances.",
			func(p *Posterior) estimate.Estimate[float64] { return p.column(p.logStiffness(fibre), math.Exp) }),
		row("time to fall asleep", "h", n[1], "After this time 63 % of the twist that will fall asleep has, in air of 65 % relative humidity.",
			func(p *Posterior) estimate.Estimate[float64] {
				return p.column(p.curveOf(fibre)[0], func(v float64) float64 { return math.Pow(10, v) })
			}),
		row("asleep in the end", "%", n[1], "The share of the twist that falls asleep in the end.",
			func(p *Posterior) estimate.Estimate[float64] {
				return p.column(p.curveOf(fibre)[2], func(v float64) float64 { return 100 / (1 + math.Exp(-v)) })
			}),
	}
}

func (p *Posterior) ofPreparation(before *Posterior, prep finish.Preparation, n [2]int) []Learnt {
	row := func(name string, readings int, meaning string, of int) Learnt {
		l := Learnt{Name: name, Preparation: prep, OfOnePreparation: true, Readings: readings, Meaning: meaning,
			Before: before.column(before.logWash(prep, of), math.Exp), Now: p.column(p.logWash(prep, of), math.Exp)}
		l.Now.N = readings
		return l
	}
	return []Learnt{
		row("length in the wash", n[0], "Washed length over length at the wheel, of the next skein.", prepLength),
		row("thickness in the wash", n[1], "Washed diameter over diameter at the wheel, of the next skein.", prepDiameter),
	}
}

// column summarises a quantity in the measure in which a person takes it.
func (p *Posterior) column(q quantity, to func(float64) float64) estimate.Estimate[float64] {
	values := p.draw(estimate.NewSampler(drawCount, seed), q)[0]
	for i, v := range values {
		values[i] = to(v)
	}
	e := estimate.FromDraws(values)
	e.Flags = estimate.Flags{estimate.Modelled}
	return e
}

// scatterOf is a learnt scatter with its starting value; what is known of it is
// as good as so many deviations make it (log-normal with a standard deviation of
// 1/sqrt(2n)).
func (p *Posterior) scatterOf(k scale, start float64) estimate.Estimate[float64] {
	n := p.known[k] + pseudoCount[k]
	e := estimate.FromDraws(estimate.NewSampler(drawCount, seed).LogNormal(start*p.fitter.scales[k], caution/math.Sqrt(2*n)))
	e.Flags = estimate.Flags{estimate.Modelled}
	return e
}
