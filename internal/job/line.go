package job

import (
	"waketwist/unit"
	"waketwist/yarn"
)

// CentreOf is the middle value of the strand-centre angle behind an angle read on
// a line, for a drawing or a count of turns. The spread of the mapping is the
// caller's to add.
func CentreOf(a unit.Angle, line yarn.Line, strands int) yarn.CentreAngle {
	if line != yarn.VisibleBorder {
		return yarn.CentreAngle(a)
	}
	median, _ := yarn.BorderRatio(strands)
	return yarn.CentreAngle(unit.Atan(a.Tan() / median))
}
