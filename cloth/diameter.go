package cloth

import (
	"math"

	"waketwist/estimate"
	"waketwist/unit"
)

// Diameters is a number of yarns side by side that touch without being pressed,
// per metre: the reciprocal of the contact diameter. It is not a number of wraps.
type Diameters float64

// PerInch returns d per inch.
func (d Diameters) PerInch() float64 { return float64(d) * unit.Inch.Metres() }

// Contact returns the contact diameter.
func (d Diameters) Contact() unit.Length { return unit.Length(1 / d) }

// Character is how firm a yarn is; it decides how thick it is for its weight.
type Character int

// The characters.
const (
	Firm Character = iota // worsted, well twisted: Ashenhurst's 0.9
	Soft                  // soft woollen: 0.84
)

// perRoot is Ashenhurst's factor: diameters per inch over the square root of the
// yards in a pound.
func (c Character) perRoot() float64 {
	if c == Soft {
		return 0.84
	}
	return 0.9
}

// ashenhurstSpread is the standard deviation of the logarithm of the diameters
// of a yarn of known character. Assumed: printed factors for one kind of yarn
// differ by some 5 %.
const ashenhurstSpread = 0.05

// Ashenhurst returns the diameters of a yarn of density t, above zero:
// 0.9 sqrt(yd/lb) in an inch where it is firm, 0.84 where it is soft woollen
// (Ashenhurst's rule, common practice).
func Ashenhurst(t unit.LinearDensity, c Character) Diameters {
	return Diameters(c.perRoot() * math.Sqrt(t.YardsPerPound()) / unit.Inch.Metres())
}

// Packing is the part of a yarn's round cross-section that is fibre.
type Packing float64

// woolDensity is that of wool fibre in grams per cubic centimetre.
const woolDensity = 1.31

// SpecificVolume is the room that yarn takes, in cubic centimetres per gram.
type SpecificVolume float64

// VolumeOf returns the room that yarn of density t takes, were it round with
// diameter d. Both must be above zero.
func VolumeOf(t unit.LinearDensity, d unit.Length) SpecificVolume {
	area := math.Pi / 4 * d.Millimetres() * d.Millimetres() / 100 // square centimetres
	return SpecificVolume(area / (t.Tex() * 1e-5))                // grams in a centimetre
}

// Wool returns the packing of a wool yarn that takes so much room.
func (v SpecificVolume) Wool() Packing { return Packing(1 / (float64(v) * woolDensity)) }

// WrapFactor is how many contact diameters the room of one wrap holds. Wraps lie
// loose and hairs hold them apart, so that it is over 1.
type WrapFactor float64

// PriorWrapFactor is the factor where the yarn's weight is not known. The middle
// is the trade's rule that wraps stand for diameters at a working sett of three
// quarters: 4/3. Tight mill wraps come down to 1.0; handspun wraps, whose room
// is only 0.10 to 0.14 fibre, go up to 2.45.
func PriorWrapFactor() estimate.Estimate[WrapFactor] {
	return estimate.Estimate[WrapFactor]{
		Value: 4.0 / 3, SD: 0.45, Low: 1.0, High: 2.45, Flags: estimate.Flags{CommonPractice, Assumed},
	}
}

// WrapFactorOf returns the factor of a yarn of known density and wraps, both
// above zero. It holds for other yarns of the same hand and wool.
func WrapFactorOf(t unit.LinearDensity, w unit.Wraps, c Character) estimate.Estimate[WrapFactor] {
	middle := float64(Ashenhurst(t, c)) / float64(w)
	reach := math.Exp(estimate.Reach * math.Hypot(ashenhurstSpread, wrapSpread))
	return estimate.Estimate[WrapFactor]{
		Value: WrapFactor(middle), SD: WrapFactor(middle * math.Hypot(ashenhurstSpread, wrapSpread)),
		Low: WrapFactor(middle / reach), High: WrapFactor(middle * reach), N: 1,
		Flags: estimate.Flags{CommonPractice, Assumed, estimate.FewReadings},
	}
}

// wrapSpread is the standard deviation of the logarithm of one count of wraps.
// Assumed.
const wrapSpread = 0.08

// drawFactor returns a column of factors, log-normal with its own spread to
// either side of the middle.
func drawFactor(s *estimate.Sampler, e estimate.Estimate[WrapFactor]) []WrapFactor {
	below := math.Log(float64(e.Value/e.Low)) / estimate.Reach
	above := math.Log(float64(e.High/e.Value)) / estimate.Reach
	out := make([]WrapFactor, drawCount)
	for i, z := range s.Normal(0, 1) {
		spread := above
		if z < 0 {
			spread = below
		}
		out[i] = e.Value * WrapFactor(math.Exp(z*spread))
	}
	return out
}
