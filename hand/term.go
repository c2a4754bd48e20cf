package hand

import (
	"math"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/yarn"
)

// point is a value of every parameter that one block sees: those shared and its
// own. It also serves as a slope along them.
type point struct{ global, local []float64 }

// context is what a prediction needs beside the parameters.
type context struct {
	*layout
	scales [scaleCount]float64
}

// term is one number that was read: what it was, its standard deviation as
// recorded, and what the model says it should be. predict adds the slopes of its
// value to a gradient that starts at zero.
type term struct {
	id           string
	block        int
	observed, sd float64 // radians, or logarithms of ratios
	scale        scale
	predict      func(c *context, at point, slope point) float64
}

// terms lists everything in a record but the bobbins of fibres that are out of
// the model's range.
func terms(r Record, l *layout) (out []term) {
	for _, b := range r.Bobbins {
		if rest.OutsideModel(b.Fibre) {
			continue
		}
		for _, c := range b.Clips {
			for _, read := range c.Readings {
				s := l.sighting(b, c, read.Line)
				out = append(out, angleTerm(read, s.block, s.predict))
			}
		}
		for _, read := range b.Singles {
			s := l.singlesSighting(b, read)
			out = append(out, term{read.ID, s.block, float64(read.Angle), float64(read.SD), byEye, s.predictSurface})
		}
	}
	for _, s := range r.Skeins {
		out = append(out, skeinTerms(s, l)...)
	}
	return out
}

func angleTerm(r Reading, block int, predict func(*context, point, point) float64) term {
	t := term{r.ID, block, float64(r.Angle), float64(r.SD), byPhoto, predict}
	if r.Line == yarn.VisibleBorder {
		t.scale = byEye
	}
	return t
}

// sighting is a place on a bobbin in a state, as read on a line.
type sighting struct {
	block, fibre int // fibre: its first parameter, -1 for one not seen before
	weights      []float64
	state        estimate.State
	age          time.Duration
	room         rest.Room
	soak         float64
	line         yarn.Line
}

// freshAge stands for the time between the wheel and a fresh sample.
const freshAge = 5 * time.Minute

func (l *layout) sighting(b Bobbin, c Clip, line yarn.Line) sighting {
	s := sighting{block: l.bobbins[b.ID], fibre: l.fibres[b.Fibre], state: c.State, age: c.Age, room: c.Room, soak: c.Soak, line: line}
	s.weights = l.weightsAt(s.block, c.Place)
	if s.state == estimate.Fresh && s.age == 0 {
		s.age = freshAge
	}
	return s
}

func (l *layout) singlesSighting(b Bobbin, r SinglesReading) sighting {
	block := l.bobbins[b.ID]
	return sighting{block: block, fibre: l.fibres[b.Fibre], weights: l.weightsAt(block, r.Place)}
}

func (l *layout) weightsAt(block int, name string) (out []float64) {
	i := l.placeOf(block, name)
	for j := range i + 1 {
		out = append(out, l.mixing[block].At(i, j))
	}
	return out
}

// turns is the log of the twist at the sighting's place, all of it living.
func (s sighting) turns(c *context, at, slope point) float64 {
	wide := singlesBobbin * c.scales[ofBobbins]
	eta, d := logTurns(singlesHand*at.global[atSingles] + wide*at.local[bobbinTurns])
	slope.global[atSingles] += d * singlesHand
	slope.local[bobbinTurns] += d * wide
	cv := rest.PlaceCV * c.scales[ofPlaces]
	for j, w := range s.weights {
		eta += cv * w * at.local[bobbinPlaces+j]
		slope.local[bobbinPlaces+j] += cv * w
	}
	return eta
}

func (s sighting) predictSurface(c *context, at, slope point) float64 {
	return angleOf(s.turns(c, at, slope), slope)
}

// angleOf turns a log tangent and its slopes into an angle and its slopes.
func angleOf(logTan float64, slope point) float64 {
	a := math.Atan(math.Exp(logTan))
	d := math.Sin(a) * math.Cos(a)
	scaleBy(d, slope.global)
	scaleBy(d, slope.local)
	return a
}

func scaleBy(f float64, values []float64) {
	for i := range values {
		values[i] *= f
	}
}

// predict is the angle that a ply-back shows.
func (s sighting) predict(c *context, at, slope point) float64 {
	return angleOf(s.logTan(c, at, slope), slope)
}

func (s sighting) logTan(c *context, at, slope point) float64 {
	eta := s.turns(c, at, slope) + s.awake(c, at, slope)
	logK := s.logStiffness(at.global)
	y, byT, byK := plyback(eta, logK)
	scaleBy(byT, slope.global)
	scaleBy(byT, slope.local)
	slope.global[atStiffness] += byK * stiffnessHand
	if s.fibre >= 0 {
		slope.global[s.fibre+fibreStiffness] += byK * stiffnessFibre
	}
	if s.state == estimate.RewetDried {
		mean, sd := dampPrior()
		y += mean + sd*at.global[atDamp]
		slope.global[atDamp] += sd
	}
	if s.line == yarn.VisibleBorder {
		m, d := border(2, at.global[atBorder])
		y += m
		slope.global[atBorder] += d
	}
	return y
}

func (s sighting) logStiffness(global []float64) float64 {
	v := math.Log(stiffnessMedian) + stiffnessHand*global[atStiffness]
	if s.fibre >= 0 {
		v += stiffnessFibre * global[s.fibre+fibreStiffness]
	}
	return v
}

func dampPrior() (mean, sd float64) { return logNormal90(finish.WashOf(finish.Unknown).Damp) }

// awake is the log of the share of the twist that lives, with its slopes.
func (s sighting) awake(c *context, at, slope point) float64 {
	if !s.state.Dry() {
		left, d := residue(at.global[atResidue], s.soak)
		slope.global[atResidue] -= d / (1 - left)
		return math.Log1p(-left)
	}
	numbers, by := s.curveNumbers(c, at)
	set := curve(numbers[0], numbers[1], numbers[2], numbers[3])
	f := min(float64(set.DormantIn(s.room, s.age)), mostAsleep)
	for i, d := range s.awakeSlopes(set, f) {
		for _, p := range by[i] {
			slope.of(p)[p.at] += d * p.by
		}
	}
	return math.Log1p(-f)
}

// awakeSlopes are the slopes of log(1-f) along log10 T_65, log p, logit f_max and
// c, for f = f_max (1 - exp(-q)), q = (t/T)^p.
func (s sighting) awakeSlopes(set rest.Curve, f float64) (by [4]float64) {
	most := float64(set.Most)
	if f <= 0 || f >= most {
		return by
	}
	q := -math.Log1p(-f / most)
	perQ := -most * math.Exp(-q) / (1 - f)
	by[0] = -math.Ln10 * set.Power * q * perQ
	by[1] = q * math.Log(q) * perQ
	by[2] = -f * (1 - most) / (1 - f)
	const h = 1e-6
	moved := set
	moved.PerPercentRH += h
	by[3] = -(float64(moved.DormantIn(s.room, s.age)) - f) / h / (1 - f)
	return by
}

// mostAsleep keeps the living share above nothing.
const mostAsleep = 0.999

// part is one parameter's part in a number.
type part struct {
	own bool // of the block, else shared
	at  int
	by  float64
}

func (p point) of(q part) []float64 {
	if q.own {
		return p.local
	}
	return p.global
}

// curveNumbers are log10 T_65, log p, logit f_max and c, and what each is made
// of; parts that a number lacks count for nothing.
func (s sighting) curveNumbers(c *context, at point) (numbers [4]float64, by [4][3]part) {
	perRH, slope := humidity(at.global[atHumid])
	by = [4][3]part{
		{{false, atTime, timeHand}, {true, bobbinTime, timeBobbin * c.scales[ofRests]}},
		{{false, atPower, powerHand}},
		{{false, atMost, mostHand}},
		{{false, atHumid, slope}},
	}
	if s.fibre >= 0 {
		by[0][2] = part{false, s.fibre + fibreTime, timeFibre}
		by[2][2] = part{false, s.fibre + fibreMost, mostFibre}
	}
	numbers = [4]float64{timeMean, math.Log(powerMedian), mostMean, perRH}
	for i := range 3 {
		for _, p := range by[i] {
			numbers[i] += p.by * at.of(p)[p.at]
		}
	}
	return numbers, by
}

// skeinTerms are the readings before and after a wash.
func skeinTerms(s Skein, l *layout) (out []term) {
	block := l.skeins[s.ID]
	w := washing{s.Preparation, s.Strands}
	for _, r := range s.Wheel {
		out = append(out, angleTerm(r, block, w.angle(r.Line, false)))
	}
	for _, r := range s.Washed {
		out = append(out, angleTerm(r, block, w.angle(r.Line, true)))
	}
	if s.WheelLength > 0 && s.WashedLength > 0 {
		out = append(out, term{s.ID + " length", block, math.Log(float64(s.WashedLength / s.WheelLength)), loopSD, fixed,
			func(c *context, at, slope point) float64 { return w.length(c, at, slope, 1) }})
	}
	if s.WheelDiameter > 0 && s.WashedDiameter > 0 {
		out = append(out, term{s.ID + " diameter", block, math.Log(float64(s.WashedDiameter / s.WheelDiameter)), gaugeSD, fixed,
			func(c *context, at, slope point) float64 { return w.diameter(c, at, slope, 1) }})
	}
	return out
}

// washing is one skein's way through the wash.
type washing struct {
	preparation finish.Preparation
	strands     int
}

func (w washing) length(c *context, at, slope point, by float64) float64 {
	return w.factor(c, at, slope, by, finish.WashOf(w.preparation).Length, prepLength, skeinLength, ofLengths)
}

func (w washing) diameter(c *context, at, slope point, by float64) float64 {
	return w.factor(c, at, slope, by, finish.WashOf(w.preparation).Diameter, prepDiameter, skeinDiameter, ofDiameters)
}

// factor is the log of a wash factor; by is how its slopes count.
func (w washing) factor(c *context, at, slope point, by float64, r finish.Range, prep, skein int, of scale) float64 {
	mean, sd := logNormal90(r)
	own, common := sd*washSkein*c.scales[of], prepAt(w.preparation)+prep
	slope.global[common] += by * sd * washHand
	slope.local[skein] += by * own
	return mean + sd*washHand*at.global[common] + own*at.local[skein]
}

// angle predicts the angle of the ply at the wheel, or washed: the turns stay,
// so tan b goes with D/L.
func (w washing) angle(line yarn.Line, washed bool) func(*context, point, point) float64 {
	return func(c *context, at, slope point) float64 {
		y := plyMean + plySD*at.local[skeinPly]
		slope.local[skeinPly] += plySD
		if washed {
			y += w.diameter(c, at, slope, 1) - w.length(c, at, slope, -1)
		}
		if line == yarn.VisibleBorder {
			m, d := border(w.strands, at.global[atBorder])
			y += m
			slope.global[atBorder] += d
		}
		return angleOf(y, slope)
	}
}
