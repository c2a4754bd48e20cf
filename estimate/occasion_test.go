package estimate

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func TestNextWithNothingSeenIsWhatIsUsual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-5, 5).Draw(t, "low")
		high := low + rapid.Float64Range(0.001, 3).Draw(t, "width")
		e := Next(low, high, nil)
		to := 1e-6 * (high - low)
		if math.Abs(e.Low-low) > to || math.Abs(e.High-high) > to || math.Abs(e.Value-(low+high)/2) > to {
			t.Fatalf("%v (%v to %v), want %v to %v", e.Value, e.Low, e.High, low, high)
		}
	})
}

// More readings that agree never widen the interval.
func TestNextNarrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(-0.5, 0.5).Draw(t, "at")
		sd := rapid.Float64Range(0.01, 2).Draw(t, "sd")
		width := 2.0
		var seen []Occasion
		for n := range 12 {
			e := Next(-1, 1, seen)
			if e.High-e.Low > width+1e-6 {
				t.Fatalf("%d readings at %v widen it from %v to %v", n, at, width, e.High-e.Low)
			}
			width = e.High - e.Low
			seen = append(seen, Occasion{at, sd})
		}
	})
}

func TestNextFewNarrowLittleManyMuch(t *testing.T) {
	widths := map[int]float64{}
	for _, n := range []int{1, 3, 30} {
		var seen []Occasion
		for i := range n {
			seen = append(seen, Occasion{0.3 + 0.1*math.Sin(float64(7*i)), 0.05})
		}
		e := Next(-1, 1, seen)
		widths[n] = e.High - e.Low
	}
	if !(widths[1] > 0.8 && widths[1] < 2 && widths[3] < widths[1] && widths[30] < 0.4 && widths[30] > 0.2) {
		t.Errorf("widths %v", widths)
	}
}

// A person far outside of what is usual is believed in the end.
func TestNextFollowsManyUnusualReadings(t *testing.T) {
	var seen []Occasion
	for i := range 8 {
		seen = append(seen, Occasion{12 + 0.3*float64(i%3), 0.1})
	}
	if e := Next(-1, 1, seen); e.Value < 11 || e.Value > 13 || e.Low > 12 {
		t.Errorf("%v (%v to %v)", e.Value, e.Low, e.High)
	}
}

// People drawn from the usual range, steady and unsteady ones: nine in ten of
// their next occasions lie inside, however many were seen.
func TestNextCoversNineInTen(t *testing.T) {
	const people = 1200
	rng := rand.New(rand.NewPCG(11, 5))
	for _, n := range []int{1, 2, 5, 15} {
		hit := 0
		for range people {
			part := 0.2 + 0.75*rng.Float64() // of the usual spread, in her own scatter
			own := rng.NormFloat64() * math.Sqrt(1-part*part) / Reach
			occasion := func() float64 { return own + rng.NormFloat64()*part/Reach }
			seen := make([]Occasion, n)
			for i := range seen {
				seen[i] = Occasion{occasion() + 0.1*rng.NormFloat64(), 0.1}
			}
			e := Next(-1, 1, seen)
			if next := occasion(); next >= e.Low && next <= e.High {
				hit++
			}
		}
		share := float64(hit) / people
		t.Logf("%d readings: %.3f", n, share)
		if share < 0.85 || share > 0.95 {
			t.Errorf("%d readings: %.3f of the next occasions lie inside", n, share)
		}
	}
}
