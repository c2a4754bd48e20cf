package rest

import (
	"math"
	"time"

	"gonum.org/v1/gonum/stat/distuv"

	"waketwist/estimate"
)

// Humidity is the relative humidity of air in per cent, 0 to 100.
type Humidity float64

// StandardHumidity is that of the standard atmosphere in which textiles are
// tested (ISO 139, 20 degrees C); where no humidity is known it is taken.
const StandardHumidity Humidity = 65

// Check refuses with an *Error what air cannot have.
func (h Humidity) Check() error {
	if h >= 0 && h <= 100 {
		return nil
	}
	return refuse("Give the relative humidity of the room in per cent: lived-in rooms have 30 to 70.",
		"A relative humidity of %.4g %% is outside 0 to 100.", float64(h))
}

// Curve is the course of dormancy while singles rest at a steady humidity:
//
//	f(t) = f_max (1 - exp(-(t/T)^p)),  log10 T = log10 T_65 - c (RH - 65)
//
// Creep is near to a straight line in the logarithm of time over its middle
// part, and faster in damp air. The form is an assumption: no published
// measurement of wool yarn resting in a room stands behind it.
type Curve struct {
	Log10Hours   float64 // log10 of T_65 in hours, the time scale at 65 % RH
	Power        float64 // p, without unit: how steeply it runs
	Most         Share   // f_max, the share that falls dormant in the end
	PerPercentRH float64 // c, by which log10 T falls with each per cent RH
}

// Check refuses with an *Error a curve that no yarn can follow. The methods of
// a curve that passes give finite answers for every age and every humidity that
// passes.
func (c Curve) Check() error {
	const advice = "Take the curve from PriorCurves, or fit it to readings again."
	switch {
	case !(math.Abs(c.Log10Hours) <= 12):
		return refuse(advice, "A resting time scale of 10^%.4g hours makes no sense.", c.Log10Hours)
	case !(c.Power > 0 && c.Power <= 10):
		return refuse(advice, "A set curve's power of %.4g is outside 0 to 10.", c.Power)
	case !(c.Most >= 0 && c.Most <= 1):
		return refuse(advice, "A dormant share of %.4g in the end is outside 0 to 1.", float64(c.Most))
	case !(c.PerPercentRH >= 0 && c.PerPercentRH <= 1):
		return refuse(advice, "A shift of %.4g decades of time for each per cent of humidity is outside 0 to 1.", c.PerPercentRH)
	}
	return nil
}

// hours is T at a humidity.
func (c Curve) hours(rh Humidity) float64 {
	return math.Exp(math.Ln10 * (c.Log10Hours - c.PerPercentRH*float64(rh-StandardHumidity)))
}

// at is the dormant share after a time of x = t/T.
func (c Curve) at(x float64) Share {
	if !(x > 0) {
		return 0
	}
	return c.Most * Share(-math.Expm1(-math.Pow(x, c.Power)))
}

// Dormant returns the dormant share of singles that rested for age at a steady
// humidity; none before they are spun.
func (c Curve) Dormant(age time.Duration, rh Humidity) Share {
	return c.at(age.Hours() / c.hours(rh))
}

// Age is the inverse of Dormant: the age at which the dormant share is reached
// at a steady humidity. ok is false when it never is: at f_max and beyond, or
// not within the 292 years that a Duration holds.
func (c Curve) Age(dormant Share, rh Humidity) (age time.Duration, ok bool) {
	if dormant <= 0 {
		return 0, true
	}
	if !(dormant < c.Most) {
		return 0, false
	}
	x := math.Pow(-math.Log1p(-float64(dormant/c.Most)), 1/c.Power)
	return fromHours(x * c.hours(rh))
}

// fromHours returns a time; ok is false when it is longer than a Duration holds.
func fromHours(h float64) (d time.Duration, ok bool) {
	ns := h * float64(time.Hour)
	if !(ns < math.MaxInt64) {
		return math.MaxInt64, false
	}
	return time.Duration(ns), true
}

// PerDecade returns the slope df/dlog10 t at an age and a steady humidity: the
// share that falls dormant while the age grows tenfold, were the slope to hold.
func (c Curve) PerDecade(age time.Duration, rh Humidity) Share {
	x := age.Hours() / c.hours(rh)
	if !(x > 0) {
		return 0
	}
	q := math.Pow(x, c.Power)
	if math.IsInf(q, 1) {
		return 0
	}
	return c.Most * Share(math.Ln10*c.Power*q*math.Exp(-q))
}

// The priors of a curve's four numbers. Assumptions without a source.
const (
	log10HoursMean = 1.68 // T_65 of two days
	log10HoursSD   = 0.90
	powerMedian    = 0.35
	powerSigma     = 0.3
	logitMostMean  = 1.1 // f_max of 0.75
	logitMostSD    = 1.0
	perRHMean      = 0.03
	perRHSD        = 0.02
)

// PriorCurves returns equally likely curves, one for each row of the sampler,
// of a spinner of whom nothing is known.
func PriorCurves(s *estimate.Sampler) []Curve {
	hours := s.Normal(log10HoursMean, log10HoursSD)
	power := s.LogNormal(powerMedian, powerSigma)
	most := s.Normal(logitMostMean, logitMostSD)
	// A normal distribution cut off below zero: humidity never slows creep down.
	perRH := s.Uniform(distuv.UnitNormal.CDF(-perRHMean/perRHSD), 1)
	out := make([]Curve, len(hours))
	for i := range out {
		out[i] = Curve{hours[i], power[i], Share(1 / (1 + math.Exp(-most[i]))), perRHMean + perRHSD*distuv.UnitNormal.Quantile(perRH[i])}
	}
	return out
}
