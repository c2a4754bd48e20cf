package job

import (
	"fmt"
	"math"

	"waketwist/estimate"
	"waketwist/reading"
	"waketwist/unit"
)

// Spans are the lengths that a reading found on a photograph.
type Spans struct {
	Wide Span `json:"wide,omitzero"` // of the yarn, without hairs
	// Turn is the length along the yarn of one full turn of its twist; zero
	// where the fibres lie along the yarn.
	Turn Span `json:"turn,omitzero"`
}

// Span is a length in photo pixels with its standard deviation.
type Span struct {
	Pixels float64 `json:"px"`
	SD     float64 `json:"sd"`
}

// SpansOf takes the lengths out of a reading. Singles have no pitch to be seen:
// their turn follows from the width and the angle of the surface fibres, as in
// yarn.SurfaceAngle.Twist.
func SpansOf(r reading.Reading) Spans {
	s := Spans{Wide: spanOf(r.Width), Turn: spanOf(r.Pitch)}
	if r.Structure != reading.Singles {
		return s
	}
	a := float64(r.Angle.Value)
	turn := math.Pi * s.Wide.Pixels / math.Tan(a)
	if !(turn > 0 && turn < 1e6) {
		return s
	}
	lean := 2 * float64(r.Angle.SD) / math.Sin(2*a)
	s.Turn = Span{turn, turn * math.Hypot(s.Wide.share(), lean)}
	return s
}

func spanOf(p reading.Pixels) Span {
	return Span{math.Round(100*p.Value) / 100, math.Round(100*p.SD) / 100}
}

func (s Span) share() float64 { return s.SD / s.Pixels }

// A Size is a value with its standard deviation.
type Size[T ~float64] struct{ Value, SD T }

// Sizes are what a scale makes of the spans of a reading.
type Sizes struct {
	Scale Found
	Width Size[unit.Length]
	Wraps Size[unit.Wraps] // side by side, touching, not pressed
	Turns Size[unit.Twist] // zero where no turn was seen
}

// Measure sizes what was read on the photograph in which the scale was found.
// The error, in words for the person, is that they do not suit each other.
func (f Found) Measure(seen Spans) (Sizes, error) {
	per := f.PerMillimetre
	width := unit.Length(seen.Wide.Pixels/per.Pixels) * unit.Millimetre
	if !(width >= thinnest && width <= thickest) {
		return Sizes{}, fmt.Errorf("by this scale the yarn would be %s wide, which no yarn is; check %s", width, f.toCheck())
	}
	share := math.Hypot(seen.Wide.share(), per.share())
	z := Sizes{Scale: f, Width: sized(width, share), Wraps: sized(unit.Wraps(1/width), share)}
	if seen.Turn.Pixels > 0 {
		turn := unit.Length(seen.Turn.Pixels/per.Pixels) * unit.Millimetre
		z.Turns = sized(unit.Twist(1/turn), math.Hypot(seen.Turn.share(), per.share()))
	}
	return z, nil
}

// toCheck is what may be wrong where the sizes cannot be.
func (f Found) toCheck() string {
	return map[Gauge]string{
		Points: "the two points and the distance between them",
		Coin:   "the diameter, or draw a box around the coin",
		Ruler:  "the spacing of the marks, or draw a box around them",
	}[f.By]
}

func sized[T ~float64](v T, share float64) Size[T] { return Size[T]{v, v * T(share)} }

// String says the sizes in inches and metric, in one sentence.
func (z Sizes) String() string {
	line := z.Scale.lead() + fmt.Sprintf("By the scale it is %s wide, give or take %s; %s", z.Width.Value, giveOrTake(z.Width), z.Wraps.Value)
	if z.Turns.Value > 0 {
		line += fmt.Sprintf("; %s, give or take %s", z.Turns.Value, giveOrTake(z.Turns))
	}
	return line + "."
}

func (f Found) lead() string {
	if s := f.Sentence(); s != "" {
		return s + " "
	}
	return ""
}

// Sentence says what gave the scale, where the program found it; it is empty for
// two points.
func (f Found) Sentence() string {
	if f.Words == "" {
		return ""
	}
	per := f.PerMillimetre
	return fmt.Sprintf("The scale is %s: %.4g px/mm (%.4g px/in), give or take %s.",
		f.Words, per.Pixels, 25.4*per.Pixels, giveOrTake(Size[float64]{per.Pixels, per.SD}))
}

// giveOrTake is the half of an interval that holds nine times in ten, as a
// share.
func giveOrTake[T ~float64](s Size[T]) string {
	low, high := s.Interval()
	return fmt.Sprintf("%.0f %%", max(1, 100*float64((high-low)/2/s.Value)))
}

// Interval is the 90 % interval of a size.
func (s Size[T]) Interval() (low, high T) {
	return max(0, s.Value-estimate.Reach*s.SD), s.Value + estimate.Reach*s.SD
}
