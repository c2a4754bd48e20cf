package accuracy

import (
	"fmt"
	"image"
	"math"
	"slices"
	"time"

	"waketwist/raster"
	"waketwist/reading"
	"waketwist/unit"
)

// Outcome is a truth with what was read.
type Outcome struct {
	Truth
	Reading          reading.Reading
	Decoding, Beyond time.Duration // spent on decoding the picture, and after that
}

// Judge decodes a picture that is stored upright and reads it without any help.
func Judge(t Truth, decode func() (image.Image, error)) (Outcome, error) {
	start := time.Now()
	m, err := decode()
	if err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", t.File, err)
	}
	photo := raster.NewPhoto(m, 1)
	decoded := time.Now()
	r := reading.Read(photo, reading.Options{})
	return Outcome{t, r, decoded.Sub(start), time.Since(decoded)}, nil
}

// AngleError is how far the angle read lies from the truth.
func (o Outcome) AngleError() unit.Angle {
	return unit.Angle(math.Abs(float64(o.Reading.Angle.Value - o.Angle)))
}

// Held reports whether the interval of the reading holds the true angle.
func (o Outcome) Held() bool {
	return o.Reading.Angle.Low <= o.Angle && o.Angle <= o.Reading.Angle.High
}

// Wrong says what is gravely wrong with the reading: an answer where nothing can
// be read, or the wrong direction. It is empty where nothing is.
func (o Outcome) Wrong() string {
	r := o.Reading
	switch {
	case !r.Readable:
		return ""
	case !o.Readable:
		return fmt.Sprintf("%s: read as %d-ply %v, but it is unreadable (%s)", o.File, r.Plies, r.Direction, o.Why)
	case r.Direction != o.Direction:
		return fmt.Sprintf("%s: direction %v, want %v", o.File, r.Direction, o.Direction)
	}
	return ""
}

// String is one line: what was read, what is true, and what is wrong in capitals.
func (o Outcome) String() string {
	r, t := o.Reading, o.Truth
	if !r.Readable {
		return fmt.Sprintf("%-28s refused %-10s (truth %v %s %d%v %.1f)", t.File, r.Reason, t.Readable, t.Why, t.Plies, t.Direction, t.Angle.Degrees())
	}
	return fmt.Sprintf("%-28s %d%v %5.1f [%4.1f %4.1f] truth %d%v %5.1f  width %.1f/%.1f pitch %.1f/%.1f border %.1f%s %v", t.File, r.Plies, r.Direction,
		r.Angle.Value.Degrees(), r.Angle.Low.Degrees(), r.Angle.High.Degrees(), t.Plies, t.Direction, t.Angle.Degrees(),
		r.Width.Value, t.WidthPixels, r.Pitch.Value, t.PitchPixels, r.Border.Degrees(), o.marks(), r.Flags)
}

func (o Outcome) marks() (marks string) {
	for _, m := range []struct {
		word string
		hit  bool
	}{
		{"FALSE ANSWER", !o.Readable},
		{"DIRECTION", o.Readable && o.Reading.Direction != o.Direction},
		{"PLIES", o.Readable && o.Reading.Plies != o.Plies},
		{"ANGLE", o.AngleError() > 3*unit.Degree},
		{"interval", !o.Held()},
	} {
		if m.hit {
			marks += " " + m.word
		}
	}
	return marks
}

func average(v []float64) float64 {
	var s float64
	for _, x := range v {
		s += x
	}
	return s / float64(max(len(v), 1))
}

func median(v []float64) float64 { return quantile(v, 0.5) }

// quantile is the value below which a share q of v lies, 0 of an empty v.
func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return 0
	}
	s := slices.Sorted(slices.Values(v))
	return s[min(int(q*float64(len(s))), len(s)-1)]
}
