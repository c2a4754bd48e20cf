package rest

import (
	"fmt"
	"math"

	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// Standard deviations of a single angle reading, and scatter of the turns from
// place to place along a bobbin as a coefficient of variation. Assumptions
// without a source, until the spinner's own readings say better.
const (
	EyeSD        = 4 * unit.Degree
	PhotographSD = 1.5 * unit.Degree
	PlaceCV      = 0.20
)

// Reading is one angle read on a ply-back: on which line, and the standard
// deviation of a single such reading.
type Reading struct {
	Angle unit.Angle
	Line  yarn.Line // VisibleBorder or StrandCentre
	SD    unit.Angle
}

// ByEye returns a reading of the visible border with a protractor or a dragged
// line.
func ByEye(a unit.Angle) Reading { return Reading{a, yarn.VisibleBorder, EyeSD} }

// Clip is a two-strand ply-back made from singles clipped off a bobbin.
type Clip struct {
	State     estimate.State // Fresh or Rested: dry; Rewet; RewetDried
	Place     string         // clips of one place were cut side by side, or are one piece
	Depth     float64        // 0 the outermost layer, 1 the layer on the core
	Soak      float64        // minutes in water, for Rewet; 0 when not recorded
	Direction yarn.Direction // of the ply-back; NoDirection when not known
	Readings  []Reading
}

// SinglesReading is the surface angle of the singles with all their twist
// living (fresh or re-wet), with its standard deviation.
type SinglesReading struct {
	Angle yarn.SurfaceAngle
	SD    unit.Angle
}

// Bobbin is what is known of one bobbin of singles.
type Bobbin struct {
	Name      string
	Direction yarn.Direction // of the singles; NoDirection when not known
	Singles   *SinglesReading
	Clips     []Clip
}

// Error says why readings cannot be turned into an answer, and what to do.
type Error struct {
	Problem, Advice string
}

// Error returns the problem and the advice as two sentences.
func (e *Error) Error() string { return e.Problem + " " + e.Advice }

func refuse(advice, problem string, args ...any) error {
	return &Error{Problem: fmt.Sprintf(problem, args...), Advice: advice}
}

// check looks for readings that cannot be meant.
func (b Bobbin) check() error {
	for _, c := range b.Clips {
		if len(c.Readings) == 0 {
			return refuse("Give at least one angle for it, or leave the sample out.", "A %s sample of %s has no reading.", c.State, b.called())
		}
		for _, r := range c.Readings {
			if err := r.check(); err != nil {
				return err
			}
		}
	}
	return b.checkDirections()
}

func (r Reading) check() error {
	deg := r.Angle.Degrees()
	if !(deg >= 1 && deg < 75) {
		return refuse("Measure between the yarn's axis and the line of the strands: 0 is along the yarn, and a firm ply shows 30 to 45 degrees.",
			"An angle of %.4g degrees is outside what a ply-back can show (1 to 75).", deg)
	}
	if !(r.SD > 0) || r.SD > unit.Angle(math.Pi/4) {
		return refuse("Give each reading a standard deviation between 0 and 45 degrees.", "A reading's standard deviation of %.4g degrees makes no sense.", r.SD.Degrees())
	}
	if r.Line != yarn.VisibleBorder && r.Line != yarn.StrandCentre {
		return refuse("Read the border between the two strands of the ply-back.", "A ply-back's angle cannot be read on its %s.", r.Line)
	}
	return nil
}

// checkDirections refuses ply-backs of both directions from one bobbin, and a
// ply-back that turns the way its singles do.
func (b Bobbin) checkDirections() error {
	seen := b.Direction.Opposite()
	for _, c := range b.Clips {
		if c.Direction == yarn.NoDirection {
			continue
		}
		if seen == yarn.NoDirection {
			seen = c.Direction
		}
		if c.Direction == seen {
			continue
		}
		if b.Direction == c.Direction {
			return refuse("Check the direction of the singles, and that the sample was folded back on itself and not twisted on by hand.",
				"The singles of %s are said to be %s-twisted, but the ply-back turns %s too; singles fold back the opposite way.", b.called(), b.Direction, c.Direction)
		}
		return refuse("One of them is from another bobbin, or a picture was mirrored (some phones mirror the front camera): take it again.",
			"The samples of %s disagree: one ply-back turns S, another Z.", b.called())
	}
	return nil
}

func (b Bobbin) called() string {
	if b.Name == "" {
		return "the bobbin"
	}
	return b.Name
}

// plyDirection is the direction in which these singles are to be plied.
func (b Bobbin) plyDirection() yarn.Direction {
	if b.Direction != yarn.NoDirection {
		return b.Direction.Opposite()
	}
	for _, c := range b.Clips {
		if c.Direction != yarn.NoDirection {
			return c.Direction
		}
	}
	return yarn.NoDirection
}

// pooled brings the readings of a clip together on one line, as the logarithm
// of the tangent with its standard deviation. Readings of another line are
// mapped by ply count, which widens the answer.
func (c Clip) pooled(line yarn.Line, h held) (y, sd float64) {
	var sum, weights, mapped float64
	ys := make([]float64, len(c.Readings))
	for i, r := range c.Readings {
		v := math.Log(r.Angle.Tan())
		switch {
		case r.Line == yarn.VisibleBorder && line == yarn.StrandCentre:
			v -= math.Log(h.Border.Median)
			mapped = h.Border.Sigma
		case r.Line == yarn.StrandCentre && line == yarn.VisibleBorder:
			v += math.Log(h.Border.Median)
			mapped = h.Border.Sigma
		}
		s := float64(h.readingSD(r)) / (math.Sin(float64(r.Angle)) * math.Cos(float64(r.Angle)))
		ys[i] = v
		sum += v / (s * s)
		weights += 1 / (s * s)
	}
	return sum / weights, math.Hypot(scatter(ys, math.Sqrt(1/weights)), mapped)
}

// scatter is the standard deviation of the mean of ys. The assumed one counts
// as four readings' worth of knowledge; the readings' own scatter corrects it.
func scatter(ys []float64, assumed float64) float64 {
	n := float64(len(ys))
	if n < 2 {
		return assumed
	}
	const prior = 4
	one := assumed * math.Sqrt(n)
	own := estimate.SD(ys)
	return math.Sqrt((prior*one*one+(n-1)*own*own)/(prior+n-1)) / math.Sqrt(n)
}
