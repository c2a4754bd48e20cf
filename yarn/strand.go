package yarn

import (
	"fmt"
	"math"

	"waketwist/unit"
)

// TorsionalStiffness is the torque C that holds one radian of twist per metre
// in a strand, in N m2. Where only balance is asked for, the strands' ratio to
// each other is enough and any common unit will do.
type TorsionalStiffness float64

// Torque is in N m: the unit of TorsionalStiffness per metre.
type Torque float64

// Strand is one strand of a ply whose strands need not be alike.
type Strand struct {
	// Diameter is at least 1 micrometre and at most 1 metre, and that of the
	// thickest strand of a ply at most 50 times that of the thinnest.
	Diameter unit.Length
	// Living is the strand's living twist, -10 to 10. Below zero it runs in
	// the direction of the ply.
	Living Living
	// Stiffness is k, 0 to 1000.
	Stiffness Stiffness
	// Torsion is C, above zero; the largest of a ply is at most 1e8 times the
	// smallest. See ThicknessExponent for strands of one material.
	Torsion TorsionalStiffness
}

// ThicknessExponent is the power p of its thickness with which the torsional
// stiffness of a strand of one material grows, C ~ d^p.
type ThicknessExponent float64

// The two ends of what yarn does (own reasoning from the torsion of rods): a
// solid rod, in which all fibres shear against each other, is the upper case;
// fibres that slide over each other each twist for themselves, so that
// stiffness grows with their number, and that is near what yarn does in
// practice (common practice).
const (
	SolidRod      ThicknessExponent = 4
	SlidingFibres ThicknessExponent = 2
)

// Torsion returns the torsional stiffness of a strand of diameter d relative to
// that of one of diameter reference and the same material. Both must be above
// zero.
func (p ThicknessExponent) Torsion(d, reference unit.Length) TorsionalStiffness {
	return TorsionalStiffness(math.Pow(float64(d/reference), float64(p)))
}

// The widest spread of strands that one ply may have.
const (
	thinnest, thickest = unit.Micrometre, unit.Metre
	mostLiving         = 10
	mostStiffness      = 1000
	mostThicknessRatio = 50
	mostTorsionRatio   = 1e8
)

// check says what is wrong with strand number i, counted from one.
func (s Strand) check(i int) error {
	switch {
	case !(s.Diameter >= thinnest && s.Diameter <= thickest):
		return fmt.Errorf("strand %d has a diameter of %g mm: give one between 0.001 mm and 1 m", i, s.Diameter.Millimetres())
	case !(math.Abs(float64(s.Living)) <= mostLiving):
		return fmt.Errorf("strand %d has a living twist of %g: the tangent of the singles' angle lies between -10 and 10", i, float64(s.Living))
	case !(s.Stiffness >= 0 && s.Stiffness <= mostStiffness):
		return fmt.Errorf("strand %d has a stiffness ratio of %g: give one between 0 and 1000", i, float64(s.Stiffness))
	case !(s.Torsion > 0) || math.IsInf(float64(s.Torsion), 0):
		return fmt.Errorf("strand %d has a torsional stiffness of %g: give one above zero", i, float64(s.Torsion))
	}
	return nil
}

// checkStrands says why the strands cannot make a ply.
func checkStrands(strands []Strand) error {
	if len(strands) < 2 || len(strands) > MaxStrands {
		return fmt.Errorf("a ply takes 2 to %d strands, not %d: ply more of them in two steps, as a cable", MaxStrands, len(strands))
	}
	thin, thick := strands[0].Diameter, strands[0].Diameter
	weak, strong := strands[0].Torsion, strands[0].Torsion
	for i, s := range strands {
		if err := s.check(i + 1); err != nil {
			return err
		}
		thin, thick = min(thin, s.Diameter), max(thick, s.Diameter)
		weak, strong = min(weak, s.Torsion), max(strong, s.Torsion)
	}
	if thick > mostThicknessRatio*thin {
		return fmt.Errorf("one strand is %.0f times as thick as another: up to %d times can be plied as round strands that touch", float64(thick/thin), mostThicknessRatio)
	}
	if float64(strong)/mostTorsionRatio > float64(weak) {
		return fmt.Errorf("one strand is more than %g times as stiff in torsion as another: leave the weaker out", float64(mostTorsionRatio))
	}
	return nil
}

// Feed says how much of each strand goes into the same length of ply. The zero
// value feeds equal lengths.
type Feed struct {
	// Lengths of strand fed in the same time, in the order of the strands, all
	// above zero and the longest at most 10 times the shortest. None means
	// equal lengths.
	Lengths []unit.Length
	// Slips lets the strands share the length out as equal tension has them:
	// the split that releases most energy per length of strand, as if they ran
	// over one frictionless pulley. For two or three strands without Lengths,
	// none twisted with the ply; a ring of four or more that slip collapses
	// (equal strands in it are at a saddle of the energy).
	Slips bool
}

const mostFeedRatio = 10

// shares returns the lengths relative to the shortest.
func (f Feed) shares(n int) (q [MaxStrands]float64, err error) {
	for i := range n {
		q[i] = 1
	}
	if len(f.Lengths) == 0 {
		return q, nil
	}
	if len(f.Lengths) != n {
		return q, fmt.Errorf("there are %d strands but %d lengths fed: give one length per strand", n, len(f.Lengths))
	}
	least, most := f.Lengths[0], f.Lengths[0]
	for i, l := range f.Lengths {
		if !(l > 0) || math.IsInf(float64(l), 0) {
			return q, fmt.Errorf("strand %d is fed %g m: give a length above zero", i+1, l.Metres())
		}
		least, most = min(least, l), max(most, l)
	}
	if float64(most)/mostFeedRatio > float64(least) {
		return q, fmt.Errorf("one strand is fed more than %d times the length of another: they would not lie in one ply", mostFeedRatio)
	}
	for i, l := range f.Lengths {
		q[i] = float64(l) / float64(least)
	}
	return q, nil
}

// checkSlip says why strands cannot share their lengths out by tension.
func (f Feed) checkSlip(strands []Strand) error {
	if len(f.Lengths) > 0 {
		return fmt.Errorf("strands that slip find their lengths themselves: give lengths or slip, not both")
	}
	if len(strands) > 3 {
		return fmt.Errorf("a ring of %d strands that slip collapses: one runs into the middle; give the lengths fed, or lay them round a core", len(strands))
	}
	for i, s := range strands {
		if s.Living < 0 {
			return fmt.Errorf("strand %d is twisted in the direction of the ply and would run out of it: give the lengths fed", i+1)
		}
	}
	return nil
}
