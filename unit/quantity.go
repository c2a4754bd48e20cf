// Package unit holds the physical quantities of yarn work as types of their
// own, and reads and prints them in the units that spinners write.
//
// Each quantity is a float64 in one base unit, so quantities of different kinds
// cannot be added by mistake. Build a value by multiplying with a unit
// (30*unit.Degree) and take it apart with the method named after the unit
// wanted (a.Degrees()).
package unit

import "math"

// Length is a distance in metres.
type Length float64

// Units of length. The yard is 0.9144 m exactly (international yard, 1959).
const (
	Metre      Length = 1
	Centimetre Length = 0.01
	Millimetre Length = 0.001
	Inch       Length = 0.0254
	Foot       Length = 12 * Inch
	Yard       Length = 36 * Inch
)

// Metres returns l in metres.
func (l Length) Metres() float64 { return float64(l) }

// Millimetres returns l in millimetres.
func (l Length) Millimetres() float64 { return float64(l / Millimetre) }

// Inches returns l in inches.
func (l Length) Inches() float64 { return float64(l / Inch) }

// Yards returns l in yards.
func (l Length) Yards() float64 { return float64(l / Yard) }

// Mass is a mass in grams.
type Mass float64

// Units of mass. The avoirdupois pound is 453.59237 g exactly.
const (
	Gram     Mass = 1
	Kilogram Mass = 1000
	Pound    Mass = 453.59237
	Ounce    Mass = Pound / 16
	Grain    Mass = Pound / 7000
)

// Grams returns m in grams.
func (m Mass) Grams() float64 { return float64(m) }

// Ounces returns m in avoirdupois ounces.
func (m Mass) Ounces() float64 { return float64(m / Ounce) }

// LinearDensity is mass per length in tex (grams per kilometre).
type LinearDensity float64

// Tex is one gram per kilometre (ISO 1144).
const Tex LinearDensity = 1

// Tex returns t in tex.
func (t LinearDensity) Tex() float64 { return float64(t) }

// Twist is a number of turns per length, in turns per metre. It does not say
// per metre of what: package yarn has types that do.
type Twist float64

// Units of twist.
const (
	TurnPerMetre Twist = 1
	TurnPerInch  Twist = 1 / 0.0254
)

// PerMetre returns u in turns per metre.
func (u Twist) PerMetre() float64 { return float64(u) }

// PerInch returns u in turns per inch.
func (u Twist) PerInch() float64 { return float64(u / TurnPerInch) }

// Wraps is a number of wraps laid side by side per length, in wraps per metre.
type Wraps float64

// Units of wraps.
const (
	WrapPerInch       Wraps = 1 / 0.0254
	WrapPerCentimetre Wraps = 100
)

// PerInch returns w in wraps per inch.
func (w Wraps) PerInch() float64 { return float64(w / WrapPerInch) }

// PerCentimetre returns w in wraps per centimetre.
func (w Wraps) PerCentimetre() float64 { return float64(w / WrapPerCentimetre) }

// Pitch returns the room that one wrap takes. It is wider than the yarn's
// contact diameter by the slack left between wraps.
func (w Wraps) Pitch() Length { return Length(1 / w) }

// Angle is an angle in radians. It does not say of which line: package yarn has
// types that do.
type Angle float64

// Units of angle.
const (
	Radian Angle = 1
	Degree Angle = math.Pi / 180
)

// Degrees returns a in degrees.
func (a Angle) Degrees() float64 { return float64(a / Degree) }

// Tan returns the tangent of a.
func (a Angle) Tan() float64 { return math.Tan(float64(a)) }

// Atan returns the angle whose tangent is t.
func Atan(t float64) Angle { return Angle(math.Atan(t)) }

// Temperature is a temperature in degrees Celsius.
type Temperature float64

// Celsius returns t in degrees Celsius.
func (t Temperature) Celsius() float64 { return float64(t) }

// Fahrenheit returns t in degrees Fahrenheit.
func (t Temperature) Fahrenheit() float64 { return float64(t)*9/5 + 32 }
