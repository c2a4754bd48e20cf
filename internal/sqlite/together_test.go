package sqlite

import (
	"testing"

	"waketwist/internal/journal"
	"waketwist/unit"
)

// What comes with one form is kept as a whole or not at all.
func TestRecordsThatComeTogether(t *testing.T) {
	s := openNew(t)
	keep := must[journal.ID](t)
	_, bobbin, _ := planted(t, s)
	bad := typed(0)
	bad.Angle = 80 * unit.Degree

	whole := rewet(bobbin)
	whole.Readings = []journal.Reading{typed(0), typed(0)}
	sample := keep(s.AddSample(t.Context(), whole))
	if err := s.AddReadings(t.Context(), []journal.Reading{typed(sample), typed(sample)}); err != nil {
		t.Fatal(err)
	}
	kept := must[*journal.Sample](t)(s.Sample(t.Context(), sample))
	if n := len(kept.Valid()); n != 4 || kept.Readings[3].Sample != sample {
		t.Errorf("%d readings count of a sample with two and then two more", n)
	}

	whole.Readings = []journal.Reading{typed(0), bad}
	other := typed(sample - 1)
	later := typed(sample)
	later.Supersedes = kept.Readings[0].ID
	lot := journal.Lot{Name: "fleece", Weighings: []journal.Weighing{aWeighing(0), {What: journal.Spun, Mass: 1, At: dawn}}}
	for what, err := range map[string]error{
		"a sample with a reading of no yarn":       refusal(s.AddSample(t.Context(), whole)),
		"readings, one of them of no yarn":         s.AddReadings(t.Context(), []journal.Reading{typed(sample), bad}),
		"readings of two samples":                  s.AddReadings(t.Context(), []journal.Reading{typed(sample), other}),
		"readings, one of them to replace another": s.AddReadings(t.Context(), []journal.Reading{typed(sample), later}),
		"a lot with singles on the scale":          refusal(s.AddLot(t.Context(), lot)),
	} {
		if journal.CodeOf(err) != journal.Invalid {
			t.Errorf("%s: %v", what, err)
		}
	}
	if err := s.AddReadings(t.Context(), []journal.Reading{typed(999)}); journal.CodeOf(err) != journal.NotFound {
		t.Errorf("readings of no sample: %v", err)
	}
	same(t, kept, must[*journal.Sample](t)(s.Sample(t.Context(), sample)))
	if b := must[*journal.Bobbin](t)(s.Bobbin(t.Context(), bobbin)); len(b.Samples) != 2 {
		t.Errorf("%d samples are kept, the planted one and one more were", len(b.Samples))
	}
	lots := len(must[[]journal.Lot](t)(s.Lots(t.Context())))
	lot.Weighings = []journal.Weighing{aWeighing(0), aWeighing(0)}
	id := keep(s.AddLot(t.Context(), lot))
	if all := must[[]journal.Lot](t)(s.Lots(t.Context())); len(all) != lots+1 || len(all[lots].Weighings) != 2 || all[lots].Weighings[1].Lot != id {
		t.Errorf("a lot with two weighings is kept as %+v", all[lots])
	}
}

func TestBobbinBringsItsNewLot(t *testing.T) {
	s := openNew(t)
	project := must[journal.ID](t)(s.AddProject(t.Context(), aProject()))
	new := fullBobbin(project)
	new.Lot = &journal.Lot{Name: "Dun fleece", Fibre: "wool"}
	id := must[journal.ID](t)(s.AddBobbin(t.Context(), new))
	lots := must[[]journal.Lot](t)(s.Lots(t.Context()))
	if kept := must[*journal.Bobbin](t)(s.Bobbin(t.Context(), id)); len(lots) != 1 || kept.Lot == nil || kept.Lot.ID != lots[0].ID || lots[0].Name != "Dun fleece" {
		t.Errorf("the bobbin is of lot %+v, the lots are %+v", kept.Lot, lots)
	}

	elsewhere := fullBobbin(unknown)
	elsewhere.Lot = &journal.Lot{Name: "Grey fleece"}
	nameless := fullBobbin(project)
	nameless.Lot = &journal.Lot{}
	for what, err := range map[string]error{
		"of no project":             refusal(s.AddBobbin(t.Context(), elsewhere)),
		"with a lot without a name": refusal(s.AddBobbin(t.Context(), nameless)),
	} {
		if journal.CodeOf(err) == 0 {
			t.Errorf("a bobbin %s: %v", what, err)
		}
	}
	if _, err := s.writer.Exec(`CREATE TRIGGER full BEFORE INSERT ON bobbin BEGIN SELECT RAISE(ABORT, 'no more'); END`); err != nil {
		t.Fatal(err)
	}
	elsewhere.Project = project
	if _, err := s.AddBobbin(t.Context(), elsewhere); err == nil {
		t.Error("a bobbin was kept against the database's will")
	}
	same(t, lots, must[[]journal.Lot](t)(s.Lots(t.Context())))
}

func TestProjectForWish(t *testing.T) {
	s := openNew(t)
	keep := must[journal.ID](t)
	wish := keep(s.AddWish(t.Context(), aWish()))
	project := keep(s.AddProjectFor(t.Context(), wish, aProject()))
	kept := must[*journal.Wish](t)(s.Wish(t.Context(), wish))
	if kept.Project != project || kept.Versions != 2 {
		t.Errorf("the plan is for project %d in version %d, want %d in version 2", kept.Project, kept.Versions, project)
	}

	if err := refusal(s.AddProjectFor(t.Context(), unknown, aProject())); journal.CodeOf(err) != journal.NotFound {
		t.Errorf("a project for no plan: %v", err)
	}
	if err := refusal(s.AddProjectFor(t.Context(), wish, journal.Project{})); journal.CodeOf(err) != journal.Invalid {
		t.Errorf("a project without a name: %v", err)
	}
	if _, err := s.writer.Exec(`CREATE TRIGGER full BEFORE INSERT ON wish_version BEGIN SELECT RAISE(ABORT, 'no more'); END`); err != nil {
		t.Fatal(err)
	}
	if _, err := s.AddProjectFor(t.Context(), wish, aProject()); err == nil {
		t.Error("a plan was changed against the database's will")
	}
	if all := must[[]journal.Project](t)(s.Projects(t.Context())); len(all) != 1 {
		t.Errorf("%d projects are kept, one was", len(all))
	}
	same(t, kept, must[*journal.Wish](t)(s.Wish(t.Context(), wish)))
}
