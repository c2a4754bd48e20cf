package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"waketwist/internal/cli"
	"waketwist/internal/demo"
	"waketwist/internal/picture"
	"waketwist/internal/sqlite"
)

// forecastOf runs the forecast command on a journal.
func forecastOf(t *testing.T, data string, args ...string) (out, errs string, code int) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	world := cli.IO{Stdin: strings.NewReader(""), Stdout: &stdout, Stderr: &stderr, Getenv: os.Getenv}
	code = cli.Main(t.Context(), append([]string{"forecast", "--data", data}, args...), world, cli.Doors{Journal: openJournal})
	return stdout.String(), stderr.String(), code
}

func demoJournal(t *testing.T) string {
	t.Helper()
	data := t.TempDir()
	store, err := sqlite.Open(t.Context(), data, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	photos, err := picture.OpenStore(filepath.Join(data, "photographs"))
	if err != nil {
		t.Fatal(err)
	}
	if err := demo.Make(t.Context(), store, photos, time.Now()); err != nil {
		t.Fatal(err)
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	return data
}

// emptyJournal is the folder of a journal that was begun and holds nothing.
func emptyJournal(t *testing.T) string {
	t.Helper()
	data := t.TempDir()
	store, err := sqlite.Open(t.Context(), data, time.Now)
	if err == nil {
		err = store.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestForecastCommand(t *testing.T) {
	data := demoJournal(t)
	verdicts := map[string]string{"15": "under-plied", "44": "over-plied"}
	for angle, want := range verdicts {
		out, errs, code := forecastOf(t, data, "1", "--ply-angle", angle, "--json")
		if code != 0 {
			t.Fatalf("exit %d: %s", code, errs)
		}
		var got struct {
			Verdict string                             `json:"verdict"`
			Washed  struct{ Value, Low, High float64 } `json:"washed_angle_deg"`
			Dormant struct{ Value, Low, High float64 } `json:"dormant_share"`
			Basis   string                             `json:"basis"`
		}
		if err := json.Unmarshal([]byte(out), &got); err != nil {
			t.Fatal(err)
		}
		if got.Verdict != want || got.Basis != "modelled" || !(got.Washed.Low < got.Washed.Value && got.Washed.Value < got.Washed.High) {
			t.Errorf("plied to %s degrees: %+v", angle, got)
		}
		if !(got.Dormant.Low >= 0 && got.Dormant.High <= 1) {
			t.Errorf("dormant share %+v", got.Dormant)
		}
	}
	if out, _, code := forecastOf(t, data, "lap rug", "--rest", "10 days"); code != 0 || !strings.Contains(out, "modelled") {
		t.Errorf("by name: exit %d, %q", code, out)
	}
	for _, bad := range [][]string{{"99"}, {"no such yarn"}, {"1", "--ply-angle", "95"}, {"1", "--humidity", "200"}, {"1", "--rest", "soon"}} {
		out, errs, code := forecastOf(t, data, bad...)
		if code == 0 || out != "" || strings.Count(errs, "\n") != 1 {
			t.Errorf("%v: exit %d, out %q, errors %q", bad, code, out, errs)
		}
	}
}

// The photographs of the demonstration are read near what they were drawn at.
func TestDemonstrationIsReadWell(t *testing.T) {
	store, err := sqlite.Open(t.Context(), demoJournal(t), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer store.Close()
	p, err := store.Project(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	drawn := map[string][2]float64{"Heron": {17, 35}, "Curlew": {22, 37}, "Plover": {29, 0}}
	for _, b := range p.Bobbins {
		for i, s := range b.Samples {
			for _, r := range s.Readings {
				if off := r.Angle.Degrees() - drawn[b.Name][i]; r.Refused != "" || off > 4 || off < -4 {
					t.Errorf("%s, %s: read %.1f degrees, drawn at %.0f: %s", b.Name, s.State, r.Angle.Degrees(), drawn[b.Name][i], r.Refused)
				}
			}
		}
	}
}

// TestSettingSaysWhereItComesFrom: an angle that nobody typed is not "as asked",
// and no scale of what was learnt starts below what can be.
func TestSettingSaysWhereItComesFrom(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), true)
	for query, says := range map[string]string{"": "taken from the next number", "?angle=28": "as asked"} {
		if a := w.get("/project/1/forecast" + query); !strings.Contains(a.body, says) || !strings.Contains(a.body, "−") {
			t.Errorf("the forecast %q says nothing of %q:\n%s", query, says, a.body)
		}
	}
	if page := w.get("/hand").body; strings.Contains(page, "<span>-") || strings.Contains(page, "T_65") {
		t.Errorf("my hand has a scale below nothing, or a letter for a name:\n%s", page)
	}
}
