package yarn

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"waketwist/unit"
)

func deg(d float64) CentreAngle { return CentreAngle(d) * CentreAngle(unit.Degree) }

// Own derivation, solved twice independently; soft angles equal the textbook
// 1/sin(pi/n).
func TestContactRadius(t *testing.T) {
	tests := []struct {
		b    float64
		want [4]float64 // n = 2, 3, 4, 5
	}{
		{1, [4]float64{1, 1.15474, 1.41432, 1.70147}},
		{20, [4]float64{1, 1.17563, 1.46321, 1.77653}},
		{30, [4]float64{1, 1.21459, 1.54394, 1.89360}},
		{40, [4]float64{1, 1.30607, 1.70150, 2.10759}},
		{45, [4]float64{1, 1.38869, 1.82649, 2.27062}},
	}
	for _, tt := range tests {
		for i, want := range tt.want {
			if got := ContactRadius(i+2, deg(tt.b)); math.Abs(got-want) > 6e-6 {
				t.Errorf("R/(d/2) of %d strands at %v deg = %.5f, want %.5f", i+2, tt.b, got, want)
			}
		}
	}
}

// At the zero-twist angle the turns per length of strand are greatest.
// Olsen and Bohr, arXiv:1003.5358 (two strands, 39.4 deg from the perpendicular
// plane); Bohr and Olsen, EPL 93 (2011) 60004 (three and four: 42.8 and 43.8,
// from memory); recomputed.
func TestZeroTwistRopes(t *testing.T) {
	for n, want := range map[int]float64{2: 39.377, 3: 42.835, 4: 43.835} {
		best, at := 0.0, 0.0
		for b := 40.0; b < 60; b += 0.0005 {
			if v := math.Sin(b*math.Pi/180) / ContactRadius(n, deg(b)); v > best {
				best, at = v, b
			}
		}
		if got := 90 - at; math.Abs(got-want) > 0.002 {
			t.Errorf("%d strands: zero twist at %.3f deg from the perpendicular, want %.3f", n, got, want)
		}
	}
	// Helix axis distance a/D of the two-ply there: 0.5229 (same source).
	if got := ContactRadius(2, deg(90-39.377)) / 2; math.Abs(got-0.5229) > 1e-4 {
		t.Errorf("a/D at the zero-twist angle %.4f, want 0.5229", got)
	}
}

func TestContactIsTheLeastDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, MaxStrands).Draw(t, "n")
		b := deg(rapid.Float64Range(0.5, 60).Draw(t, "b"))
		r := ContactRadius(n, b)
		shift, cot := 2*math.Pi/float64(n), 1/math.Tan(float64(b))
		least := math.Inf(1)
		for i := range 4000 {
			x := -shift * float64(i) / 3999
			least = min(least, 2-2*math.Cos(x+shift)+x*x*cot*cot)
		}
		// The grid can only miss the minimum upwards, by its own coarseness.
		coarse := 1e-6 + cot*cot*r*r*math.Pow(shift/3999, 2)
		if got := r * math.Sqrt(least); got < 2-1e-9 || got > 2+coarse {
			t.Fatalf("centre lines of %d strands at %.2f deg come to %.6f radii of each other, want 2", n, b.Degrees(), got)
		}
	})
}

func TestContactSlope(t *testing.T) {
	for n := 2; n <= MaxStrands; n++ {
		for b := 5.0; b < 58; b += 7 {
			_, slope := contact(n, b*math.Pi/180)
			const h = 1e-6
			up, _ := contact(n, b*math.Pi/180+h)
			down, _ := contact(n, b*math.Pi/180-h)
			if want := (up - down) / (2 * h); math.Abs(slope-want) > 1e-5*(1+math.Abs(want)) {
				t.Errorf("n %d, b %v: dR/db %v, by differences %v", n, b, slope, want)
			}
		}
	}
}
