package yarn

import (
	"fmt"
	"math"
	"testing"

	"waketwist/unit"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.7g, want %.7g", what, got, want)
	}
}

// Two angles at one strand diameter: tan b = 2 pi R U with R = d/2 (geometry;
// the angles are common practice).
func TestTurnsAtTwoAngles(t *testing.T) {
	d := unit.Inch / 30
	dry, rewet := Turns(2, deg(20), d), Turns(2, deg(40), d)
	near(t, "turns per inch at 20 deg", unit.Twist(dry).PerInch(), 3.48, 0.005)
	near(t, "turns per metre at 20 deg", float64(dry), 137, 0.5)
	near(t, "turns per inch at 40 deg", unit.Twist(rewet).PerInch(), 8.01, 0.005)
	near(t, "turns per metre at 40 deg", float64(rewet), 315, 0.5)
	near(t, "ratio", float64(rewet/dry), 2.31, 0.005)
	near(t, "share from the dry look", float64(dry/rewet), 0.434, 0.0005)
}

// A published magazine article on twist in plying (common practice): 16 and 18
// wraps per inch, 5.5 and 6 turns per inch, two-ply.
func TestAngleFromWrapsAndTurns(t *testing.T) {
	for _, c := range []struct{ wpi, tpi, want float64 }{{16, 5.5, 28.4}, {18, 6, 27.6}} {
		d := unit.Inch / unit.Length(2*c.wpi) // a wrap shows the envelope of the two-ply, 2d
		b, ok := AngleOf(2, PlyTwist(c.tpi)*PlyTwist(unit.TurnPerInch), d)
		if !ok {
			t.Fatalf("%v wpi, %v tpi: past the limit", c.wpi, c.tpi)
		}
		near(t, "strand angle", b.Degrees(), c.want, 0.05)
		outside := unit.Atan(math.Pi * c.tpi / c.wpi).Degrees()
		if outside < b.Degrees()+15 {
			t.Errorf("the outside radius gives %.1f deg, too near the strand's %.1f to matter", outside, b.Degrees())
		}
	}
}

// Woolcombers' class handout, 1995: worsted counts, wraps and twist (common
// practice); angle by tan a = pi tpi/wpi.
func TestSurfaceAngleOfHandout(t *testing.T) {
	for _, c := range []struct{ wpi, count, tpi, angle, tex float64 }{
		{42, 4, 6.5, 25.9, 221}, {64, 9, 9.5, 25.0, 98.4},
	} {
		a := SurfaceAngleOf(StrandTwist(c.tpi)*StrandTwist(unit.TurnPerInch), unit.Inch/unit.Length(c.wpi))
		near(t, "surface angle", a.Degrees(), c.angle, 0.05)
		near(t, "tex", 885812/1000/c.count, c.tex, 0.6)
	}
	near(t, "twist multiplier", 6.5/math.Sqrt(4), 3.25, 1e-9)
	near(t, "diameters per inch", 0.9*math.Sqrt(5040), 63.9, 0.05)
}

// Contraction after Treloar and Hearle, Grosberg and Backer (from memory; the
// identity was checked numerically).
func TestContraction(t *testing.T) {
	for a, want := range map[float64][2]float64{
		10: {1.007713, 0.76543}, 20: {1.032089, 3.10912}, 30: {1.07735, 7.17968},
	} {
		s := SurfaceAngle(a * float64(unit.Degree))
		near(t, "cy", s.Contraction(), want[0], 1e-6)
		near(t, "retraction %", 100*s.Retraction(), want[1], 1e-5)
		near(t, "1 - 1/cy", 1-1/s.Contraction(), s.Retraction(), 1e-12)
	}
}

// Specific volume v = 1/(packing rho). 100 tex at v = 1.1: Peirce; wool packings
// computed with the fibre density of Morton and Hearle.
func TestDiameter(t *testing.T) {
	near(t, "v 1.1, 100 tex", Diameter(100, 1, 1/1.1).Millimetres(), 0.3742, 1e-4)
	for packing, want := range map[float64]float64{0.6: 0.4025, 0.5: 0.4409, 0.4: 0.4929, 0.3: 0.5692} {
		near(t, "100 tex wool", Diameter(100, packing, WoolDensity).Millimetres(), want, 5e-4)
	}
	// 20 tex at 1000 turns/m with a surface angle of 32 deg (GATE 2005, common practice).
	a := SurfaceAngle(32 * float64(unit.Degree))
	near(t, "d of 20 tex", 1000*math.Tan(float64(a))/(math.Pi*1000), 0.1989, 1e-4)
	near(t, "turns", float64(a.Twist(0.1989*unit.Millimetre)), 1000, 0.5)
}

// J. Text. Mach. Soc. Japan 14 (1968) 115: factor 1 - (U/u) cos^2 b.
func TestTwistLeft(t *testing.T) {
	b := CentreAngle(20.5579 * float64(unit.Degree))
	near(t, "left", float64(TwistLeft(250, 191.253, b)), 82.33, 0.01)
	near(t, "added", float64(TwistLeft(-250, 191.253, b)), 82.33-500, 0.01)
}

// Worked chain from tex to turns: d, t, b and turns of two wool singles at v =
// 1.53 cm3/g and k = 1.5 (from the closed form of the balance).
func TestBalanceWorkedFromTex(t *testing.T) {
	for _, c := range []struct{ tex, u, d, t, b, ply float64 }{
		{100, 400, 0.44137, 0.55464, 22.0908, 292.7},
		{200, 250, 0.62419, 0.49024, 20.5579, 191.25},
	} {
		d := Diameter(unit.LinearDensity(c.tex), 1, 1/1.53)
		a := SurfaceAngleOf(StrandTwist(c.u), d)
		b := Balanced(2, 1.5, a.Living())
		near(t, "d", d.Millimetres(), c.d, c.d*1e-4)
		near(t, "t", float64(a.Living()), c.t, c.t*1e-3)
		near(t, "b", b.Degrees(), c.b, 0.01)
		near(t, "turns", float64(Turns(2, b, d)), c.ply, c.ply*1e-3)
	}
}

func TestTakeUp(t *testing.T) {
	a := SurfaceAngle(30 * float64(unit.Degree))
	b := CentreAngle(25 * float64(unit.Degree))
	near(t, "no twist taken out", TakeUp(b, a, a), math.Cos(float64(b)), 1e-12)
	if TakeUp(b, a, 0) <= math.Cos(float64(b)) {
		t.Error("strands that untwist must lengthen")
	}
}

func TestEnvelope(t *testing.T) {
	for _, c := range []struct {
		n       int
		b, want float64
	}{{2, 30, 2}, {3, 1, 2.15474}} {
		b := deg(c.b)
		p, err := Forced(alike(c.n, Strand{unit.Millimetre, 0.5, 0.7, 1}), Feed{}, Turns(c.n, b, unit.Millimetre))
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprint(c.n, " strands"), p.Envelope.Millimetres(), c.want, 1e-5)
	}
}

func TestDirectionsAndLines(t *testing.T) {
	if S.Opposite() != Z || Z.Opposite() != S || NoDirection.Opposite() != NoDirection {
		t.Error("opposites are wrong")
	}
	for _, bad := range []string{"x", "SZ", "left"} {
		if _, err := ParseDirection(bad); err == nil {
			t.Errorf("direction %q was accepted", bad)
		}
	}
	for l := StrandCentre; l <= SurfaceFibre; l++ {
		if got, err := ParseLine(l.String()); err != nil || got != l {
			t.Errorf("ParseLine(%q) = %v, %v", l, got, err)
		}
	}
}

func ExampleBalanced() {
	a := SurfaceAngle(38.66 * unit.Degree)
	b := Balanced(2, 1.5, a.Living())
	r := Ratios(2, b, a)
	fmt.Printf("rests at %.1f degrees with %.3f of the singles' turns, %.2f left in each strand\n",
		b.Degrees(), r.PerPlyLength, r.TwistLeft)
	// Output: rests at 26.6 degrees with 0.625 of the singles' turns, 0.50 left in each strand
}

func ExampleTurns() {
	d := 0.8 * unit.Millimetre
	u := Turns(2, CentreAngle(40*unit.Degree), d)
	fmt.Printf("%.0f turns/m (%.1f tpi)\n", float64(u), unit.Twist(u).PerInch())
	// Output: 334 turns/m (8.5 tpi)
}
