package reading

import (
	"testing"

	"waketwist/unit"
)

// TestIntervalKnowsTheOutline: where the fit would change the outline of a lone ply, the
// angle lies between what either says, and is known less exactly than where both agree.
func TestIntervalKnowsTheOutline(t *testing.T) {
	q := newPly(2, round, float64(25*unit.Degree))
	sd := func(scale, offset float64) unit.Angle {
		return plySD(q, 25*unit.Degree, Pixels{60, fittedSD(60, scale, offset)}, Pixels{240, 1}, 1)
	}
	surest := sd(1, 0)
	for _, c := range []struct{ scale, offset float64 }{{0.95, 0}, {1.05, 0}, {1, 0.05}, {1, -0.05}} {
		m := fitting{scale: c.scale}
		if lone := m.believed(1); lone < min(1, c.scale) || lone > max(1, c.scale) || c.scale != 1 && (lone == 1 || lone == c.scale) {
			t.Errorf("scale %g: %g of the outline is believed of a lone yarn", c.scale, lone)
		}
		if slot := m.believed(2); slot != c.scale {
			t.Errorf("scale %g: %g of the slot between neighbours is believed", c.scale, slot)
		}
		if got := sd(c.scale, c.offset); got < 1.2*surest || got > 3*surest {
			t.Errorf("scale %g, offset %g: standard deviation %.2f deg, %.2f where outline and fit agree", c.scale, c.offset, got.Degrees(), surest.Degrees())
		}
	}
}
