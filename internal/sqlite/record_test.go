package sqlite

import (
	"strings"
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

func aProject() journal.Project {
	return journal.Project{Name: "grey cardigan", Aim: "a round three-ply", Plan: journal.Plan{Strands: 3, Chain: true, Offset: 0.05}}
}

func fullBobbin(project journal.ID) journal.Bobbin {
	return journal.Bobbin{
		Project: project, Name: "first", Direction: yarn.Z, Diameter: ptr(0.41 * unit.Millimetre),
		Wraps: ptr(42 * unit.WrapPerInch), Singles: ptr(24.5 * unit.Degree), Note: "drafted long\nand thin",
		Stretches: []journal.Stretch{
			{Started: dawn.AddDate(0, 0, -9), Ended: dawn.AddDate(0, 0, -8).Add(7 * time.Nanosecond), Length: ptr(130 * unit.Yard)},
			{Started: dawn.AddDate(0, 0, -4), Ended: dawn.AddDate(0, 0, -4)},
		},
	}
}

func rewet(bobbin journal.ID) journal.Sample {
	return journal.Sample{
		Bobbin: bobbin, State: estimate.Rewet, Place: "A", Depth: 0.25, AgeHours: ptr(193.7), SoakStart: ptr(dawn),
		Water: ptr(unit.Temperature(19.3)), Load: estimate.Light, LoadGrams: ptr(2.5), Note: "cut after lunch",
	}
}

func typed(sample journal.ID) journal.Reading {
	return journal.Reading{
		Sample: sample, Method: journal.Typed, Reader: "eye", Structure: journal.Ply, Plies: 2, Direction: yarn.S,
		Line: yarn.VisibleBorder, Angle: 31.2 * unit.Degree, SD: 2.1 * unit.Degree, Low: 27.7 * unit.Degree, High: 34.7 * unit.Degree,
		Note: "protractor",
	}
}

func photographed(sample journal.ID) journal.Reading {
	r := typed(sample)
	r.Method, r.Line = journal.Photograph, yarn.StrandCentre
	r.Photo = &journal.Photo{Hash: strings.Repeat("0f", 32), Width: 3024, Height: 4032}
	r.Trace = `{"axis":[[1,2],[3,4.5]]}`
	return r
}

func refused(sample journal.ID) journal.Reading {
	return journal.Reading{
		Sample: sample, Method: journal.Photograph, Reader: "program", Refused: "The yarn is out of focus.",
		Photo: &journal.Photo{Hash: strings.Repeat("a1", 32), Width: 800, Height: 600},
	}
}

func aTarget(project journal.ID) journal.Target {
	span := func(v unit.Angle) journal.Interval {
		return journal.Interval{Value: v * unit.Degree, Low: (v - 3) * unit.Degree, High: (v + 4) * unit.Degree}
	}
	return journal.Target{
		Project: project, Plan: aProject().Plan, Line: yarn.VisibleBorder, Angle: span(31), Washed: span(29), Wheel: span(26),
		TurnsTPM: &journal.Turns{Value: 212.5, Low: 180, High: 251}, Measured: true, Note: "hold this",
	}
}

func TestProjectComesBack(t *testing.T) {
	s := openNew(t)
	p := aProject()
	p.Demo, p.Finished = true, ptr(time.Date(2026, 2, 3, 4, 5, 6, 7, time.FixedZone("", 3600)))
	p.ID = must[journal.ID](t)(s.AddProject(t.Context(), p))
	p.Created, p.Touched = tick(1), tick(1)
	same(t, &p, must[*journal.Project](t)(s.Project(t.Context(), p.ID)))
}

func TestLotsComeBack(t *testing.T) {
	s := openNew(t)
	var want []journal.Lot
	for _, l := range []journal.Lot{
		{Name: "grey fleece", Fibre: "wool", Preparation: finish.Woollen, Note: "own sheep"},
		{Name: "tops"},
	} {
		l.ID = must[journal.ID](t)(s.AddLot(t.Context(), l))
		l.Recorded = tick(len(want) + 1)
		want = append(want, l)
	}
	same(t, want, must[[]journal.Lot](t)(s.Lots(t.Context())))
}

func TestBobbinComesBack(t *testing.T) {
	s := openNew(t)
	keep := must[journal.ID](t)
	p := keep(s.AddProject(t.Context(), aProject()))
	lot := journal.Lot{Name: "tops", Recorded: tick(2)}
	lot.ID = keep(s.AddLot(t.Context(), lot))

	b := fullBobbin(p)
	b.Lot = &journal.Lot{ID: lot.ID} // the number is enough
	b.ID = keep(s.AddBobbin(t.Context(), b))
	between := journal.Stretch{Bobbin: b.ID, Started: dawn.AddDate(0, 0, -6), Ended: dawn.AddDate(0, 0, -5)}
	between.ID = keep(s.AddStretch(t.Context(), between))

	b.Lot, b.Recorded, between.Recorded = &lot, tick(3), tick(4)
	for i := range b.Stretches {
		b.Stretches[i].ID, b.Stretches[i].Bobbin, b.Stretches[i].Recorded = journal.ID(i+1), b.ID, tick(3)
	}
	b.Stretches = []journal.Stretch{b.Stretches[0], between, b.Stretches[1]}
	same(t, &b, must[*journal.Bobbin](t)(s.Bobbin(t.Context(), b.ID)))
}

func TestBareBobbinComesBack(t *testing.T) {
	s := openNew(t)
	p := must[journal.ID](t)(s.AddProject(t.Context(), aProject()))
	b := journal.Bobbin{Project: p, Name: "bare"}
	b.ID = must[journal.ID](t)(s.AddBobbin(t.Context(), b))
	b.Recorded = tick(2)
	same(t, &b, must[*journal.Bobbin](t)(s.Bobbin(t.Context(), b.ID)))
}

func TestSampleAndReadingsComeBack(t *testing.T) {
	s := openNew(t)
	keep := must[journal.ID](t)
	_, bobbin, id := planted(t, s)
	for _, r := range []journal.Reading{typed(id), photographed(id), refused(id)} {
		keep(s.AddReading(t.Context(), r))
	}
	better := typed(id)
	better.Supersedes = 1
	keep(s.AddReading(t.Context(), better))
	if err := s.StrikeReading(t.Context(), 2, "wrong yarn"); err != nil {
		t.Fatal(err)
	}

	want := rewet(bobbin)
	want.ID, want.Recorded = id, tick(3)
	want.Readings = []journal.Reading{typed(id), photographed(id), refused(id), better}
	for i := range want.Readings {
		want.Readings[i].ID, want.Readings[i].Recorded = journal.ID(i+1), tick(4+i)
	}
	want.Readings[0].SupersededBy = 4
	want.Readings[1].Struck = "wrong yarn"
	same(t, &want, must[*journal.Sample](t)(s.Sample(t.Context(), id)))
	same(t, &want, must[*journal.Sample](t)(s.SampleOf(t.Context(), 3)))
	same(t, want.Readings[3:], want.Valid())
}

func TestBareSampleComesBack(t *testing.T) {
	s := openNew(t)
	_, bobbin, _ := planted(t, s)
	want := journal.Sample{Bobbin: bobbin, State: estimate.Fresh}
	want.ID = must[journal.ID](t)(s.AddSample(t.Context(), want))
	want.Recorded = tick(4)
	same(t, &want, must[*journal.Sample](t)(s.Sample(t.Context(), want.ID)))
}

func TestTargetsComeBack(t *testing.T) {
	s := openNew(t)
	p := must[journal.ID](t)(s.AddProject(t.Context(), aProject()))
	want := []journal.Target{aTarget(p), aTarget(p)}
	want[1].TurnsTPM, want[1].Measured = nil, false
	for i := range want {
		want[i].ID = must[journal.ID](t)(s.AddTarget(t.Context(), want[i]))
		want[i].Recorded = tick(2 + i)
	}
	same(t, want, must[*journal.Project](t)(s.Project(t.Context(), p)).Targets)
}

func TestProjectsComeBackWhole(t *testing.T) {
	s := openNew(t)
	first, bobbin, sample := planted(t, s)
	second := must[journal.ID](t)(s.AddProject(t.Context(), aProject()))
	must[journal.ID](t)(s.AddReading(t.Context(), typed(sample)))
	must[journal.ID](t)(s.AddTarget(t.Context(), aTarget(first)))

	all := must[[]journal.Project](t)(s.Projects(t.Context()))
	if len(all) != 2 || all[0].ID != first || all[1].ID != second {
		t.Fatalf("not the latest touched first: %+v", all)
	}
	same(t, *must[*journal.Project](t)(s.Project(t.Context(), first)), all[0])
	same(t, *must[*journal.Bobbin](t)(s.Bobbin(t.Context(), bobbin)), all[0].Bobbins[0])
	same(t, *must[*journal.Sample](t)(s.Sample(t.Context(), sample)), all[0].Bobbins[0].Samples[0])
	same(t, *must[*journal.Project](t)(s.Project(t.Context(), second)), all[1])
	if len(all[1].Bobbins) != 0 || len(all[1].Targets) != 0 {
		t.Error("records of one project appear under another")
	}
}
