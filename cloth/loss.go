package cloth

import (
	"math"

	"waketwist/estimate"
	"waketwist/unit"
)

// Loss is the share that a length loses of what it was before: 0.2 where 10 in
// become 8 in. It is under 1; under 0 where the length grows.
type Loss float64

// MostLoss is the largest loss that is taken, and LeastLoss the smallest.
const (
	MostLoss  Loss = 0.9
	LeastLoss Loss = -0.5
)

// LossOf returns the loss from a length before, which must be above zero, to the
// length after.
func LossOf(before, after unit.Length) Loss { return 1 - Loss(after/before) }

// Then returns the loss of a loss and another one after it.
func (l Loss) Then(next Loss) Loss { return 1 - (1-l)*(1-next) }

// Before returns what to begin with so that after is left: after / (1 - loss).
// Adding the loss to after instead falls short.
func Before[T ~float64](l Loss, after T) T { return after / T(1-l) }

// After returns what is left of before.
func After[T ~float64](l Loss, before T) T { return before * T(1-l) }

// check refuses losses of nothing left.
func (l Loss) check(what string) error {
	if !(l >= LeastLoss && l <= MostLoss) {
		return refuse("Measure a sample before and after; a loss is from -50 % to 90 %.",
			"%s of %.4g %% leaves no cloth to reckon with.", what, 100*float64(l))
	}
	return nil
}

// Exactly is a value without spread: one that is chosen, not met.
func Exactly[T ~float64](v T) estimate.Estimate[T] {
	return estimate.Estimate[T]{Value: v, Low: v, High: v}
}

// GuessedLoss is a loss given as one number: 90 % is taken to lie within three
// tenths of it, an assumption.
func GuessedLoss(l Loss) estimate.Estimate[Loss] {
	reach := Loss(0.3 * math.Abs(float64(l)))
	return estimate.Estimate[Loss]{Value: l, SD: reach / estimate.Reach, Low: l - reach, High: max(l, min(MostLoss, l+reach)), Flags: estimate.Flags{Assumed}}
}

// LossBetween is a loss of which 90 % lies between low and high.
func LossBetween(low, high Loss) estimate.Estimate[Loss] {
	return estimate.Estimate[Loss]{Value: (low + high) / 2, SD: (high - low) / (2 * estimate.Reach), Low: low, High: high}
}

// WeavingLoss is what take-up, or draw-in, is taken to be where nothing is
// known: 5 to 15 % (common practice; measured draw-ins run from 6 to 13 %).
func WeavingLoss() estimate.Estimate[Loss] { return UsualBetween(0.05, 0.15) }

// WashingLoss is what the wash is taken to do to wool cloth where nothing is
// known: 5 to 20 %, not fulled (common practice; fulled, 20 to 30 %).
func WashingLoss() estimate.Estimate[Loss] { return UsualBetween(0.05, 0.20) }

// UsualBetween is a loss of which 90 % lies between low and high by common
// practice.
func UsualBetween(low, high Loss) estimate.Estimate[Loss] {
	e := LossBetween(low, high)
	e.Flags = estimate.Flags{CommonPractice}
	return e
}

// drawLoss returns a column of equally likely losses: what is left, 1 - loss, is
// log-normal, and no draw goes beyond the losses that are taken.
func drawLoss(s *estimate.Sampler, e estimate.Estimate[Loss]) []Loss {
	left := s.LogNormal(float64(1-e.Value), math.Log(float64((1-e.Low)/(1-e.High)))/(2*estimate.Reach))
	out := make([]Loss, len(left))
	for i, v := range left {
		out[i] = min(MostLoss, max(LeastLoss, 1-Loss(v)))
	}
	return out
}

// drawPositive returns a log-normal column of a quantity above zero; of one that
// is zero, zeros.
func drawPositive[T ~float64](s *estimate.Sampler, e estimate.Estimate[T]) []T {
	out := make([]T, drawCount)
	if e.Value <= 0 {
		return out
	}
	for i, v := range s.LogNormal(float64(e.Value), math.Log(float64(e.High/e.Low))/(2*estimate.Reach)) {
		out[i] = T(v)
	}
	return out
}
