package reading

import (
	"math"
	"testing"
)

// Mean silhouette over envelope, for strands that touch: 0.82 at 10 degrees to
// 0.91 at 42 for two strands, 0.91 to 0.96 for three, 0.94 to 0.97 for four.
func TestSilhouetteOverEnvelope(t *testing.T) {
	for _, c := range []struct {
		n       int
		degrees float64
		want    float64
	}{{2, 10, 0.82}, {2, 42, 0.91}, {3, 10, 0.91}, {3, 42, 0.96}, {4, 10, 0.94}, {4, 42, 0.97}} {
		p := newPly(c.n, round, c.degrees*math.Pi/180)
		if got := p.sil / p.envelope(); math.Abs(got-c.want) > 0.02 {
			t.Errorf("%d strands at %.0f degrees: %.3f, want %.2f", c.n, c.degrees, got, c.want)
		}
	}
}

func TestTouchingRadius(t *testing.T) {
	for n, want := range map[int]float64{2: 1, 3: 1.1547, 4: 1.4142} {
		if got := touchingRadius(n); math.Abs(got-want) > 1e-4 {
			t.Errorf("%d strands: %.4f, want %.4f", n, got, want)
		}
	}
}

// What a ray meets lies on the strand's surface: the normal has length 1.
func TestNormalsAreUnit(t *testing.T) {
	for n := 2; n <= maxPlies; n++ {
		for f := range numForms {
			testNormals(t, newPly(n, f, 0.5))
		}
	}
}

func testNormals(t *testing.T, p ply) {
	t.Helper()
	hits := 0
	for k := range 200 {
		s := p.look(float64(k)*0.37, math.Sin(float64(k))*p.envelope())
		if !s.hit {
			continue
		}
		hits++
		if l := math.Sqrt(s.nx*s.nx + s.ny*s.ny + s.nz*s.nz); math.Abs(l-1) > 1e-9 {
			t.Fatalf("%d strands, form %d: normal of length %v", p.n, p.form, l)
		}
		if p.form == round && s.nx < -1e-9 {
			t.Fatalf("%d strands: the surface seen faces away", p.n)
		}
		if s.depth < 0 || s.depth > 1+1e-9 {
			t.Fatalf("%d strands, form %d: depth %v", p.n, p.form, s.depth)
		}
	}
	if hits < 120 {
		t.Errorf("%d strands, form %d: only %d of 200 rays met yarn", p.n, p.form, hits)
	}
}

// The border between flat strands runs from corner to corner: steeper than
// between round ones, at most as steep as the yarn's own surface.
func TestBorderOfFlatStrands(t *testing.T) {
	for n := 2; n <= maxPlies; n++ {
		for d := 10.0; d <= 40; d += 15 {
			p := newPly(n, flat, d*math.Pi/180)
			got, surface := p.borderAngle().Tan(), 2*math.Pi*p.envelope()/p.turnZ
			if got < 0.8*surface || got > surface {
				t.Errorf("%d strands at %.0f degrees: tangent of the border %.3f, of the surface %.3f", n, d, got, surface)
			}
		}
	}
}

func TestPlyForInvertsPitchAndWidth(t *testing.T) {
	for n := 2; n <= maxPlies; n++ {
		for d := 6.0; d <= 55; d += 7.3 {
			want := newPly(n, round, d*math.Pi/180)
			got, ok := plyFor(n, round, want.turnZ*10, 2*want.sil*10)
			if !ok || math.Abs(got.b-want.b) > 0.002 {
				t.Errorf("%d strands at %.1f degrees: %.2f, %v", n, d, got.b*180/math.Pi, ok)
			}
		}
		if _, ok := plyFor(n, round, 1, 100); ok {
			t.Errorf("%d strands: a ply of impossible steepness", n)
		}
		if _, ok := plyFor(n, round, 1e6, 1); ok {
			t.Errorf("%d strands: a ply of impossible flatness", n)
		}
	}
}

// The border between two strands is flatter than the strands near the outline
// and never twice as steep as they are.
func TestBorderAngle(t *testing.T) {
	for n := 2; n <= maxPlies; n++ {
		for _, d := range []float64{12, 28, 40} {
			b := d * math.Pi / 180
			ratio := newPly(n, round, b).borderAngle().Tan() / math.Tan(b)
			if ratio < 0.6 || ratio > 2 {
				t.Errorf("%d strands at %.0f degrees: border %.2f of the strands' tangent", n, d, ratio)
			}
		}
	}
}

func TestRoughLogarithm(t *testing.T) {
	for v := float32(0.001); v < 5000; v *= 1.37 {
		if off := math.Abs(float64(logOf(v)) - math.Log(float64(v))); off > 0.012 {
			t.Errorf("log of %v off by %.4f", v, off)
		}
	}
}
