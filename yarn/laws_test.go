package yarn

import (
	"math"
	"testing"
)

// laws holds the rows of testdata/checks.csv that print a relation.
var laws = map[string]func(*testing.T){
	"TW08": func(t *testing.T) {
		for a := 1.0; a < 60; a += 3 {
			cy, ry := angleOf(a).Contraction(), angleOf(a).Retraction()
			near(t, "Ry", ry, 1-1/cy, 1e-12)
			near(t, "cy", cy, 1/(1-ry), 1e-12)
		}
	},
	"TW19": func(t *testing.T) {
		cos := math.Cos(float64(deg(30)))
		near(t, "factor", float64(TwistLeft(400, 300, deg(30)))/400, 1-300.0/400*cos*cos, 1e-12)
	},
	"BP09": func(t *testing.T) {
		forBalances(func(k, b, tw float64) {
			s := math.Tan(b)
			near(t, "t by tan", tw, s/(1+s*s)*(1+2*k*s*s/(1-s*s)), 1e-9*tw)
			near(t, "t by sin", tw, math.Sin(b)*math.Cos(b)+2*k*math.Pow(math.Sin(b), 3)*math.Cos(b)/math.Cos(2*b), 1e-9*tw)
		})
	},
	"BP14": func(t *testing.T) {
		for _, k := range []float64{0.2, 1.0 / 3, 1, 4} {
			for _, tw := range []float64{0.02, 0.05} {
				b := float64(Balanced(2, Stiffness(k), Living(tw)))
				near(t, "series", tw, b+(2*k-2.0/3)*b*b*b, 20*math.Pow(b, 5))
			}
			near(t, "ratio", balancedRatios(k, 1e-4)[1], 1, 1e-6)
		}
	},
	"BP15": func(t *testing.T) {
		forBalances(func(k, b, tw float64) {
			f := kirchhoff(k, b, tw)
			near(t, "contact force", f.contact, k*math.Pow(math.Sin(b), 4)/math.Cos(2*b), 1e-8*(1+f.contact))
			if f.contact <= 0 {
				t.Errorf("strands at %v rad pull instead of pressing", b)
			}
		})
	},
	"BP22": func(t *testing.T) {
		forBalances(func(_, b, tw float64) {
			// The turn of the ends is the turns per length of ply times cos b.
			turns := 2 * math.Pi * float64(Turns(2, CentreAngle(b), 2)) // strands of radius 1 m
			link := turns * math.Cos(b)
			writhe := (1 - math.Cos(b)) * math.Sin(b)
			taken := 2 * math.Pi * float64(TwistLeft(StrandTwist(tw), PlyTwist(turns/2/math.Pi), CentreAngle(b))-StrandTwist(tw))
			near(t, "Lk = Tw + Wr", link, -taken+writhe, 1e-12)
			near(t, "Tw", -taken, math.Sin(b)*math.Cos(b), 1e-12)
		})
	},
	"BP24": func(t *testing.T) {
		forBalances(func(k, b, tw float64) {
			f := kirchhoff(k, b, tw)
			near(t, "shear", f.shear, -k*math.Pow(math.Sin(b), 3)*math.Cos(b)/math.Cos(2*b), 1e-8*(1+math.Abs(f.shear)))
			near(t, "moment about the axis", f.axialMoment, 0, 1e-8*(1+k+tw))
		})
	},
	"SN01": func(t *testing.T) {
		// B q^2 - M q + T = 0 has a real wave number q below M^2/(4B) only: rested,
		// the strand must snarl just below its share of that tension and not above.
		const fresh, b = 3e-7, 4e-10
		const tension = fresh * fresh / (4 * b)
		for _, f := range []float64{0, 0.2, 0.5, 0.9} {
			ratio, err := SnarlTensionRatio(f)
			if err != nil {
				t.Fatal(err)
			}
			m := (1 - f) * fresh
			if below, above := m*m-4*b*ratio*tension*(1-1e-9), m*m-4*b*ratio*tension*(1+1e-9); below <= 0 || above >= 0 {
				t.Errorf("%v asleep: a ratio of %v is not where it begins to snarl", f, ratio)
			}
		}
	},
}

// forBalances visits balances of two strands of radius 1 and C = 1.
func forBalances(visit func(k, b, tw float64)) {
	for _, k := range []float64{0.1, 0.7, 1.5, 4} {
		for _, tw := range []float64{0.05, 0.3, 0.8, 2} {
			visit(k, float64(Balanced(2, Stiffness(k), Living(tw))), tw)
		}
	}
}

type strandForces struct{ shear, contact, axialMoment float64 }

// kirchhoff follows forces and moments along one strand of a two-ply (F' + p n
// = 0, M' + t x F = 0 on a helix of radius 1) that carries no axial force: no
// energy comes into it.
func kirchhoff(k, b, tw float64) strandForces {
	sin, cos := math.Sincos(b)
	curvature, torsion := sin*sin, sin*cos
	twisting, bending := -(tw - torsion), k*curvature
	shear := twisting*curvature - bending*torsion
	pull := -shear * sin / cos // no force along the axis
	return strandForces{
		shear:       shear,
		contact:     pull*curvature - shear*torsion,
		axialMoment: twisting*cos + bending*sin + pull*sin - shear*cos,
	}
}
