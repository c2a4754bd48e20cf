package unit

import "math"

// Further units of length.
const (
	Kilometre  Length = 1000
	Micrometre Length = 1e-6
)

var lengthSymbols = symbolTable{kind: KindLength, symbols: lengthForms()}

func lengthForms() map[string]symbol {
	m := make(map[string]symbol)
	spellings(m, "m metre metres meter meters", float64(Metre), false)
	spellings(m, "cm centimetre centimetres centimeter centimeters", float64(Centimetre), false)
	spellings(m, "mm millimetre millimetres millimeter millimeters", float64(Millimetre), false)
	spellings(m, "um micron microns micrometre micrometres micrometer micrometers", float64(Micrometre), false)
	spellings(m, "km kilometre kilometres kilometer kilometers", float64(Kilometre), false)
	spellings(m, `" in ins inch inches`, float64(Inch), true)
	spellings(m, "' ft foot feet", float64(Foot), true)
	spellings(m, "yd yds yard yards", float64(Yard), true)
	return m
}

var lengthScale = scale{
	kind: KindLength, read: lengthSymbols.terms,
	lo: float64(0.1 * Micrometre), hi: float64(1000 * Kilometre), limits: "0.1 µm to 1000 km",
}

// ParseLength reads a length such as 1.5 m, 2,5 m, 54", 5'6", 4 ft 6 in,
// 1/30 in, 560 yd or 0.4 mm. Lengths from 0.1 µm to 1000 km are accepted; zero
// and negative ones are not. A comma before three digits parts thousands in
// inches, feet and yards; in metric units it is refused as ambiguous. The error
// is a *ParseError.
func ParseLength(text string) (Length, error) {
	v, err := lengthScale.parse(text)
	return Length(v), err
}

// Metric returns l in the metric unit that suits its size, to three significant
// figures: "1.50 m", "0.847 mm".
func (l Length) Metric() string {
	switch size := Length(math.Abs(float64(l))); {
	case size < 0.1*Millimetre:
		return figures(float64(l/Micrometre), 3) + " µm"
	case size < 10*Centimetre:
		return figures(l.Millimetres(), 3) + " mm"
	case size < Metre:
		return figures(float64(l/Centimetre), 3) + " cm"
	case size < 10*Kilometre:
		return figures(l.Metres(), 3) + " m"
	}
	return figures(float64(l/Kilometre), 3) + " km"
}

// InchPound returns l in inches, from three yards on in yards, to three
// significant figures: "59.1 in", "1,093 yd".
func (l Length) InchPound() string {
	if math.Abs(float64(l)) < float64(3*Yard) {
		return figures(l.Inches(), 3) + " in"
	}
	return grouped(figures(l.Yards(), 3)) + " yd"
}

// String returns l in both systems: "1.50 m (59.1 in)".
func (l Length) String() string { return bothSystems(l.Metric(), l.InchPound()) }

// feetAndInches returns l as "4 ft 6.0 in", to a tenth of an inch.
func (l Length) feetAndInches() string {
	tenths := math.Round(l.Inches() * 10)
	feet := math.Floor(tenths / 120)
	return grouped(figures(feet, 1)) + " ft " + fixed((tenths-feet*120)/10, 1) + " in"
}
