package reading

import "testing"

// A dark row near an edge marks where a shadow ends only where the ground could be so
// dark and has the same hue there: else it is dark yarn beside its shadow.
func TestShadowDepth(t *testing.T) {
	const ground, edge, darkest = 200, 10, 8 // levels, the outline's first row, rows from it
	for _, c := range []struct {
		name string
		luma float64 // of the darkest row
		own  bool    // whether it has a hue of its own
		want int
	}{
		{"shadow beside light yarn", 100, false, darkest - 1},
		{"darker than any shadow", 0.3 * ground, false, 0},
		{"of the clearest hue", 100, true, 0},
	} {
		luma, tint, own := make([]float64, 50), make([]float64, 50), make([]bool, 50)
		for j := range luma {
			luma[j] = 150
		}
		luma[edge+darkest], own[edge+darkest] = c.luma, c.own
		if got := shadowDepth(luma, tint, own, edge, 1, 30, ground, 150); got != c.want {
			t.Errorf("%s: %d rows, want %d", c.name, got, c.want)
		}
	}
}

// A row in which colours alternate has no hue of its own, however clear it is.
func TestOwnHues(t *testing.T) {
	m := drawing(400, 230)
	stripe(m, 0, 400, 100, 130, 90, 90, 170)
	for i := 0; i < 400; i += 40 {
		stripe(m, i, i+20, 115, 130, 90, 210, 60)
	}
	cut := evenCut(newSource(photoOf(m)), newAxis([]float64{20, 380}, []float64{114.5, 114.5}, 1), 30)
	cut.cues = cut.strip.cueFields()
	lo, hi := cut.row(-15), cut.row(15)
	own := cut.ownHues(cut.hue(lo, hi))
	for across, want := range map[float64]bool{-8: true, 8: false, 30: false} {
		if own[cut.row(across)] != want {
			t.Errorf("%.0f pixels across: own hue %v", across, !want)
		}
	}
}
