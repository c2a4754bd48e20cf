package rest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

func eye(degrees ...float64) (out []Reading) {
	for _, d := range degrees {
		out = append(out, ByEye(unit.Angle(d)*unit.Degree))
	}
	return out
}

func photo(degrees float64) []Reading {
	return []Reading{{unit.Angle(degrees) * unit.Degree, yarn.StrandCentre, PhotographSD}}
}

func pair(dry, rewet []Reading) []Bobbin {
	return []Bobbin{{Name: "Bobbin A", Clips: []Clip{
		{State: estimate.Rested, Readings: dry},
		{State: estimate.Rewet, Soak: 25, Readings: rewet},
	}}}
}

func mustWake(t *testing.T, b []Bobbin, p Plan) *Answer {
	t.Helper()
	a, err := Wake(b, p)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func inside(t *testing.T, what string, got, low, high float64) {
	t.Helper()
	if !(got >= low && got <= high) {
		t.Errorf("%s is %.3f, want %.3f to %.3f", what, got, low, high)
	}
}

// The dormant share behind 20 deg dry and 38 deg re-wet hangs on k: own
// derivation from the balance of section 4's closed form.
func TestPairRule(t *testing.T) {
	for k, want := range map[yarn.Stiffness]float64{0: 1.0 / 3, 0.3: 0.63, 1: 0.79} {
		dry := living(2, k, yarn.CentreAngle(20*unit.Degree))
		rewet := living(2, k, yarn.CentreAngle(38*unit.Degree))
		inside(t, fmt.Sprintf("dormant share at k %v", k), float64(1-dry/rewet), want-0.006, want+0.006)
	}
}

// Like with like: two strands, read by eye twice, need no model.
func TestTwoPlyTargetIsTheRewetReading(t *testing.T) {
	a := mustWake(t, pair(eye(20, 21, 19), eye(38, 39)), Plan{Strands: 2})
	if a.Line != yarn.VisibleBorder {
		t.Errorf("line %s", a.Line)
	}
	inside(t, "target", a.Target.Value.Degrees(), 38.4, 38.6)
	if !a.Target.Measured() || a.Washed.Measured() || a.Dormant.Measured() {
		t.Errorf("measured: target %v, washed %v, dormant %v", a.Target.Measured(), a.Washed.Measured(), a.Dormant.Measured())
	}
	inside(t, "low", a.Target.Low.Degrees(), 25, 36)
	inside(t, "high", a.Target.High.Degrees(), 41, 52)
	inside(t, "washed", a.Washed.Value.Degrees(), 35, 38.4)
	inside(t, "dry look", a.DryLook.Value.Degrees(), 19.9, 20.1)
	inside(t, "turns from the dry look", float64(a.TurnShare.Value), 0.44, 0.475)
	if w := a.Dormant.High - a.Dormant.Low; w < 0.2 {
		t.Errorf("the dormant share claims to be known within %.2f; k alone spreads it more", w)
	}
}

// At 20 against 40 deg a ply to the dry look gets 43 % of the turns per length
// of ply (geometry; the two angles are common practice).
func TestTurnsShareOfTheUsualPair(t *testing.T) {
	a := mustWake(t, pair(eye(20, 20, 20), eye(40, 40, 40)), Plan{Strands: 2})
	inside(t, "turns share", float64(a.TurnShare.Value), 0.425, 0.443)
}

func TestPhotographsAnswerOnTheCentreLine(t *testing.T) {
	d := unit.Inch / 30
	a := mustWake(t, pair(photo(20), photo(40)), Plan{Strands: 2, Diameter: &d, DiameterCV: 0.1})
	if a.Line != yarn.StrandCentre {
		t.Errorf("line %s", a.Line)
	}
	inside(t, "target", a.Target.Value.Degrees(), 39.9, 40.1)
	inside(t, "turns per metre", float64(a.Turns.Value), 310, 320)
	if !a.Turns.Measured() {
		t.Error("turns from a measured centre angle and diameter are measured")
	}
}

func TestMorePliesAreSteeperAndModelled(t *testing.T) {
	two := mustWake(t, pair(photo(18), photo(30)), Plan{Strands: 2})
	three := mustWake(t, pair(photo(18), photo(30)), Plan{Strands: 3})
	four := mustWake(t, pair(photo(18), photo(30)), Plan{Strands: 4})
	if !(two.Target.Value < three.Target.Value && three.Target.Value < four.Target.Value) {
		t.Errorf("targets %.1f, %.1f, %.1f deg must rise with the strands",
			two.Target.Value.Degrees(), three.Target.Value.Degrees(), four.Target.Value.Degrees())
	}
	if three.Target.Measured() {
		t.Error("a three-ply from a two-strand sample is modelled")
	}
}

func TestDriedSampleMakesWashedMeasured(t *testing.T) {
	b := pair(photo(20), photo(38))
	b[0].Clips = append(b[0].Clips, Clip{State: estimate.RewetDried, Readings: photo(36)})
	a := mustWake(t, b, Plan{Strands: 2})
	inside(t, "washed", a.Washed.Value.Degrees(), 35.8, 36.2)
	if !a.Washed.Measured() {
		t.Error("washed follows from a dried sample without a model")
	}
}

func TestOnlyADriedSample(t *testing.T) {
	b := pair(photo(20), photo(36))
	b[0].Clips[1].State = estimate.RewetDried
	a := mustWake(t, b, Plan{Strands: 2})
	inside(t, "washed", a.Washed.Value.Degrees(), 35.8, 36.2)
	if !a.Washed.Measured() || a.Target.Measured() {
		t.Errorf("measured: washed %v, target %v; want the washed one only", a.Washed.Measured(), a.Target.Measured())
	}
	inside(t, "re-wet target", a.Target.Value.Degrees(), 36.5, 39.5)
}

func TestOffsetScalesTurns(t *testing.T) {
	plain := mustWake(t, pair(photo(20), photo(30)), Plan{Strands: 2})
	over := mustWake(t, pair(photo(20), photo(30)), Plan{Strands: 2, Offset: 0.2})
	ratio := over.Target.Value.Tan() / plain.Target.Value.Tan()
	inside(t, "turns with 20 % over", ratio, 1.199, 1.201)
}

func TestSeveralBobbinsShareATarget(t *testing.T) {
	for _, tt := range []struct {
		calm, lively      float64
		target            float64
		differ, mayDiffer bool
	}{{30, 40, 35, true, false}, {31, 36, 33.5, false, true}, {34, 36, 35, false, false}} {
		b := append(pair(photo(18), photo(tt.calm)), pair(photo(20), photo(tt.lively))...)
		b[1].Name = "Bobbin B"
		a := mustWake(t, b, Plan{Strands: 2})
		inside(t, "common target", a.Target.Value.Degrees(), tt.target-2, tt.target+2)
		most, least, gap := a.Apart()
		if most.Name != "Bobbin B" || least.Name != "Bobbin A" || !(gap.Low < gap.Value && gap.Value < gap.High) {
			t.Errorf("%v and %v: %s and %s are apart by %v", tt.calm, tt.lively, most.Name, least.Name, gap)
		}
		if a.Flags.Has(BobbinsDiffer) != tt.differ || a.Flags.Has(BobbinsMayDiffer) != tt.mayDiffer {
			t.Errorf("%v and %v, apart by %v: flags %v", tt.calm, tt.lively, gap, a.Flags)
		}
	}
}

// More bobbins of one wool do not tell how stiff it is: the share asleep in three
// alike is known no better than in one, but for the readings.
func TestBobbinsShareTheirStiffness(t *testing.T) {
	one := mustWake(t, pair(photo(20), photo(38)), Plan{Strands: 2})
	var b []Bobbin
	for range 3 {
		b = append(b, pair(photo(20), photo(38))...)
	}
	three := mustWake(t, b, Plan{Strands: 2})
	if was, is := one.Dormant.High-one.Dormant.Low, three.Dormant.High-three.Dormant.Low; is < 0.75*was {
		t.Errorf("three bobbins are known within %.2f, one within %.2f", is, was)
	}
}

func TestNextClipComesFromElsewhere(t *testing.T) {
	a := mustWake(t, pair(eye(20, 21, 19), eye(38, 39, 40)), Plan{Strands: 2})
	if a.Next == nil || a.Next.Depth < 0.4 || a.Next.Then >= a.Next.Now {
		t.Errorf("next clip %+v: with one from the outside, the inner half tells most", a.Next)
	}
	b := pair(eye(20, 21, 19), eye(38, 39, 40))
	b[0].Clips = append(b[0].Clips, Clip{State: estimate.Rewet, Depth: 0.6, Place: "middle", Readings: eye(38, 38, 38)})
	two := mustWake(t, b, Plan{Strands: 2})
	if w := two.Target.High - two.Target.Low; w >= a.Target.High-a.Target.Low {
		t.Error("a second place did not narrow the interval")
	}
}

// The width promised for the next clip is the width found once it is there.
func TestNextClipKeepsItsPromise(t *testing.T) {
	b := pair(photo(20), photo(38))
	promise := mustWake(t, b, Plan{Strands: 2}).Next
	b[0].Clips = append(b[0].Clips, Clip{State: estimate.Rewet, Depth: promise.Depth, Place: "inner", Readings: photo(38)})
	e := mustWake(t, b, Plan{Strands: 2}).Target
	inside(t, "width after the clip", (e.High - e.Low).Degrees(), promise.Then.Degrees()-0.1, promise.Then.Degrees()+0.1)
}

func TestRetwist(t *testing.T) {
	d := 0.8 * unit.Millimetre
	a := mustWake(t, pair(photo(20), photo(30)), Plan{Strands: 2, Diameter: &d})
	same, err := a.Retwist(30 * unit.Degree)
	if err != nil {
		t.Fatal(err)
	}
	inside(t, "twist to add for the ply there is", float64(same.Share.Value), -0.02, 0.02)
	more, err := a.Retwist(38 * unit.Degree)
	if err != nil {
		t.Fatal(err)
	}
	if more.Share.Value < 0.2 || more.Turns.Value <= 0 || more.Share.Measured() {
		t.Errorf("from 30 to 38 deg: %+v", more.Share)
	}
	if _, err := a.Retwist(50 * unit.Degree); err == nil {
		t.Error("a balanced two-ply at 50 deg was accepted")
	}
}

func TestRefusals(t *testing.T) {
	mirrored := pair(photo(20), photo(38))
	mirrored[0].Clips[0].Direction, mirrored[0].Clips[1].Direction = yarn.S, yarn.Z
	sameWay := pair(photo(20), photo(38))
	sameWay[0].Direction, sameWay[0].Clips[1].Direction = yarn.Z, yarn.Z
	opposed := append(pair(photo(20), photo(38)), pair(photo(20), photo(38))...)
	opposed[0].Direction, opposed[1].Direction = yarn.Z, yarn.S
	tests := []struct {
		name    string
		bobbins []Bobbin
		plan    Plan
	}{
		{"no bobbin", nil, Plan{Strands: 2}},
		{"no re-wet", []Bobbin{{Clips: []Clip{{State: estimate.Rested, Readings: eye(20)}}}}, Plan{Strands: 2}},
		{"no readings", pair(nil, eye(30)), Plan{Strands: 2}},
		{"dry steeper", pair(photo(40), photo(22)), Plan{Strands: 2}},
		{"dry steeper, both by eye", pair(eye(35, 36, 34), eye(20, 21, 20)), Plan{Strands: 2}},
		{"dry steeper than next to nothing", pair(eye(25), eye(2)), Plan{Strands: 2}},
		{"next to nothing", pair(photo(10), photo(0.0001)), Plan{Strands: 2}},
		{"negative", pair(photo(-3), photo(22)), Plan{Strands: 2}},
		{"not a number", pair(photo(math.NaN()), photo(22)), Plan{Strands: 2}},
		{"too steep", pair(photo(20), photo(88)), Plan{Strands: 2}},
		{"five strands", pair(photo(20), photo(30)), Plan{Strands: 5}},
		{"wild offset", pair(photo(20), photo(30)), Plan{Strands: 2, Offset: 3}},
		{"S and Z samples", mirrored, Plan{Strands: 2}},
		{"ply-back turns with its singles", sameWay, Plan{Strands: 2}},
		{"S with Z bobbins", opposed, Plan{Strands: 2}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Wake(tt.bobbins, tt.plan)
			e, ok := err.(*Error)
			if !ok || e.Problem == "" || e.Advice == "" {
				t.Errorf("want a refusal with advice, got %v", err)
			}
		})
	}
}

func TestFlags(t *testing.T) {
	short := pair(eye(20, 20, 20), eye(38, 38, 73, 39))
	short[0].Clips[1].Soak = 5
	a := mustWake(t, short, Plan{Strands: 2})
	for _, f := range []estimate.Flag{ShortSoak, OutlyingAngle, OuterOnly, estimate.OnePlace, NoDirectionSet} {
		if !a.Flags.Has(f) {
			t.Errorf("flag %q is missing of %v", f, a.Flags)
		}
	}
	if b := mustWake(t, pair(photo(37), photo(38)), Plan{Strands: 2}); !b.Flags.Has(NoDormancy) {
		t.Errorf("37 against 38 deg shows no dormancy: %v", b.Flags)
	}
	if b := mustWake(t, pair(photo(37), photo(46)), Plan{Strands: 2}); !b.Flags.Has(PastLimit) {
		t.Errorf("46 deg is past the limit: %v", b.Flags)
	}
	if b := mustWake(t, pair(eye(37), eye(60)), Plan{Strands: 2}); !b.Flags.Has(PastLimit) {
		t.Errorf("a border at 60 deg is past the limit: %v", b.Flags)
	}
}

func TestAnswersAreOrderedAndFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dry := rapid.Float64Range(1, 70).Draw(t, "dry")
		rewet := rapid.Float64Range(1, 74).Draw(t, "rewet")
		readings := eye
		if rapid.Bool().Draw(t, "photo") {
			readings = func(d ...float64) []Reading { return photo(d[0]) }
		}
		d := unit.Length(rapid.Float64Range(0.1, 5).Draw(t, "diameter mm")) * unit.Millimetre
		a, err := Wake(pair(readings(dry), readings(rewet)), Plan{
			Strands: rapid.IntRange(2, 4).Draw(t, "strands"), Diameter: &d, DiameterCV: 0.1,
			Offset: Share(rapid.Float64Range(-0.5, 0.5).Draw(t, "offset")),
		})
		if err != nil {
			return
		}
		for _, e := range []estimate.Estimate[unit.Angle]{a.Target, a.Washed, a.WheelLook, *a.DryLook} {
			if !(e.Low <= e.Value && e.Value <= e.High) || e.Low <= 0 || e.High >= unit.Angle(math.Pi/2) {
				t.Fatalf("angle %+v", e)
			}
		}
		if !(a.Dormant.Low >= 0 && a.Dormant.High <= 1) || math.IsNaN(float64(a.Turns.Value)) || a.TurnShare.Value <= 0 {
			t.Fatalf("dormant %+v, turns %+v, share %+v", a.Dormant, a.Turns, a.TurnShare)
		}
	})
}

// Simulated bobbins whose turns wander as assumed must find their mean inside
// the 90 % interval nine times in ten.
func TestTargetIntervalHoldsTheBobbin(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	held, of := 0, 200
	for range of {
		k := yarn.Stiffness(math.Exp(math.Log(stiffnessMedian) + 0.6*rng.NormFloat64()))
		a := (30 + 8*rng.NormFloat64()) * math.Pi / 180
		mean := math.Log(math.Tan(min(max(a, 0.2), 0.9)))
		drift, local := math.Sqrt(driftShare)*PlaceCV, math.Sqrt(1-driftShare)*PlaceCV
		far, bobbin := wander(rng, drift)
		truth := yarn.Balanced(2, k, yarn.Living(math.Exp(mean+bobbin)))
		clip := yarn.Balanced(2, k, yarn.Living(math.Exp(mean+far+local*rng.NormFloat64())))
		read := clip.Degrees() + 1.5*rng.NormFloat64()
		if read < 2 {
			of--
			continue
		}
		e := mustWake(t, []Bobbin{{Clips: []Clip{{State: estimate.Rewet, Readings: photo(read)}}}}, Plan{Strands: 2}).Target
		if float64(e.Low) <= float64(truth) && float64(truth) <= float64(e.High) {
			held++
		}
	}
	inside(t, "share of intervals that hold", float64(held)/float64(of), 0.85, 0.96)
}

// wander draws the drift at the outermost layer and its mean over the bobbin.
func wander(rng *rand.Rand, sd float64) (outer, mean float64) {
	const steps = 40
	keep := math.Exp(-1 / (driftReach * steps))
	v := sd * rng.NormFloat64()
	outer = v
	for range steps {
		mean += v / steps
		v = keep*v + sd*math.Sqrt(1-keep*keep)*rng.NormFloat64()
	}
	return outer, mean
}

func ExampleWake() {
	bobbin := Bobbin{Name: "first bobbin", Direction: yarn.Z, Clips: []Clip{
		{State: estimate.Rested, Readings: eye(20, 21, 19)},
		{State: estimate.Rewet, Soak: 25, Readings: eye(38, 39, 38)},
	}}
	a, err := Wake([]Bobbin{bobbin}, Plan{Strands: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("ply %s to %.0f degrees at the %s, re-wet; plied to the dry look it gets %.0f %% of that\n",
		a.Direction, a.Target.Value.Degrees(), a.Line, 100*a.TurnShare.Value)
	// Output: ply S to 38 degrees at the visible border, re-wet; plied to the dry look it gets 46 % of that
}

func BenchmarkWake(b *testing.B) {
	bobbins := pair(eye(20, 21, 19), eye(38, 39, 38))
	for _, n := range []int{2, 3} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := Wake(bobbins, Plan{Strands: n}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A soak that was too short leaves more asleep: the target is steeper than what
// was read, less sure, and modelled; the shorter the more so.
func TestShortSoakSteepensAndWidens(t *testing.T) {
	soaked := func(minutes float64) *Answer {
		b := pair(eye(20, 21, 19), eye(34, 35))
		b[0].Clips[1].Soak = minutes
		return mustWake(t, b, Plan{Strands: 2})
	}
	full, notNoted := soaked(25), soaked(0)
	if !full.Target.Measured() || full.Target.Value != notNoted.Target.Value {
		t.Errorf("a full soak is modelled, or not that of one without a time: %v, %v", full.Target, notNoted.Target)
	}
	before := full
	for _, minutes := range []float64{15, 10, 5, 2} {
		a := soaked(minutes)
		if !(a.Target.Value > before.Target.Value && a.Target.High > before.Target.High) {
			t.Errorf("%v minutes: %.2f up to %.2f, after a longer soak %.2f up to %.2f", minutes, a.Target.Value.Degrees(), a.Target.High.Degrees(),
				before.Target.Value.Degrees(), before.Target.High.Degrees())
		}
		if a.Dormant.Value <= before.Dormant.Value {
			t.Errorf("%v minutes: %.3f asleep, after a longer soak %.3f", minutes, float64(a.Dormant.Value), float64(before.Dormant.Value))
		}
		if a.Target.Measured() || !a.Flags.Has(ShortSoak) {
			t.Errorf("%v minutes: flags %v", minutes, a.Flags)
		}
		before = a
	}
}

func TestNamesBeginSentences(t *testing.T) {
	for name, want := range map[string]string{"heron": "Heron", "Öland": "Öland", "älv": "Älv", "3rd": "3rd"} {
		if got := capital(name); got != want {
			t.Errorf("%q begins a sentence as %q, want %q", name, got, want)
		}
	}
}
