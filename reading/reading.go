// Package reading reads the twist of yarn from one photograph: whether it is
// singles or a ply, of how many strands, S or Z, at what angle, how wide, at
// what pitch and how even, and how sure all that is. It refuses pictures that
// cannot carry a reading.
//
// The method is analysis by synthesis. Yarn is found as a band that differs
// from both its flanks, followed, cut out and straightened. A pattern that
// repeats and leans is followed along it and laid over itself period by
// period, and the mean period is compared with what n strands, round or pressed
// flat, look like when twisted, for n from 2 to 4. Where no such pattern explains
// the picture, the lean of the surface fibres is measured instead: singles. What
// shows neither may still show to which side the borders between strands lean.
package reading

import (
	"image"
	"slices"

	"waketwist/raster"
	"waketwist/unit"
	"waketwist/yarn"
)

// Structure says what kind of yarn was seen.
type Structure int

// The structures told apart (ISO 1139 calls the second folded yarn).
const (
	UnknownStructure Structure = iota
	Singles
	Ply
)

func (s Structure) String() string {
	return [...]string{"unknown", "singles", "ply"}[s]
}

// Options is what a person can tell beforehand.
type Options struct {
	// Plies is the number of strands, 0 where it is not known. 1 means
	// singles.
	Plies int
	// At is where the yarn to be read lies in the upright picture, in photo
	// pixels: a box dragged over it, or a tap as a box of one pixel. Empty
	// means anywhere.
	At image.Rectangle
	// Along is a line along the middle of the yarn, from where it may be read to
	// where it may not, in photo pixels of the upright picture; CheckLine says
	// which can be meant. A smooth curve is laid through its points, and the yarn
	// is looked for at most half its width beside that. Empty means that none was
	// drawn; where one was, At counts for nothing.
	Along []Point
}

// An Angle is an angle to the yarn's axis with its uncertainty.
type Angle struct {
	Value     unit.Angle
	SD        unit.Angle
	Low, High unit.Angle // 90 % interval
}

// A Pixels is a length in photo pixels with its uncertainty.
type Pixels struct {
	Value, SD float64
}

// A Point is a place in the upright picture, in photo pixels.
type Point struct{ X, Y float64 }

// A Flag qualifies a reading without refusing it.
type Flag string

// Flags.
const (
	FewTurns       Flag = "few turns"       // under three turns in view
	NarrowYarn     Flag = "narrow yarn"     // under 25 pixels wide, or with hardly more detail than that
	UnsurePlies    Flag = "unsure plies"    // another number of strands explains the picture nearly as well
	SeveralStrands Flag = "several strands" // more than one yarn side by side
	Uneven         Flag = "uneven"          // width varies by more than 15 %
	StatedPlies    Flag = "stated plies"    // the number of strands was given, not read
	RoughAngle     Flag = "rough angle"     // only the lean of the borders was read, not a whole turn
	OtherTones     Flag = "other tones"     // read only where the picture's tones were changed
	SteepTwist     Flag = "at the lock"     // near the angle at which plies lock
)

// A Reading is what one photograph says about a yarn.
type Reading struct {
	Readable bool
	Reason   Reason // why not, where not Readable

	Structure Structure
	Plies     int            // strands; 1 for singles
	Direction yarn.Direction // of the last twist

	// Angle to the yarn's axis: of the strands' centre lines for a ply, of the
	// surface fibres for singles.
	Angle Angle
	// AngleSpread is the standard deviation of the local angle along the yarn.
	AngleSpread unit.Angle
	// Border is the mean angle of the visible border between strands, by the
	// fitted model, or as they are seen where RoughAngle says that nothing else
	// was: what the eye would read. Zero for singles.
	Border unit.Angle

	Width   Pixels  // of the outer envelope, without hairs
	WidthCV float64 // coefficient of variation of the width along the yarn, a fraction
	Pitch   Pixels  // axial length of one full turn of the ply; zero for singles

	// Axis is the direction of the yarn, 0 to 180 degrees counter-clockwise
	// from picture right.
	Axis          unit.Angle
	StrandsInView int // yarns side by side

	Flags   []Flag
	Overlay Overlay
}

// Has reports whether the reading carries a flag.
func (r Reading) Has(f Flag) bool {
	for _, g := range r.Flags {
		if g == f {
			return true
		}
	}
	return false
}

// Read reads the yarn in a photograph. It never fails: what cannot be read
// comes back with Readable false and a Reason.
func Read(photo *raster.Photo, opt Options) Reading {
	r := read(photo, opt, nil).Reading
	r.Overlay.Drawn = slices.Clone(opt.Along)
	return r
}
