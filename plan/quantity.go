package plan

import (
	"waketwist/cloth"
	"waketwist/unit"
	"waketwist/yarn"
)

// Key names a quantity of the chain; its values are in the base unit of T.
type Key[T ~float64] struct{ q quantity }

// Pace is metres made in an hour, and Hours a time.
type (
	Pace  float64
	Hours float64
)

// Count is a number of things that may come out as a fraction of one.
type Count float64

// The quantities of a woven cloth. Ends are as sleyed, picks as counted off the
// loom, losses of what there was before each step.
var (
	Width      = Key[unit.Length]{qWidth}  // finished
	Length     = Key[unit.Length]{qLength} // finished
	Ends       = Key[cloth.Density[cloth.OnLoom]]{qEnds}
	Picks      = Key[cloth.Density[cloth.OffLoom]]{qPicks}
	DrawIn     = Key[cloth.Loss]{qDrawIn}
	TakeUp     = Key[cloth.Loss]{qTakeUp} // of the warp in weaving
	WashWidth  = Key[cloth.Loss]{qWashWidth}
	WashLength = Key[cloth.Loss]{qWashLength}
	Waste      = Key[unit.Length]{qWaste}
	Fringe     = Key[unit.Length]{qFringe} // both ends together
	Spare      = Key[cloth.Allowance]{qSpare}
	ReedWidth  = Key[unit.Length]{qReed}
	WidthOff   = Key[unit.Length]{qWidthOff}   // off the loom
	LengthOff  = Key[unit.Length]{qLengthOff}  // off the loom
	LengthOn   = Key[unit.Length]{qLengthOn}   // woven, on the loom
	WarpLength = Key[unit.Length]{qWarpLength} // of each end
	EndCount   = Key[Count]{qEndCount}
	PickCount  = Key[Count]{qPickCount}
	Warp       = Key[unit.Length]{qWarp}
	Weft       = Key[unit.Length]{qWeft}
	EndsWashed = Key[cloth.Density[cloth.Washed]]{qEndsWashed}
	PickWashed = Key[cloth.Density[cloth.Washed]]{qPicksWashed}
)

// The quantities of a knitted fabric: width and length of one of its pieces.
var (
	KnitWidth  = Key[unit.Length]{qKnitWidth}
	KnitLength = Key[unit.Length]{qKnitLength}
	Pieces     = Key[Count]{qPieces}
	SwatchMass = Key[unit.Mass]{qSwatchMass}
)

// The quantities of the yarn, washed where not said otherwise. PlyAngle is that
// of a re-wet piece of the ply in balance, on the centre line of a strand, and of
// singles that of their surface fibres.
var (
	YarnLength   = Key[unit.Length]{qYarn}
	YarnMass     = Key[unit.Mass]{qMass}
	Grist        = Key[unit.LinearDensity]{qGrist}
	Wraps        = Key[unit.Wraps]{qWraps}
	WrapFactor   = Key[cloth.WrapFactor]{qFactor}
	YarnWash     = Key[cloth.Loss]{qWash}
	AtWheel      = Key[unit.Length]{qAtWheel}
	GristAtWheel = Key[unit.LinearDensity]{qGristAtWheel}
	PlyAngle     = Key[unit.Angle]{qAngle}
	PlyTwist     = Key[unit.Twist]{qPlyTwist}
	PlyTakeUp    = Key[cloth.Loss]{qPlyTakeUp}
)

// The quantities of the singles: the length is that of all strands, the angle
// that of the surface fibres, every turn living.
var (
	SinglesLength   = Key[unit.Length]{qSingles}
	SinglesGrist    = Key[unit.LinearDensity]{qSinglesGrist}
	SinglesDiameter = Key[unit.Length]{qDiameter}
	SinglesAngle    = Key[unit.Angle]{qSinglesAngle}
	SinglesTwist    = Key[unit.Twist]{qSinglesTwist}
	Packing         = Key[cloth.Packing]{qPacking}
	Stiffness       = Key[yarn.Stiffness]{qStiffness}
)

// The quantities of the fibre: Spun goes into the spinning, Prepared is that and
// the samples, Fibre is as it is bought. Fineness is the diameter of the fibres.
var (
	Spun      = Key[unit.Mass]{qSpun}
	Prepared  = Key[unit.Mass]{qPrepared}
	Fibre     = Key[unit.Mass]{qFibre}
	Scouring  = Key[cloth.Loss]{qScouring}
	Preparing = Key[cloth.Loss]{qPreparing}
	Sampling  = Key[cloth.Loss]{qSampling}
	Spinning  = Key[cloth.Loss]{qSpinning}
	Fineness  = Key[unit.Length]{qFineness}
)

// What is in hand bounds the plan, and decides the size where none is given.
var (
	FibreInHand   = Key[unit.Mass]{qFibreInHand}   // as it is bought
	SinglesInHand = Key[unit.Mass]{qSinglesInHand} // on all bobbins
	YarnInHand    = Key[unit.Mass]{qYarnInHand}
	TimeInHand    = Key[Hours]{qTimeInHand} // for spinning and plying
)

// The quantities of the work.
var (
	BobbinHolds   = Key[unit.Mass]{qBobbin}
	SpinningPace  = Key[Pace]{qPace}    // of singles
	PlyingPace    = Key[Pace]{qPlyPace} // of ply
	Bobbins       = Key[Count]{qBobbins}
	PlyBobbins    = Key[Count]{qPlyBobbins}
	SpinningHours = Key[Hours]{qHours}
	PlyingHours   = Key[Hours]{qPlyHours}
	// WarpTension is what the whole warp bears and Breaking what breaks one end,
	// both as the mass that would pull as hard.
	WarpTension = Key[unit.Mass]{qTension}
	Breaking    = Key[unit.Mass]{qBreaking}
	// LoomWidth is the most that the reed takes.
	LoomWidth = Key[unit.Length]{qLoomWidth}
)

type quantity int

const (
	qWidth quantity = iota
	qLength
	qEnds
	qPicks
	qReed
	qWidthOff
	qLengthOff
	qLengthOn
	qEndCount
	qPickCount
	qWarpLength
	qWarp
	qWeft
	qEndsWashed
	qPicksWashed
	qDrawIn
	qTakeUp
	qWashWidth
	qWashLength
	qWaste
	qFringe
	qSpare
	qLoomWidth
	qTension
	qBreaking
	qKnitWidth
	qKnitLength
	qPieces
	qSwatchMass
	qYarn
	qMass
	qGrist
	qWraps
	qFactor
	qAngle
	qPlyTwist
	qWash
	qAtWheel
	qGristAtWheel
	qPlyTakeUp
	qSingles
	qSinglesGrist
	qDiameter
	qSinglesAngle
	qSinglesTwist
	qPacking
	qStiffness
	qSpun
	qPrepared
	qFibre
	qSpinning
	qSampling
	qPreparing
	qScouring
	qFineness
	qYarnInHand
	qSinglesInHand
	qFibreInHand
	qBobbin
	qBobbins
	qPlyBobbins
	qPace
	qPlyPace
	qHours
	qPlyHours
	qTimeInHand
	quantities
)
