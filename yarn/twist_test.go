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

func TestSnarlTension(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.Float64Range(1e-9, 1e-3).Draw(t, "M")
		b := rapid.Float64Range(1e-12, 1e-6).Draw(t, "B")
		f := rapid.Float64Range(0, 1).Draw(t, "f")
		ratio, err := SnarlTensionRatio(f)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := snarls(m*(1-f), b), ratio*snarls(m, b); math.Abs(got-want) > 1e-12*snarls(m, b) {
			t.Fatalf("rested strand snarls under %v N, want %v", got, want)
		}
	})
	for _, bad := range []float64{-0.1, 1.1, math.NaN()} {
		if _, err := SnarlTensionRatio(bad); err == nil {
			t.Errorf("a dormant share of %v was accepted", bad)
		}
	}
	for _, bad := range [][2]float64{{1, 0}, {1, -1}, {math.NaN(), 1}, {1e200, 1e-200}} {
		if _, err := SnarlTension(Torque(bad[0]), BendingStiffness(bad[1])); err == nil {
			t.Errorf("torque and bending %v were accepted", bad)
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
