package yarn

import (
	"fmt"

	"waketwist/unit"
)

// SurfaceAngle is the angle of the fibres at the surface of singles to the
// axis.
type SurfaceAngle unit.Angle

// CentreAngle is the angle of a strand's centre-line helix in a ply to the axis
// of the ply.
type CentreAngle unit.Angle

// Degrees returns a in degrees.
func (a SurfaceAngle) Degrees() float64 { return unit.Angle(a).Degrees() }

// Degrees returns b in degrees.
func (b CentreAngle) Degrees() float64 { return unit.Angle(b).Degrees() }

// Line says which line of the yarn an angle was read on.
type Line int

// The lines that angles are read on.
const (
	StrandCentre Line = iota + 1
	VisibleBorder
	SurfaceFibre
)

var lineNames = [...]string{"", "strand centre", "visible border", "surface fibre"}

// String returns the line in words; they are also what is stored.
func (l Line) String() string {
	if l < 0 || int(l) >= len(lineNames) {
		return fmt.Sprintf("Line(%d)", int(l))
	}
	return lineNames[l]
}

// ParseLine is the inverse of String.
func ParseLine(words string) (Line, error) {
	for l, name := range lineNames {
		if name == words && name != "" {
			return Line(l), nil
		}
	}
	return 0, fmt.Errorf("there is no line %q; choose one of strand centre, visible border, surface fibre", words)
}

// BorderRatio returns the median and the logarithmic standard deviation of
// tan(border angle as an eye reads it) / tan(centre angle) for a ply of the
// given number of strands.
//
// For touching round strands the border of a two-ply is as steep as the centre
// line at a quarter of the diameter and flatter elsewhere (ratio 0.64 averaged
// from edge to edge, up to 1); flattened soft strands show up to 2. With three
// or more strands the visible band sits further out and reads steeper. The
// figures here are own derivation and few photographs, hence the wide spread.
func BorderRatio(strands int) (median, sigma float64) {
	switch {
	case strands <= 2:
		return 1.15, 0.18
	case strands == 3:
		return 1.25, 0.20
	default:
		return 1.30, 0.20
	}
}
