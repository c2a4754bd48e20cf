package hand

import (
	"math"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/yarn"
)

// shared is the quantity mean + sd u of one shared parameter.
func shared(at int, mean, sd float64) quantity {
	return quantity{block: -1, value: func(_ *context, p, slope point) float64 {
		slope.global[at] += sd
		return mean + sd*p.global[at]
	}}
}

// fibreAt is the first parameter of a fibre, -1 for one not in the record.
func (p *Posterior) fibreAt(fibre string) int {
	if at, ok := p.fitter.fibres[fibre]; ok {
		return at
	}
	return -1
}

// logStiffness of a fibre; of one not seen before with the spread among fibres.
func (p *Posterior) logStiffness(fibre string) quantity {
	at := p.fibreAt(fibre)
	q := quantity{block: -1, value: func(_ *context, p, slope point) float64 {
		return sighting{fibre: at}.stiffness(p, slope)
	}}
	if at < 0 {
		q.extra = stiffnessFibre * stiffnessFibre
	}
	return q
}

// stiffness is log k with its slopes.
func (s sighting) stiffness(at, slope point) float64 {
	slope.global[atStiffness] += stiffnessHand
	if s.fibre >= 0 {
		slope.global[s.fibre+fibreStiffness] += stiffnessFibre
	}
	return s.logStiffness(at.global)
}

// logDamp is log W.
func (p *Posterior) logDamp() quantity {
	mean, sd := dampPrior()
	return shared(atDamp, mean, sd)
}

// eye is how many of its standard deviations this eye's border is off the usual.
func (p *Posterior) eye() quantity { return shared(atBorder, 0, 1) }

// logWash is the log of L or of D of a further skein of a preparation.
func (p *Posterior) logWash(of finish.Preparation, prep int) quantity {
	r, k := finish.WashOf(of).Length, ofLengths
	if prep == prepDiameter {
		r, k = finish.WashOf(of).Diameter, ofDiameters
	}
	mean, sd := logNormal90(r)
	q := shared(prepAt(of)+prep, mean, sd*washHand)
	q.extra = square(sd * washSkein * p.fitter.scales[k])
	return q
}

func square(v float64) float64 { return v * v }

// unread makes a quantity of a bobbin that is not in the record from one that
// wants a bobbin's parameters: they stand at their prior, and their spread is the
// quantity's own.
func (p *Posterior) unread(q quantity) quantity {
	own := make([]float64, bobbinPlaces)
	slope := point{make([]float64, p.fitter.globals), make([]float64, bobbinPlaces)}
	q.value(&p.fitter.context, point{p.fitter.global, own}, slope)
	return quantity{block: -1, wary: q.wary, extra: q.extra + square(norm(slope.local)), value: func(c *context, at, slope point) float64 {
		return q.value(c, point{at.global, own}, point{slope.global, make([]float64, bobbinPlaces)})
	}}
}

// asleep is the logit of the dormant share of singles of a bobbin (a block, or
// -1 for one not in the record) after a rest.
func (p *Posterior) asleep(block int, fibre string, rested sighting) quantity {
	rested.block, rested.fibre, rested.state = block, p.fibreAt(fibre), estimate.Rested
	q := quantity{block: block, wary: asleepCaution, value: func(c *context, at, slope point) float64 {
		f := min(max(-math.Expm1(rested.awake(c, at, slope)), 1e-9), mostAsleep)
		// log(f/(1-f)) of log(1-f): its slope is -1/f.
		scaleBy(-1/f, slope.global)
		scaleBy(-1/f, slope.local)
		return math.Log(f / (1 - f))
	}}
	if rested.fibre < 0 {
		q.extra = p.newFibreAsleep(rested)
	}
	if block < 0 {
		return p.unread(q)
	}
	return q
}

// newFibreAsleep is the variance of the logit dormant share that a fibre not
// seen before adds.
func (p *Posterior) newFibreAsleep(rested sighting) float64 {
	at := point{p.fitter.global, make([]float64, bobbinPlaces)}
	slope := point{make([]float64, p.fitter.globals), make([]float64, bobbinPlaces)}
	f := max(-math.Expm1(rested.awake(&p.fitter.context, at, slope)), 1e-9)
	return square(slope.global[atTime]/f*timeFibre/timeHand) + square(slope.global[atMost]/f*mostFibre/mostHand)
}

// wake is the log tangent of a bobbin's balanced two-strand ply-back, fully
// soaked, on the centre line: the mean of the whole bobbin.
func (p *Posterior) wake(block int, fibre string) quantity {
	s := sighting{block: block, fibre: p.fibreAt(fibre), state: estimate.Rewet, line: yarn.StrandCentre}
	q := quantity{block: block, value: func(c *context, at, slope point) float64 {
		y, byT, byK := plyback(s.turns(c, at, slope)+s.awake(c, at, slope), s.logStiffness(at.global))
		scaleBy(byT, slope.global)
		scaleBy(byT, slope.local)
		byStiffness := point{make([]float64, len(slope.global)), nil}
		s.stiffness(at, byStiffness)
		for i, d := range byStiffness.global {
			slope.global[i] += byK * d
		}
		return y
	}}
	if s.fibre < 0 {
		q.extra = p.newFibreWake(q)
	}
	if block < 0 {
		return p.unread(q)
	}
	return q
}

// newFibreWake is the variance that the stiffness of a fibre not seen before adds
// to a log tangent: its slope along the hand's own stiffness tells.
func (p *Posterior) newFibreWake(q quantity) float64 {
	slope := point{make([]float64, p.fitter.globals), make([]float64, bobbinPlaces)}
	q.value(&p.fitter.context, point{p.fitter.global, make([]float64, bobbinPlaces)}, slope)
	return square(slope.global[atStiffness] / stiffnessHand * stiffnessFibre)
}

// singles is the place of a bobbin's singles on the scale of surface angles.
func (p *Posterior) singles(block int) quantity {
	q := quantity{block: block, value: func(c *context, at, slope point) float64 {
		slope.global[atSingles] += singlesHand
		v := singlesHand * at.global[atSingles]
		if block >= 0 {
			wide := singlesBobbin * c.scales[ofBobbins]
			slope.local[bobbinTurns] += wide
			v += wide * at.local[bobbinTurns]
		}
		return v
	}}
	if block < 0 {
		q.extra = square(singlesBobbin * p.fitter.scales[ofBobbins])
	}
	return q
}

// curveOf are the four numbers of a fibre's set curve.
func (p *Posterior) curveOf(fibre string) []quantity {
	s := sighting{fibre: p.fibreAt(fibre)}
	out := make([]quantity, 4)
	for i := range out {
		out[i] = quantity{block: -1, value: func(c *context, at, slope point) float64 {
			if i == 3 { // c is bounded below: its parameter is drawn instead
				slope.global[atHumid]++
				return at.global[atHumid]
			}
			at.local = make([]float64, bobbinPlaces)
			numbers, by := s.curveNumbers(c, at)
			for _, q := range by[i] {
				if !q.own {
					slope.global[q.at] += q.by
				}
			}
			return numbers[i]
		}}
	}
	if s.fibre < 0 {
		out[0].extra, out[2].extra = square(timeFibre), square(mostFibre)
	}
	return out
}

// Curves returns n equally likely set curves of a fibre, for dormancy at any age
// and humidity; a single bobbin departs from its fibre's by a little more. An
// unknown fibre is one of which the record holds none.
func (p *Posterior) Curves(fibre string, n int) []rest.Curve {
	columns := p.draw(estimate.NewSampler(max(n, 1), seed), p.curveOf(fibre)...)
	out := make([]rest.Curve, max(n, 1))
	for i := range out {
		c, _ := humidity(columns[3][i])
		out[i] = curve(columns[0][i], columns[1][i], columns[2][i], c)
	}
	return out
}

// seed of all draws: equal questions get equal answers.
const seed = 1
