package yarn

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"waketwist/unit"
)

// torqueAt is the torque left in a ply of n strands of radius 1 and C = 1 that is
// held at helix angle b: -n (dE/db) / d(sin b/R)/db, with E the energy per length
// of strand (see Balanced) and sin b/R the turn of the ply per length of strand.
func torqueAt(n int, k Stiffness, t Living, b float64) float64 {
	r, dr := contact(n, b)
	sin, cos := math.Sincos(b)
	return -float64(n) * moment(n, float64(k), float64(t), b) * r / (cos - sin*dr/r)
}

// turningStiffness is the torque that the same ply at rest loses per radian
// turned into each unit of its length.
func turningStiffness(n int, k Stiffness, t Living) float64 {
	const h = 1e-5
	b := max(float64(Balanced(n, k, t)), h)
	turned := func(b float64) float64 {
		r, _ := contact(n, b)
		return math.Tan(b) / r
	}
	return (torqueAt(n, k, t, b-h) - torqueAt(n, k, t, b+h)) / (turned(b+h) - turned(b-h))
}

func TestForcedTorqueOfEqualStrands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, s := rapid.IntRange(2, MaxStrands).Draw(t, "n"), drawStrand(t)
		b := CentreAngle(rapid.Float64Range(0.01, 0.95).Draw(t, "b")) * ZeroTwist(n)
		p, err := Forced(alike(n, s), Feed{}, Turns(n, b, s.Diameter))
		if err != nil {
			t.Fatal(err)
		}
		scale := float64(s.Torsion) / s.Diameter.Metres()
		want := 2 * torqueAt(n, s.Stiffness, s.Living, float64(b)) * scale
		if math.Abs(float64(p.Torque)-want) > 1e-6*(math.Abs(want)+scale) {
			t.Fatalf("%d strands at %v deg: torque %v, want %v", n, b.Degrees(), p.Torque, want)
		}
	})
}

// Turned back from balance a ply turns on with the ply, turned past it back with
// the singles, and as hard as its stiffness says.
func TestTorqueTurnsTowardsBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		strands := drawStrands(t, 4)
		at := balance(t, strands, Feed{})
		const step = 1e-3
		under, err := Forced(strands, Feed{}, at.Turns*(1-step))
		if err != nil {
			t.Fatal(err)
		}
		over, err := Forced(strands, Feed{}, at.Turns*(1+step))
		if err != nil {
			t.Fatal(err)
		}
		if under.Torque.Turning(S) != S || over.Torque.Turning(S) != Z {
			t.Fatalf("torque %v under, %v over", under.Torque, over.Torque)
		}
		// Where a strand comes loose in between, the stiffness jumps.
		for i := range strands {
			if under.Strands[i].Loose != over.Strands[i].Loose {
				return
			}
		}
		slope := float64(under.Torque-over.Torque) / (2 * math.Pi * float64(over.Turns-under.Turns))
		if math.Abs(slope/float64(at.Stiffness)-1) > 1e-3 {
			t.Fatalf("stiffness %v, by differences %v", at.Stiffness, slope)
		}
	})
}

// Untwisted strands side by side are as stiff as all of them.
func TestTurningStiffnessOfUntwistedStrands(t *testing.T) {
	for n := 2; n <= MaxStrands; n++ {
		p := balance(t, alike(n, Strand{unit.Millimetre, 1e-3, 0.7, 1}), Feed{})
		near(t, "stiffness", float64(p.Stiffness), float64(n), 1e-4)
	}
}

// Same-direction plying puts twist in and is never at rest.
func TestStrandsTwistedWithThePlyAlwaysTurnBack(t *testing.T) {
	strands := alike(2, Strand{unit.Millimetre, -0.5, 0.7, 1})
	last := Living(-0.5)
	for _, turns := range []PlyTwist{1, 100, 200, 300} {
		p, err := Forced(strands, Feed{}, turns)
		if err != nil {
			t.Fatal(err)
		}
		if p.Torque >= 0 || p.Strands[0].LivingLeft >= last {
			t.Errorf("at %v turns the torque is %v with %v left", turns, p.Torque, p.Strands[0].LivingLeft)
		}
		last = p.Strands[0].LivingLeft
	}
}

func TestForcedRefuses(t *testing.T) {
	s := alike(2, Strand{unit.Millimetre, 0.5, 0.7, 1})
	for name, c := range map[string]struct {
		feed  Feed
		turns PlyTwist
	}{
		"turns below zero":     {Feed{}, -1},
		"turns unknown":        {Feed{}, PlyTwist(math.NaN())},
		"more than fit":        {Feed{}, 1000},
		"too few for the long": {Feed{Lengths: []unit.Length{1, 1.1}}, 10},
	} {
		if _, err := Forced(s, c.feed, c.turns); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func TestTurning(t *testing.T) {
	if Torque(1).Turning(Z) != Z || Torque(-1).Turning(Z) != S || Torque(0).Turning(Z) != NoDirection {
		t.Error("a ply turns the wrong way")
	}
	near(t, "torque of a strand", float64(Strand{2, 0.5, 1, 3}.Torque()), 1.5, 1e-12)
}

func ExampleForced() {
	singles := Strand{Diameter: 0.8 * unit.Millimetre, Living: 0.6, Stiffness: 0.7, Torsion: 1}
	pair := []Strand{singles, singles}
	rest, _ := BalanceOf(pair, Feed{})
	over, err := Forced(pair, Feed{}, rest.Turns+30)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("rests at %.0f turns/m; 30 more turn it %s in an S ply of Z singles\n", float64(rest.Turns), over.Torque.Turning(S))
	// Output: rests at 202 turns/m; 30 more turn it Z in an S ply of Z singles
}
