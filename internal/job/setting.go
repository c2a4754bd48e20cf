package job

import (
	"fmt"

	"waketwist/internal/journal"
	"waketwist/unit"
)

// Setting says how a drive puts turns per metre into what passes it: treadles for
// each draw, or seconds at the motor's speed. Turns come from the flyer; a
// bobbin-led wheel loses one for each wrap that it winds on. Empty when too
// little is known.
func Setting(d journal.Drive, turns unit.Twist) string {
	if d.Draw == nil {
		return ""
	}
	need := turns.PerMetre() * d.Draw.Metres()
	switch {
	case d.Ratio != nil:
		return fmt.Sprintf("%.1f treadles for each draw of %s, at %.4g flyer turns a treadle", need / *d.Ratio, *d.Draw, *d.Ratio)
	case d.RPM != nil:
		return fmt.Sprintf("%.1f seconds for each draw of %s, at %.0f turns a minute", 60*need / *d.RPM, *d.Draw, *d.RPM)
	}
	return ""
}
