package yarn

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"waketwist/unit"
)

func TestGapIsTheLeastDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y1, y2 := rapid.Float64Range(0.05, 1.8).Draw(t, "y1"), rapid.Float64Range(0.05, 1.8).Draw(t, "y2")
		lo, hi := math.Abs(y1-y2), opposite(y1, y2)
		reach := lo + (hi-lo)*rapid.Float64Range(0.01, 1).Draw(t, "reach")
		g, _, _ := gap(y1, y2, reach)
		if d := nearestPass(y1, y2, g); d < reach-1e-7 || d > reach+1e-3 {
			t.Fatalf("at %v and %v, %v rad apart, lines come to %v of each other, want %v", y1, y2, g, d, reach)
		}
	})
}

// nearestPass searches the least distance of two centre lines g apart about the
// axis, at omega = 1.
func nearestPass(y1, y2, g float64) float64 {
	least := math.Inf(1)
	for i := range 20001 {
		x := (float64(i)/10000 - 1) * math.Pi
		least = min(least, y1*y1+y2*y2-2*y1*y2*math.Cos(g+x)+x*x)
	}
	return math.Sqrt(least)
}

// Angles about the axis can be found at which no two strands of a ply overlap,
// and they would not be found were the ply any tighter.
func TestStrandsDoNotOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := balance(t, drawStrands(t, MaxStrands), Feed{})
		n, omega := len(p.Strands), 2*math.Pi*float64(p.Turns)
		var y []float64
		for _, s := range p.Strands {
			y = append(y, omega*s.HelixRadius.Metres())
		}
		reach := func(i, j int) float64 {
			return omega * (p.Strands[i].Diameter + p.Strands[j].Diameter).Metres() / 2
		}
		turn, ok := arrange(n, func(i, j int) float64 {
			g, _, _ := gap(y[i], y[j], reach(i, j)*(1-1e-6))
			return g
		})
		if !ok {
			t.Fatalf("no room for the strands of %+v", p)
		}
		for i := range n {
			for j := range i {
				if d := nearestPass(y[i], y[j], turn[i]-turn[j]); d < reach(i, j)*(1-1e-5) {
					t.Fatalf("strands %d and %d come to %v of each other, want %v", j+1, i+1, d, reach(i, j))
				}
			}
		}
		if _, ok := arrange(n, func(i, j int) float64 {
			wider := reach(i, j) * (1 + 1e-6)
			if wider > opposite(y[i], y[j]) {
				return 2 * math.Pi
			}
			g, _, _ := gap(y[i], y[j], wider)
			return g
		}); ok {
			t.Fatalf("a tighter ply than %+v has room", p)
		}
	})
}

// arrange pushes strands round the axis until each keeps its gap to all others,
// or gives up.
func arrange(n int, gap func(i, j int) float64) (turn []float64, ok bool) {
	turn = make([]float64, n)
	for range 2 * n {
		moved := false
		for i := range n {
			for j := range n {
				need := turn[i] + gap(i, j)
				if j < i {
					need -= 2 * math.Pi // round past the first
				}
				if i != j && turn[j] < need-1e-12 {
					turn[j], moved = need, true
				}
			}
		}
		if !moved {
			return turn, true
		}
	}
	return nil, false
}

// Two thick strands meet across the axis; thin ones fed the same length lie
// slack in the grooves.
func TestThinStrandsBetweenThickAreLoose(t *testing.T) {
	thick, thin := Strand{unit.Millimetre, 0.6, 1, 1}, Strand{unit.Millimetre / 5, 0.6, 1, 0.04}
	p := balance(t, []Strand{thick, thin, thick, thin}, Feed{})
	for i, loose := range []bool{false, true, false, true} {
		if p.Strands[i].Loose != loose {
			t.Errorf("strand %d loose: %v", i+1, !loose)
		}
	}
	near(t, "radius of the thick in mm", p.Strands[0].HelixRadius.Millimetres(), 0.5, 1e-9)
	if _, err := p.Strand(); err == nil {
		t.Error("a ply with loose strands was taken as a rod")
	}
}

func TestRootOfUnlikeSigns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(-1, 1).Draw(t, "at")
		power := rapid.SampledFrom([]float64{1, 3, 5, 0.2}).Draw(t, "power")
		f := func(x float64) float64 { return math.Copysign(math.Pow(math.Abs(x-at), power), x-at) }
		if got := root(f, -2, 2, 1e-10); math.Abs(got-at) > 1e-10 {
			t.Fatalf("crosses at %v, found at %v", at, got)
		}
	})
}

func TestRootOfLikeSigns(t *testing.T) {
	if got := root(func(x float64) float64 { return 1 + x }, 0, 1, 1e-9); got != 0 {
		t.Errorf("the end nearer zero is 0, got %v", got)
	}
}
