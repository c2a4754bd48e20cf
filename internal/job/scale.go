package job

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

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

// Scale is the known distance between two points of a photograph, in the plane
// of the yarn.
type Scale struct {
	From, To Spot
	Known    unit.Length
}

// Limits of what can be meant: distances, how far apart the points lie, how
// large the picture shows things, and how thick a yarn is.
const (
	shortestKnown = unit.Millimetre / 2
	longestKnown  = 2 * unit.Metre
	leastApart    = 20   // photo pixels
	leastPerMM    = 0.5  // photo pixels a millimetre
	mostPerMM     = 2000 // photo pixels a millimetre
	thinnest      = unit.Millimetre / 20
	thickest      = 50 * unit.Millimetre
)

var errScaleForm = errors.New("it is not a scale; give two points in pixels and the distance between them, as in 120,80,920,80=20 mm")

// ParseScale reads x1,y1,x2,y2=LENGTH, such as 120,80,920,80=20 mm, and checks
// it.
func ParseScale(text string) (Scale, error) {
	points, length, ok := strings.Cut(text, "=")
	fields := strings.Split(points, ",")
	if !ok || len(fields) != 4 {
		return Scale{}, errScaleForm
	}
	var v [4]float64
	for i, f := range fields {
		var err error
		if v[i], err = strconv.ParseFloat(strings.TrimSpace(f), 64); err != nil {
			return Scale{}, errScaleForm
		}
	}
	known, err := unit.ParseLength(length)
	if err != nil {
		return Scale{}, err
	}
	s := Scale{Spot{v[0], v[1]}, Spot{v[2], v[3]}, known}
	return s, s.Check()
}

// Check refuses a scale that no photograph of yarn has, in words for the
// person.
func (s Scale) Check() error {
	d := apart(s.From, s.To)
	switch {
	case math.IsNaN(d) || math.IsInf(d, 0):
		return errScaleForm
	case s.Known < shortestKnown || s.Known > longestKnown:
		return fmt.Errorf("%s is no distance in a photograph of yarn; give 0.5 mm to 2 m", s.Known)
	case d < leastApart:
		return fmt.Errorf("the two points lie only %.0f pixels apart, too near for a scale; choose points that lie at least %d pixels apart", d, leastApart)
	}
	if perMM := d / s.Known.Millimetres(); perMM < leastPerMM || perMM > mostPerMM {
		return fmt.Errorf("%.3g pixels a millimetre cannot be meant; check the two points and the distance between them", perMM)
	}
	return nil
}

// endShare is the standard deviation of where a person puts a point, as a share
// of the picture's longer side: between one and two dots of a screen that shows
// the whole picture. Nobody does better than endPixels.
const (
	endShare  = 0.001
	endPixels = 1.5
)

// perMillimetre is what a millimetre takes in a photograph of w by h pixels.
func (s Scale) perMillimetre(w, h int) Span {
	d := apart(s.From, s.To)
	end := max(endPixels, endShare*float64(max(w, h)))
	mm := s.Known.Millimetres()
	return Span{d / mm, math.Sqrt2 * end / mm}
}

// A Size is a value with its standard deviation.
type Size[T ~float64] struct{ Value, SD T }

// Sizes are what a scale makes of the spans of a reading.
type Sizes struct {
	PerMillimetre Span // photo pixels
	Width         Size[unit.Length]
	Wraps         Size[unit.Wraps] // side by side, touching, not pressed
	Turns         Size[unit.Twist] // zero where no turn was seen
}

// Measure sizes what was read on a photograph of w by h pixels. The error, in
// words for the person, is that the scale does not suit the photograph.
func (s Scale) Measure(seen Spans, w, h int) (Sizes, error) {
	for _, p := range []Spot{s.From, s.To} {
		if p[0] < 0 || p[1] < 0 || p[0] > float64(w) || p[1] > float64(h) {
			return Sizes{}, fmt.Errorf("the scale's point %.0f,%.0f lies outside the picture, which is %d pixels wide and %d high", p[0], p[1], w, h)
		}
	}
	scale := s.perMillimetre(w, h)
	width := unit.Length(seen.Wide.Pixels/scale.Pixels) * unit.Millimetre
	if !(width >= thinnest && width <= thickest) {
		return Sizes{}, fmt.Errorf("by this scale the yarn would be %s wide, which no yarn is; check the two points and the distance between them", width)
	}
	share := math.Hypot(seen.Wide.share(), scale.share())
	z := Sizes{PerMillimetre: scale, Width: sized(width, share), Wraps: sized(unit.Wraps(1/width), share)}
	if seen.Turn.Pixels > 0 {
		turn := unit.Length(seen.Turn.Pixels/scale.Pixels) * unit.Millimetre
		z.Turns = sized(unit.Twist(1/turn), math.Hypot(seen.Turn.share(), scale.share()))
	}
	return z, nil
}

func sized[T ~float64](v T, share float64) Size[T] { return Size[T]{v, v * T(share)} }

// String says the sizes in inches and metric, in one sentence.
func (z Sizes) String() string {
	line := fmt.Sprintf("By the scale it is %s wide, give or take %s; %s", z.Width.Value, giveOrTake(z.Width), z.Wraps.Value)
	if z.Turns.Value > 0 {
		line += fmt.Sprintf("; %s, give or take %s", z.Turns.Value, giveOrTake(z.Turns))
	}
	return line + "."
}

// giveOrTake is the half of an interval that holds nine times in ten, as a
// share.
func giveOrTake[T ~float64](s Size[T]) string {
	low, high := s.Interval()
	return fmt.Sprintf("%.0f %%", max(1, 100*float64((high-low)/2/s.Value)))
}

// Interval is the 90 % interval of a size.
func (s Size[T]) Interval() (low, high T) {
	const normal = 1.645
	return max(0, s.Value-normal*s.SD), s.Value + normal*s.SD
}
