package plan

import (
	"testing"

	"pgregory.net/rapid"

	"waketwist/cloth"
)

// TestAnyWishes gives any wishes that one plan fulfils, whichever and however
// many, and finds no contradiction and that plan again, as far as it follows.
func TestAnyWishes(t *testing.T) {
	whole, problems := Read(shawl.with("cloth.sett", "", "cloth.picks", "", "fibre.sampling", "5%", "fibre.scouring", "40%", "fibre.preparing", "10%", "yarn.ply-take-up", "",
		"singles.stiffness", "0.7", "singles.packing", "45%", "yarn.wrap-factor", "1.4", "cloth.fringe", "10 cm", "work.pace", "90 m/h", "work.ply-pace", "60 m/h", "work.bobbin", "90 g"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	truth, err := Solve(whole)
	if err != nil {
		t.Fatal(err)
	}
	var wishes []quantity
	for q := range quantities {
		if items[q].choice && !q.background() && truth.source[q] != Unknown && !q.outcome() {
			wishes = append(wishes, q)
		}
	}
	twists := []quantity{qAngle, qPlyTwist, qSinglesAngle, qSinglesTwist}
	rapid.Check(t, func(t *rapid.T) {
		w := whole.without(append(wishes, twists...)...)
		chosen := append(rapid.SliceOfNDistinct(rapid.SampledFrom(wishes), 1, 9, rapid.ID).Draw(t, "wishes"), rapid.SampledFrom(twists).Draw(t, "twist"))
		for _, q := range chosen {
			w.given = put(w.given, q, entry{Estimate: cloth.Exactly(truth.estimates[q].Value)})
		}
		r, err := solve(w, 2)
		if err != nil || r.source[qAngle] == Assumed { // too little is wished for anything, or the twist, to follow
			return
		}
		for _, c := range r.Conflicts {
			t.Errorf("%s %s", c.Problem, c.Drop)
		}
		for q := range quantities {
			if r.source[q] != Follows || q == qEndCount || q == qPickCount {
				continue
			}
			if off := r.estimates[q].Value/truth.estimates[q].Value - 1; off > 0.012 || off < -0.012 {
				t.Errorf("%s follows as %v, and is %v", items[q].name, r.estimates[q].Value, truth.estimates[q].Value)
			}
		}
	})
}
