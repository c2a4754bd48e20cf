package job

import (
	"errors"
	"fmt"
	"image"
	"math"
	"strconv"
	"strings"

	"waketwist/raster"
	"waketwist/scale"
	"waketwist/unit"
)

// Gauge is what gives a photograph its scale.
type Gauge string

// Gauges.
const (
	Points Gauge = "points" // two points whose distance is known
	Coin   Gauge = "coin"   // a coin or another disc of known diameter
	Ruler  Gauge = "ruler"  // the marks of a ruler
)

// Scale is what a person says of the scale of a photograph: a known length in
// the plane of the yarn.
type Scale struct {
	By       Gauge
	From, To Spot // the two points
	// At is a box around the coin or the marks, or a small one on them; empty
	// where the whole picture is to be searched.
	At image.Rectangle
	// Known is the distance between the points, the diameter of the coin, or the
	// spacing of the finest marks.
	Known unit.Length
}

// Limits of what can be meant: distances, how far apart the points lie, how
// large the picture shows things, and how thick a yarn is.
const (
	shortestKnown = unit.Millimetre / 2
	longestKnown  = 2 * unit.Metre
	smallestCoin  = 3 * unit.Millimetre
	largestCoin   = 300 * unit.Millimetre
	finestMarks   = unit.Millimetre / 10
	coarsestMarks = 50 * unit.Millimetre
	leastApart    = 20   // photo pixels
	leastPerMM    = 0.5  // photo pixels a millimetre
	mostPerMM     = 2000 // photo pixels a millimetre
	thinnest      = unit.Millimetre / 20
	thickest      = 50 * unit.Millimetre
)

var errScaleForm = errors.New("it is not a scale; give two points in pixels and the distance between them, as in 120,80,920,80=20 mm, or the diameter of a coin, as in coin=23.25 mm, or the finest marks of a ruler, as in ruler=1 mm")

// ParseScale reads x1,y1,x2,y2=LENGTH, such as 120,80,920,80=20 mm, or
// coin=LENGTH or ruler=LENGTH, each with or without a box as in
// coin 600,200,300,300=23.25 mm (left, top, width, height), and checks it.
func ParseScale(text string) (Scale, error) {
	what, length, ok := strings.Cut(text, "=")
	if !ok {
		return Scale{}, errScaleForm
	}
	s, err := gaugeOf(strings.TrimSpace(what))
	if err != nil {
		return Scale{}, err
	}
	if s.Known, err = unit.ParseLength(length); err != nil {
		return Scale{}, err
	}
	return s, s.Check()
}

// gaugeOf reads what stands before the length.
func gaugeOf(what string) (Scale, error) {
	for _, g := range []Gauge{Coin, Ruler} {
		box, ok := strings.CutPrefix(what, string(g))
		switch {
		case !ok:
			continue
		case strings.TrimSpace(box) == "":
			return Scale{By: g}, nil
		}
		v, err := four(box)
		if err != nil || v[2] < 1 || v[3] < 1 || max(v[0], v[1], v[2], v[3]) > 1e6 || min(v[0], v[1]) < 0 {
			return Scale{}, fmt.Errorf("it is not a box in a picture; give left, top, width and height in pixels, as in %s 600,200,300,300=LENGTH", g)
		}
		return Scale{By: g, At: image.Rect(int(v[0]), int(v[1]), int(v[0]+v[2]), int(v[1]+v[3]))}, nil
	}
	v, err := four(what)
	return Scale{By: Points, From: Spot{v[0], v[1]}, To: Spot{v[2], v[3]}}, err
}

// four reads four numbers parted by commas.
func four(text string) (v [4]float64, err error) {
	fields := strings.Split(text, ",")
	if len(fields) != len(v) {
		return v, errScaleForm
	}
	for i, f := range fields {
		if v[i], err = strconv.ParseFloat(strings.TrimSpace(f), 64); err != nil || math.IsNaN(v[i]) || math.IsInf(v[i], 0) {
			return v, errScaleForm
		}
	}
	return v, nil
}

// Check refuses a scale that no photograph of yarn has, in words for the
// person.
func (s Scale) Check() error {
	switch s.By {
	case Coin:
		if s.Known < smallestCoin || s.Known > largestCoin {
			return fmt.Errorf("%s is no diameter of a coin or disc beside yarn; give 3 mm to 30 cm", s.Known)
		}
		return nil
	case Ruler:
		if s.Known < finestMarks || s.Known > coarsestMarks {
			return fmt.Errorf("%s is not how far apart the finest marks of a ruler stand; give 0.1 mm to 5 cm, such as 1 mm or 1/16 in", s.Known)
		}
		return nil
	}
	d := apart(s.From, s.To)
	switch {
	case math.IsNaN(d) || math.IsInf(d, 0):
		return errScaleForm
	case s.Known < shortestKnown || s.Known > longestKnown:
		return fmt.Errorf("%s is no distance in a photograph of yarn; give 0.5 mm to 2 m", s.Known)
	case d < leastApart:
		return fmt.Errorf("the two points lie only %.0f pixels apart, too near for a scale; choose points that lie at least %d pixels apart", d, leastApart)
	}
	return plausible(Span{Pixels: d / s.Known.Millimetres()}, "the two points and the distance between them")
}

// plausible refuses a scale at which no photograph of yarn is taken; check says
// what to look at again.
func plausible(perMM Span, check string) error {
	if perMM.Pixels < leastPerMM || perMM.Pixels > mostPerMM {
		return fmt.Errorf("%.3g pixels a millimetre cannot be meant; check %s", perMM.Pixels, check)
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

// Found is a scale as it was found in a photograph.
type Found struct {
	By            Gauge
	PerMillimetre Span     // photo pixels
	Words         string   // what was found, a clause; empty for two points
	Ratio         float64  // of the axes of a coin's outline, 0 for others
	Marks         int      // of a ruler, 0 for others
	Lines         [][]Spot // what to draw over the photograph
}

// Within finds the scale of two points in a photograph of w by h pixels.
func (s Scale) Within(w, h int) (Found, error) {
	for _, p := range []Spot{s.From, s.To} {
		if p[0] < 0 || p[1] < 0 || p[0] > float64(w) || p[1] > float64(h) {
			return Found{}, fmt.Errorf("the scale's point %.0f,%.0f lies outside the picture, which is %d pixels wide and %d high", p[0], p[1], w, h)
		}
	}
	end := max(endPixels, endShare*float64(max(w, h)))
	mm := s.Known.Millimetres()
	return Found{By: Points, PerMillimetre: Span{apart(s.From, s.To) / mm, math.Sqrt2 * end / mm}, Lines: [][]Spot{{s.From, s.To}}}, nil
}

// On finds the scale in a photograph. The error, in words for the person, is that
// it is not there or not to be told.
func (s Scale) On(photo *raster.Photo) (Found, error) {
	w, h := photo.Size()
	if !s.At.Empty() && !s.At.Overlaps(image.Rect(0, 0, w, h)) {
		return Found{}, fmt.Errorf("the box lies outside the picture, which is %d pixels wide and %d high", w, h)
	}
	var f Found
	var err error
	switch s.By {
	case Coin:
		f, err = s.coin(photo)
	case Ruler:
		f, err = s.ruler(photo)
	default:
		return s.Within(w, h)
	}
	if err != nil {
		return Found{}, err
	}
	return f, plausible(f.PerMillimetre, "the length that was given, or draw a box")
}

func (s Scale) coin(photo *raster.Photo) (Found, error) {
	d, err := scale.FindDisc(photo, s.At)
	if err != nil {
		return Found{}, err
	}
	mm := s.Known.Millimetres()
	line := laid(d.Outline(72))
	return Found{
		By: Coin, PerMillimetre: Span{d.Diameter.Value / mm, d.Diameter.SD / mm}, Ratio: d.Ratio(),
		Words: fmt.Sprintf("a disc %.1f px across, its axes as %.3f to 1", d.Diameter.Value, d.Ratio()),
		Lines: [][]Spot{append(line, line[0])},
	}, nil
}

func (s Scale) ruler(photo *raster.Photo) (Found, error) {
	r, err := scale.FindRuler(photo, s.At, s.Known)
	if err != nil {
		return Found{}, err
	}
	mm := s.Known.Millimetres()
	words := fmt.Sprintf("%d marks %.2f px apart", r.Marks, r.Spacing.Value)
	if len(r.Longer) > 0 {
		words += fmt.Sprintf(", every %s longer", ordinals(r.Longer))
	}
	return Found{
		By: Ruler, PerMillimetre: Span{r.Spacing.Value / mm, r.Spacing.SD / mm}, Marks: r.Marks, Words: words,
		Lines: [][]Spot{laid([]scale.Point{r.From, r.To})},
	}, nil
}

// ordinals says numbers as in "5th and 10th".
func ordinals(n []int) string {
	var words []string
	for _, k := range n {
		end := "th"
		if k == 2 {
			end = "nd"
		}
		words = append(words, strconv.Itoa(k)+end)
	}
	return strings.Join(words, " and ")
}

func laid(points []scale.Point) []Spot {
	out := make([]Spot, len(points))
	for i, p := range points {
		out[i] = Spot{p.X, p.Y}
	}
	return out
}
