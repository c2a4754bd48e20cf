package hand

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Priors of the parameters. Those of the hand, the fibre and the bobbin together
// make up the spreads that package rest takes of a spinner of whom nothing is
// known; how they divide is an assumption without a source.
const (
	stiffnessMedian = 0.7 // k = B/C
	stiffnessHand   = 1.0 // standard deviations of log k
	stiffnessFibre  = 0.5

	timeMean   = 1.68 // log10 of T_65 in hours
	timeHand   = 0.77
	timeFibre  = 0.42
	timeBobbin = 0.20 // how much faster or slower one bobbin falls asleep than another

	powerMedian = 0.35 // p
	powerHand   = 0.3

	mostMean  = 1.1 // logit of f_max
	mostHand  = 0.87
	mostFibre = 0.5

	humidMean = 0.03 // c, per % relative humidity, cut off below zero
	humidSD   = 0.02

	// Surface angles of singles lie between 0 and steepestSingles; logit-normal in
	// between, 90 % from 10 to 50 degrees.
	steepestSingles = 60 * unit.Degree
	singlesSpread   = 0.978
	singlesHand     = 0.7 // of that spread, in standard deviations
	singlesBobbin   = 0.714

	// Share of the range of a preparation's wash factors (in standard deviations)
	// that belongs to the spinner; the rest comes and goes from skein to skein.
	washHand  = 0.8
	washSkein = 0.6

	plyMean = -0.63 // log tan of the ply angle at the wheel: 28 degrees
	plySD   = 0.5

	loopSD  = 0.02 // of the log ratio of two lengths of a skein, by loops and girth
	gaugeSD = 0.07 // of the log ratio of two diameters of a yarn

	residueMost = 0.1 // most that a full soak leaves asleep
)

// Pseudo-counts: how many readings' worth of knowledge the starting value of a
// scatter is.
const (
	readingCount = 8
	placeCount   = 8
	bobbinCount  = 8
	skeinCount   = 6
)

// caution widens what the posterior says: it is normal only nearly, the scatters
// are not known as well as it takes them to be, and a hand may lie outside what
// was assumed of hands. Chosen on simulated spinners (see docs/hand.md).
const caution = 1.16

// asleepCaution widens dormant shares further: nothing published stands behind
// the form of their curve.
const asleepCaution = 1.05

// scale names a scatter that is learnt, as a factor on its starting value.
type scale int

const (
	fixed       scale = iota // not learnt: 1
	byEye                    // of readings by eye
	byPhoto                  // of readings from photographs
	ofPlaces                 // of turns from place to place
	ofRests                  // of log T from bobbin to bobbin
	ofBobbins                // of turns from bobbin to bobbin
	ofLengths                // of L from skein to skein
	ofDiameters              // of D from skein to skein
	scaleCount
)

var pseudoCount = [scaleCount]float64{byEye: readingCount, byPhoto: readingCount, ofPlaces: placeCount, ofRests: bobbinCount,
	ofBobbins: bobbinCount, ofLengths: skeinCount, ofDiameters: skeinCount}

// logNormal90 is the median and logarithmic standard deviation of a range.
func logNormal90(r finish.Range) (mean, sd float64) {
	return (math.Log(r.Low) + math.Log(r.High)) / 2, math.Log(r.High/r.Low) / (2 * estimate.Reach)
}

func range90(mean, sd float64) finish.Range {
	return finish.Range{Low: math.Exp(mean - estimate.Reach*sd), High: math.Exp(mean + estimate.Reach*sd)}
}

// humidity maps a standard normal parameter to c, which is normal above zero.
func humidity(u float64) (c, slope float64) {
	below := distuv.UnitNormal.CDF(-humidMean / humidSD)
	p := below + (1-below)*distuv.UnitNormal.CDF(u)
	q := distuv.UnitNormal.Quantile(min(p, 1-1e-15))
	slope = (1 - below) * distuv.UnitNormal.Prob(u) / distuv.UnitNormal.Prob(q)
	return humidMean + humidSD*q, humidSD * slope
}

// residue maps a standard normal parameter to the share that a soak of some
// minutes leaves asleep: evenly likely from 0 to residueMost, and to more after
// a short soak.
func residue(u, minutes float64) (share, slope float64) {
	most := float64(rest.ResidueAfter(residueMost, minutes))
	return most * distuv.UnitNormal.CDF(u), most * distuv.UnitNormal.Prob(u)
}

// logTurns maps the place of singles on the scale of surface angles (standard
// deviations) to the log of the living twist, log tan a.
func logTurns(v float64) (eta, slope float64) {
	p := 1 / (1 + math.Exp(-singlesSpread*v))
	a := float64(steepestSingles) * p
	slope = float64(steepestSingles) * singlesSpread * p * (1 - p) / (math.Sin(a) * math.Cos(a))
	return math.Log(math.Tan(a)), slope
}

// border is the log of tan border / tan centre for a ply of n strands as an eye
// u standard deviations from the usual one sees it.
func border(n int, u float64) (log, slope float64) {
	median, sigma := yarn.BorderRatio(n)
	return math.Log(median) + sigma*u, sigma
}

// plyback solves t = s/(1+s^2) (1 + 2 k s^2/(1-s^2)), the balance of two
// strands, for y = log s from log t and log k, and gives its slopes. It is
// yarn.Balanced in the coordinates in which the model is nearly linear.
func plyback(logT, logK float64) (y, byT, byK float64) {
	k, t := math.Exp(logK), math.Exp(logT)
	lo, hi := 0.0, 1-1e-9 // bounds of s
	s := min(t, 0.5)
	for range 100 {
		value, slope := liveliness(s, k)
		if value > t {
			hi = s
		} else {
			lo = s
		}
		next := s - (value-t)/slope
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-s) <= 1e-13*s {
			break
		}
		s = next
	}
	value, slope := liveliness(s, k)
	q := s * s / (1 - s*s)
	byT = min(max(value/(slope*s), 0), steepestSlope)
	return math.Log(s), byT, -byT * 2 * k * q / (1 + 2*k*q)
}

// steepestSlope bounds d log tan b / d log turns: without stiffness it grows
// beyond all bounds at the limit.
const steepestSlope = 2

// liveliness is the living twist of a two-ply balanced at s = tan b, and its
// slope.
func liveliness(s, k float64) (t, slope float64) {
	s2 := s * s
	t = s / (1 + s2) * (1 + 2*k*s2/(1-s2))
	slope = (1-s2)/((1+s2)*(1+s2))*(1+2*k*s2/(1-s2)) + s/(1+s2)*4*k*s/((1-s2)*(1-s2))
	return t, slope
}

// curve is the set curve of the parameters of rest.Curve, in the units in which
// their priors stand.
func curve(log10Hours, logPower, logitMost, perRH float64) rest.Curve {
	return rest.Curve{
		Log10Hours: min(max(log10Hours, -12), 12), Power: min(math.Exp(logPower), 10),
		Most: rest.Share(1 / (1 + math.Exp(-logitMost))), PerPercentRH: min(perRH, 1),
	}
}
