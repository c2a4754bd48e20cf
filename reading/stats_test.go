package reading

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestNthIsThatOfOrder holds the quick way to a value by its place to sorting.
func TestNthIsThatOfOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 30), func(n int) float32 { return float32(n) / 4 }), 1, 80).Draw(t, "values")
		k := rapid.IntRange(0, len(v)-1).Draw(t, "place")
		want := slices.Sorted(slices.Values(v))[k]
		if got := nth(slices.Clone(v), k); got != want {
			t.Fatalf("place %d of %v is %v, want %v", k, v, got, want)
		}
	})
}

// TestProjectAddsAlongLines holds the sums along lines to the sums of all cells.
func TestProjectAddsAlongLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := &cueMap{w: rapid.IntRange(1, 300).Draw(t, "w"), h: rapid.IntRange(1, 40).Draw(t, "h")}
		var want cueSum
		for c := range m.cue {
			m.cue[c] = make([]float32, m.w*m.h)
			for i := range m.cue[c] {
				m.cue[c][i] = float32(255 - i%(7+c))
				want[c] += float64(m.cue[c][i])
			}
		}
		want[mapCues] = float64(m.w * m.h)
		bins := m.bins()
		p := make(projection, bins+1)
		m.project(p, make([]cell, bins), m.cells(), rapid.Float64Range(0, math.Pi).Draw(t, "direction"))
		if got := p[bins]; got != want {
			t.Fatalf("the lines sum up to %v, the cells to %v", got, want)
		}
	})
}
