package yarn

import (
	"fmt"
	"math"

	"waketwist/unit"
)

// ContactRadiusOnCore returns R/(d/2) of n (2 to 7) strands round a straight
// core strand on the axis, whose diameter is coreRatio times theirs: the larger
// of ContactRadius and 1 + coreRatio. Up to a coreRatio of ContactRadius - 1 the
// core fits into the hollow of the ring and changes nothing; 0 is no core. A core
// meets the strands at R at any angle, because every point of a helix is R from
// its axis. It panics when n is out of range or coreRatio below zero.
func ContactRadiusOnCore(n int, b CentreAngle, coreRatio float64) float64 {
	if !(coreRatio >= 0) {
		panic("yarn: core of negative thickness")
	}
	return max(ContactRadius(n, b), 1+coreRatio)
}

// OnCore returns how strands of one thickness and one length lie round a round,
// straight and unyielding core at the given turns, 0 or more, and whether the
// core bears them or lies in their hollow. It is geometry alone: what the core
// does to the torque is not known, and Torque, Stiffness and the strands'
// LivingLeft stay zero. It refuses strands and cores out of range, strands of
// unequal thickness, and more turns than fit.
func OnCore(strands []Strand, core unit.Length, turns PlyTwist) (p Ply, bears bool, err error) {
	if err := checkOnCore(strands, core, turns); err != nil {
		return Ply{}, false, err
	}
	n, d := len(strands), strands[0].Diameter
	ratio := float64(core / d)
	turnsAt := func(b float64) float64 {
		return math.Tan(b) / (math.Pi * d.Metres() * ContactRadiusOnCore(n, CentreAngle(b), ratio))
	}
	steep := steepestOnCore(n, ratio)
	if most := turnsAt(steep); float64(turns) >= most {
		return Ply{}, false, fmt.Errorf("%d such strands round such a core hold less than %.0f turns per metre of ply, not %.0f", n, most, float64(turns))
	}
	b := root(func(b float64) float64 { return turnsAt(b) - float64(turns) }, 0, steep, 1e-14)
	radius := unit.Length(ContactRadiusOnCore(n, CentreAngle(b), ratio)) * d / 2
	p = Ply{Turns: turns, Envelope: 2*radius + d, State: Plied}
	for _, s := range strands {
		p.Strands = append(p.Strands, PliedStrand{
			Strand: s, HelixRadius: radius, Angle: CentreAngle(b), Share: LengthShare(1 / math.Cos(b)),
		})
	}
	return p, ContactRadius(n, CentreAngle(b)) <= 1+ratio, nil
}

// steepestOnCore returns the angle at which the strands hold most turns for
// their length: that without a core, or, on a thicker one, that at which they
// lie side by side and cover it.
func steepestOnCore(n int, ratio float64) float64 {
	steep := float64(ZeroTwist(n))
	if room := func(b float64) float64 { return ContactRadius(n, CentreAngle(b)) - 1 - ratio }; room(steep) < 0 {
		return root(room, steep, 1.57, 1e-14)
	}
	return steep
}

func checkOnCore(strands []Strand, core unit.Length, turns PlyTwist) error {
	if err := checkStrands(strands); err != nil {
		return err
	}
	d := strands[0].Diameter
	for i, s := range strands {
		if s.Diameter != d {
			return fmt.Errorf("strand %d is not as thick as the first: round a core, strands of one thickness can be reckoned with", i+1)
		}
	}
	if !(core >= thinnest && core <= mostThicknessRatio*d) {
		return fmt.Errorf("a core of %g mm: give one between 0.001 mm and %d times the strands' thickness", core.Millimetres(), mostThicknessRatio)
	}
	if !(turns >= 0) {
		return fmt.Errorf("a ply of %g turns per metre: give 0 or more, in the direction of the ply", float64(turns))
	}
	return nil
}
