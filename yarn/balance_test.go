package yarn

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"waketwist/unit"
)

// Closed forms of the minimum, checked against a numerical minimiser; own
// derivation after Thompson et al. (2002).
func TestBalancedClosedForms(t *testing.T) {
	tests := []struct {
		k, t, b float64
	}{
		{1.5, 0.8, math.Atan(1.0 / 2)},
		{4, 0.6, math.Atan(1.0 / 3)},
		{1, 0.5, math.Pi / 8},
		{1.5, 0.2823529411764706, math.Atan(1.0 / 4)},
	}
	for _, tt := range tests {
		if got := Balanced(2, Stiffness(tt.k), Living(tt.t)); math.Abs(float64(got)-tt.b) > 1e-9 {
			t.Errorf("k %v, t %v: %v deg, want %v", tt.k, tt.t, got.Degrees(), tt.b*180/math.Pi)
		}
	}
}

// From a direct minimisation of the energy over b with the contact radius
// solved at each step.
func TestBalancedMoreStrands(t *testing.T) {
	tests := []struct {
		k, t float64
		want [3]float64 // n = 2, 3, 4, degrees
	}{
		{0.5, 0.5, [3]float64{25.390, 28.060, 30.596}},
		{1, 0.5, [3]float64{22.500, 24.640, 27.198}},
		{1.5, 0.8, [3]float64{26.565, 27.930, 29.475}},
		{3, 1.2, [3]float64{26.565, 27.552, 28.825}},
	}
	for _, tt := range tests {
		for i, want := range tt.want {
			if got := Balanced(i+2, Stiffness(tt.k), Living(tt.t)).Degrees(); math.Abs(got-want) > 6e-4 {
				t.Errorf("n %d, k %v, t %v: %.4f deg, want %.3f", i+2, tt.k, tt.t, got, want)
			}
		}
	}
}

// Ratios by the same formula, worked by hand for several surface angles.
func TestBalancedRatios(t *testing.T) {
	tests := []struct {
		n    int
		a, k float64
		want float64 // turns per ply length over turns of the singles
	}{
		{2, 15, 1.5, 0.894}, {2, 20, 1.5, 0.836}, {2, 25, 1.5, 0.778}, {2, 30, 1.5, 0.721},
		{2, 20, 4, 0.691}, {2, 25, 4, 0.624}, {2, 30, 4, 0.566},
		{3, 25, 1.5, 0.727}, {4, 25, 1.5, 0.648},
	}
	for _, tt := range tests {
		a := SurfaceAngle(tt.a * float64(unit.Degree))
		b := Balanced(tt.n, Stiffness(tt.k), a.Living())
		if got := Ratios(tt.n, b, a).PerPlyLength; math.Abs(got-tt.want) > 6e-4 {
			t.Errorf("n %d, a %v, k %v: ratio %.4f, want %.3f", tt.n, tt.a, tt.k, got, tt.want)
		}
	}
}

func TestBalancedIsTheEnergyMinimum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, MaxStrands).Draw(t, "n")
		k := rapid.Float64Range(0.05, 5).Draw(t, "k")
		tw := rapid.Float64Range(0.02, 2).Draw(t, "t")
		energy := func(b float64) float64 {
			r := ContactRadius(n, CentreAngle(b))
			s, c := math.Sincos(b)
			return k/2*math.Pow(s*s/r, 2) + math.Pow(tw-s*c/r, 2)/2
		}
		b := float64(Balanced(n, Stiffness(k), Living(tw)))
		at := energy(b)
		for _, step := range []float64{-1e-3, 1e-3} {
			if e := energy(b + step); e < at-1e-12 {
				t.Fatalf("n %d, k %v, t %v: energy at %.4f deg is not the least", n, k, tw, b*180/math.Pi)
			}
		}
	})
}

func TestBalancedGrowsWithTwist(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, MaxStrands).Draw(t, "n")
		k := Stiffness(rapid.Float64Range(0, 5).Draw(t, "k"))
		tw := rapid.Float64Range(0, 3).Draw(t, "t")
		more := tw * rapid.Float64Range(1, 2).Draw(t, "more")
		if Balanced(n, k, Living(more)) < Balanced(n, k, Living(tw))-1e-10 {
			t.Fatalf("more twist rests at a flatter angle")
		}
	})
}

func TestLivingForInvertsBalanced(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, MaxStrands).Draw(t, "n")
		k := Stiffness(rapid.Float64Range(0.05, 5).Draw(t, "k"))
		b := CentreAngle(rapid.Float64Range(0.01, 0.95).Draw(t, "b")) * Limit(n)
		living, err := LivingFor(n, k, b)
		if err != nil {
			t.Fatal(err)
		}
		if got := Balanced(n, k, living); math.Abs(float64(got-b)) > 1e-9 {
			t.Fatalf("there and back: %v deg became %v", b.Degrees(), got.Degrees())
		}
	})
}

// A tight double helix takes up the most twist at 45 deg (Olsen and Bohr,
// Theor. Chem. Acc. 125 (2010) 207).
func TestLimit(t *testing.T) {
	if got := Limit(2).Degrees(); math.Abs(got-45) > 1e-6 {
		t.Errorf("limit of two strands %v deg", got)
	}
	for n := 2; n <= MaxStrands; n++ {
		if _, err := LivingFor(n, 1, Limit(n)); err == nil {
			t.Errorf("%d strands: a balanced ply at the limit was accepted", n)
		}
		if got := Balanced(n, 0, 9); math.Abs(float64(got-Limit(n))) > 1e-9 {
			t.Errorf("%d strands with too much twist rest at %v deg, want the limit", n, got.Degrees())
		}
	}
}

func BenchmarkBalanced(b *testing.B) {
	for _, n := range []int{2, 3, 4} {
		b.Run(string(rune('0'+n))+" strands", func(b *testing.B) {
			for b.Loop() {
				Balanced(n, 0.7, 0.6)
			}
		})
	}
}
