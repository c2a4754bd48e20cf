package cloth

import (
	"regexp"
	"strings"

	"waketwist/unit"
)

// OnLoom, OffLoom and Washed are the states of a cloth: under tension on the
// loom, relaxed after cutting off, finished and dry.
type (
	OnLoom  struct{}
	OffLoom struct{}
	Washed  struct{}
)

// State is one of the states of a cloth.
type State interface{ OnLoom | OffLoom | Washed }

// Density is a number of ends or picks in a cloth of one state, in threads per
// metre. Densities of different states cannot be mixed by mistake.
type Density[S State] float64

// PerInch returns the density of n threads in an inch.
func PerInch[S State](n float64) Density[S] { return Density[S](n / unit.Inch.Metres()) }

// PerCentimetre returns the density of n threads in a centimetre.
func PerCentimetre[S State](n float64) Density[S] { return Density[S](n * 100) }

// PerInch returns d in threads per inch.
func (d Density[S]) PerInch() float64 { return float64(d) * unit.Inch.Metres() }

// PerCentimetre returns d in threads per centimetre.
func (d Density[S]) PerCentimetre() float64 { return float64(d) / 100 }

// Threads returns how many threads a width holds, not rounded.
func (d Density[S]) Threads(width unit.Length) float64 { return float64(d) * width.Metres() }

// CutOff returns the density that a cloth has off the loom once the direction
// across the threads has lost its share: draw-in for ends, take-up for picks.
func CutOff(d Density[OnLoom], lost Loss) Density[OffLoom] {
	return Density[OffLoom](Before(lost, d))
}

// OnTheLoom is the inverse of CutOff: what to count on the loom.
func OnTheLoom(d Density[OffLoom], lost Loss) Density[OnLoom] {
	return Density[OnLoom](After(lost, d))
}

// Wash returns the density of a cloth that the wash makes narrower or shorter
// across the threads by a loss.
func Wash(d Density[OffLoom], lost Loss) Density[Washed] {
	return Density[Washed](Before(lost, d))
}

var densityWords = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]+)?) ?(|epi|ppi|dpi|epc|ppc|(?:(?:ends|picks|threads|dents) ?)?(?:/|per) ?(?:in|inch|cm|10 ?cm|dm))$`)

// ParseDensity reads a number of threads, such as "12/in", "5 ends per cm" or
// "12 epi": in an inch where no unit stands with it. It refuses with an *Error
// other words, and what is outside 0.3 to 500 an inch.
func ParseDensity[S State](text string) (Density[S], error) {
	m := densityWords.FindStringSubmatch(strings.ToLower(strings.Join(strings.Fields(text), " ")))
	if m == nil {
		return 0, refuse("Write it as in 12/in or 5/cm.", "“%s” is no number of threads.", shortened(text))
	}
	v, err := unit.ParseNumber(m[1])
	if err != nil {
		return 0, refuse("Write it as in 12/in or 5/cm.", "“%s” is not a number.", shortened(text))
	}
	d := PerInch[S](v)
	switch per := m[2]; {
	case strings.HasSuffix(per, "10 cm"), strings.HasSuffix(per, "10cm"), strings.HasSuffix(per, "dm"):
		d = Density[S](10 * v)
	case strings.HasSuffix(per, "cm"), strings.HasSuffix(per, "pc"):
		d = PerCentimetre[S](v)
	}
	if n := d.PerInch(); !(n > 0.25 && n < 508) {
		return 0, refuse("Give from 0.3 to 500 an inch.", "%s threads is out of range.", shortened(text))
	}
	return d, nil
}
