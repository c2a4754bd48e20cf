package job

import (
	"fmt"
	"time"

	"waketwist/hand"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
)

// clipChange is the change of the dormant share that is worth a sample of its own.
const clipChange rest.Share = 0.08

// Clips says where on a bobbin to clip dry samples, and when again, by the curves
// of its fibre; nil curves take the assumptions. It refuses with a *rest.Error a
// bobbin of which it is not known when it was spun.
func Clips(b journal.Bobbin, curves []rest.Curve, now time.Time) ([]rest.ClipAt, error) {
	wound, err := rest.Layers(stretchesOf(b), nil, now)
	if err != nil {
		return nil, err
	}
	var fibre []rest.Blend
	if curves != nil {
		fibre = rest.Pure(curves)
	}
	return rest.ClipPlan(wound, fibre, rest.Steady(RoomHumidity), clipChange)
}

// CurvesOf draws the set curves of a bobbin's fibre as far as the record knows
// them; nil where nothing was read.
func CurvesOf(record hand.Record, b journal.Bobbin) []rest.Curve {
	if record.Readings() == 0 {
		return nil
	}
	known, err := hand.Fit(record)
	if err != nil { // readings that cannot be brought together teach nothing
		return nil
	}
	return known.Curves(fibreOf(b), curveDraws)
}

const curveDraws = 400

// ClipWords says one place of a clip plan in a line.
func ClipWords(c rest.ClipAt) string {
	words := fmt.Sprintf("From %s", journal.DepthWords(c.Depth))
	if c.DrawOff > 0 {
		words += fmt.Sprintf(" (after %s)", c.DrawOff)
	}
	words += fmt.Sprintf(", rested %s: %.0f %% asleep expected (%.0f to %.0f %%, modelled)",
		unit.FormatDuration(c.Age.Round(time.Hour)), 100*c.Dormant.Value, 100*c.Dormant.Low, 100*c.Dormant.High)
	if c.Again != nil && *c.Again < 180*24*time.Hour {
		words += fmt.Sprintf("; worth clipping again after %s", unit.FormatDuration(c.Again.Round(time.Hour)))
	}
	return words + "."
}
