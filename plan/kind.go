package plan

import (
	"fmt"
	"math"
	"strings"

	"waketwist/cloth"
	"waketwist/unit"
)

// kind is how the values of a quantity are read, said and bounded. Values are in
// the base unit of their type.
type kind struct {
	unit  string // of the values that programs read
	scale float64
	read  func(string) (float64, error)
	say   func(float64) string
	least float64
	most  float64
	wants string // an example, for advice
	loss  bool   // of what there was: what is left is log-normal
}

// said lifts a type's own printing and reading to plain numbers.
func said[T interface {
	~float64
	String() string
}](v float64) string {
	return T(v).String()
}

func reading[T ~float64](parse func(string) (T, error)) func(string) (float64, error) {
	return func(text string) (float64, error) {
		v, err := parse(text)
		return float64(v), err
	}
}

var (
	thicknesses = kind{"mm", float64(unit.Millimetre), reading(unit.ParseLength), said[unit.Length], 1e-6, 0.1, "0.5 mm or 1/50 in", false}
	lengths     = kind{"m", float64(unit.Metre), reading(unit.ParseLength), said[unit.Length], 1e-6, 1e7, "50 cm or 20 in", false}
	masses      = kind{"g", float64(unit.Gram), reading(unit.ParseMass), said[unit.Mass], 1e-4 * float64(unit.Gram), 1e6 * float64(unit.Gram), "350 g or 12 oz", false}
	grists      = kind{"tex", 1, reading(unit.ParseLinearDensity), said[unit.LinearDensity], 0.1, 1e5, "1600 yd/lb or 310 tex", false}
	wraps       = kind{"per_m", 1, reading(unit.ParseWraps), said[unit.Wraps], 10, 20_000, "14 wpi or 5.5 wraps/cm", false}
	twists      = kind{"per_m", 1, reading(unit.ParseTwist), said[unit.Twist], 0.1, 20_000, "6 tpi or 240/m", false}
	angles      = kind{"deg", float64(unit.Degree), reading(unit.ParseAngle), degrees, float64(unit.Degree), float64(75 * unit.Degree), "25 deg", false}
	losses      = kind{"share", 1, readShare, percent, float64(cloth.LeastLoss), float64(cloth.MostLoss), "5-10%", true}
	packings    = kind{"share", 1, readShare, percent, 0.05, 0.91, "45%", false}
	spares      = kind{"share", 1, readShare, percent, 0, 3, "10%", false}
	densities   = kind{"per_cm", 100, reading(cloth.ParseDensity[cloth.OnLoom]), sayDensity, 10, 20_000, "12/in or 5/cm", false}
	paces       = kind{"m_per_h", 1, readPace, sayPace, 0.1, 1e5, "100 m/h", false}
	times       = kind{"h", 1, readHours, sayHours, 0.01, 1e5, "20 h", false}
	counts      = kind{"", 1, readCount, sayCount, 0, 1e6, "2", false}
	factors     = kind{"", 1, readNumber, sayNumber, 0.01, 100, "1.5", false}
	finenesses  = kind{"um", 1e-6, readFineness, sayFineness, 5e-6, 100e-6, "25 µm", false}
)

func degrees(v float64) string { return fmt.Sprintf("%.0f°", unit.Angle(v).Degrees()) }

func percent(v float64) string {
	if v >= 0.995 {
		return fmt.Sprintf("%.0f %%", 100*v)
	}
	return fmt.Sprintf("%.2g %%", 100*v)
}

func sayDensity(v float64) string {
	return fmt.Sprintf("%.3g/cm (%.3g/in)", v/100, v*unit.Inch.Metres())
}

func sayPace(v float64) string {
	return fmt.Sprintf("%s m/h (%s yd/h)", sayNumber(v), sayNumber(unit.Length(v).Yards()))
}

func sayHours(v float64) string { return sayNumber(v) + " h" }

// sayCount says whole numbers; a fraction of a bobbin or an end is none.
func sayCount(v float64) string { return fmt.Sprintf("%.0f", v) }

func sayNumber(v float64) string {
	if v >= 100 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.3g", v)
}

func sayFineness(v float64) string { return fmt.Sprintf("%.3g µm", v*1e6) }

// words is a refusal of what was written.
type words string

func (w words) Error() string { return string(w) }

func readNumber(text string) (float64, error) {
	v, err := unit.ParseNumber(text)
	if err != nil {
		return 0, words(fmt.Sprintf("“%s” is not a number; write it with digits, as in 25 or 2.5.", shortened(text)))
	}
	return v, nil
}

func readCount(text string) (float64, error) {
	v, err := readNumber(text)
	if err == nil && (v != math.Trunc(v) || v < 1 || v > 1000) {
		err = words(fmt.Sprintf("“%s” is not a number of them; give a whole number from 1.", shortened(text)))
	}
	return v, err
}

func readShare(text string) (float64, error) {
	head, signed := strings.CutSuffix(strings.TrimSpace(text), "%")
	if !signed {
		return 0, words(fmt.Sprintf("“%s” is no share; write it as in 12%% or 10-15%%.", shortened(text)))
	}
	v, err := readNumber(head)
	return v / 100, err
}

func readPace(text string) (float64, error) {
	head, hourly := strings.CutSuffix(strings.ReplaceAll(text, " per hour", "/h"), "/h")
	if !hourly {
		return 0, words("A pace is a length an hour, as in “100 m/h”.")
	}
	l, err := unit.ParseLength(head)
	return l.Metres(), err
}

func readHours(text string) (float64, error) {
	head, hours := strings.CutSuffix(strings.TrimRight(strings.TrimSpace(text), "s"), "h")
	if !hours {
		if head, hours = strings.CutSuffix(head, "hour"); !hours {
			return 0, words("A time is given in hours, as in “20 h”.")
		}
	}
	return readNumber(head)
}

func readFineness(text string) (float64, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, suffix := range []string{"µm", "μm", "um", "microns", "micron"} {
		if head, ok := strings.CutSuffix(text, suffix); ok {
			v, err := readNumber(head)
			return v * 1e-6, err
		}
	}
	return 0, words("The fineness of fibres is given in micrometres, as in “25 µm”.")
}

// shortened keeps what a message repeats to a line.
func shortened(text string) string {
	if r := []rune(text); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return text
}
