package yarn

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"waketwist/unit"
)

func alike(n int, s Strand) []Strand { return slices.Repeat([]Strand{s}, n) }

func drawStrand(t *rapid.T) Strand {
	return Strand{
		Diameter:  unit.Length(rapid.Float64Range(0.3, 3).Draw(t, "mm")) * unit.Millimetre,
		Living:    Living(rapid.Float64Range(0.02, 1.5).Draw(t, "t")),
		Stiffness: Stiffness(rapid.Float64Range(0.05, 4).Draw(t, "k")),
		Torsion:   TorsionalStiffness(rapid.Float64Range(0.2, 5).Draw(t, "C")),
	}
}

func drawStrands(t *rapid.T, most int) (strands []Strand) {
	for range rapid.IntRange(2, most).Draw(t, "n") {
		strands = append(strands, drawStrand(t))
	}
	return strands
}

func balance(t interface{ Fatal(...any) }, strands []Strand, feed Feed) Ply {
	p, err := BalanceOf(strands, feed)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestEqualStrandsRestAtBalanced(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, s := rapid.IntRange(2, MaxStrands).Draw(t, "n"), drawStrand(t)
		feed := Feed{Slips: n <= 3 && rapid.Bool().Draw(t, "slips")}
		want := Balanced(n, s.Stiffness, s.Living)
		p := balance(t, alike(n, s), feed)
		for _, one := range p.Strands {
			if math.Abs(float64(one.Angle-want)) > 1e-9 {
				t.Fatalf("%d strands at %.9f deg, want %.9f", n, one.Angle.Degrees(), want.Degrees())
			}
		}
		if want := Turns(n, want, s.Diameter); math.Abs(float64(p.Turns/want)-1) > 1e-8 {
			t.Fatalf("%v turns, want %v", p.Turns, want)
		}
		if want := s.Diameter * unit.Length(1+ContactRadius(n, want)); math.Abs(float64(p.Envelope/want)-1) > 1e-8 {
			t.Fatalf("envelope %v, want %v", p.Envelope, want)
		}
		want2 := turningStiffness(n, s.Stiffness, s.Living) * float64(s.Torsion)
		if math.Abs(float64(p.Stiffness)/want2-1) > 1e-4 {
			t.Fatalf("stiffness %v, want %v", p.Stiffness, want2)
		}
	})
}

// The energy of strands alike in all but twist hangs on the mean twist alone.
func TestUnequalTwistRestsAtTheMean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, s := rapid.IntRange(2, MaxStrands).Draw(t, "n"), drawStrand(t)
		strands, mean := alike(n, s), Living(0)
		for i := range strands {
			strands[i].Living = Living(rapid.Float64Range(0, 1.2).Draw(t, "living"))
			mean += strands[i].Living / Living(n)
		}
		p := balance(t, strands, Feed{})
		if want := Balanced(n, s.Stiffness, mean); math.Abs(float64(p.Strands[0].Angle-want)) > 1e-8 {
			t.Fatalf("rests at %v deg, want %v", p.Strands[0].Angle.Degrees(), want.Degrees())
		}
	})
}

// Of two strands that slip, alike but for their twist, the livelier runs nearer
// the axis: the slacker is wrapped round it.
func TestLivelierStrandIsTheCore(t *testing.T) {
	slack := Strand{unit.Millimetre, 0.2, 0.7, 1}
	lively := Strand{unit.Millimetre, 0.6, 0.7, 1}
	p := balance(t, []Strand{slack, lively}, Feed{Slips: true})
	if p.Strands[0].Share <= p.Strands[1].Share || p.Strands[0].HelixRadius <= p.Strands[1].HelixRadius {
		t.Errorf("the slack strand has share %.4f, the lively one %.4f", p.Strands[0].Share, p.Strands[1].Share)
	}
}

func TestPlyDoesNotHangOnUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		strands := drawStrands(t, 4)
		scale := rapid.Float64Range(0.1, 10).Draw(t, "scale")
		stiffer := rapid.Float64Range(1e-12, 1e3).Draw(t, "stiffer")
		larger := slices.Clone(strands)
		for i := range larger {
			larger[i].Diameter *= unit.Length(scale)
			larger[i].Torsion *= TorsionalStiffness(stiffer)
		}
		a, b := balance(t, strands, Feed{}), balance(t, larger, Feed{})
		if math.Abs(float64(b.Turns)*scale/float64(a.Turns)-1) > 1e-9 {
			t.Fatalf("%v turns became %v at %v times the size", a.Turns, b.Turns, scale)
		}
		if math.Abs(float64(b.Stiffness)/stiffer/float64(a.Stiffness)-1) > 1e-5 {
			t.Fatalf("stiffness %v became %v", a.Stiffness, b.Stiffness)
		}
	})
}

func TestStrandsThatSlipGainEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		strands := drawStrands(t, 3)
		for i := range strands { // three less alike than this can lock
			d := rapid.Float64Range(1, 2).Draw(t, "mm")
			strands[i].Diameter = unit.Length(d) * unit.Millimetre
			strands[i].Living = Living(rapid.Float64Range(0.05, 1).Draw(t, "t"))
			strands[i].Torsion = SlidingFibres.Torsion(unit.Length(d), 1)
		}
		s, err := newSystem(strands, Feed{Slips: true})
		if err != nil {
			t.Fatal(err)
		}
		v, _ := s.rest()
		even, _ := s.gained([3]float64{v, v, v})
		p, err := BalanceOf(strands, Feed{Slips: true})
		if err != nil {
			t.Fatal(err)
		}
		var y [3]float64
		for i, one := range p.Strands {
			y[i] = math.Tan(float64(one.Angle))
		}
		gained, slope := s.gained(y)
		if gained > even+1e-12*math.Abs(even) {
			t.Fatalf("slipping costs energy: %v after %v", gained, even)
		}
		for i := range strands {
			if y[i] > 2*flat && math.Abs(slope[i]) > 1e-6*math.Abs(gained) || slope[i] < -1e-6*math.Abs(gained) {
				t.Fatalf("not at rest: slope %v at %v", slope, y)
			}
		}
	})
}

func TestOrderOfTwoStrandsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawStrand(t), drawStrand(t)
		feed := Feed{Slips: rapid.Bool().Draw(t, "slips")}
		p, q := balance(t, []Strand{a, b}, feed), balance(t, []Strand{b, a}, feed)
		if math.Abs(float64(p.Turns/q.Turns)-1) > 1e-7 || math.Abs(float64(p.Strands[0].Share-q.Strands[1].Share)) > 1e-7 {
			t.Fatalf("%v turns one way, %v the other", p.Turns, q.Turns)
		}
	})
}

// A strand fed far longer than its fellow loops round it, and the ply would open
// if it could.
func TestLongerStrandIsLoose(t *testing.T) {
	s := Strand{unit.Millimetre, 0.5, 0.7, 1}
	p := balance(t, alike(2, s), Feed{Lengths: []unit.Length{1, 2}})
	if p.Strands[0].Loose || !p.Strands[1].Loose || p.Torque >= 0 {
		t.Errorf("loose %v and %v with torque %v", p.Strands[0].Loose, p.Strands[1].Loose, p.Torque)
	}
	near(t, "share", float64(p.Strands[1].Share), 2, 1e-9)
}

func TestStrandsWithoutTwistStayUnplied(t *testing.T) {
	for _, living := range []Living{0, -0.3} {
		p := balance(t, alike(2, Strand{unit.Millimetre, living, 1, 1}), Feed{})
		if p.State != Unplied || p.Turns != 0 {
			t.Errorf("living twist %v: %v with %v turns", living, p.State, p.Turns)
		}
	}
}

func TestPlyStates(t *testing.T) {
	s := alike(2, Strand{unit.Millimetre, 0.6, 1, 1})
	for _, c := range []struct {
		b    CentreAngle
		want PlyState
	}{{deg(5), Plied}, {deg(44.3), Plied}, {deg(44.5), Locked}, {deg(48), Locked}} {
		p, err := Forced(s, Feed{}, Turns(2, c.b, unit.Millimetre))
		if err != nil {
			t.Fatal(err)
		}
		if p.State != c.want {
			t.Errorf("at %.1f deg: %v, want %v", c.b.Degrees(), p.State, c.want)
		}
	}
}

func TestUnfitStrandsAreRefused(t *testing.T) {
	mm, good := unit.Millimetre, Strand{unit.Millimetre, 0.5, 1, 1}
	nan := math.NaN()
	for name, c := range map[string]struct {
		strands []Strand
		feed    Feed
	}{
		"one strand":          {alike(1, good), Feed{}},
		"eight strands":       {alike(8, good), Feed{}},
		"no thickness":        {[]Strand{good, {0, 0.5, 1, 1}}, Feed{}},
		"unknown thickness":   {[]Strand{good, {unit.Length(nan), 0.5, 1, 1}}, Feed{}},
		"rope and thread":     {[]Strand{good, {60 * mm, 0.5, 1, 1}}, Feed{}},
		"absurd twist":        {[]Strand{good, {mm, 11, 1, 1}}, Feed{}},
		"unknown twist":       {[]Strand{good, {mm, Living(nan), 1, 1}}, Feed{}},
		"negative stiffness":  {[]Strand{good, {mm, 0.5, -1, 1}}, Feed{}},
		"no torsion":          {[]Strand{good, {mm, 0.5, 1, 0}}, Feed{}},
		"torsion far apart":   {[]Strand{good, {mm, 0.5, 1, 1e9}}, Feed{}},
		"a length missing":    {alike(3, good), Feed{Lengths: []unit.Length{1, 1}}},
		"a length of nothing": {alike(2, good), Feed{Lengths: []unit.Length{1, 0}}},
		"lengths far apart":   {alike(2, good), Feed{Lengths: []unit.Length{1, 11}}},
		"four that slip":      {alike(4, good), Feed{Slips: true}},
		"slip and lengths":    {alike(2, good), Feed{Slips: true, Lengths: []unit.Length{1, 1}}},
		"slip with the ply":   {[]Strand{good, {mm, -0.1, 1, 1}}, Feed{Slips: true}},
	} {
		if _, err := BalanceOf(c.strands, c.feed); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func TestFed(t *testing.T) {
	p := balance(t, alike(2, Strand{unit.Millimetre, 0.6, 1, 1}), Feed{})
	fed, err := p.Fed([]StrandTwist{300, -300})
	if err != nil {
		t.Fatal(err)
	}
	b := p.Strands[0].Angle
	near(t, "left", float64(fed[0].Left), float64(TwistLeft(300, p.Turns, b)), 1e-9)
	near(t, "added, with the ply", float64(fed[1].Left), float64(TwistLeft(-300, p.Turns, b)), 1e-9)
	if fed[0].TakeUp <= math.Cos(float64(b)) || fed[1].TakeUp >= math.Cos(float64(b)) {
		t.Errorf("take-ups %v and %v: strands lengthen as they untwist and shorten as they twist", fed[0].TakeUp, fed[1].TakeUp)
	}
	for _, bad := range [][]StrandTwist{nil, {1}, {1, StrandTwist(math.NaN())}, {1, 1e9}} {
		if _, err := p.Fed(bad); err == nil {
			t.Errorf("turns %v were accepted", bad)
		}
	}
}

func ExampleBalanceOf() {
	thick := Strand{Diameter: 1.2 * unit.Millimetre, Living: 0.25, Stiffness: 0.7,
		Torsion: SlidingFibres.Torsion(1.2, 0.6)}
	thin := Strand{Diameter: 0.6 * unit.Millimetre, Living: 0.6, Stiffness: 0.7, Torsion: 1}
	ply, err := BalanceOf([]Strand{thick, thin}, Feed{Slips: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f turns/m; thick: %.3f m per metre at %.1f degrees; thin: %.3f m at %.1f degrees\n", float64(ply.Turns),
		ply.Strands[0].Share, ply.Strands[0].Angle.Degrees(), ply.Strands[1].Share, ply.Strands[1].Angle.Degrees())
	// Output: 124 turns/m; thick: 1.161 m per metre at 30.5 degrees; thin: 1.006 m at 6.4 degrees
}

func BenchmarkBalanceOf(b *testing.B) {
	for _, n := range []int{2, 3, 4, 7} {
		var strands []Strand
		for i := range n {
			strands = append(strands, Strand{unit.Length(10+i) * unit.Millimetre / 10, 0.6, 0.7, TorsionalStiffness(1 + i)})
		}
		for _, slips := range []bool{false, true} {
			if slips && n > 3 {
				continue
			}
			b.Run(fmt.Sprintf("%d strands, slips %v", n, slips), func(b *testing.B) {
				for b.Loop() {
					if _, err := BalanceOf(strands, Feed{Slips: slips}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
