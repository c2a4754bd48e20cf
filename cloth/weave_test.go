package cloth

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waketwist/yarn"
)

func TestNamedWeaves(t *testing.T) {
	for _, tt := range []struct {
		name     string
		drawdown string
		family   Family
		shafts   int
		share    Share
		diagonal yarn.Direction
	}{
		{"plain", ".X\nX.\n", Plain, 2, 1.0 / 2, yarn.NoDirection},
		{"2/2-twill", "X..X\n..XX\n.XX.\nXX..\n", Twill, 4, 2.0 / 3, yarn.Z},
		{"Twill 1/2", "..X\n.X.\nX..\n", Twill, 3, 3.0 / 5, yarn.Z},
		{"5-end-satin", "XXX.X\nX.XXX\nXXXX.\nXX.XX\n.XXXX\n", Satin, 5, 5.0 / 7, yarn.NoDirection},
		{"8-end sateen", "", Satin, 8, 8.0 / 10, yarn.NoDirection},
		{"2/2 hopsack", "..XX\n..XX\nXX..\nXX..\n", Hopsack, 2, 4.0 / 6, yarn.NoDirection},
		{"3/1/1/2-twill", "", Twill, 7, 7.0 / 11, yarn.Z},
	} {
		w := named(t, tt.name)
		if tt.drawdown != "" && w.String() != tt.drawdown {
			t.Errorf("%s is drawn\n%s", tt.name, w)
		}
		if w.Family() != tt.family || w.Shafts() != tt.shafts || w.Diagonal() != tt.diagonal {
			t.Errorf("%s: %s on %d shafts, line %q", tt.name, w.Family(), w.Shafts(), w.Diagonal())
		}
		near(t, tt.name, float64(w.EndsShare()), float64(tt.share), 1e-12)
		near(t, tt.name+" picks", float64(w.PicksShare()), float64(tt.share), 1e-12)
	}
}

// A draft of four shafts lifts the 2/2 twill that its name makes.
func TestDraft(t *testing.T) {
	w, err := ParseWeave("# straight\nThreading: 1 2 3 4\ntie-up: 1+2 2+3 3+4 4+1\n\ntreadling: 1, 2, 3, 4\nshafts: 4\n")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(named(t, "2/2-twill").String(), w.String()); diff != "" {
		t.Error(diff)
	}
}

// A tie-up is read the same however it is written.
func TestTieUps(t *testing.T) {
	want, err := Named("2/2-twill")
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{
		"threading: 1 2 3 4\ntie-up: 1+2 2+3 3+4 4+1\ntreadling: 1 2 3 4",
		"threading: 1 2 3 4\ntie-up: 1+2, 2+3, 3+4, 4+1\ntreadling: 1 2 3 4",
		"threading: 1 2 3 4\ntie-up: 1 2, 2 3, 3 4, 4 1\ntreadling: 1 2 3 4",
		"Threading 1 2 3 4\nTie-up 1 2, 2 3, 3 4, 4 1\nTreadling 1 2 3 4",
	} {
		w, err := ParseWeave(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if w.EndsShare() != want.EndsShare() || w.PicksShare() != want.PicksShare() || w.Shafts() != 4 {
			t.Errorf("%q makes\n%s", text, w)
		}
	}
}

// Ribs pass often one way and seldom the other.
func TestIntersectionsOfEndsAndPicks(t *testing.T) {
	w, err := ParseWeave("X.\nX.\n.X\n.X\n")
	if err != nil {
		t.Fatal(err)
	}
	want := Intersections{PerPick: 2, PerEnd: 2, MostPerPick: 2, MostPerEnd: 2}
	if diff := cmp.Diff(want, w.Intersections()); diff != "" {
		t.Error(diff)
	}
	near(t, "ends", float64(w.EndsShare()), 0.5, 1e-12)
	near(t, "picks", float64(w.PicksShare()), 4.0/6, 1e-12)
	uneven, err := ParseWeave("X.X.\nXX..\n.X.X\n..XX\n")
	if err != nil {
		t.Fatal(err)
	}
	if x := uneven.Intersections(); x.PerPick != 3 || x.MostPerPick != 4 {
		t.Errorf("%+v", x)
	}
	s, err := SettByWeight(150, Firm, uneven)
	if err != nil || !s.Closest.Flags.Has(UnevenRows) {
		t.Errorf("uneven rows are not marked: %v, %v", s.Closest.Flags, err)
	}
}

func TestRefusedWeaves(t *testing.T) {
	for _, tt := range []struct{ text, says string }{
		{"", "no weave"},
		{"X.", "two ends and two picks"},
		{"X.\nX", "Line 2"},
		{"XO\n.X", "“O”"},
		{"XX\n.X", "line 1"},
		{"XX.\nX.X", "End 1"},
		// Double cloth: ends 1 and 3 are the upper layer.
		{"X...\nXXX.\n..X.\nX.XX\n", "layers"},
		{strings.Repeat("X.", 300) + "\n" + strings.Repeat(".X", 300), "512"},
		{strings.Repeat("X.\n.X\n", 300), "512"},
		{"threading: 1 2", "needs a threading"},
		{"threading: 1 2\ntie-up: 1 3\ntreadling: 1 2", "shaft 3"},
		{"threading: 1 2 3 4\ntie-up: 1+2 2+3 3+4 4+1\ntreadling: 1 2 3 4\nshafts: 2", "shaft 3 of 2"},
		{"threading: 0 2\ntie-up: 1 2\ntreadling: 1 2", "shaft 0"},
		{"threading: 1 2\ntie-up: 1 2\ntreadling: 1 3", "treadle 3"},
		{"threading: 1 two\ntie-up: 1 2\ntreadling: 1 2", "two"},
		{"threading: 1 2\nthreading: 1 2", "twice"},
		{"threading: 1 2\nwarp: 2", "warp"},
		{"threading: 1 2\n1 2", "no name"},
		{"threading: 1 2\nshafts: many", "many"},
		{"threading: 1 2\nshafts: 2 3", "2 3"},
	} {
		w, err := ParseWeave(tt.text)
		refused(t, tt.text, err, tt.says)
		if w.Ends() != 0 {
			t.Errorf("%q: a weave comes with the error", tt.text)
		}
	}
	for _, tt := range []struct{ name, says string }{
		{"damask", "damask"}, {"6-end-satin", "6 ends"}, {"4-end satin", "4 ends"}, {"99999999999999999999-end-satin", "512"},
		{"2/2/1-twill", "2/2/1"}, {"1/1-twill", "1/1"}, {"0/2-twill", "0/2"}, {"400/400 twill", "512"}, {"600/2 twill", "none"},
		{"0/2 hopsack", "none"}, {"2/900 basket", "none"}, {"", "no weave"},
	} {
		_, err := Named(tt.name)
		refused(t, tt.name, err, tt.says)
	}
}

func TestFitsOn(t *testing.T) {
	twill := named(t, "2/2-twill")
	refused(t, "twill on two shafts", twill.FitsOn(2), "needs 4 shafts")
	refused(t, "no shafts", twill.FitsOn(0), "0 shafts")
	if err := twill.FitsOn(4); err != nil {
		t.Error(err)
	}
}

// refused wants an *Error with a problem that says something, and advice.
func refused(t *testing.T, what string, err error, says string) {
	t.Helper()
	e, ok := err.(*Error)
	if !ok || e.Advice == "" || !strings.Contains(e.Problem, says) {
		t.Errorf("%q: want a refusal with %q and advice, got %v", what, says, err)
	}
}

// A square yard is 0.8361 m², and 28.35 g an ounce: 435 g/m² are 12.83 oz/yd².
func TestMassInBothSystems(t *testing.T) {
	if got, want := MassPerArea(435).String(), "435 g/m² (12.8 oz/yd²)"; got != want {
		t.Errorf("said %q, want %q", got, want)
	}
}
