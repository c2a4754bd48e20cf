package sqlite

import (
	"strings"
	"testing"

	"waketwist/internal/journal"
)

func aWish() journal.Wish {
	return journal.Wish{Name: "tea cosy", Text: map[string]string{"cloth.width": "18 in", "cloth.weave": "X.\n.X", "yarn.grist": "1500 to 1700 yd/lb"}}
}

func TestWishesComeBack(t *testing.T) {
	s := openNew(t)
	project := must[journal.ID](t)(s.AddProject(t.Context(), aProject()))
	first, second := aWish(), journal.Wish{Name: "shawl", Project: project, Demo: true, Text: map[string]string{"yarn.length": "400 m"}}
	first.ID = must[journal.ID](t)(s.AddWish(t.Context(), first))
	second.ID = must[journal.ID](t)(s.AddWish(t.Context(), second))
	first.Recorded, first.Changed, first.Versions = tick(2), tick(2), 1
	second.Recorded, second.Changed, second.Versions = tick(3), tick(3), 1
	same(t, []journal.Wish{second, first}, must[[]journal.Wish](t)(s.Wishes(t.Context())))

	changed := first
	changed.Name, changed.Project, changed.Text = "tea cosies", project, map[string]string{"cloth.width": "20 in"}
	if err := s.ChangeWish(t.Context(), changed); err != nil {
		t.Fatal(err)
	}
	changed.Changed, changed.Versions = tick(4), 2
	same(t, &changed, must[*journal.Wish](t)(s.Wish(t.Context(), first.ID)))
	if n := count(t, s, `SELECT count(*) FROM wish_version WHERE wish_id = ? AND name = 'tea cosy' AND fields ->> '$."cloth.width"' = '18 in'`, first.ID); n != 1 {
		t.Errorf("%d former versions kept", n)
	}
	if p := must[*journal.Project](t)(s.Project(t.Context(), project)); !p.Touched.Equal(tick(4)) {
		t.Errorf("the project was touched at %v", p.Touched)
	}
}

func TestWishRefused(t *testing.T) {
	s := openNew(t)
	tests := []struct {
		name   string
		change func(*journal.Wish)
		code   journal.Code
	}{
		{"no name", func(w *journal.Wish) { w.Name = " " }, journal.Invalid},
		{"empty", func(w *journal.Wish) { w.Text = nil }, journal.Invalid},
		{"empty value", func(w *journal.Wish) { w.Text["yarn.mass"] = "" }, journal.Invalid},
		{"too long", func(w *journal.Wish) { w.Text["cloth.weave"] = strings.Repeat("X.", 10_001) }, journal.Invalid},
		{"no project", func(w *journal.Wish) { w.Project = 77 }, journal.NotFound},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := aWish()
			tt.change(&w)
			if _, err := s.AddWish(t.Context(), w); journal.CodeOf(err) != tt.code {
				t.Errorf("error %v", err)
			}
		})
	}
	w := aWish()
	w.ID = 5
	if err := s.ChangeWish(t.Context(), w); journal.CodeOf(err) != journal.NotFound {
		t.Errorf("change of none: %v", err)
	}
	if _, err := s.Wish(t.Context(), 5); journal.CodeOf(err) != journal.NotFound {
		t.Errorf("look for none: %v", err)
	}
	if n := count(t, s, `SELECT count(*) FROM wish`); n != 0 {
		t.Errorf("%d wishes kept", n)
	}
}
