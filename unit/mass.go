package unit

import "math"

// Milligram is a thousandth of a gram.
const Milligram Mass = 0.001

var massSymbols = symbolTable{
	kind: KindMass, symbols: massForms(),
	refused: map[string]string{"gr": "write g for grams or grain for grains"},
}

func massForms() map[string]symbol {
	m := make(map[string]symbol)
	spellings(m, "g gm gms gram grams gramme grammes", float64(Gram), false)
	spellings(m, "kg kilo kilos kilogram kilograms", float64(Kilogram), false)
	spellings(m, "mg milligram milligrams", float64(Milligram), false)
	spellings(m, "oz ozs ounce ounces", float64(Ounce), true)
	spellings(m, "lb lbs pound pounds", float64(Pound), true)
	spellings(m, "grain grains", float64(Grain), true)
	return m
}

var massScale = scale{
	kind: KindMass, read: massSymbols.terms,
	lo: float64(0.001 * Milligram), hi: float64(1000 * Kilogram), limits: "0.001 mg to 1000 kg",
}

// ParseMass reads a mass such as 100 g, 0,5 kg, 2.75 oz, 2 3/4 oz, 2 oz 3/4 or
// 1 lb 3 oz. Ounces and pounds are avoirdupois. Masses from 0.001 mg to 1000 kg
// are accepted; zero and negative ones are not. The abbreviation gr is refused,
// as it is written for grams and for grains. The error is a *ParseError.
func ParseMass(text string) (Mass, error) {
	v, err := massScale.parse(text)
	return Mass(v), err
}

// Pounds returns m in avoirdupois pounds.
func (m Mass) Pounds() float64 { return float64(m / Pound) }

// Grains returns m in grains, 7000 to the pound.
func (m Mass) Grains() float64 { return float64(m / Grain) }

// Metric returns m in the metric unit that suits its size, to three significant
// figures: "45.0 mg", "100 g", "12.5 kg".
func (m Mass) Metric() string {
	switch size := Mass(math.Abs(float64(m))); {
	case size < 0.1*Gram:
		return figures(float64(m/Milligram), 3) + " mg"
	case size < 10*Kilogram:
		return figures(m.Grams(), 3) + " g"
	}
	return figures(float64(m/Kilogram), 3) + " kg"
}

// InchPound returns m in grains, ounces or pounds, whichever suits its size, to
// three significant figures: "3.53 oz".
func (m Mass) InchPound() string {
	switch size := Mass(math.Abs(float64(m))); {
	case size < Ounce/10:
		return figures(m.Grains(), 3) + " grains"
	case size < Pound:
		return figures(m.Ounces(), 3) + " oz"
	}
	return grouped(figures(m.Pounds(), 3)) + " lb"
}

// String returns m in both systems: "100 g (3.53 oz)".
func (m Mass) String() string { return bothSystems(m.Metric(), m.InchPound()) }

// poundsAndOunces returns m as "1 lb 3.0 oz", to a tenth of an ounce.
func (m Mass) poundsAndOunces() string {
	tenths := math.Round(m.Ounces() * 10)
	pounds := math.Floor(tenths / 160)
	return grouped(figures(pounds, 1)) + " lb " + fixed((tenths-pounds*160)/10, 1) + " oz"
}
