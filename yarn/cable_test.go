package yarn

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"waketwist/unit"
)

func overPlied(t interface{ Fatal(...any) }, s Strand, factor PlyTwist) Ply {
	p, err := Forced(alike(2, s), Feed{}, balance(t, alike(2, s), Feed{}).Turns*factor)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestBalancedPliesDoNotCable(t *testing.T) {
	s := Strand{unit.Millimetre, 0.4, 0.7, 1}
	plies := []Ply{balance(t, alike(2, s), Feed{}), balance(t, alike(2, s), Feed{})}
	p, err := Cabled(plies, Feed{})
	if err != nil {
		t.Fatal(err)
	}
	if float64(p.Strands[0].Angle) > 1e-6 {
		t.Errorf("balanced plies cable to %v deg", p.Strands[0].Angle.Degrees())
	}
}

func TestOverPlyingCables(t *testing.T) {
	s := Strand{unit.Millimetre, 0.4, 0.7, 1}
	last := PlyTwist(0)
	for _, factor := range []PlyTwist{1.1, 1.3, 1.5} {
		ply := overPlied(t, s, factor)
		rod, err := ply.Strand()
		if err != nil {
			t.Fatal(err)
		}
		p, err := Cabled([]Ply{ply, ply}, Feed{})
		if err != nil {
			t.Fatal(err)
		}
		if p.Turns <= last || p.Turns >= ply.Turns {
			t.Errorf("plied %v times balance: cable of %v turns after %v, plies of %v", factor, p.Turns, last, ply.Turns)
		}
		near(t, "cable angle", float64(p.Strands[0].Angle), float64(Balanced(2, rod.Stiffness, rod.Living)), 1e-9)
		last = p.Turns
	}
}

// Near balance the living twist of a ply is its turns beyond balance, and its
// bending that of straight strands while it is flat.
func TestPlyAsStrand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStrand(t)
		s.Living = Living(rapid.Float64Range(0.02, 0.5).Draw(t, "living"))
		ply := overPlied(t, s, 1.001)
		rod, err := ply.Strand()
		if err != nil {
			t.Fatal(err)
		}
		beyond := 2 * math.Pi * float64(ply.Turns) * (1 - 1/1.001)
		if got := float64(rod.Living) / (rod.Diameter.Metres() / 2); math.Abs(got/beyond-1) > 0.01 {
			t.Fatalf("%v rad/m beyond balance taken as %v", beyond, got)
		}
	})
	flat := overPlied(t, Strand{unit.Millimetre, 0.01, 0.7, 1}, 1)
	rod, err := flat.Strand()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "bending", float64(rod.Stiffness)*float64(rod.Torsion), 2*0.7, 1e-3)
}

func TestCabledRefuses(t *testing.T) {
	good := overPlied(t, Strand{unit.Millimetre, 0.4, 0.7, 1}, 1.2)
	for name, plies := range map[string][]Ply{
		"one ply": {good}, "a ply of nothing": {good, Ply{}},
	} {
		if _, err := Cabled(plies, Feed{}); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func ExampleCabled() {
	singles := Strand{Diameter: 0.5 * unit.Millimetre, Living: 0.5, Stiffness: 0.7, Torsion: 1}
	pair := []Strand{singles, singles}
	rest, _ := BalanceOf(pair, Feed{})
	over, _ := Forced(pair, Feed{}, rest.Turns*1.4)
	cable, err := Cabled([]Ply{over, over}, Feed{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("plies of %.0f turns/m, balanced at %.0f, cable at %.1f degrees with %.0f turns/m\n",
		float64(over.Turns), float64(rest.Turns), cable.Strands[0].Angle.Degrees(), float64(cable.Turns))
	// Output: plies of 397 turns/m, balanced at 283, cable at 19.8 degrees with 115 turns/m
}
