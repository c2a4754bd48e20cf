package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestFleeceIsWeighed adds a fleece, weighs it scoured and spun in part, and
// looks at what is left, on the page and by command.
func TestFleeceIsWeighed(t *testing.T) {
	t.Parallel()
	data := t.TempDir()
	w := startWorkbench(t, data, false)
	b := newTab(t)
	b.look(390, "light")
	b.open(w.address + "/")
	b.press(link("Stash"))
	b.unfold("Add a fibre lot")
	b.write("/stash/lot", "name", "Moorland shearling")
	b.write("/stash/lot", "fibre", "wool")
	b.write("/stash/lot", "mass", "3 lb")
	b.press(button("Keep the lot"))
	b.expect("3.00 lb. bought", "As bought 1361 g", "Raw fleece", "Hot water")
	b.do(chromedp.Click(choice("/weigh", "what", "scoured")))
	b.write("/weigh", "mass", "1.7 lb")
	b.press(button("Keep the weight"))
	b.expect("Scoured 771 g", `Scouring 43\.3 % 41`)

	lot := strings.TrimPrefix(b.path(), "/lot/")
	project := w.newProject("name", "Hat", "strands", "2")
	bobbin := w.newBobbin(project, "name", "First", "direction", "Z", "lot", lot)
	w.must(w.post("/lot/"+lot+"/weigh", "what", "prepared", "mass", "673 g"))
	wheel := w.must(w.post("/machine", "name", "Old wheel", "kind", "double drive"))
	w.must(w.post(wheel+"/bobbin", "name", "oak", "tare", "92 g"))
	if page := w.get(bobbin).body; !strings.Contains(page, `<option value="92 g">oak, of Old wheel</option>`) {
		t.Errorf("the empty bobbin is not offered:\n%s", page)
	}
	w.must(w.post(bobbin+"/weigh", "mass", "189 g", "tare", "92 g", "before", "100 g"))
	b.open(w.address + "/stash")
	b.expect("Prepared to spin 573 g", `Spinning 3\.\d %`, "1 reading of yours taught it")

	// A wrong weight is struck, and no longer counts.
	b.open(w.address + "/lot/" + lot)
	b.do(chromedp.Click(chromedp.Search(`(//summary[contains(., "Strike it")])[last()]`)))
	b.do(chromedp.SendKeys(chromedp.Search(`(//input[@name="reason"])[last()]`), "it was damp"))
	b.press(chromedp.Search(`(//button[contains(., "Strike the weight")])[last()]`))
	b.expect("Struck: it was damp", "Scoured 671 g")
	if trouble := b.troubles(); len(trouble) > 0 {
		t.Errorf("the pages complain: %v", trouble)
	}

	var got struct {
		Name string
		Left []struct {
			State string
			Mass  struct{ Value, Low, High float64 } `json:"mass_g"`
			Basis string
		}
	}
	out := done(t, data, "stash", "--json")
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Left) != 1 || got.Left[0].State != "scoured" || got.Left[0].Basis != "reckoned" || !(got.Left[0].Mass.Low < 671 && got.Left[0].Mass.High > 671.2) {
		t.Errorf("%s", out)
	}
	if prose := done(t, data, "stash"); !strings.Contains(prose, "Moorland shearling: scoured 671 g") || !strings.Contains(prose, "Bought: 1361 g (3.00 lb)") {
		t.Errorf("%s", prose)
	}
}

func TestLossesCommand(t *testing.T) {
	t.Parallel()
	data := demoJournal(t)
	out := done(t, data, "losses")
	for _, want := range []string{"taught by", "Scouring", "Draw-in", "Pace of plying", "not known", "modelled"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in:\n%s", want, out)
		}
	}
	rows := map[string]struct {
		Readings int
		Basis    string
		Value    *struct{ Value, Low, High float64 }
		Demo     bool
	}{}
	for line := range strings.Lines(done(t, data, "losses", "--json")) {
		var key struct{ Loss string }
		row := rows[""]
		if err := json.Unmarshal([]byte(line), &key); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal([]byte(line), &row); err != nil {
			t.Fatal(err)
		}
		rows[key.Loss] = row
	}
	if len(rows) != 13 {
		t.Errorf("%d losses", len(rows))
	}
	if r := rows["spinning"]; r.Readings != 3 || r.Basis != "modelled" || !r.Demo || !(r.Value.Low < 0.034 && r.Value.High > 0.036) {
		t.Errorf("spinning: %+v", r)
	}
	if r := rows["draw_in"]; r.Readings != 1 || !(r.Value.Low > 0.04 && r.Value.High < 0.15) {
		t.Errorf("draw-in: %+v", r)
	}
	if r := rows["pace"]; r.Value != nil || r.Basis != "not known" {
		t.Errorf("pace: %+v", r)
	}
	if r := rows["yarn_wash"]; r.Readings != 0 || r.Basis != "common practice" || r.Demo {
		t.Errorf("yarn wash: %+v", r)
	}
	if out := done(t, emptyJournal(t), "stash"); !strings.Contains(out, "Nothing is in the stash") {
		t.Errorf("%s", out)
	}
}
