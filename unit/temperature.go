package unit

import "strings"

var temperatureScale = scale{
	kind: KindTemperature, read: readTemperature,
	lo: -60, hi: 300, limits: "-60 °C to 300 °C", slack: 1.1, signed: true,
}

// FromFahrenheit returns the temperature of f degrees Fahrenheit.
func FromFahrenheit(fahrenheit float64) Temperature {
	return Temperature((fahrenheit - 32) * 5 / 9)
}

// ParseTemperature reads a temperature such as 40 °C, 40 C or 104 F. Those from
// -60 °C to 300 °C are accepted. The error is a *ParseError.
func ParseTemperature(text string) (Temperature, error) {
	v, err := temperatureScale.parse(text)
	return Temperature(v), err
}

func readTemperature(toks []token) (float64, *fault) {
	sign := 1.0
	if toks[0].is(mark, "-") {
		sign, toks = -1, toks[1:]
	}
	a, rest, f := takeAmount(toks)
	if f != nil {
		return 0, f
	}
	fahrenheit, f := isFahrenheit(rest)
	if f != nil {
		return 0, f
	}
	v, f := a.value(false)
	if fahrenheit {
		return float64(FromFahrenheit(sign * v)), f
	}
	return sign * v, f
}

// isFahrenheit tells the scale that the unit names.
func isFahrenheit(unit []token) (bool, *fault) {
	name := spell(unit)
	letter := name
	for _, degree := range []string{"°", "degrees", "degree", "deg"} {
		letter = strings.TrimPrefix(letter, degree)
	}
	switch strings.TrimSpace(letter) {
	case "c", "celsius", "centigrade":
		return false, nil
	case "f", "fahrenheit":
		return true, nil
	case "":
		return false, scaleMissing(name)
	}
	return false, unknownUnit(KindTemperature, name)
}

// scaleMissing is the fault of 40 and of 40°; the second may be an angle.
func scaleMissing(name string) *fault {
	if name == "" {
		return noUnit(KindTemperature)
	}
	return &fault{
		problem: "it does not say Celsius or Fahrenheit",
		advice:  "add C or F after the degree sign",
		foreign: true,
	}
}

// Metric returns t in degrees Celsius to a tenth: "40 °C".
func (t Temperature) Metric() string { return trimmed(fixed(t.Celsius(), 1)) + " °C" }

// InchPound returns t in degrees Fahrenheit to a tenth: "104 °F".
func (t Temperature) InchPound() string { return trimmed(fixed(t.Fahrenheit(), 1)) + " °F" }

// String returns t on both scales: "40 °C (104 °F)".
func (t Temperature) String() string { return bothSystems(t.Metric(), t.InchPound()) }
