package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"net/http"
	"net/url"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"waketwist/internal/cli"
	"waketwist/internal/demo"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/internal/sqlite"
	"waketwist/plan"
	"waketwist/unit"
	"waketwist/yarn"
)

// planOf runs the plan command on a journal.
func planOf(t *testing.T, data string, stdin string, args ...string) (out, errs string, code int) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	world := cli.IO{Stdin: strings.NewReader(stdin), Stdout: &stdout, Stderr: &stderr, Getenv: os.Getenv}
	code = cli.Main(t.Context(), append([]string{"plan", "--data", data}, args...), world, cli.Doors{Journal: openJournal})
	return stdout.String(), stderr.String(), code
}

// TestPlansByPageAndCommand solves the demonstration's plans by page, from the
// journal by command, and from the text that the page hands out, and finds the
// same figures everywhere.
func TestPlansByPageAndCommand(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), true)
	list := w.get("/plan").body
	for _, p := range demo.Plans {
		page := number(t, `href="(/plan/\d+)">`+p.Name, list)
		body := html.UnescapeString(w.get(page).body)
		query := url.Values{}
		for key, value := range demo.Plan(p.File) {
			query.Set(key, value)
		}
		text := w.get("/plan/plan.toml?" + query.Encode()).body
		out, errs, code := planOf(t, w.folder, "", "--kept", p.Name, "--json")
		again, _, _ := planOf(t, w.folder, text, "-", "--json")
		if code != 0 || out != again {
			t.Fatalf("%s: exit %d, %s; by the page's text it differs: %v", p.Name, code, errs, out != again)
		}
		var got struct {
			Lines []struct {
				Key, Text string
			}
		}
		if err := json.Unmarshal([]byte(out), &got); err != nil {
			t.Fatal(err)
		}
		if len(got.Lines) < 15 {
			t.Errorf("%s has %d lines only", p.Name, len(got.Lines))
		}
		for _, l := range got.Lines {
			if !strings.Contains(body, "<strong>"+l.Text+"</strong>") {
				t.Errorf("%s: the page lacks %s, %s", p.Name, l.Key, l.Text)
			}
		}
	}
}

// TestPlanFollowsWhileWritten writes a wish in the browser, sees the answer
// follow, meets a contradiction, keeps the plan, changes it and finds both after
// a restart.
func TestPlanFollowsWhileWritten(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	b := newTab(t)
	b.open(w.address)
	b.press(link("Plan"))
	b.press(link("Plan a cloth"))
	write := func(key, text string) {
		b.do(chromedp.SendKeys(chromedp.CSS(`[name="`+key+`"]`), text))
	}
	write("cloth.width", "18 in")
	write("cloth.length", "40 in")
	write("cloth.sett", "12/in")
	write("yarn.grist", "1600 yd/lb")
	b.waitToSay("live-top", "Fibre to have")
	write("fibre.in-hand", "100 g")
	b.waitToSay("live-top", "fibre in hand and the size contradict each other")
	b.waitToSay("live-top", "Drop the finished width, and it becomes")
	b.retype(chromedp.CSS(`[name="fibre.in-hand"]`), "2 lb")
	b.waitToSay("live-answer", "suffices with a probability of over 99 %")
	b.retype(chromedp.CSS(`[name="cloth.width"]`), "wide")
	b.waitToSay("live-cloth-width", "Cannot read “wide” as a length")
	b.retype(chromedp.CSS(`[name="cloth.width"]`), "19 in")
	b.waitToSay("live-cloth-width", "48.3 cm (19.0 in)")
	write("name", "Tray cloth")
	b.press(button("Keep this plan"))
	b.retype(chromedp.CSS(`[name="cloth.length"]`), "44 in")
	b.press(button("Keep the change"))
	b.expect("Tray cloth", "2 versions are kept")
	page := b.path()
	b.press(link("Begin its project"))
	b.press(button("Go on to the bobbins"))
	b.open(w.address + "/project/1")
	b.expect("Planned as Tray cloth")
	b.press(link("Tray cloth"))

	again := w.again()
	if body := again.get(page).body; !strings.Contains(body, `name="cloth.length" value="44 in"`) {
		t.Error("the change is gone after a restart")
	}
	text := again.get("/plan/plan.toml?cloth.width=19+in&fabric=woven")
	if got, err := job.ReadPlan(strings.NewReader(text.body)); err != nil || got["cloth.width"] != "19 in" {
		t.Errorf("the text that is handed out reads as %v, %v", got, err)
	}
}

// TestPlanLearns takes the waste in spinning from weighings of the spinner's own,
// by page and by command.
func TestPlanLearns(t *testing.T) {
	t.Parallel()
	data := t.TempDir()
	store, err := sqlite.Open(t.Context(), data, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	project, err := store.AddProject(t.Context(), journal.Project{Name: "Hat", Plan: journal.Plan{Strands: 2}})
	if err != nil {
		t.Fatal(err)
	}
	lot, err := store.AddLot(t.Context(), journal.Lot{Name: "top"})
	if err != nil {
		t.Fatal(err)
	}
	for range 4 {
		bobbin, err := store.AddBobbin(t.Context(), journal.Bobbin{Project: project, Lot: &journal.Lot{ID: lot}, Name: "one", Direction: yarn.Z})
		if err != nil {
			t.Fatal(err)
		}
		before, step := 100*unit.Gram, 0.1*unit.Gram
		if _, err := store.AddWeighing(t.Context(), journal.Weighing{Bobbin: bobbin, What: journal.Spun, Mass: 88 * unit.Gram, Before: &before, Step: &step, At: time.Now()}); err != nil {
			t.Fatal(err)
		}
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	const text = "[yarn]\nlength = \"400 m\"\ngrist = \"300 tex\"\n"
	without, _, _ := planOf(t, data, text, "-", "--json")
	with, errs, code := planOf(t, data, text, "-", "--json", "--learnt")
	if code != 0 || strings.Contains(without, "4 readings") || !strings.Contains(with, "4 readings") {
		t.Errorf("exit %d, %s; learnt: %s", code, errs, with)
	}
	w := startWorkbench(t, data, false)
	body := w.get("/plan/new?fabric=yarn&yarn.length=400+m&yarn.grist=300+tex").body
	if !strings.Contains(body, "What you taught") || !strings.Contains(body, "4 readings") {
		t.Error("the page does not plan with what was learnt")
	}
}

// TestPlanMidway tells by page and by command whether the fibre suffices, from the
// weighings of the project that a plan is of.
func TestPlanMidway(t *testing.T) {
	t.Parallel()
	data := t.TempDir()
	store, err := sqlite.Open(t.Context(), data, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	kept := func(id journal.ID, err error) journal.ID {
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	project := kept(store.AddProject(t.Context(), journal.Project{Name: "Hat", Plan: journal.Plan{Strands: 2}}))
	lot := kept(store.AddLot(t.Context(), journal.Lot{Name: "top"}))
	bobbin := kept(store.AddBobbin(t.Context(), journal.Bobbin{Project: project, Lot: &journal.Lot{ID: lot}, Name: "one", Direction: yarn.Z}))
	at := time.Now()
	for _, w := range []journal.Weighing{
		{Lot: lot, What: journal.Prepared, Mass: 150 * unit.Gram, At: at},
		{Bobbin: bobbin, What: journal.Spun, Mass: 70 * unit.Gram, At: at},
		{Lot: lot, What: journal.Left, Mass: 77 * unit.Gram, At: at},
	} {
		kept(store.AddWeighing(t.Context(), w))
	}
	kept(store.AddWish(t.Context(), journal.Wish{Name: "Hat plan", Project: project, Text: plan.Text{"yarn.length": "400 m", "yarn.grist": "300 tex"}}))
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	const says = "By the weighings of its project, what is left suffices"
	out, errs, code := planOf(t, data, "", "--kept", "Hat plan", "--learnt")
	if flat := strings.Join(strings.Fields(out), " "); code != 0 || !strings.Contains(flat, says) {
		t.Errorf("exit %d, %s, %s", code, errs, flat)
	}
	if body := startWorkbench(t, data, false).get("/plan/1").body; !strings.Contains(body, says) {
		t.Error("the page does not say whether the fibre suffices")
	}
}

// TestProjectOfPlan begins a project from a plan that names a machine, with the
// angle that the plan wishes.
func TestProjectOfPlan(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	page := w.must(w.post("/plan/new", "name", "Hat", "fabric", "yarn", "yarn.length", "400 m", "yarn.grist", "300 tex", "yarn.angle", "27 deg", "work.machine", "Upright", "work.draw", "24 in"))
	body := w.get("/project/new?plan=" + page[len("/plan/"):]).body
	if !strings.Contains(body, `name="want" inputmode="decimal" value="27"`) {
		t.Errorf("the project does not take the angle over: %s", body)
	}
}

// TestContradictoryPlan answers a plan that contradicts itself in full, and says so
// by its status and its exit code.
func TestContradictoryPlan(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	page := w.get("/plan/new?fabric=yarn&yarn.length=400+m&yarn.mass=100+g&yarn.grist=900+tex")
	if page.status != 422 || !strings.Contains(page.body, "contradicts itself") || !strings.Contains(page.body, "Length of the singles, all strands") {
		t.Errorf("status %d", page.status)
	}
	out, errs, code := planOf(t, w.folder, "[yarn]\nlength = \"400 m\"\nmass = \"100 g\"\ngrist = \"900 tex\"\n", "-", "--json")
	if code != 1 || !strings.Contains(out, "singles_length_m") || !strings.Contains(errs, "drop the mass of the yarn, and it becomes 360 g") {
		t.Errorf("exit %d, %s, %s", code, errs, out)
	}
}

// TestWheelThatCannotBe keeps the form beside what is wrong with the wheel.
func TestWheelThatCannotBe(t *testing.T) {
	t.Parallel()
	page := startWorkbench(t, t.TempDir(), false).get("/plan/new?fabric=yarn&yarn.length=300+m&yarn.grist=310+tex&work.wheel=bobbin-led&work.ratio=8:1&work.draw=24+in&work.core=4+in&work.full=1+in")
	for _, want := range []string{"does not fit a core", `name="yarn.length" value="300 m"`} {
		if page.status != 422 || !strings.Contains(page.body, want) {
			t.Errorf("status %d, without %s", page.status, want)
		}
	}
}

// waitToSay waits until a part of the page says something.
func (b *tab) waitToSay(id, words string) {
	b.t.Helper()
	for range 200 {
		if strings.Contains(js[string](b, `document.getElementById("`+id+`").textContent`), words) {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	b.t.Fatalf("%s does not come to say %q; it says %q", id, words, js[string](b, `document.getElementById("`+id+`").textContent`))
}

// TestPlanWithoutScript answers wrong values with a page that keeps them, and
// works by the form alone.
func TestPlanWithoutScript(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	fields := []string{"fabric", "woven", "name", "Runner", "cloth.width", "10 in", "cloth.length", "60 in", "yarn.grist", "300 tex"}
	page := w.must(w.post("/plan/new", fields...))
	if body := w.get(page).body; !strings.Contains(body, "Fibre to have") {
		t.Error("the kept plan has no answer")
	}
	for _, wrong := range [][]string{
		{"yarn.grist", "thin", "Cannot read"}, {"cloth.shrink", "100%", "leaves nothing"}, {"fibre.breed", "griffin", "not known here"},
		{"name", "", "Give the plan a name"}, {"cloth.weave", "9/0-twill", "twill"}, {"work.ratio", "8:1", "draw at a time"},
	} {
		changed := map[string]string{}
		for i := 0; i < len(fields); i += 2 {
			changed[fields[i]] = fields[i+1]
		}
		changed[wrong[0]] = wrong[1]
		var flat []string
		for key, value := range changed {
			flat = append(flat, key, value)
		}
		a := w.post("/plan/new", flat...)
		if body := html.UnescapeString(a.body); a.status != http.StatusUnprocessableEntity || !strings.Contains(body, wrong[2]) || !strings.Contains(body, "10 in") {
			t.Errorf("%s %q: %d, without %q", wrong[0], wrong[1], a.status, wrong[2])
		}
	}
	sheet := w.get("/plan/sheet.pdf?paper=letter&" + url.Values{"cloth.width": {"10 in"}, "cloth.length": {"60 in"}, "yarn.grist": {"300 tex"}}.Encode())
	if sheet.status != http.StatusOK || !strings.HasPrefix(sheet.body, "%PDF-") {
		t.Errorf("the printed plan is answered with %d", sheet.status)
	}
	for path, status := range map[string]int{"/plan/sheet.pdf": 422, "/plan/sheet.pdf?yarn.length=4+kg": 422, "/plan/sheet.pdf?yarn.length=400+m&yarn.grist=300+tex&paper=papyrus": 422, "/plan/77": 404, "/plan/new?cloth.width=wide": 422, "/plan/new?yarn.plies=9": 422, "/plan/new?cloth.weave=2/2-twill&cloth.shafts=2": 422} {
		if a := w.get(path); a.status != status {
			t.Errorf("%s is answered with %d, want %d", path, a.status, status)
		}
	}
}

// BenchmarkChangedField asks the page of a plan for another width each time.
func BenchmarkChangedField(b *testing.B) {
	w := startWorkbench(b, b.TempDir(), true)
	query := url.Values{}
	for key, value := range demo.Plan(demo.Plans[0].File) {
		query.Set(key, value)
	}
	wide := 50.0
	for b.Loop() {
		wide += 0.5
		query.Set("cloth.width", fmt.Sprintf("%.1f cm", wide))
		if a := w.get("/plan/1?" + query.Encode()); a.status != http.StatusOK {
			b.Fatalf("status %d", a.status)
		}
	}
}
