package job

import (
	"math"
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
)

var bench = time.Date(2026, 4, 2, 9, 0, 0, 0, time.UTC)

// spunFrom is a bobbin of lot 1 with singles of a net mass; 0 for not weighed.
func spunFrom(id journal.ID, net unit.Mass, recorded time.Time) journal.Bobbin {
	b := journal.Bobbin{ID: id, Lot: &journal.Lot{ID: 1}, Recorded: recorded}
	if net > 0 {
		b.Weighings = []journal.Weighing{{What: journal.Spun, Mass: net}}
	}
	return b
}

func TestStashFollowsALot(t *testing.T) {
	scouredPart := weighing(journal.Scoured, 280*unit.Gram)
	scouredPart.Before = some(500 * unit.Gram)
	tests := []struct {
		name      string
		weighings []journal.Weighing
		bobbins   []journal.Bobbin
		want      map[journal.Weighed]float64 // grams
		unweighed int
	}{
		{"as bought", []journal.Weighing{weighing(journal.Bought, 800*unit.Gram)}, nil, map[journal.Weighed]float64{journal.Bought: 800}, 0},
		{"two bags", []journal.Weighing{weighing(journal.Bought, 800*unit.Gram), weighing(journal.Bought, 200*unit.Gram)}, nil, map[journal.Weighed]float64{journal.Bought: 1000}, 0},
		{"scoured whole", []journal.Weighing{weighing(journal.Bought, 800*unit.Gram), weighing(journal.Scoured, 480*unit.Gram)}, nil, map[journal.Weighed]float64{journal.Scoured: 480}, 0},
		{"scoured in part", []journal.Weighing{weighing(journal.Bought, 800*unit.Gram), scouredPart}, nil, map[journal.Weighed]float64{journal.Bought: 300, journal.Scoured: 280}, 0},
		{"spun from", []journal.Weighing{weighing(journal.Bought, 200*unit.Gram)}, []journal.Bobbin{spunFrom(1, 96.5*unit.Gram, bench)}, map[journal.Weighed]float64{journal.Bought: 100}, 0},
		{"spun from, and not weighed", []journal.Weighing{weighing(journal.Bought, 200*unit.Gram)}, []journal.Bobbin{spunFrom(1, 0, bench)}, map[journal.Weighed]float64{journal.Bought: 200}, 1},
		{"samples", []journal.Weighing{weighing(journal.Prepared, 200*unit.Gram), weighing(journal.Sampled, 30*unit.Gram)}, nil, map[journal.Weighed]float64{journal.Prepared: 170}, 0},
		{"weighed again", []journal.Weighing{weighing(journal.Prepared, 200*unit.Gram), weighing(journal.Left, 91*unit.Gram)},
			[]journal.Bobbin{spunFrom(1, 96.5*unit.Gram, bench.AddDate(0, 0, -9))}, map[journal.Weighed]float64{journal.Prepared: 91}, 0},
		{"weighed again, and spun on", []journal.Weighing{weighing(journal.Prepared, 200*unit.Gram), weighing(journal.Left, 91*unit.Gram)},
			[]journal.Bobbin{spunFrom(1, 96.5*unit.Gram, bench.AddDate(0, 0, -9)), spunFrom(2, 48.25*unit.Gram, bench)}, map[journal.Weighed]float64{journal.Prepared: 41}, 0},
		{"weighed as nothing", []journal.Weighing{weighing(journal.Prepared, 200*unit.Gram), weighing(journal.Left, 0)}, nil, map[journal.Weighed]float64{}, 0},
		{"used up", []journal.Weighing{weighing(journal.Prepared, 200*unit.Gram)}, []journal.Bobbin{spunFrom(1, 300*unit.Gram, bench)}, map[journal.Weighed]float64{}, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			lot := journal.Lot{ID: 1, Weighings: tt.weighings}
			p := journal.Project{ID: 1, Bobbins: tt.bobbins}
			got := StashOf([]journal.Project{p}, []journal.Lot{lot}, LossesOf(nil, nil, nil)).Lots[0]
			if len(got.Left) != len(tt.want) || got.Unweighed != tt.unweighed {
				t.Fatalf("left %+v, %d not weighed", got.Left, got.Unweighed)
			}
			for _, s := range got.Left {
				if e := s.Mass; math.Abs(e.Value.Grams()-tt.want[s.What]) > 0.01 || !(e.Low <= e.Value && e.Value <= e.High) {
					t.Errorf("%s: %+v, want %.2f g", s.What, e, tt.want[s.What])
				}
			}
		})
	}
}

// Weighed is sharper than reckoned, and says so.
func TestReckonedStockIsWider(t *testing.T) {
	stock := func(more ...journal.Weighing) Stock {
		lot := journal.Lot{ID: 1, Weighings: append([]journal.Weighing{weighing(journal.Prepared, 200*unit.Gram)}, more...)}
		p := journal.Project{ID: 1, Bobbins: []journal.Bobbin{spunFrom(1, 96.5*unit.Gram, bench.AddDate(0, 0, -9))}}
		return StashOf([]journal.Project{p}, []journal.Lot{lot}, LossesOf(nil, nil, nil)).Lots[0].Left[0]
	}
	reckoned, scaled := stock(), stock(weighing(journal.Left, 100*unit.Gram))
	if !reckoned.Reckoned || scaled.Reckoned || reckoned.Mass.Measured() || !scaled.Mass.Measured() || reckoned.Mass.SD < 2*scaled.Mass.SD {
		t.Errorf("reckoned %+v, weighed %+v", reckoned, scaled)
	}
}

func TestSpunMassesComeFromSkeinsToo(t *testing.T) {
	skein := func(m unit.Mass) journal.Skein {
		return journal.Skein{Measures: []journal.Measure{{State: estimate.Rested, Mass: &m}}}
	}
	own := spunFrom(3, 0, bench)
	own.Skeins = []journal.Skein{skein(40 * unit.Gram)}
	p := journal.Project{
		Bobbins: []journal.Bobbin{spunFrom(1, 0, bench), spunFrom(2, 52*unit.Gram, bench), own, spunFrom(4, 0, bench)},
		Runs: []journal.Run{{Feeds: []journal.Feed{{Bobbin: 1}, {Bobbin: 2}}, Skeins: []journal.Skein{skein(60 * unit.Gram), skein(40 * unit.Gram)}},
			{Feeds: []journal.Feed{{Bobbin: 4}}, Skeins: []journal.Skein{{}}}},
	}
	got := spunMasses([]journal.Project{p})
	if len(got) != 3 || got[1] != 50*unit.Gram || got[2] != 52*unit.Gram || got[3] != 40*unit.Gram {
		t.Errorf("%v", got)
	}
}

func TestSkeinsLeaveTheStashAndComeBack(t *testing.T) {
	m := 90 * unit.Gram
	s := journal.Skein{Name: "first", Measures: []journal.Measure{{State: estimate.Washed, Mass: &m, Loops: some(100), Girth: some(2 * unit.Metre)}}}
	in := func(uses ...journal.Use) []SkeinStock {
		s.Uses = uses
		p := journal.Project{Name: "rug", Runs: []journal.Run{{Feeds: []journal.Feed{{Bobbin: 1}}, Skeins: []journal.Skein{s}}}}
		return StashOf([]journal.Project{p}, nil, Losses{}).Skeins
	}
	if got := in(); len(got) != 1 || got[0].Project != "rug" || got[0].State != estimate.Washed || math.Abs(got[0].Grist.Tex()-450) > 1e-6 {
		t.Errorf("%+v", got)
	}
	if got := in(journal.Use{How: "sold"}); len(got) != 0 {
		t.Errorf("a sold skein is in the stash: %+v", got)
	}
	if got := in(journal.Use{How: "given away"}, journal.Use{How: journal.UseBack}); len(got) != 1 {
		t.Errorf("a skein that came back is not in the stash")
	}
}

// What was weighed after a use is of the rest: its length follows from the grist of
// the whole, and the whole keeps its own figures.
func TestRestOfSkein(t *testing.T) {
	begun := time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)
	later := func(days int) time.Time { return begun.AddDate(0, 0, days) }
	whole := journal.Measure{State: estimate.Washed, Mass: some(90 * unit.Gram), Loops: some(100), Girth: some(2 * unit.Metre), Recorded: begun}
	used, back := journal.Use{How: "used up", Recorded: later(5)}, journal.Use{How: journal.UseBack, Recorded: later(9)}
	slip := journal.Use{How: journal.UseBack, Recorded: used.Recorded.Add(time.Minute)}
	tests := []struct {
		name   string
		uses   []journal.Use
		since  *journal.Measure
		metres float64
		part   StockPart
	}{
		{"whole", nil, nil, 200, WholeSkein},
		{"weighed again, whole", nil, &journal.Measure{Mass: some(30 * unit.Gram)}, 200, WholeSkein},
		{"not weighed since", []journal.Use{used, back}, nil, 200, BeforeUse},
		{"wraps only", []journal.Use{used, back}, &journal.Measure{Wraps: some(14 * unit.WrapPerInch)}, 200, BeforeUse},
		{"weighed since", []journal.Use{used, back}, &journal.Measure{Mass: some(45 * unit.Gram)}, 100, RestReckon},
		{"reeled since", []journal.Use{used, back}, &journal.Measure{Mass: some(45 * unit.Gram), Loops: some(60), Girth: some(2 * unit.Metre)}, 120, RestMeasure},
		{"used and back at one sitting", []journal.Use{used, slip}, &journal.Measure{Mass: some(45 * unit.Gram)}, 100, RestReckon},
		{"a slip", []journal.Use{used, slip}, &journal.Measure{Mass: some(91 * unit.Gram)}, 200, WholeSkein},
	}
	for _, tt := range tests {
		s := journal.Skein{Name: "first", Measures: []journal.Measure{whole}, Uses: tt.uses}
		if tt.since != nil {
			tt.since.State, tt.since.Recorded = estimate.Washed, later(10)
			s.Measures = append(s.Measures, *tt.since)
		}
		got := StockOf(journal.Project{}, s)
		if got.Part != tt.part || got.Length == nil || math.Abs(got.Length.Metres()-tt.metres) > 1e-6 {
			t.Errorf("%s: %v of %v", tt.name, got.Length, got.Part)
		}
		if l, ok := s.Measured(estimate.Washed).Length(); !ok || l != 200*unit.Metre {
			t.Errorf("%s: the whole skein is %v long", tt.name, l)
		}
		if len(tt.uses) > 0 && tt.part != WholeSkein && *s.Measured(estimate.Washed).Mass != 90*unit.Gram {
			t.Errorf("%s: the whole skein weighs %v", tt.name, s.Measured(estimate.Washed).Mass)
		}
	}
}

// Rows say every quantity with its range, and zero estimates as not known.
func TestLossRows(t *testing.T) {
	rows := LossesOf(nil, nil, nil).Rows()
	for _, r := range rows {
		if r.Known != (r.Value != "") || r.Name == "" || r.Of == "" || r.Better == "" || r.Readings != 0 {
			t.Errorf("%+v", r)
		}
	}
	if r := rows[3]; r.Value != "3.5 %" || r.Range != "2.0 % to 5.0 %" || r.Taught() != "Common practice; no reading of yours yet" {
		t.Errorf("%+v", r)
	}
	if r := rows[4]; r.Known || r.Taught() != "Nothing is known yet" {
		t.Errorf("%+v", r)
	}
}

func TestPercentText(t *testing.T) {
	for _, tt := range []struct {
		share    float64
		decimals int
		want     string
	}{{0.125, 1, "12.5 %"}, {-0.05, 0, "−5 %"}, {-0.0001, 1, "0.0 %"}, {0, 0, "0 %"}, {1, 0, "100 %"}, {-0.1, 0, "−10 %"}} {
		if got := PercentText(tt.share, tt.decimals); got != tt.want {
			t.Errorf("%v is %q, want %q", tt.share, got, tt.want)
		}
	}
}

// A fleece that was scoured as a whole is not in the stash as bought.
func TestScouredFleeceIsNotThereTwice(t *testing.T) {
	pound := 3 * unit.Pound
	lot := journal.Lot{ID: 1, Weighings: []journal.Weighing{
		weighing(journal.Bought, pound), {What: journal.Scoured, Mass: 1.7 * unit.Pound, Before: &pound},
	}}
	left := StashOf(nil, []journal.Lot{lot}, LossesOf(nil, nil, nil)).Lots[0].Left
	if len(left) != 1 || left[0].What != journal.Scoured {
		t.Errorf("in the stash: %+v", left)
	}
}
