package drawing_test

import (
	"image/color"
	"testing"

	"waketwist/internal/drawing"
	"waketwist/reading"
	"waketwist/unit"
	"waketwist/yarn"
)

// Ropes of strands in several colours show no strands that are all alike, and
// can be taken for two yarns side by side or, where the fibres lean, for singles.
func TestColouredRopeIsRefused(t *testing.T) {
	black, yellow, pink, red := color.NRGBA{0x20, 0x1c, 0x1a, 0xff}, color.NRGBA{0xe0, 0xc0, 0x30, 0xff},
		color.NRGBA{0xd8, 0x80, 0xa8, 0xff}, color.NRGBA{0xb0, 0x28, 0x30, 0xff}
	answered := 0
	for i, dyes := range [][]color.NRGBA{{black, yellow}, {black, yellow, pink}, {pink, pink, black, red}} {
		for _, plies := range []int{5, 6, 7} {
			for _, degrees := range []unit.Angle{22, 32} {
				y := drawing.Yarn{
					Plies: plies, Direction: yarn.Z, Angle: degrees * unit.Degree, StrandDiameter: unit.Millimetre,
					FibreLean: 8 * unit.Degree, Dyes: dyes, Hairiness: 0.3, UnevennessCV: 0.04, Seed: uint64(i + 1),
				}
				// A few that look like four strands are told with a doubt.
				r := readBack(t, y, drawing.Paper, 20*unit.Degree)
				if r.Readable {
					answered++
				}
				if r.Readable && !r.Has(reading.UnsurePlies) {
					t.Errorf("%d strands at %v in %d colours: read as %d strands, %v %v %v", plies, y.Angle, len(dyes), r.Plies, r.Direction, r.Angle, r.Flags)
				}
			}
		}
	}
	if answered > 2 {
		t.Errorf("%d of 18 ropes are read", answered)
	}
}
