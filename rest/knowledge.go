package rest

import (
	"math"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/unit"
	"waketwist/yarn"
)

// Spread is a positive number without unit as far as it is known: log-normal
// around its median, Sigma the standard deviation of its natural logarithm.
type Spread struct{ Median, Sigma float64 }

// Knowledge is what is held of a spinner's hand, eye and wool before the samples
// at hand are heard. Prior gives it for a spinner of whom nothing is known; what
// earlier yarns taught takes its place. It must not rest on the samples that
// Wake is then given: they would be heard twice.
type Knowledge struct {
	Stiffness    Spread         // k = B/C
	Singles      SinglesReading // surface angle of singles that were not measured
	PlaceCV      Share          // coefficient of variation of the turns from place to place along a bobbin
	EyeSD        unit.Angle     // standard deviation of one reading by eye
	PhotographSD unit.Angle     // of one reading from a good photograph
	Border       Spread         // tan border / tan centre that this eye sees on a two-ply
	SoakResidue  Share          // most that a full soak leaves asleep: evenly likely from 0 to this
	Wash         finish.Wash
	Readings     int // behind it, 0 for the prior
}

// Prior returns what is taken of a spinner of whom nothing is known. All of it
// but the wash and the border is an assumption without a source; those two say
// what they rest on.
func Prior(p finish.Preparation) Knowledge {
	median, sigma := yarn.BorderRatio(2)
	return Knowledge{
		Stiffness:    Spread{stiffnessMedian, stiffnessSigma},
		Singles:      SinglesReading{yarn.SurfaceAngle(singlesMean), singlesSD},
		PlaceCV:      PlaceCV,
		EyeSD:        EyeSD,
		PhotographSD: PhotographSD,
		Border:       Spread{median, sigma},
		SoakResidue:  soakResidue,
		Wash:         finish.WashOf(p),
	}
}

// Check refuses with an *Error numbers that cannot be computed with.
func (k Knowledge) Check() error {
	within := func(v, low, high float64) bool { return v >= low && v <= high }
	spread := func(s Spread) bool { return within(s.Median, 1e-3, 1e3) && within(s.Sigma, 0, 3) }
	factor := func(r finish.Range) bool { return r.Low > 1e-3 && r.Low <= r.High && r.High < 1e3 }
	angle := func(a unit.Angle) bool { return within(a.Degrees(), 1e-3, 60) }
	switch {
	case !spread(k.Stiffness), !spread(k.Border):
	case !angle(unit.Angle(k.Singles.Angle)), !angle(k.Singles.SD), !angle(k.EyeSD), !angle(k.PhotographSD):
	case !within(float64(k.PlaceCV), 0, 2), !within(float64(k.SoakResidue), 0, 1):
	case !factor(k.Wash.Length), !factor(k.Wash.Diameter), !factor(k.Wash.Damp):
	default:
		return nil
	}
	return refuse("Learn it anew from the readings, or leave it out: the usual assumptions are taken then.", "What is held of this spinner makes no sense.")
}

// known is the plan's knowledge, or the prior of its preparation.
func (p Plan) known() Knowledge {
	if p.Known != nil {
		return *p.Known
	}
	return Prior(p.Preparation)
}

// held is a Knowledge made ready for use: with equally likely values of k.
type held struct {
	Knowledge
	stiffnesses []float64
}

func hold(k Knowledge) held {
	return held{k, estimate.NewSampler(stiffnessCount, 1).LogNormal(k.Stiffness.Median, k.Stiffness.Sigma)}
}

// readingSD is the standard deviation of a reading: what was recorded with it,
// corrected by what is known of the eye or of the reader of photographs.
func (h held) readingSD(r Reading) unit.Angle {
	if r.Line == yarn.VisibleBorder {
		return r.SD * (h.EyeSD / EyeSD)
	}
	return r.SD * (h.PhotographSD / PhotographSD)
}

// borderRatio is tan border / tan centre of a ply of n strands, z standard
// deviations of the eye's own spread from its median. An eye that sees a two-ply
// steeper than others do sees all plies so.
func (h held) borderRatio(n int, z float64) float64 {
	two, sigma2 := yarn.BorderRatio(2)
	median, sigma := yarn.BorderRatio(n)
	shift := (math.Log(h.Border.Median/two) + h.Border.Sigma*z) / sigma2
	return median * math.Exp(sigma*shift)
}

// singlesOf is the bobbin's own reading of the singles, or what singles of this
// hand are like.
func (h held) singlesOf(b Bobbin) SinglesReading {
	if b.Singles != nil {
		return *b.Singles
	}
	return h.Singles
}

// placeSpread is the standard deviation of the log tangent from place to place,
// for a sensitivity d log tan b / d log turns.
func (h held) placeSpread(sensitivity float64) float64 { return sensitivity * float64(h.PlaceCV) }
