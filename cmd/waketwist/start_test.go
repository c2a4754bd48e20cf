package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"waketwist/internal/cli"
)

// A folder that was misspelt must be seen to hold a new journal.
func TestNewJournalIsSaid(t *testing.T) {
	t.Parallel()
	folder := filepath.Join(t.TempDir(), "spining")
	w := startWorkbench(t, folder, false)
	if said := w.log.String(); !strings.Contains(said, "A new journal was begun in "+folder+"\n") {
		t.Errorf("a first start says %q", said)
	}
	if said := w.again().log.String(); strings.Contains(said, "new journal") {
		t.Errorf("a second start says %q", said)
	}
}

func TestReadingCommandsBeginNoJournal(t *testing.T) {
	t.Parallel()
	folder := filepath.Join(t.TempDir(), "spining")
	for _, args := range [][]string{
		{"stash"}, {"losses"}, {"machine"}, {"forecast", "1"}, {"plan", "--kept", "rug"}, {"wheel", "--machine", "Plying wheel", "--treadles", "10", "--length", "36 in"},
	} {
		var out, errs strings.Builder
		world := cli.IO{Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs, Getenv: func(name string) string {
			return map[string]string{"WAKETWIST_DATA": folder}[name]
		}}
		code := cli.Main(context.Background(), args, world, cli.Doors{Journal: openJournal})
		if code != 1 || out.Len() > 0 || !strings.Contains(errs.String(), "no journal is to be found in "+folder) {
			t.Errorf("%v: exit %d, printed %q, said %q", args, code, out.String(), errs.String())
		}
	}
	if _, err := os.Stat(folder); err == nil {
		t.Error("a command that only reads has made the folder")
	}
}

// The second press of one button does not undo the first.
func TestPressedTwice(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	project := w.newProject("name", "Shawl", "strands", "2")
	bobbin := w.newBobbin(project, "name", "One", "direction", "Z")
	run := w.must(w.post(project+"/run", "name", "Run", "feed", strings.TrimPrefix(bobbin, "/bobbin/"), "direction", "S"))
	for page, words := range map[string][2]string{
		project: {"It is finished", "Put it back on the bench"},
		run:     {"This run is done", "Go on with this run"},
	} {
		for i, to := range []string{"end", "go-on", "end"} {
			for range 2 {
				w.must(w.post(page+"/end", "to", to))
			}
			if body := w.get(page).body; strings.Contains(body, words[0]) == (i != 1) || strings.Contains(body, words[1]) != (i != 1) {
				t.Errorf("%s pressed twice for %q, then %s offers the wrong button", page, to, page)
			}
		}
	}
}

// A double click records one lot and not two.
func TestDoubleClickSendsOnce(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	b := newTab(t)
	b.open(w.address + "/stash")
	b.unfold("Add a fibre lot")
	b.retype(field("/stash/lot", "name"), "Dun fleece")
	b.arrive(chromedp.Evaluate[chromedp.Void](`(() => {
		const button = document.querySelector('form[action="/stash/lot"] button');
		button.click();
		setTimeout(() => button.click(), 5);
	})()`))
	b.expect("Dun fleece")
	if posts := b.postsSent(); len(posts) != 1 {
		t.Errorf("pressed twice, the form was sent to %q", posts)
	}
}

// A bobbin that was recorded by mistake is no longer asked for, and comes back.
func TestBobbinPutAway(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	project := w.newProject("name", "Shawl", "strands", "2")
	w.newBobbin(project, "name", "Ibis", "direction", "Z")
	slip := w.newBobbin(project, "name", "Slip", "direction", "Z")
	asks := func() bool {
		return strings.Contains(w.get(wake(project, "/bobbin/1")).body, slip[len("/bobbin/"):]+`"><strong>Slip`)
	}
	if !asks() {
		t.Fatal("the wake page does not offer the new bobbin")
	}
	for range 2 {
		w.must(w.post(slip+"/away", "to", "away"))
	}
	if w = w.again(); asks() || !strings.Contains(w.get(project).body, "put away") {
		t.Error("the bobbin that was put away is still asked for")
	}
	w.must(w.post(slip+"/away", "to", "back"))
	if !asks() {
		t.Error("the bobbin does not come back")
	}
}
