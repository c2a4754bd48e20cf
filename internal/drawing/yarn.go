// Package drawing draws yarn true to given numbers: strand count, direction of
// twist, angle, thickness, evenness and finish. Draw makes a picture with a
// transparent background for a page; Photograph lays the same yarn on a table.
//
// The geometry is that of round strands whose centre lines are helices of
// radius R about the yarn axis, tan b = 2 pi R / pitch, seen from the side
// without perspective. Directions are those of ISO 2: with the yarn upright, Z
// strands run like the middle stroke of the letter Z. The same Yarn and Seed
// always give the same picture.
package drawing

import (
	"fmt"
	"image/color"
	"math"

	"waketwist/unit"
	"waketwist/yarn"
)

// Finish is how the yarn's surface looks. It changes sheen, depth of colour and
// hair, never the geometry: the angle and diameter given are those of the state
// drawn.
type Finish int

// The finishes.
const (
	Dry      Finish = iota // matt, some stray hair
	Wet                    // darker and glossy, hair lying flat
	Washed                 // washed and dried: bloomed, with more hair and a halo
	Felted                 // matted: fibres run every way
	Polished               // no fibres at all: of one strand a rod or a wire
)

// MaxAngle is the steepest angle that can be drawn. Forced plies have been seen
// near 48 degrees (from memory); singles steeper than this snarl at once.
const MaxAngle = 65 * unit.Degree

// Yarn is what is to be drawn.
type Yarn struct {
	// Plies is the number of strands, 1 for singles, at most 7.
	Plies int
	// Direction is that of the last twist: of the ply, or of the singles.
	Direction yarn.Direction
	// Angle to the yarn axis, 0 to MaxAngle: of the strands' centre lines for a
	// ply, of the surface fibres for singles.
	Angle unit.Angle
	// StrandDiameter is the diameter of one strand.
	StrandDiameter unit.Length
	// CentreRadiusRatio is the radius of the strands' centre lines over the
	// radius of a strand. Zero means that neighbouring strands just touch;
	// less than that lets soft strands flatten against each other. Singles
	// ignore it.
	CentreRadiusRatio float64
	// FibreLean is the angle to the yarn axis of the surface fibres on the
	// crests of a plied yarn, positive where they lean the way of the ply.
	// Zero, fibres along the yarn, is the look of a balanced ply. Singles
	// ignore it.
	FibreLean unit.Angle
	Finish    Finish
	// Dyes are the colours of the strands, used in turn; none means undyed.
	Dyes []color.NRGBA
	// Changes are the dyes that follow one another along every strand, each
	// strand beginning elsewhere, in place of Dyes.
	Changes []color.NRGBA
	// Blend are the colours of fibres carded into every strand (heather).
	Blend []color.NRGBA
	// Hairiness runs from 0 (none) by 0.3 (worsted-spun) and 0.7
	// (woollen-spun) to 1. The finish adds to it or takes from it.
	Hairiness float64
	// UnevennessCV is the coefficient of variation of the thickness along the
	// yarn, a fraction up to 0.4. Twist gathers in the thin places, turns per
	// length going as 1/thickness squared; the mean of the local angles stays
	// Angle.
	UnevennessCV float64
	// Loop ends the yarn on the right in the loop of a ply-back sample. It
	// needs two plies.
	Loop bool
	// Braid lays three strands in a flat braid in place of twisting them. The
	// angle is the steepest of their centre lines in the plane of the braid.
	Braid bool
	// Seed chooses between yarns of the same numbers.
	Seed uint64
}

// OuterDiameter returns the mean diameter of the envelope, 2(R + r), hair left
// out.
func (y Yarn) OuterDiameter() unit.Length {
	return y.StrandDiameter * unit.Length(1+y.centreRatio())
}

// Pitch returns the axial length of one full turn at the mean diameter. It is
// infinite for an angle of zero.
func (y Yarn) Pitch() unit.Length {
	r := y.centreRatio() * float64(y.StrandDiameter) / 2
	if y.Plies == 1 {
		r = float64(y.StrandDiameter) / 2
	}
	return unit.Length(2 * math.Pi * r / y.Angle.Tan())
}

// centreRatio returns R/r, 0 for singles.
func (y Yarn) centreRatio() float64 {
	switch {
	case y.Plies == 1:
		return 0
	case y.Braid:
		return braidHalfWidth
	case y.CentreRadiusRatio > 0:
		return y.CentreRadiusRatio
	}
	return yarn.ContactRadius(y.Plies, yarn.CentreAngle(y.Angle))
}

// surfaceLean is the angle of the surface fibres to the yarn axis, where they
// face the viewer.
func surfaceLean(y Yarn) unit.Angle {
	if y.Plies == 1 {
		return y.Angle
	}
	return y.FibreLean
}

// undyed is the colour of a cream fleece.
var undyed = color.NRGBA{R: 0xd8, G: 0xc3, B: 0x9c, A: 0xff}

func (y Yarn) dye(strand int) color.NRGBA {
	if len(y.Dyes) == 0 {
		return undyed
	}
	return y.Dyes[strand%len(y.Dyes)]
}

// check reports the first number that cannot be drawn.
func (y Yarn) check() error {
	between := func(v, lo, hi float64) bool { return v >= lo && v <= hi } // false for NaN
	switch {
	case !between(float64(y.Plies), 1, maxPlies):
		return fmt.Errorf("a yarn of %d strands cannot be drawn: give 1 to %d", y.Plies, maxPlies)
	case y.Direction != yarn.S && y.Direction != yarn.Z:
		return fmt.Errorf("the direction of twist is missing: say S or Z")
	case !between(float64(y.Angle), 0, float64(MaxAngle)):
		return fmt.Errorf("an angle of %.0f degrees cannot be drawn: give 0 to %.0f", y.Angle.Degrees(), MaxAngle.Degrees())
	case !between(y.StrandDiameter.Millimetres(), 0.01, 100):
		return fmt.Errorf("a strand %.3g mm thick cannot be drawn: give 0.01 to 100 mm", y.StrandDiameter.Millimetres())
	case !between(y.CentreRadiusRatio, 0, 4):
		return fmt.Errorf("centre lines at %.3g strand radii cannot be drawn: give up to 4, or 0 for touching strands", y.CentreRadiusRatio)
	case !between(math.Abs(float64(y.FibreLean)), 0, float64(MaxAngle)):
		return fmt.Errorf("fibres leaning %.0f degrees cannot be drawn: give at most %.0f either way", y.FibreLean.Degrees(), MaxAngle.Degrees())
	case !between(y.Hairiness, 0, 1):
		return fmt.Errorf("a hairiness of %.3g cannot be drawn: give 0 to 1", y.Hairiness)
	case !between(y.UnevennessCV, 0, 0.4):
		return fmt.Errorf("an unevenness of %.3g cannot be drawn: give 0 to 0.4", y.UnevennessCV)
	case y.Finish < Dry || y.Finish > Polished:
		return fmt.Errorf("finish %d is not known: use Dry, Wet, Washed, Felted or Polished", y.Finish)
	case y.Loop && y.Plies != 2:
		return fmt.Errorf("the loop of a ply-back sample needs 2 strands, not %d", y.Plies)
	case y.Braid && y.Plies != 3:
		return fmt.Errorf("a braid is drawn of 3 strands, not %d", y.Plies)
	}
	return nil
}

// maxPlies is seven, the most whose contact is solved. From five on the strands
// leave a hollow that nothing fills; such a rope is drawn dark where one looks
// into it.
const maxPlies = yarn.MaxStrands
