package cloth

import (
	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// Arrangement is how the twist of warp and weft lies in a cloth.
type Arrangement struct {
	// Alike is true where the twist lines of warp and weft run alike on the face:
	// twists of opposite letters, since one of the two lies across.
	Alike bool
	// TwillShows is true where the twill line runs against the twist of the warp,
	// and Line is that of the twill; none in other weaves.
	TwillShows bool
	Line       yarn.Direction
}

// Arrange tells what the twists of warp and weft, of the finished yarns, do in a
// weave (Taylor, Cotton Weaving). It refuses with an *Error twists that are not
// known.
func Arrange(warp, weft yarn.Direction, w Weave) (Arrangement, error) {
	if warp == yarn.NoDirection || weft == yarn.NoDirection {
		return Arrangement{}, refuse("Read S or Z on an upright piece of each yarn.", "The twist of warp or weft is not given.")
	}
	line := w.Diagonal()
	return Arrangement{Alike: warp != weft, TwillShows: line != yarn.NoDirection && line != warp, Line: line}, nil
}

// Note says it in plain words.
func (a Arrangement) Note() string {
	note := "Warp and weft of one letter cross: their twists keep the threads apart, for a thicker, more open cloth."
	if a.Alike {
		note = "Warp and weft of opposite letters lie alike in the cloth: threads bed together, for a closer, finer face."
	}
	switch {
	case a.Line == yarn.NoDirection:
	case a.TwillShows:
		note += " The twill line runs against the twist of the warp and shows best."
	default:
		note += " The twill line runs with the twist of the warp and shows softly; turn the twill the other way to sharpen it."
	}
	return note + " Mark the packages: S and Z look alike."
}

// Risk is how likely twist shows as crinkled diagonal lines, tracking, once the
// cloth is washed.
type Risk int

// The risks.
const (
	LowRisk Risk = iota
	SomeRisk
	HighRisk
)

// String returns the word for it.
func (r Risk) String() string { return [...]string{"low", "some", "high"}[r] }

// Tracking is the risk at the least and at the most of the residual twist.
type Tracking struct {
	Least, Most Risk
	Open        bool // the sett is open
	Flags       estimate.Flags
}

// The grades of what adds to tracking. Common practice names what adds; where
// the lines are drawn is an assumption.
const (
	openSett  Share      = 0.7             // of the closest sett: below it threads can turn
	noTwist   unit.Angle = 6 * unit.Degree // at the surface: hardly moves a thread
	highTwist unit.Angle = 18 * unit.Degree
)

// TrackingRisk grades it. The residual twist is the turns that are still living
// and unbalanced after the wash, as the surface angle that they would give the
// yarn: near nothing in a balanced ply, all of it in singles. sett is a share of
// the closest one. Plain weave, an open sett and much residual twist together
// are high; twist that is balanced is low in any cloth; a weave with floats and a
// close sett hide it (common practice).
func TrackingRisk(residual estimate.Estimate[yarn.SurfaceAngle], sett Share, w Weave) Tracking {
	open := sett < openSett
	adds := bit(open) + bit(w.PickFloat() < 1.5)
	grade := func(a yarn.SurfaceAngle) Risk {
		switch a := unit.Angle(a); {
		case a < noTwist:
			return LowRisk
		case a < highTwist && adds < 2, adds < 1:
			return SomeRisk
		}
		return HighRisk
	}
	return Tracking{Least: grade(residual.Low), Most: grade(residual.High), Open: open,
		Flags: residual.Flags.With(estimate.Modelled, CommonPractice, Assumed)}
}
