package sqlite

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waketwist/internal/journal"
	"waketwist/unit"
)

// drawWeighing draws a weighing of a lot, or of a bobbin where the lot is 0.
func drawWeighing(t *rapid.T, lot, bobbin journal.ID) journal.Weighing {
	w := journal.Weighing{
		Lot: lot, Bobbin: bobbin, What: journal.Spun, Mass: drawIn(t, "mass", 0.1, 99_999, unit.Gram),
		Step: drawOrNil(t, "step", 0.0011, 999, unit.Gram), Humidity: drawOrNil(t, "humidity", 0, 100, 1.0),
		Note: drawText(t, 200), At: drawTime(t),
	}
	if lot != 0 {
		w.What = rapid.SampledFrom(journal.WeighedOfLots).Draw(t, "what")
	}
	if part := drawOrNil(t, "tare", 0, 0.9, 1.0); part != nil {
		w.Tare = ptr(w.Mass * unit.Mass(*part))
	}
	switch w.What {
	case journal.Bought, journal.Left, journal.Waste:
	default:
		if part := drawOrNil(t, "before", 0.9, 8, 1.0); part != nil {
			w.Before = ptr(w.Net() * unit.Mass(*part))
		}
	}
	return w
}

func drawSwatch(t *rapid.T) journal.Swatch {
	w := journal.Swatch{
		Name: drawName(t), Kind: rapid.SampledFrom([]journal.SwatchKind{journal.Woven, journal.Knitted}).Draw(t, "kind"),
		Mass: ptr(drawIn(t, "mass", 0.1, 9999, unit.Gram)), Note: drawText(t, 200),
	}
	draw := func(name string) journal.Size {
		return journal.Size{Width: drawOrNil(t, name+" width", 1, 1.4, unit.Metre), Length: drawOrNil(t, name+" length", 1, 1.4, unit.Metre)}
	}
	if w.Kind == journal.Woven {
		w.OnLoom = draw("on loom")
	}
	w.OffLoom, w.Washed = draw("off loom"), draw("washed")
	return w
}

func (m *model) addWeighing() {
	b := &m.want.Bobbins[rapid.IntRange(0, len(m.want.Bobbins)-1).Draw(m.T, "bobbin")]
	w := drawWeighing(m.T, 0, b.ID)
	w.ID = m.keep(m.store.AddWeighing(m.Context(), w))
	w.Recorded = m.now
	if rapid.Bool().Draw(m.T, "struck") {
		w.Struck = drawName(m.T)
		if err := m.store.StrikeWeighing(m.Context(), w.ID, w.Struck); err != nil {
			m.Fatal(err)
		}
		m.touched = 1 // the same moment once more
	}
	b.Weighings = append(b.Weighings, w)
}

func (m *model) addUse() {
	s := m.skein()
	u := journal.Use{Skein: s.ID, How: rapid.SampledFrom(journal.Uses).Draw(m.T, "how"), Note: drawText(m.T, 200)}
	u.ID = m.keep(m.store.AddUse(m.Context(), u))
	u.Recorded = m.now
	s.Uses = append(s.Uses, u)
}

// Lots with weighings and swatches, which belong to no project, come back.
func TestRandomStashComesBack(t *testing.T) {
	now := dawn
	s := openIn(t, t.TempDir(), func() time.Time { return now })
	keep := must[journal.ID](t)
	lot := keep(s.AddLot(t.Context(), journal.Lot{Name: "fleece"}))
	want := *must[*journal.Lot](t)(s.Lot(t.Context(), lot))
	var swatches []journal.Swatch
	rapid.Check(t, func(rt *rapid.T) {
		now = now.Add(1234567891)
		w := drawWeighing(rt, lot, 0)
		w.ID = keep(s.AddWeighing(t.Context(), w))
		w.Recorded = now
		want.Weighings = append(want.Weighings, w)
		swatch := drawSwatch(rt)
		if n := len(swatches); n > 0 && swatches[n-1].Counts() && rapid.Bool().Draw(rt, "replace") {
			swatch.Supersedes = swatches[n-1].ID
		}
		swatch.ID = keep(s.AddSwatch(t.Context(), swatch))
		swatch.Recorded = now
		if swatch.Supersedes != 0 {
			swatches[len(swatches)-1].SupersededBy = swatch.ID
		}
		if swatches = append(swatches, swatch); rapid.Bool().Draw(rt, "struck") {
			swatches[len(swatches)-1].Struck = drawName(rt)
			if err := s.StrikeSwatch(t.Context(), swatch.ID, swatches[len(swatches)-1].Struck); err != nil {
				rt.Fatal(err)
			}
		}
		got := *must[*journal.Lot](t)(s.Lot(t.Context(), lot))
		if diff := cmp.Diff(want, got, kept); diff != "" {
			rt.Fatalf("(-want +got):\n%s", diff)
		}
		if diff := cmp.Diff(swatches, must[[]journal.Swatch](t)(s.Swatches(t.Context())), kept); diff != "" {
			rt.Fatalf("(-want +got):\n%s", diff)
		}
	})
	same(t, []journal.Lot{want}, must[[]journal.Lot](t)(s.Lots(t.Context())))
}
