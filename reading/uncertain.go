package reading

import (
	"math"

	"waketwist/unit"
)

// The parts of the uncertainty. All but the packing were set so that the 90 %
// intervals hold the truth about nine times in ten on the pictures that the
// reading was tuned on.
const (
	fittedShare = 0.01  // of the width that fit and outline agree on
	edgePixels  = 0.8   // of the width: how exactly an outline can be drawn
	pitchShare  = 0.015 // of the pitch
	turnShare   = 0.03  // of one turn, over the turns in view
	bundleShare = 0.03  // of the width, for yarns side by side
	leastSD     = 0.4 * unit.Degree
	singlesBias = 1.0 * unit.Degree
	seenShare   = 0.035             // of the tangent: how deep the fibres seen lie
	faintBias   = 1.2 * unit.Degree // what noise does to faint fibres
)

// nineInTen is how many standard deviations to either side hold nine in ten of
// what is spread normally.
const nineInTen = 1.645

// interval is an angle with a normal 90 % interval.
func interval(v, sd unit.Angle) Angle {
	return Angle{Value: v, SD: sd, Low: max(v-nineInTen*sd, 0), High: v + nineInTen*sd}
}

// including returns a widened to include v and as much as margin beyond.
func (a Angle) including(v, margin unit.Angle) Angle {
	a.Low, a.High = min(a.Low, max(v-margin, 0)), max(a.High, v+margin)
	a.SD = max(a.SD, (a.High-a.Low)/(2*nineInTen))
	return a
}

// fittedSD is the standard deviation of the width, in pixels, on which an angle rests
// where the fit would multiply that of the outline by scale and move it aside by offset
// (half widths): where it would, a shadow or the like spoils one of the two, and neither is
// surer than they lie apart.
func fittedSD(width, scale, offset float64) float64 {
	return math.Hypot(math.Hypot(fittedShare*width, edgePixels), math.Hypot(1-scale, offset)*width)
}

// The parts of the uncertainty of a width that is reported, beside edgePixels. Each was
// wide enough for nine truths in ten on the same pictures.
const (
	widthShare  = 0.034 // of the width: where the outline is drawn
	usualBlur   = 0.1   // of the width: edges are as soft as that when they are sharp in the picture
	soughtShare = 0.5   // of what the fit would move the yarn sideways, in half widths
	slotShare   = 0.07  // of the width, between neighbours, whose gaps are narrow
)

// outlineSD is the standard deviation of the width of a yarn by its outline, which
// a fit would multiply by scale and move aside by offset (half widths): where
// it would, an edge may lie elsewhere, and where the edge is soft or may be that
// of a shadow as well.
func (c *cut) outlineSD(width, scale, offset float64) float64 {
	soft := math.Max(c.edgeBlur()/c.width-usualBlur, 0)
	share := math.Hypot(soft, math.Hypot(1-scale, soughtShare*offset))
	if c.abreast > 1 {
		share = math.Hypot(share, slotShare)
	}
	return math.Hypot(math.Hypot(widthShare*width, edgePixels), math.Hypot(share*width, c.shadeLeft()))
}

// pitchSD is the standard deviation of a pitch measured over so many turns.
func pitchSD(pitch, turns float64) float64 {
	return pitch * math.Hypot(pitchShare, turnShare/math.Max(turns, 0.5))
}

// plySD is the standard deviation of a ply's angle: tan b goes with the
// radius of the helix and the width and against the pitch.
func plySD(q ply, b unit.Angle, width, pitch Pixels, abreast int) unit.Angle {
	share := math.Hypot(q.radiusSD(), math.Hypot(width.SD/width.Value, pitch.SD/pitch.Value))
	if abreast > 1 {
		share = math.Hypot(share, bundleShare)
	}
	sin, cos := math.Sincos(float64(b))
	return unit.Angle(math.Hypot(share*sin*cos, float64(leastSD)))
}

// singlesSD is the standard deviation of a mean surface angle (radians) whose
// local values scatter by spread (radians) over so many windows.
func singlesSD(a, spread, windows float64, faint bool) unit.Angle {
	sin, cos := math.Sincos(a)
	sampling := spread / math.Sqrt(math.Max(windows, 1))
	sd := math.Hypot(math.Hypot(float64(singlesBias), seenShare*sin*cos), sampling)
	if faint {
		sd = math.Hypot(sd, float64(faintBias))
	}
	return unit.Angle(sd)
}
