package unit

import "math"

// Units of the direct systems, which give mass per length. One grain per 120 yd
// is the American grain count.
const (
	Kilotex            LinearDensity = 1000
	Dtex               LinearDensity = 0.1
	Denier             LinearDensity = 1.0 / 9
	GrainPer120Yards   LinearDensity = LinearDensity(Grain) / (120 * LinearDensity(Yard)) * gramPerMetre
	gramPerMetre       LinearDensity = 1000
	oneYardPerPound    LinearDensity = LinearDensity(Pound) / LinearDensity(Yard) * gramPerMetre
	oneMetrePerKilo    LinearDensity = 1000
	oneMetrePer100Gram LinearDensity = 100000
)

// Hanks of the indirect systems, in yards: the count is the number of hanks in a
// pound (ASTM D2260; the Yorkshire skein is common practice).
const (
	cottonHank     = 840
	worstedHank    = 560
	runHank        = 1600
	leaHank        = 300
	yorkshireSkein = 256
)

// LinearDensityOf returns the linear density of a length l, above zero, of mass m.
func LinearDensityOf(m Mass, l Length) LinearDensity {
	return LinearDensity(float64(m)/float64(l)) * gramPerMetre
}

// MassOf returns the mass of a length l.
func (t LinearDensity) MassOf(l Length) Mass { return Mass(float64(t/gramPerMetre) * float64(l)) }

// LengthOf returns the length that a mass m gives. The density must be above zero.
func (t LinearDensity) LengthOf(m Mass) Length { return Length(float64(m) / float64(t/gramPerMetre)) }

// The constructors below take the count of an indirect system, which must be
// above zero and finite; zero gives an infinite density.

// FromNm returns the density of a metric count: kilometres in a kilogram.
func FromNm(nm float64) LinearDensity { return oneMetrePerKilo / LinearDensity(nm) }

// FromCottonCount returns the density of a cotton count (Ne): hanks of 840 yd in
// a pound.
func FromCottonCount(ne float64) LinearDensity { return FromYardsPerPound(ne * cottonHank) }

// FromWorstedCount returns the density of a worsted count (NeK): hanks of 560 yd
// in a pound.
func FromWorstedCount(nek float64) LinearDensity { return FromYardsPerPound(nek * worstedHank) }

// FromWoollenRun returns the density of a woollen run: hanks of 1600 yd in a
// pound.
func FromWoollenRun(run float64) LinearDensity { return FromYardsPerPound(run * runHank) }

// FromLea returns the density of a linen lea or, which is the same, an American
// woollen cut: hanks of 300 yd in a pound.
func FromLea(lea float64) LinearDensity { return FromYardsPerPound(lea * leaHank) }

// FromYorkshireSkeins returns the density of a Yorkshire woollen count: skeins
// of 256 yd in a pound.
func FromYorkshireSkeins(skeins float64) LinearDensity {
	return FromYardsPerPound(skeins * yorkshireSkein)
}

// FromYardsPerPound returns the density of yards in a pound.
func FromYardsPerPound(ydPerLb float64) LinearDensity {
	return oneYardPerPound / LinearDensity(ydPerLb)
}

// FromMetresPer100g returns the density of metres in 100 grams.
func FromMetresPer100g(mPer100g float64) LinearDensity {
	return oneMetrePer100Gram / LinearDensity(mPer100g)
}

// Dtex returns t in decitex (grams per 10 kilometres).
func (t LinearDensity) Dtex() float64 { return float64(t / Dtex) }

// Denier returns t in denier (grams per 9 kilometres).
func (t LinearDensity) Denier() float64 { return float64(t / Denier) }

// GrainsPer120Yards returns t in the American grain count.
func (t LinearDensity) GrainsPer120Yards() float64 { return float64(t / GrainPer120Yards) }

// The counts below are infinite for a density of zero.

// Nm returns the metric count: kilometres in a kilogram.
func (t LinearDensity) Nm() float64 { return float64(oneMetrePerKilo / t) }

// CottonCount returns the cotton count (Ne): hanks of 840 yd in a pound.
func (t LinearDensity) CottonCount() float64 { return t.YardsPerPound() / cottonHank }

// WorstedCount returns the worsted count (NeK): hanks of 560 yd in a pound.
func (t LinearDensity) WorstedCount() float64 { return t.YardsPerPound() / worstedHank }

// WoollenRun returns the woollen run: hanks of 1600 yd in a pound.
func (t LinearDensity) WoollenRun() float64 { return t.YardsPerPound() / runHank }

// Lea returns the linen lea or American woollen cut: hanks of 300 yd in a pound.
func (t LinearDensity) Lea() float64 { return t.YardsPerPound() / leaHank }

// YorkshireSkeins returns the Yorkshire woollen count: skeins of 256 yd in a
// pound.
func (t LinearDensity) YorkshireSkeins() float64 { return t.YardsPerPound() / yorkshireSkein }

// YardsPerPound returns the yards in a pound.
func (t LinearDensity) YardsPerPound() float64 { return float64(oneYardPerPound / t) }

// MetresPer100g returns the metres in 100 grams.
func (t LinearDensity) MetresPer100g() float64 { return float64(oneMetrePer100Gram / t) }

// Conversions is one linear density in every system, for output as JSON.
type Conversions struct {
	Tex           float64 `json:"tex"`
	Denier        float64 `json:"denier"`
	Nm            float64 `json:"nm"`
	CottonCount   float64 `json:"ne"`
	WorstedCount  float64 `json:"worsted"`
	WoollenRun    float64 `json:"run"`
	Lea           float64 `json:"lea"`
	YardsPerPound float64 `json:"yd_per_lb"`
	MetresPer100g float64 `json:"m_per_100g"`
}

// Conversions returns t in every system. The density must be above zero and
// finite; JSON cannot hold the infinite counts of zero.
func (t LinearDensity) Conversions() Conversions {
	return Conversions{
		Tex: t.Tex(), Denier: t.Denier(), Nm: t.Nm(),
		CottonCount: t.CottonCount(), WorstedCount: t.WorstedCount(), WoollenRun: t.WoollenRun(), Lea: t.Lea(),
		YardsPerPound: t.YardsPerPound(), MetresPer100g: t.MetresPer100g(),
	}
}

// Metric returns t in tex, from 10,000 tex on in kilotex, to four significant
// figures: "147.6 tex".
func (t LinearDensity) Metric() string {
	if math.Abs(float64(t)) < 10*float64(Kilotex) {
		return figures(t.Tex(), 4) + " tex"
	}
	return figures(float64(t/Kilotex), 4) + " ktex"
}

// InchPound returns t in yards per pound, to three significant figures:
// "3,360 yd/lb".
func (t LinearDensity) InchPound() string { return grouped(figures(t.YardsPerPound(), 3)) + " yd/lb" }

// String returns t in both systems: "147.6 tex (3,360 yd/lb)".
func (t LinearDensity) String() string { return bothSystems(t.Metric(), t.InchPound()) }
