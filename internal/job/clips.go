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

// Clips says where on a bobbin to clip dry samples, and when again, by what the
// record knows of its fibre. It refuses with a *rest.Error a bobbin of which it is
// not known when it was spun.
func Clips(b journal.Bobbin, record hand.Record, now time.Time) ([]rest.ClipAt, error) {
	wound, err := rest.Layers(stretchesOf(b), nil, now)
	if err != nil {
		return nil, err
	}
	return rest.ClipPlan(wound, restingOf(learnFrom(record), b), rest.Steady(RoomHumidity), clipChange)
}

// ClipWords says one place of a clip plan in a line.
func ClipWords(c rest.ClipAt) string {
	words := fmt.Sprintf("From %s", journal.DepthWords(c.Depth))
	if c.DrawOff > 0 {
		words += fmt.Sprintf(" (after %s)", c.DrawOff)
	}
	words += fmt.Sprintf(", rested %s: %.0f %% asleep expected (%.0f to %.0f %%, modelled)",
		wholeDays(c.Age), 100*c.Dormant.Value, 100*c.Dormant.Low, 100*c.Dormant.High)
	if c.Again != nil && *c.Again < 180*24*time.Hour {
		words += fmt.Sprintf("; worth clipping again after %s", wholeDays(*c.Again))
	}
	return words + "."
}

// wholeDays prints a time that was reckoned: in days from two on, in hours below.
func wholeDays(d time.Duration) string {
	if d >= 48*time.Hour {
		return unit.FormatDuration(d.Round(24 * time.Hour))
	}
	return unit.FormatDuration(d.Round(time.Hour))
}
