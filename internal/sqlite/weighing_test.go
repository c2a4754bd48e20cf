package sqlite

import (
	"strings"
	"testing"

	"waketwist/internal/journal"
	"waketwist/unit"
)

func aWeighing(lot journal.ID) journal.Weighing {
	return journal.Weighing{
		Lot: lot, What: journal.Scoured, Mass: 412 * unit.Gram, Tare: ptr(12 * unit.Gram), Before: ptr(700 * unit.Gram),
		Step: ptr(unit.Gram), Humidity: ptr(55.0), Note: "dried two days", At: dawn,
	}
}

func aSwatch(project journal.ID) journal.Swatch {
	return journal.Swatch{
		Project: project, Name: "trial", Kind: journal.Woven, Mass: ptr(18.5 * unit.Gram), Note: "2/2 twill",
		OnLoom:  journal.Size{Width: ptr(10 * unit.Inch), Length: ptr(10 * unit.Inch)},
		OffLoom: journal.Size{Width: ptr(9.2 * unit.Inch), Length: ptr(9 * unit.Inch)},
		Washed:  journal.Size{Width: ptr(8.1 * unit.Inch)},
	}
}

func TestWeighingsComeBack(t *testing.T) {
	s := openNew(t)
	keep := must[journal.ID](t)
	lot := keep(s.AddLot(t.Context(), journal.Lot{Name: "fleece"}))
	w := aWeighing(lot)
	w.ID = keep(s.AddWeighing(t.Context(), w))
	w.Recorded = tick(2)
	other := journal.Weighing{Lot: lot, What: journal.Left, At: dawn}
	other.ID = keep(s.AddWeighing(t.Context(), other))
	other.Recorded = tick(3)
	if err := s.StrikeWeighing(t.Context(), w.ID, "wet still"); err != nil {
		t.Fatal(err)
	}
	w.Struck = "wet still"
	want := journal.Lot{ID: lot, Name: "fleece", Recorded: tick(1), Weighings: []journal.Weighing{w, other}}
	same(t, &want, must[*journal.Lot](t)(s.Lot(t.Context(), lot)))
	same(t, []journal.Lot{want}, must[[]journal.Lot](t)(s.Lots(t.Context())))
}

func TestSwatchesComeBack(t *testing.T) {
	s := openNew(t)
	keep := must[journal.ID](t)
	project := keep(s.AddProject(t.Context(), aProject()))
	first := aSwatch(project)
	first.ID = keep(s.AddSwatch(t.Context(), first))
	first.Recorded = tick(2)
	second := aSwatch(0)
	second.Supersedes = first.ID
	second.ID = keep(s.AddSwatch(t.Context(), second))
	second.Recorded, first.SupersededBy = tick(3), second.ID
	same(t, []journal.Swatch{first, second}, must[[]journal.Swatch](t)(s.Swatches(t.Context())))
	if err := s.StrikeSwatch(t.Context(), second.ID, "the wrong cloth"); err != nil {
		t.Fatal(err)
	}
	second.Struck = "the wrong cloth"
	same(t, &second, must[*journal.Swatch](t)(s.Swatch(t.Context(), second.ID)))
	if touched := must[*journal.Project](t)(s.Project(t.Context(), project)).Touched; !touched.Equal(tick(2)) {
		t.Errorf("a swatch of the project touched it at %v", touched)
	}
}

func TestStashRefusals(t *testing.T) {
	s := openNew(t)
	keep := must[journal.ID](t)
	_, _, skein := plied(t, s)
	lot := keep(s.AddLot(t.Context(), journal.Lot{Name: "fleece"}))
	struck := keep(s.AddWeighing(t.Context(), aWeighing(lot)))
	replaced := keep(s.AddSwatch(t.Context(), aSwatch(1)))
	later := aSwatch(1)
	later.Supersedes = replaced
	keep(s.AddSwatch(t.Context(), later))
	if err := s.StrikeWeighing(t.Context(), struck, "damp"); err != nil {
		t.Fatal(err)
	}
	replacing := func(id journal.ID) journal.Swatch {
		w := aSwatch(1)
		w.Supersedes = id
		return w
	}
	checkRefused(t, s, []attempt{
		{"lot that is not there", func(c ctx, s *Store) error { return refusal(s.Lot(c, unknown)) }, journal.NotFound, "fibre lot number 999"},
		{"weighing of no lot", func(c ctx, s *Store) error { return refusal(s.AddWeighing(c, aWeighing(unknown))) }, journal.NotFound, "fibre lot number 999"},
		{"weighing of no bobbin", func(c ctx, s *Store) error {
			return refusal(s.AddWeighing(c, journal.Weighing{Bobbin: unknown, What: journal.Spun, Mass: 1, At: dawn}))
		}, journal.NotFound, "bobbin number 999"},
		{"weighing of nothing", func(c ctx, s *Store) error {
			return refusal(s.AddWeighing(c, journal.Weighing{Lot: lot, What: journal.Bought, At: dawn}))
		}, journal.Invalid, "above zero"},
		{"striking no weighing", func(c ctx, s *Store) error { return s.StrikeWeighing(c, unknown, "wrong") }, journal.NotFound, "weighing number 999"},
		{"striking without a reason", func(c ctx, s *Store) error { return s.StrikeWeighing(c, struck, " ") }, journal.Invalid, "why"},
		{"striking twice", func(c ctx, s *Store) error { return s.StrikeWeighing(c, struck, "again") }, journal.Conflict, "damp"},
		{"swatch that is not there", func(c ctx, s *Store) error { return refusal(s.Swatch(c, unknown)) }, journal.NotFound, "swatch number 999"},
		{"swatch of no project", func(c ctx, s *Store) error { return refusal(s.AddSwatch(c, aSwatch(unknown))) }, journal.NotFound, "project number 999"},
		{"swatch of nothing", func(c ctx, s *Store) error {
			return refusal(s.AddSwatch(c, journal.Swatch{Name: "x", Kind: journal.Woven}))
		}, journal.Invalid, "at least one size"},
		{"replacing no swatch", func(c ctx, s *Store) error { return refusal(s.AddSwatch(c, replacing(unknown))) }, journal.NotFound, "swatch number 999"},
		{"replacing a replaced swatch", func(c ctx, s *Store) error { return refusal(s.AddSwatch(c, replacing(replaced))) }, journal.Conflict, "replaced by number 2"},
		{"striking a replaced swatch", func(c ctx, s *Store) error { return s.StrikeSwatch(c, replaced, "wrong") }, journal.Conflict, "replaced by number 2"},
		{"striking a swatch without a reason", func(c ctx, s *Store) error { return s.StrikeSwatch(c, 2, "") }, journal.Invalid, "why"},
		{"use of no skein", func(c ctx, s *Store) error { return refusal(s.AddUse(c, journal.Use{Skein: unknown, How: "sold"})) }, journal.NotFound, "skein number 999"},
		{"use of no kind", func(c ctx, s *Store) error { return refusal(s.AddUse(c, journal.Use{Skein: skein, How: "lost"})) }, journal.Invalid, "what became of the skein"},
	})
}

// The tables refuse by themselves what the journal refuses.
func TestStashTablesKeepTheirRules(t *testing.T) {
	s := openNew(t)
	_, _, skein := plied(t, s)
	keep := must[journal.ID](t)
	keep(s.AddWeighing(t.Context(), aWeighing(keep(s.AddLot(t.Context(), journal.Lot{Name: "fleece"})))))
	keep(s.AddSwatch(t.Context(), aSwatch(1)))
	keep(s.AddUse(t.Context(), journal.Use{Skein: skein, How: "sold"}))
	const weighing = `INSERT INTO weighing (lot_id, bobbin_id, what, mass_g, tare_g, note, weighed_at, recorded_at) VALUES `
	const times = `, '', '2026-03-01T00:00:00Z', '2026-03-01T00:00:00Z')`
	for _, tt := range []struct{ statement, says string }{
		{weighing + `(NULL, NULL, 'bought', 1, NULL` + times, "CHECK"},
		{weighing + `(1, 1, 'singles', 1, NULL` + times, "CHECK"},
		{weighing + `(1, NULL, 'singles', 1, NULL` + times, "CHECK"},
		{weighing + `(1, NULL, 'bought', 1, 2` + times, "CHECK"},
		{weighing + `(1, NULL, 'felted', 1, NULL` + times, "CHECK"},
		{`INSERT INTO swatch (name, kind, note, recorded_at) VALUES ('x', 'woven', '', '2026-03-01T00:00:00Z')`, "CHECK"},
		{`INSERT INTO swatch (name, kind, on_width_m, note, recorded_at) VALUES ('x', 'knitted', 1, '', '2026-03-01T00:00:00Z')`, "CHECK"},
		{`INSERT INTO skein_use (skein_id, how, note, recorded_at) VALUES (1, 'lost', '', '2026-03-01T00:00:00Z')`, "CHECK"},
		{`UPDATE weighing SET mass_g = 1`, "never changed"},
		{`UPDATE swatch SET note = 'x'`, "never changed"},
		{`UPDATE skein_use SET note = 'x'`, "never changed"},
		{`DELETE FROM weighing`, "nothing is deleted"},
		{`DELETE FROM swatch`, "nothing is deleted"},
		{`DELETE FROM skein_use`, "nothing is deleted"},
	} {
		if _, err := s.writer.Exec(tt.statement); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want %q", tt.statement, err, tt.says)
		}
	}
}
