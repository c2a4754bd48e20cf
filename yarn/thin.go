package yarn

import (
	"fmt"
	"math"

	"waketwist/unit"
)

// TwistStep is one step along singles of uneven thickness.
type TwistStep struct {
	Diameter unit.Length
	Twist    StrandTwist
	Angle    SurfaceAngle
}

// TwistProfile is how twist lies along singles of uneven thickness.
type TwistProfile struct {
	Steps []TwistStep
	// Mean and SD of the surface angles of the steps, and the least and the most.
	Mean, Least, Most SurfaceAngle
	SD                unit.Angle
}

// SpreadTwist returns how mean turns per metre run into the thin places of
// singles whose diameters stand at equal steps along them. In a strand at rest
// the torque is the same everywhere, so that u is as d^-p for a torsional
// stiffness as d^p; the mean of the turns over the steps is kept. It holds for
// twist that is free to run: twist set in drafting, or caught by a hook or a
// finger, stays where it is.
//
// The exponent is 0 (turns alike everywhere) to SolidRod; at 1 the surface angle
// is alike everywhere. Diameters may differ up to a thousandfold. Empty profiles
// and values out of range are refused.
func SpreadTwist(diameters []unit.Length, mean StrandTwist, p ThicknessExponent) (TwistProfile, error) {
	thin, err := checkProfile(diameters, mean, p)
	if err != nil {
		return TwistProfile{}, err
	}
	out := TwistProfile{Steps: make([]TwistStep, len(diameters))}
	total := 0.0
	for i, d := range diameters {
		out.Steps[i] = TwistStep{Diameter: d, Twist: StrandTwist(math.Pow(float64(thin/d), float64(p)))}
		total += float64(out.Steps[i].Twist)
	}
	scale := StrandTwist(float64(mean) * float64(len(diameters)) / total)
	for i := range out.Steps {
		step := &out.Steps[i]
		step.Twist *= scale
		step.Angle = SurfaceAngleOf(step.Twist, step.Diameter)
	}
	out.spread()
	return out, nil
}

// spread fills in the mean, the spread and the ends of the angles.
func (p *TwistProfile) spread() {
	n := float64(len(p.Steps))
	p.Least, p.Most = p.Steps[0].Angle, p.Steps[0].Angle
	for _, s := range p.Steps {
		p.Mean += s.Angle / SurfaceAngle(n)
		p.Least, p.Most = min(p.Least, s.Angle), max(p.Most, s.Angle)
	}
	var squares float64
	for _, s := range p.Steps {
		off := float64(s.Angle - p.Mean)
		squares += off * off
	}
	if n > 1 {
		p.SD = unit.Angle(math.Sqrt(squares / (n - 1)))
	}
}

// checkProfile returns the thinnest diameter, or what is wrong.
func checkProfile(diameters []unit.Length, mean StrandTwist, p ThicknessExponent) (thin unit.Length, err error) {
	if len(diameters) == 0 {
		return 0, fmt.Errorf("no diameters: give at least one step along the singles")
	}
	if !(mean >= 0 && mean <= mostTurns) {
		return 0, fmt.Errorf("%g turns per metre: give 0 to %g", float64(mean), float64(mostTurns))
	}
	if !(p >= 0 && p <= SolidRod) {
		return 0, fmt.Errorf("an exponent of %g: torsional stiffness grows with a power of thickness between 0 and %g", float64(p), float64(SolidRod))
	}
	thin, thick := diameters[0], diameters[0]
	for i, d := range diameters {
		if !(d >= thinnest && d <= thickest) {
			return 0, fmt.Errorf("step %d has a diameter of %g mm: give one between 0.001 mm and 1 m", i+1, d.Millimetres())
		}
		thin, thick = min(thin, d), max(thick, d)
	}
	if thick > 1000*thin {
		return 0, fmt.Errorf("the thickest place is %.0f times the thinnest: up to 1000 times can be reckoned with", float64(thick/thin))
	}
	return thin, nil
}
