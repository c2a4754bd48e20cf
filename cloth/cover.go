package cloth

import (
	"fmt"
	"math"

	"waketwist/unit"
)

// Peirce is a cover factor: threads per inch over the square root of the cotton
// count (Peirce, Journal of the Textile Institute 28 (1937) T45). At about 28
// threads of cotton touch.
type Peirce float64

// SICover is the cover factor in SI units: threads per centimetre times the
// square root of tex, over 10.
type SICover float64

// CoverOf returns Peirce's factor of threads of density t, above zero, in a cloth
// of any state.
func CoverOf[S State](n Density[S], t unit.LinearDensity) Peirce {
	return Peirce(n.PerInch() / math.Sqrt(t.CottonCount()))
}

// SICoverOf returns the factor in SI units.
func SICoverOf[S State](n Density[S], t unit.LinearDensity) SICover {
	return SICover(n.PerCentimetre() * math.Sqrt(t.Tex()) / 10)
}

// SI returns the same cover in SI units.
func (k Peirce) SI() SICover {
	one := unit.FromCottonCount(1)
	return SICoverOf(PerInch[OnLoom](float64(k)), one)
}

// TouchingCover returns Peirce's factor at which yarns that take so much room
// touch each other: 27.9 at 1.1 cubic centimetres per gram.
func TouchingCover(v SpecificVolume) Peirce {
	t := unit.FromCottonCount(1)
	diameter := math.Sqrt(4 * float64(v) * t.Tex() * 1e-5 / math.Pi) // centimetres
	return Peirce(2.54 / diameter)
}

// Covered returns the part of the cloth's face that the yarn covers, at the most
// 1: what ends cover and what picks cover of the rest. It uses the contact
// diameters of the yarns in hand and not those of cotton.
func Covered[S State](ends Density[S], warp Diameters, picks Density[S], weft Diameters) Share {
	c1 := min(1, float64(ends)/float64(warp))
	c2 := min(1, float64(picks)/float64(weft))
	return Share(c1 + c2 - c1*c2)
}

// Tightness is how hard a plain weave is to beat.
type Tightness int

// The grades.
const (
	EasyToBeat Tightness = iota
	FirmCloth
	Jammed
)

// String returns the grade in words.
func (t Tightness) String() string {
	return [...]string{"easy to beat", "firm", "jammed"}[t]
}

// TightnessOf grades a plain weave by the sum of its cover factors: 24 is easy,
// 28 firm, 32 jams (common practice, for cotton); between them the nearest. Wool,
// which takes more room, comes to each grade earlier.
func TightnessOf(warp, weft Peirce) Tightness {
	switch sum := warp + weft; {
	case sum < 26:
		return EasyToBeat
	case sum < 30:
		return FirmCloth
	}
	return Jammed
}

// MassPerArea is the mass of cloth in grams per square metre.
type MassPerArea float64

// String says it in both systems of units, as in "435 g/m² (12.8 oz/yd²)".
func (m MassPerArea) String() string {
	square := unit.Yard.Metres() * unit.Yard.Metres()
	return fmt.Sprintf("%.0f g/m² (%.1f oz/yd²)", float64(m), unit.Mass(float64(m)*square*float64(unit.Gram)).Ounces())
}

// MassOf returns the mass of a cloth from its ends and picks, the densities of
// warp and weft, and how much longer each lies in the cloth than the cloth is.
func MassOf[S State](ends Density[S], warp unit.LinearDensity, warpCrimp Allowance, picks Density[S], weft unit.LinearDensity, weftCrimp Allowance) MassPerArea {
	yarn := func(n Density[S], t unit.LinearDensity, crimp Allowance) float64 {
		return float64(n) * float64(1+crimp) * t.Tex() / 1000
	}
	return MassPerArea(yarn(ends, warp, warpCrimp) + yarn(picks, weft, weftCrimp))
}
