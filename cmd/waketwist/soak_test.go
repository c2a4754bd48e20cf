package main

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/internal/sqlite"
	"waketwist/yarn"
)

// soaking is a journal with a bobbin whose sample has some time to go in the
// water; it returns the address of its wake page.
func soaking(t *testing.T, folder string, left time.Duration) string {
	t.Helper()
	ctx := t.Context()
	store, err := sqlite.Open(ctx, folder, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	p, err := store.AddProject(ctx, journal.Project{Name: "Bath", Plan: journal.Plan{Strands: 2}})
	if err != nil {
		t.Fatal(err)
	}
	bobbin, err := store.AddBobbin(ctx, journal.Bobbin{Project: p, Name: "Grebe", Direction: yarn.Z})
	if err != nil {
		t.Fatal(err)
	}
	start := time.Now().Add(left - job.LongestSoak)
	if _, err := store.AddSample(ctx, journal.Sample{Bobbin: bobbin, State: estimate.Rewet, Place: "place 1", SoakStart: &start}); err != nil {
		t.Fatal(err)
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	return "/project/1/wake?bobbin=1"
}

const countSounds = `window.sounds = 0;
const create = AudioContext.prototype.createOscillator;
AudioContext.prototype.createOscillator = function () { window.sounds++; return create.call(this); };
window.loads = Number(sessionStorage.loads || 0) + 1;
sessionStorage.loads = window.loads;`

// watchSounds counts tones and loads of pages opened from now on.
func (b *tab) watchSounds() {
	b.t.Helper()
	call(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: countSounds})
}

// timerText is what the timer reads.
func (b *tab) timerText() string {
	b.t.Helper()
	return js[string](b, `document.querySelector("[role=timer]").textContent.trim()`)
}

// waitFor waits until an expression holds, over reloads of the page.
func (b *tab) waitFor(expression string, atMost time.Duration) {
	b.t.Helper()
	for end := time.Now().Add(atMost); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		if ok, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](expression)); err == nil && ok {
			return
		}
	}
	b.t.Fatalf("after %v it does not hold that %s; the page shows:\n%s", atMost, expression, b.words())
}

func TestSoakTimerCountsDownAndLeadsOn(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	path := soaking(t, folder, 8*time.Second)
	w, b := startWorkbench(t, folder, false), newTab(t)
	b.watchSounds()
	b.open(w.address + path)
	first := b.timerText()
	if !strings.HasPrefix(first, "0:0") {
		t.Fatalf("with seconds to go the timer reads %q", first)
	}
	b.waitFor(`document.querySelector("[role=timer]").textContent.trim() !== "`+first+`"`, 3*time.Second)
	b.waitFor(`document.querySelector("#now input[name=angles]") !== null`, 20*time.Second)
	if n := js[int](b, `window.loads`); n > 3 {
		t.Errorf("the page was loaded %d times until the soak was over", n)
	}
	if n := js[int](b, `window.sounds`); n != 0 {
		t.Errorf("it rang %d tones without being asked", n)
	}
	b.expect("Read it wet")
}

func TestSoakTimerRingsWhenAsked(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	path := soaking(t, folder, 8*time.Second)
	w, b := startWorkbench(t, folder, false), newTab(t)
	b.watchSounds()
	b.open(w.address + path)
	b.do(chromedp.Click(button("Ring when it is done")))
	if n := js[int](b, `window.sounds`); n != 0 {
		t.Errorf("it rang %d tones before the soak was over", n)
	}
	b.expect("It will ring")
	b.waitFor(`window.sounds > 0`, 20*time.Second)
	if got := b.timerText(); !strings.HasPrefix(got, "0:00") {
		t.Errorf("when it rings, the timer reads %q", got)
	}
	if title := js[string](b, `document.title`); !strings.Contains(title, "read it now") {
		t.Errorf("when it rings, the title reads %q", title)
	}
	b.press(button("Take it out now"))
	b.expect("soaked 30 min", "Read it wet")
	if found := b.troubles(); len(found) > 0 {
		t.Errorf("the browser complained: %q", found)
	}
}

func TestTakeItOutEarly(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	p := w.newProject("name", "Mat", "strands", "2")
	bobbin := w.newBobbin(p, "name", "Stork", "direction", "Z")
	w.must(w.post(bobbin+"/cut", "depth", "0"))
	w.must(w.upload(w.sample(p, bobbin)+"/reading", "", nil, "angles", "20, 21", "direction", "S"))
	b := newTab(t)
	b.open(w.address + wake(p, bobbin))
	b.press(button("It is in the water"))
	if got := b.timerText(); !strings.HasPrefix(got, "29:") && !strings.HasPrefix(got, "30:00") {
		t.Errorf("a new soak has %q", got)
	}
	b.open(w.address)
	b.expect("Stork is soaking: [23][0-9] minutes to go")
	b.press(link("Do that now"))
	b.press(button("Take it out now"))
	b.typeAngles("38")
	b.expect("Hold the ply to", `soak`)
}
