package drawing

import (
	"math"
	"testing"

	"waketwist/unit"
	"waketwist/yarn"
)

func TestSurveyKeepsAngleAndUnevenness(t *testing.T) {
	for _, plies := range []int{1, 2, 3} {
		for _, cv := range []float64{0, 0.05, 0.2} {
			y := Yarn{Plies: plies, Direction: yarn.Z, Angle: 33 * unit.Degree, UnevennessCV: cv, Seed: 4}
			y.CentreRadiusRatio = y.centreRatio()
			stations := survey(y, 20, 4000)
			angles, radii := make([]float64, len(stations)), make([]float64, len(stations))
			for i, s := range stations {
				angles[i], radii[i] = math.Atan2(s.sinB, s.cosB), s.radius
				if plies == 1 {
					angles[i] = math.Atan(-s.curl * s.radius)
				}
			}
			angle, _ := meanSD(angles)
			if got := unit.Angle(angle).Degrees(); math.Abs(got-33) > 0.05 {
				t.Errorf("%d plies, CV %.2f: mean angle %.2f deg, want 33", plies, cv, got)
			}
			radius, sd := meanSD(radii)
			if math.Abs(radius-20) > 0.01 || math.Abs(sd/radius-cv) > 0.15*cv+1e-9 {
				t.Errorf("%d plies, CV %.2f: radius %.2f with CV %.3f", plies, cv, radius, sd/radius)
			}
		}
	}
}

// A fibre is followed a short way over the crest of a strand that faces the
// viewer; its lean in the picture is compared with the one asked for.
func TestFibresLeanAsAskedOnTheCrest(t *testing.T) {
	for _, plies := range []int{2, 3, 4} {
		for _, lean := range []float64{-12, 0, 20} {
			y := Yarn{Plies: plies, Direction: yarn.Z, Angle: 35 * unit.Degree, FibreLean: unit.Angle(lean) * unit.Degree}
			y.CentreRadiusRatio = y.centreRatio()
			st := stationAt(y, 10, y.Angle.Tan())
			s := &strip{stations: []station{st}}
			on := func(length float64) vec {
				g := s.helixRing(&st, length)
				sin, cos := math.Sincos(st.curl * length)
				return g.centre.add(g.normal, 10*cos).add(g.binormal, 10*sin)
			}
			step := on(1e-4).add(on(-1e-4), -1)
			if got := unit.Atan(step.x / step.z).Degrees(); math.Abs(got-lean) > 0.01 {
				t.Errorf("%d plies: fibre leans %.3f deg on the crest, want %.0f", plies, got, lean)
			}
		}
	}
}

// The outline of a section must lie on the strand: one strand radius from the
// nearest point of its centre line.
func TestOutlineLiesOnTheStrand(t *testing.T) {
	for _, degrees := range []float64{0, 12, 30, 47} {
		y := Yarn{Plies: 2, Direction: yarn.Z, Angle: unit.Angle(degrees) * unit.Degree, Finish: Wet}
		s := newStrip(y.withDiameter(), 20, 40, 100)
		s.wool = make(fleece, fleeceAround*fleeceAlong) // no relief
		st := &s.stations[20]
		c := newCircle(s.radius, 4)
		for j := range c.theta {
			p := s.outline(st, 0, st.phase, c, j)
			if got := distanceToHelix(st, p); math.Abs(got-s.radius) > 0.01 {
				t.Fatalf("at %g deg the outline is %.3f from the centre line, want %.3f", degrees, got, s.radius)
			}
		}
	}
}

func (y Yarn) withDiameter() Yarn {
	y.StrandDiameter = 1 * unit.Millimetre
	return y
}

func distanceToHelix(st *station, p point) float64 {
	least := math.Inf(1)
	for z := -3 * st.radius; z <= 3*st.radius; z += 0.002 {
		sin, cos := math.Sincos(st.phase + z*st.rate)
		dx, dy := p.x-st.centre*sin, p.y-st.centre*cos
		least = min(least, math.Sqrt(dx*dx+dy*dy+z*z))
	}
	return least
}
