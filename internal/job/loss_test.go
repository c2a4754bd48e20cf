package job

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/internal/journal"
	"waketwist/plan"
	"waketwist/unit"
)

func weighing(what journal.Weighed, m unit.Mass) journal.Weighing {
	return journal.Weighing{Lot: 1, What: what, Mass: m, At: time.Date(2026, 4, 1, 9, 0, 0, 0, time.UTC)}
}

func some[T any](v T) *T { return &v }

// lossIn is the loss of the only occasion of a step.
func lossIn(t *testing.T, seen []estimate.Occasion) float64 {
	t.Helper()
	if len(seen) != 1 {
		t.Fatalf("%d occasions, want 1", len(seen))
	}
	return 1 - math.Exp(seen[0].Value)
}

func lies(t *testing.T, what string, got, want, to float64) {
	t.Helper()
	if math.Abs(got-want) > to {
		t.Errorf("%s is %.4f, want %.4f", what, got, want)
	}
}

// A fleece of 3.0 lb is 1.7 lb scoured and 673 g combed.
func TestLossesOfAFleece(t *testing.T) {
	lot := journal.Lot{ID: 1, Name: "fleece", Weighings: []journal.Weighing{
		weighing(journal.Bought, 3*unit.Pound), weighing(journal.Scoured, 1.7*unit.Pound), weighing(journal.Prepared, 673*unit.Gram),
	}}
	var seen occasions
	seen.addLot(lot, nil)
	lies(t, "scouring", lossIn(t, seen.scouring), 0.4333, 0.0001)
	lies(t, "preparing", lossIn(t, seen.preparing), 1-673/(1.7*453.59237), 0.0001)

	l := LossesOf(nil, []journal.Lot{lot}, nil)
	if l.Scouring.Readings != 1 || l.Preparing.Readings != 1 || l.Spinning.Readings != 0 {
		t.Errorf("readings of %+v", l)
	}
	e := l.Scouring.Estimate
	if !(e.Low < 0.43 && e.High > 0.44 && e.Low > 0.15 && e.High < 0.62) || e.Measured() || !e.Flags.Has(estimate.FewReadings) {
		t.Errorf("one fleece teaches %+v", e)
	}
}

// 673 g of top and 109 g of waste of one combing: 86.1 % of what was recovered.
func TestPreparingFromItsWaste(t *testing.T) {
	by := weighed([]journal.Weighing{weighing(journal.Prepared, 673*unit.Gram), weighing(journal.Waste, 109*unit.Gram)})
	lies(t, "combing", lossIn(t, preparingOf(by)), 1-0.861, 0.001)
}

func TestLossesOfYarnAndCloth(t *testing.T) {
	girth := 72 * unit.Inch
	skein := journal.Skein{Measures: []journal.Measure{
		{State: estimate.Rested, Loops: some(300), Girth: some(girth)},
		{State: estimate.Washed, Loops: some(300), Girth: some(girth * 433 / 600)},
	}}
	var seen occasions
	seen.addSkein(skein, cloth.Firm)
	lies(t, "yarn wash", lossIn(t, seen.yarnWash), 0.278, 0.0005)

	blanket := journal.Swatch{
		Name: "blanket", Kind: journal.Woven,
		OnLoom: journal.Size{Width: some(54 * unit.Inch)}, OffLoom: journal.Size{Width: some(48 * unit.Inch)}, Washed: journal.Size{Width: some(40 * unit.Inch)},
	}
	seen.addSwatch(blanket)
	lies(t, "draw-in", lossIn(t, seen.drawIn), 0.111, 0.0005)
	lies(t, "wash across", lossIn(t, seen.washWidth), 0.167, 0.0005)
	if len(seen.takeUp)+len(seen.washLength) > 0 {
		t.Error("lengths that were not measured taught something")
	}
	for name, change := range map[string]func(*journal.Swatch){
		"struck": func(s *journal.Swatch) { s.Struck = "misread" }, "replaced": func(s *journal.Swatch) { s.SupersededBy = 2 },
		"knitted": func(s *journal.Swatch) { s.Kind = journal.Knitted },
	} {
		other := blanket
		change(&other)
		if l := LossesOf(nil, nil, []journal.Swatch{other}); l.readings() != 0 {
			t.Errorf("a %s swatch taught %+v", name, l)
		}
	}
}

// 24 g of 655 g went into samples: 3.7 %, known as well as the 24 g are.
func TestSamplingLoss(t *testing.T) {
	by := weighed([]journal.Weighing{weighing(journal.Prepared, 655*unit.Gram), weighing(journal.Sampled, 24*unit.Gram)})
	seen := samplingOf(readyOf(by), by[journal.Sampled])
	lies(t, "sampling", lossIn(t, seen), 0.0366, 0.0001)
	if sd := seen[0].SD; !(sd > 0.0005 && sd < 0.002) {
		t.Errorf("standard deviation %v", sd)
	}
	apart := weighing(journal.Sampled, 5*unit.Gram)
	apart.Before = some(50 * unit.Gram)
	lies(t, "sampling of a part", lossIn(t, samplingOf(weight{}, []journal.Weighing{apart})), 0.1, 1e-9)
}

func TestSpinningLoss(t *testing.T) {
	bobbin := func(net unit.Mass, before *unit.Mass) journal.Bobbin {
		return journal.Bobbin{Lot: &journal.Lot{ID: 1}, Weighings: []journal.Weighing{
			{What: journal.Spun, Mass: net + 85*unit.Gram, Tare: some(85 * unit.Gram), Before: before},
		}}
	}
	since := bobbin(40*unit.Gram, nil)
	since.Stretches = []journal.Stretch{{Started: bench, Ended: bench.AddDate(0, 0, 2)}}
	tests := []struct {
		name      string
		weighings []journal.Weighing
		bobbins   []journal.Bobbin
		want      []float64
	}{
		{"weighed out for each bobbin", nil, []journal.Bobbin{bobbin(48.5*unit.Gram, some(50*unit.Gram)), bobbin(47*unit.Gram, some(50*unit.Gram))}, []float64{0.03, 0.06}},
		{"from what is left of the lot", []journal.Weighing{
			weighing(journal.Prepared, 300*unit.Gram), weighing(journal.Sampled, 20*unit.Gram), weighing(journal.Left, 80*unit.Gram),
		}, []journal.Bobbin{bobbin(96*unit.Gram, nil), bobbin(98*unit.Gram, nil)}, []float64{0.03}},
		{"a bobbin spun on since", []journal.Weighing{weighing(journal.Prepared, 300*unit.Gram), weighing(journal.Left, 100*unit.Gram)},
			[]journal.Bobbin{bobbin(194*unit.Gram, nil), since}, []float64{0.03}},
		{"one bobbin not weighed", []journal.Weighing{weighing(journal.Prepared, 300*unit.Gram), weighing(journal.Left, 80*unit.Gram)},
			[]journal.Bobbin{bobbin(96*unit.Gram, nil), {Lot: &journal.Lot{ID: 1}}}, nil},
		{"what is left not weighed", []journal.Weighing{weighing(journal.Prepared, 300*unit.Gram)}, []journal.Bobbin{bobbin(96*unit.Gram, nil)}, nil},
		{"a raw fleece", []journal.Weighing{weighing(journal.Bought, 300*unit.Gram), weighing(journal.Left, 0)}, []journal.Bobbin{bobbin(150*unit.Gram, nil)}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			by := weighed(tt.weighings)
			var got []float64
			for _, o := range spinningOf(readyOf(by), by, tt.bobbins) {
				got = append(got, math.Round(1e6*(1-math.Exp(o.Value)))/1e6)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestPlyTakeUpAndPaces(t *testing.T) {
	start := time.Date(2026, 5, 1, 9, 0, 0, 0, time.UTC)
	bobbin := func(id journal.ID, l unit.Length) journal.Bobbin {
		return journal.Bobbin{ID: id, Stretches: []journal.Stretch{
			{Started: start, Ended: start.AddDate(0, 0, 3), Length: &l, Worked: some(2 * time.Hour)},
		}}
	}
	run := journal.Run{
		Plan: journal.Plan{Strands: 2}, Feeds: []journal.Feed{{Bobbin: 1}, {Bobbin: 2}}, Started: start, Ended: some(start.Add(time.Hour)),
		Skeins: []journal.Skein{{Measures: []journal.Measure{{State: estimate.Rested, Loops: some(90), Girth: some(2 * unit.Metre)}}}},
	}
	p := journal.Project{Bobbins: []journal.Bobbin{bobbin(1, 200*unit.Metre), bobbin(2, 210*unit.Metre)}, Runs: []journal.Run{run}}
	var seen occasions
	seen.addProject(p)
	lies(t, "ply take-up", lossIn(t, seen.plyTakeUp), 0.1, 1e-9)
	lies(t, "pace of plying", math.Exp(seen.plying[0].Value), 180, 1e-6)
	lies(t, "pace of spinning", math.Exp(seen.pace[0].Value), 100, 1e-6)
	lies(t, "and of the other bobbin", math.Exp(seen.pace[1].Value), 105, 1e-6)
	l := LossesOf([]journal.Project{p}, nil, nil)
	if l.Pace.Readings != 2 || l.PlyPace.Readings != 1 || !(l.Pace.Estimate.Low < 100 && l.Pace.Estimate.High > 105) {
		t.Errorf("paces %+v and %+v", l.Pace, l.PlyPace)
	}

	p.Bobbins[0].Stretches[0].Worked = nil // three days, nights included
	seen = occasions{}
	seen.addProject(p)
	if len(seen.pace) != 1 {
		t.Errorf("%d paces from one known time", len(seen.pace))
	}
}

func TestWithoutReadingsLossesAreWhatIsUsual(t *testing.T) {
	want := Losses{
		Scouring: Learnt[cloth.Loss]{Estimate: plan.ScouringLoss()}, Preparing: Learnt[cloth.Loss]{Estimate: plan.PreparingLoss()},
		Sampling: Learnt[cloth.Loss]{Estimate: plan.SamplingLoss()}, Spinning: Learnt[cloth.Loss]{Estimate: plan.SpinningLoss()},
		YarnWash: Learnt[cloth.Loss]{Estimate: plan.YarnWashLoss(finish.Unknown)},
		DrawIn:   Learnt[cloth.Loss]{Estimate: cloth.WeavingLoss()}, TakeUp: Learnt[cloth.Loss]{Estimate: cloth.WeavingLoss()},
		WashWidth: Learnt[cloth.Loss]{Estimate: cloth.WashingLoss()}, WashLength: Learnt[cloth.Loss]{Estimate: cloth.WashingLoss()},
		Wraps: Learnt[cloth.WrapFactor]{Estimate: cloth.PriorWrapFactor()},
	}
	struck := weighing(journal.Bought, 100*unit.Gram)
	struck.Struck = "wrong scale"
	lot := journal.Lot{ID: 1, Weighings: []journal.Weighing{struck, weighing(journal.Scoured, 50*unit.Gram)}}
	if diff := cmp.Diff(want, LossesOf(nil, []journal.Lot{lot}, nil)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestDemonstrationTeachesOnlyWithoutReadingsOfOnesOwn(t *testing.T) {
	fleece := func(id journal.ID, after unit.Mass) journal.Lot {
		return journal.Lot{ID: id, Weighings: []journal.Weighing{weighing(journal.Bought, 1000*unit.Gram), weighing(journal.Scoured, after)}}
	}
	shown := journal.Project{ID: 1, Demo: true, Bobbins: []journal.Bobbin{{Lot: &journal.Lot{ID: 1}}}}
	l := LossesOf([]journal.Project{shown}, []journal.Lot{fleece(1, 700*unit.Gram)}, nil)
	if said := l.Rows()[0].Taught(); !l.Demo || l.Scouring.Readings != 1 || said != "1 reading of the demonstration taught it" {
		t.Errorf("the demonstration alone taught %+v, %q", l, said)
	}
	l = LossesOf([]journal.Project{shown}, []journal.Lot{fleece(1, 700*unit.Gram), fleece(2, 500*unit.Gram)}, nil)
	if said := l.Rows()[0].Taught(); l.Demo || l.Scouring.Readings != 1 || l.Scouring.Estimate.Value < 0.4 || said != "1 reading of yours taught it" {
		t.Errorf("with a fleece of one's own: %+v, %q", l.Scouring, said)
	}
}

// A reading that is usual leaves no step wider than a plan takes it without.
func TestReadingNarrows(t *testing.T) {
	lot := journal.Lot{ID: 1, Weighings: []journal.Weighing{
		weighing(journal.Bought, 1000*unit.Gram), weighing(journal.Scoured, 660*unit.Gram), weighing(journal.Prepared, 550*unit.Gram),
	}}
	l := LossesOf(nil, []journal.Lot{lot}, nil)
	for what, step := range map[string]struct{ usual, learnt estimate.Estimate[cloth.Loss] }{
		"scouring": {plan.ScouringLoss(), l.Scouring.Estimate}, "preparing": {plan.PreparingLoss(), l.Preparing.Estimate},
	} {
		if step.learnt.High-step.learnt.Low >= step.usual.High-step.usual.Low {
			t.Errorf("%s was %v to %v, and is %v to %v", what, step.usual.Low, step.usual.High, step.learnt.Low, step.learnt.High)
		}
	}
}

// Order follows whatever is weighed.
func TestLossesAreInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var lot journal.Lot
		for range rapid.IntRange(0, 8).Draw(t, "weighings") {
			w := weighing(rapid.SampledFrom(journal.WeighedOfLots).Draw(t, "what"), unit.Mass(rapid.Float64Range(0.1, 5000).Draw(t, "mass")))
			if rapid.Bool().Draw(t, "has before") && w.What != journal.Left {
				w.Before = some(unit.Mass(rapid.Float64Range(0.1, 5000).Draw(t, "before")))
			}
			lot.Weighings = append(lot.Weighings, w)
		}
		l := LossesOf(nil, []journal.Lot{lot}, nil)
		for _, one := range []Learnt[cloth.Loss]{l.Scouring, l.Preparing, l.Sampling} {
			e := one.Estimate
			if !(e.Low <= e.Value && e.Value <= e.High && e.Low >= 0 && e.High <= cloth.MostLoss) {
				t.Fatalf("%+v", e)
			}
		}
	})
}

// Spinners of a known loss and scatter weigh what goes in and what comes out on
// a kitchen scale in rooms of changing air: nine in ten of their next losses lie
// inside.
func TestSpinningLossCoversNineInTen(t *testing.T) {
	const spinners = 500
	rng := rand.New(rand.NewPCG(3, 8))
	usual := plan.SpinningLoss()
	middle := math.Log(float64((1-usual.High)*(1-usual.Low))) / 2
	spread := math.Log(float64((1-usual.Low)/(1-usual.High))) / (2 * estimate.Reach)
	for _, n := range []int{1, 4, 12} {
		hit := 0
		for range spinners {
			part := 0.2 + 0.75*rng.Float64()
			own := middle + spread*math.Sqrt(1-part*part)*rng.NormFloat64()
			left := func() float64 { return math.Exp(own + spread*part*rng.NormFloat64()) }
			var p journal.Project
			for range n {
				out := math.Round(100 * left() * math.Exp(moistureSD*rng.NormFloat64()))
				p.Bobbins = append(p.Bobbins, journal.Bobbin{Lot: &journal.Lot{ID: 1}, Weighings: []journal.Weighing{
					{What: journal.Spun, Mass: unit.Mass(out) * unit.Gram, Before: some(100 * unit.Gram)},
				}})
			}
			e := LossesOf([]journal.Project{p}, []journal.Lot{{ID: 1}}, nil).Spinning
			if e.Readings != n {
				t.Fatalf("%d readings, want %d", e.Readings, n)
			}
			if next := cloth.Loss(1 - left()); next >= e.Estimate.Low && next <= e.Estimate.High {
				hit++
			}
		}
		share := float64(hit) / spinners
		t.Logf("%d bobbins: %.3f", n, share)
		if share < 0.85 || share > 0.95 {
			t.Errorf("after %d bobbins %.3f of the next losses lie inside", n, share)
		}
	}
}

// BenchmarkLossesOf learns from 200 bobbins and 40 swatches.
func BenchmarkLossesOf(b *testing.B) {
	var p journal.Project
	for range 200 {
		p.Bobbins = append(p.Bobbins, journal.Bobbin{Lot: &journal.Lot{ID: 1}, Weighings: []journal.Weighing{
			{What: journal.Spun, Mass: 97 * unit.Gram, Before: some(100 * unit.Gram)},
		}})
	}
	var swatches []journal.Swatch
	for range 40 {
		swatches = append(swatches, journal.Swatch{Kind: journal.Woven, OnLoom: journal.Size{Width: some(10 * unit.Inch)}, OffLoom: journal.Size{Width: some(9 * unit.Inch)}})
	}
	for b.Loop() {
		LossesOf([]journal.Project{p}, []journal.Lot{{ID: 1}}, swatches)
	}
}
