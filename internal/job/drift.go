package job

import (
	"fmt"
	"math"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// leastChecks is how many checks a drift needs to be spoken of.
const leastChecks = 4

// Drift says whether the ply at the wheel has become steeper or softer over a
// run, by a line through its checks in the order of time; empty when there are
// too few. Only checks on one line are compared.
func Drift(run journal.Run) string {
	var hours, degrees []float64
	var line yarn.Line
	var sd unit.Angle
	for _, s := range run.Checks {
		valid := plyReadings(s)
		if s.Load != estimate.AtWheel || len(valid) == 0 {
			continue
		}
		if line == 0 {
			line = valid[0].Line
		}
		mean, crossed := meanOn(line, run.Plan.Strands, valid)
		if crossed > 0 {
			continue
		}
		hours = append(hours, s.Recorded.Sub(run.Started).Hours())
		degrees = append(degrees, mean.Value.Degrees())
		sd = max(sd, min(mean.SD, rest.EyeSD))
	}
	if len(hours) < leastChecks {
		return ""
	}
	fitted, err := estimate.FitLine(hours, degrees)
	if err != nil { // all at one moment
		return ""
	}
	return driftWords(fitted.SlopeInterval(sd.Degrees()), hours[len(hours)-1]-hours[0])
}

// driftWords speaks of the change over the run, which a slope alone hides.
func driftWords(slope estimate.Estimate[float64], hours float64) string {
	change := math.Abs(slope.Value * hours)
	span := fmt.Sprintf("%.1f° from the first check to the last (%.1f° to %.1f°, measured)", change,
		math.Min(math.Abs(slope.Low), math.Abs(slope.High))*hours, math.Max(math.Abs(slope.Low), math.Abs(slope.High))*hours)
	switch {
	case slope.Low > 0:
		return "The ply grows steeper as you go: " + span + ". Check your rhythm against the setting."
	case slope.High < 0:
		return "The ply grows softer as you go: " + span + ". Check your rhythm against the setting."
	}
	return fmt.Sprintf("No drift shows over %d checks; they would tell a change of %.0f° or more.", slope.N, math.Ceil((slope.High-slope.Low)/2*hours))
}
