package yarn

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"waketwist/unit"
)

func TestSpreadTwistKeepsTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var d []unit.Length
		for range rapid.IntRange(1, 50).Draw(t, "steps") {
			d = append(d, unit.Length(rapid.Float64Range(0.1, 5).Draw(t, "mm"))*unit.Millimetre)
		}
		mean := rapid.Float64Range(0, 2000).Draw(t, "mean")
		p := ThicknessExponent(rapid.Float64Range(0, 4).Draw(t, "p"))
		got, err := SpreadTwist(d, StrandTwist(mean), p)
		if err != nil {
			t.Fatal(err)
		}
		total, torque := 0.0, float64(got.Steps[0].Twist)*math.Pow(float64(d[0]), float64(p))
		for i, s := range got.Steps {
			total += float64(s.Twist)
			if m := float64(s.Twist) * math.Pow(float64(d[i]), float64(p)); math.Abs(m-torque) > 1e-9*torque {
				t.Fatalf("torque %v at step %d, %v at the first", m, i, torque)
			}
			if s.Angle < got.Least || s.Angle > got.Most {
				t.Fatalf("angle %v outside %v to %v", s.Angle, got.Least, got.Most)
			}
		}
		if math.Abs(total/float64(len(d))-mean) > 1e-9*mean {
			t.Fatalf("mean of %v turns became %v", mean, total/float64(len(d)))
		}
	})
}

func TestSpreadTwistByExponent(t *testing.T) {
	d := []unit.Length{unit.Millimetre, unit.Millimetre / 2}
	for _, c := range []struct {
		p          ThicknessExponent
		thick, sd  float64
		thinOverIt float64
	}{{0, 300, -1, 1}, {1, 200, 0, 2}, {SlidingFibres, 120, -1, 4}, {SolidRod, 600.0 / 17, -1, 16}} {
		got, err := SpreadTwist(d, 300, c.p)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "turns in the thick place", float64(got.Steps[0].Twist), c.thick, 1e-9)
		near(t, "thin over thick", float64(got.Steps[1].Twist/got.Steps[0].Twist), c.thinOverIt, 1e-9)
		if c.sd == 0 {
			near(t, "spread of the angle", float64(got.SD), 0, 1e-12)
		}
	}
}

func TestSpreadTwistRefuses(t *testing.T) {
	mm := unit.Millimetre
	for name, c := range map[string]struct {
		d    []unit.Length
		mean StrandTwist
		p    ThicknessExponent
	}{
		"nothing":         {nil, 300, 2},
		"a gap":           {[]unit.Length{mm, 0}, 300, 2},
		"unknown":         {[]unit.Length{mm, unit.Length(math.NaN())}, 300, 2},
		"far apart":       {[]unit.Length{unit.Micrometre, mm * 2}, 300, 2},
		"negative turns":  {[]unit.Length{mm}, -1, 2},
		"a steeper power": {[]unit.Length{mm}, 300, 4.1},
	} {
		if _, err := SpreadTwist(c.d, c.mean, c.p); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func TestSnarlTensionRatioRefuses(t *testing.T) {
	for _, bad := range []float64{-0.1, 1.1, math.NaN()} {
		if _, err := SnarlTensionRatio(bad); err == nil {
			t.Errorf("a dormant share of %v was accepted", bad)
		}
	}
}

func TestContactRadiusOnCore(t *testing.T) {
	for _, c := range []struct {
		n          int
		core, want float64
	}{{3, 0, 1.15474}, {3, 0.1, 1.15474}, {3, 0.5, 1.5}, {7, 1, 2.30499}, {2, 1, 2}} {
		near(t, fmt.Sprintf("%d strands on a core of %v", c.n, c.core), ContactRadiusOnCore(c.n, deg(1), c.core), c.want, 1e-3)
	}
	// Six strands lie round a seventh of their own thickness while they are flat.
	near(t, "six round one", ContactRadius(6, deg(0.1)), ContactRadiusOnCore(6, 0, 1), 1e-4)
}

// A core that fits into the hollow changes nothing.
func TestOnThinCore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		strands := alike(rapid.IntRange(3, MaxStrands).Draw(t, "n"), drawStrand(t))
		turns := Turns(len(strands), CentreAngle(rapid.Float64Range(0.01, 0.95).Draw(t, "b"))*ZeroTwist(len(strands)), strands[0].Diameter)
		p, bears, err := OnCore(strands, strands[0].Diameter*0.1, turns)
		if err != nil {
			t.Fatal(err)
		}
		bare, err := Forced(strands, Feed{}, turns)
		if err != nil {
			t.Fatal(err)
		}
		if bears || math.Abs(float64(p.Strands[0].Angle-bare.Strands[0].Angle)) > 1e-6 || math.Abs(float64(p.Envelope/bare.Envelope)-1) > 1e-6 {
			t.Fatalf("bears %v, %v deg and %v, without a core %v deg and %v", bears,
				p.Strands[0].Angle.Degrees(), p.Envelope, bare.Strands[0].Angle.Degrees(), bare.Envelope)
		}
	})
}

// A thicker one holds the strands at its surface until they cover it.
func TestOnThickCore(t *testing.T) {
	strands := alike(2, Strand{unit.Millimetre, 0.5, 0.7, 1})
	core := 3 * unit.Millimetre
	for _, turns := range []PlyTwist{0, 50, 100, 250, 400} {
		p, bears, err := OnCore(strands, core, turns)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "tan b", math.Tan(float64(p.Strands[0].Angle)), 2*math.Pi*float64(turns)*0.002, 1e-9)
		near(t, "envelope in mm", p.Envelope.Millimetres(), 5, 1e-9)
		if !bears || p.Strands[0].HelixRadius != 2*unit.Millimetre {
			t.Errorf("bears %v at a radius of %v", bears, p.Strands[0].HelixRadius)
		}
	}
	// Side by side they leave no bare core: n d = pitch cos b.
	if _, _, err := OnCore(strands, core, 500); err == nil {
		t.Error("two strands of 1 mm were given a pitch of 2 mm")
	}
}

func TestOnCoreRefuses(t *testing.T) {
	mm := unit.Millimetre
	good := alike(3, Strand{mm, 0.5, 0.7, 1})
	for name, c := range map[string]struct {
		strands []Strand
		core    unit.Length
		turns   PlyTwist
	}{
		"one strand":         {alike(1, good[0]), mm, 100},
		"unequal strands":    {append(alike(2, good[0]), Strand{2 * mm, 0.5, 0.7, 1}), mm, 100},
		"no core":            {good, 0, 100},
		"an unknown core":    {good, unit.Length(math.NaN()), 100},
		"a post":             {good, unit.Metre, 100},
		"turns below zero":   {good, mm, -1},
		"turns unknown":      {good, mm, PlyTwist(math.NaN())},
		"more than fit":      {good, mm, 1000},
		"more, on thin core": {good, mm / 10, 1000},
	} {
		if _, _, err := OnCore(c.strands, c.core, c.turns); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func TestJudgePlying(t *testing.T) {
	for _, c := range []struct {
		ply     Direction
		singles []Direction
		want    Plying
	}{
		{S, []Direction{Z, Z}, AgainstSingles},
		{Z, []Direction{S}, AgainstSingles},
		{Z, []Direction{Z, Z, Z}, WithSingles},
		{S, []Direction{S}, WithSingles},
		{S, []Direction{S, Z}, MixedSingles},
		{NoDirection, []Direction{S, Z}, MixedSingles},
		{NoDirection, []Direction{S, S}, PlyingUnknown},
		{S, []Direction{Z, NoDirection}, PlyingUnknown},
		{S, nil, PlyingUnknown},
	} {
		if got := JudgePlying(c.ply, c.singles...); got != c.want {
			t.Errorf("ply %q of %q: %v, want %v", c.ply, c.singles, got, c.want)
		}
	}
}

func ExampleSpreadTwist() {
	mm := unit.Millimetre
	p, err := SpreadTwist([]unit.Length{mm, mm, 0.6 * mm, mm}, 200, SlidingFibres)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f turns/m in the thin place, %.0f elsewhere\n", float64(p.Steps[2].Twist), float64(p.Steps[0].Twist))
	// Output: 385 turns/m in the thin place, 138 elsewhere
}

func ExampleSnarlTensionRatio() {
	ratio, err := SnarlTensionRatio(0.4)
	fmt.Printf("%.2f of the tension it needed fresh, %v\n", ratio, err)
	// Output: 0.36 of the tension it needed fresh, <nil>
}

func ExampleJudgePlying() {
	fmt.Println(JudgePlying(Z, Z, Z))
	// Output: plied in the same direction as the singles: twist adds up and the ply cannot balance; unply it and ply the other way
}
