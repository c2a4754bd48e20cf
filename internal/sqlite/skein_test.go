package sqlite

import (
	"testing"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

func aMeasure(skein journal.ID) journal.Measure {
	return journal.Measure{
		Skein: skein, State: estimate.Rested, Loops: ptr(121), Girth: ptr(60 * unit.Inch), LoadGrams: ptr(102.5),
		Mass: ptr(3.5 * unit.Ounce), Humidity: ptr(58.0), Wraps: ptr(15.5 * unit.WrapPerInch),
	}
}

func aWash(skein journal.ID) journal.Wash {
	return journal.Wash{
		Skein: skein, Treatment: "soak and snap", Water: ptr(unit.Temperature(38.5)), Minutes: ptr(22.5), HungGrams: ptr(50.0), Note: "bloomed",
	}
}

func aHang(skein journal.ID) journal.Hang {
	return journal.Hang{Skein: skein, State: estimate.Washed, Direction: yarn.Z, HalfTurns: 1.5, Length: ptr(27.5 * unit.Inch)}
}

// washed is a piece of a finished skein.
func washed(skein journal.ID) journal.Sample {
	return journal.Sample{Skein: skein, State: estimate.Washed, Note: "from the middle"}
}

func TestSkeinComesBack(t *testing.T) {
	s := openNew(t)
	keep := must[journal.ID](t)
	_, run, id := plied(t, s)
	want := journal.Skein{
		ID: id, Run: run, Name: "first skein", Recorded: tick(4),
		Measures: []journal.Measure{aMeasure(id), {Skein: id, State: estimate.Washed, Loops: ptr(1)}},
		Washes:   []journal.Wash{aWash(id), {Skein: id, Treatment: "steam"}},
		Hangs:    []journal.Hang{aHang(id), {Skein: id, State: estimate.Rested}},
		Samples:  []journal.Sample{washed(id)},
	}
	for i := range 2 {
		m, w, h := &want.Measures[i], &want.Washes[i], &want.Hangs[i]
		m.ID, m.Recorded = keep(s.AddMeasure(t.Context(), *m)), tick(5+3*i)
		w.ID, w.Recorded = keep(s.AddWash(t.Context(), *w)), tick(6+3*i)
		h.ID, h.Recorded = keep(s.AddHang(t.Context(), *h)), tick(7+3*i)
	}
	sample := &want.Samples[0]
	sample.ID, sample.Recorded = keep(s.AddSample(t.Context(), *sample)), tick(11)
	reading := photographed(sample.ID)
	reading.ID, reading.Recorded = keep(s.AddReading(t.Context(), reading)), tick(12)
	sample.Readings = []journal.Reading{reading}

	same(t, &want, must[*journal.Skein](t)(s.Skein(t.Context(), id)))
	same(t, []journal.Skein{want}, must[*journal.Run](t)(s.Run(t.Context(), run)).Skeins)
	same(t, sample, must[*journal.Sample](t)(s.Sample(t.Context(), sample.ID)))
	same(t, sample, must[*journal.Sample](t)(s.SampleOf(t.Context(), reading.ID)))
}

func TestSkeinOfSinglesComesBack(t *testing.T) {
	s := openNew(t)
	keep := must[journal.ID](t)
	project, bobbin, clip := planted(t, s)
	want := journal.Skein{Bobbin: bobbin, Name: "as singles", Note: "for lace"}
	want.ID = keep(s.AddSkein(t.Context(), want))
	sample := washed(want.ID)
	sample.ID = keep(s.AddSample(t.Context(), sample))
	want.Recorded, sample.Recorded = tick(4), tick(5)
	want.Samples = []journal.Sample{sample}
	same(t, &want, must[*journal.Skein](t)(s.Skein(t.Context(), want.ID)))

	b := must[*journal.Bobbin](t)(s.Bobbin(t.Context(), bobbin))
	same(t, []journal.Skein{want}, b.Skeins)
	if len(b.Samples) != 1 || b.Samples[0].ID != clip {
		t.Errorf("samples of the bobbin itself: %+v", b.Samples)
	}
	same(t, *b, must[*journal.Project](t)(s.Project(t.Context(), project)).Bobbins[0])
}

// Two projects with a run and a skein of singles each keep their own.
func TestSkeinsComeBackUnderTheirOwn(t *testing.T) {
	s := openNew(t)
	keep := must[journal.ID](t)
	for range 2 {
		_, run, skein := plied(t, s)
		singles := keep(s.AddSkein(t.Context(), journal.Skein{Bobbin: must[*journal.Run](t)(s.Run(t.Context(), run)).Feeds[0].Bobbin, Name: "as singles"}))
		for _, id := range []journal.ID{skein, singles} {
			keep(s.AddMeasure(t.Context(), aMeasure(id)))
			keep(s.AddWash(t.Context(), aWash(id)))
			keep(s.AddHang(t.Context(), aHang(id)))
			keep(s.AddReading(t.Context(), typed(keep(s.AddSample(t.Context(), washed(id))))))
		}
		keep(s.AddReading(t.Context(), typed(keep(s.AddSample(t.Context(), checked(run))))))
	}
	all := must[[]journal.Project](t)(s.Projects(t.Context()))
	if len(all) != 2 {
		t.Fatalf("%d projects", len(all))
	}
	for _, p := range all {
		same(t, p, *must[*journal.Project](t)(s.Project(t.Context(), p.ID)))
		same(t, p.Runs[0], *must[*journal.Run](t)(s.Run(t.Context(), p.Runs[0].ID)))
		same(t, p.Bobbins[0], *must[*journal.Bobbin](t)(s.Bobbin(t.Context(), p.Bobbins[0].ID)))
		if len(p.Runs) != 1 || len(p.Runs[0].Checks) != 1 || len(p.Runs[0].Skeins) != 1 || len(p.Bobbins[0].Skeins) != 1 {
			t.Fatalf("project %d: %+v", p.ID, p)
		}
		for _, skein := range []journal.Skein{p.Runs[0].Skeins[0], p.Bobbins[0].Skeins[0]} {
			same(t, skein, *must[*journal.Skein](t)(s.Skein(t.Context(), skein.ID)))
			if len(skein.Measures) != 1 || len(skein.Washes) != 1 || len(skein.Hangs) != 1 || len(skein.Samples) != 1 || len(skein.Samples[0].Readings) != 1 {
				t.Errorf("skein %d: %+v", skein.ID, skein)
			}
		}
	}
}

func TestSkeinRefusals(t *testing.T) {
	s := openNew(t)
	_, _, skein := plied(t, s)
	checkRefused(t, s, []attempt{
		{"skein that is not there", func(c ctx, s *Store) error { return refusal(s.Skein(c, unknown)) }, journal.NotFound, "no skein number 999"},
		{"skein of nothing", func(c ctx, s *Store) error { return refusal(s.AddSkein(c, journal.Skein{Name: "x"})) }, journal.Invalid, "one run of plying"},
		{"skein of no run", func(c ctx, s *Store) error { return refusal(s.AddSkein(c, journal.Skein{Run: unknown, Name: "x"})) }, journal.NotFound, "run number 999"},
		{"skein of no bobbin", func(c ctx, s *Store) error { return refusal(s.AddSkein(c, journal.Skein{Bobbin: unknown, Name: "x"})) }, journal.NotFound, "bobbin number 999"},
		{"measure of no skein", func(c ctx, s *Store) error { return refusal(s.AddMeasure(c, aMeasure(unknown))) }, journal.NotFound, "skein number 999"},
		{"measure of nothing", func(c ctx, s *Store) error {
			return refusal(s.AddMeasure(c, journal.Measure{Skein: skein, State: estimate.Rested}))
		}, journal.Invalid, "loops"},
		{"wash of no skein", func(c ctx, s *Store) error { return refusal(s.AddWash(c, aWash(unknown))) }, journal.NotFound, "skein number 999"},
		{"wash of no kind", func(c ctx, s *Store) error { return refusal(s.AddWash(c, journal.Wash{Skein: skein})) }, journal.Invalid, "how the skein was finished"},
		{"hang test of no skein", func(c ctx, s *Store) error { return refusal(s.AddHang(c, aHang(unknown))) }, journal.NotFound, "skein number 999"},
		{"hang test without a state", func(c ctx, s *Store) error { return refusal(s.AddHang(c, journal.Hang{Skein: skein})) }, journal.Invalid, "off the wheel"},
		{"piece of no skein", func(c ctx, s *Store) error { return refusal(s.AddSample(c, washed(unknown))) }, journal.NotFound, "skein number 999"},
		{"piece of a skein and its run", func(c ctx, s *Store) error {
			both := washed(skein)
			both.Run = 1
			return refusal(s.AddSample(c, both))
		}, journal.Invalid, "one bobbin, one run or one skein"},
	})
}
