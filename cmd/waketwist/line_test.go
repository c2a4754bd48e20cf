package main

import (
	"fmt"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A loop of brown two-ply over ends of its own colour, and places along it.
const loopPhoto = "brown_loop.jpg"

var alongLoop = []spot{{250, 620}, {330, 540}, {440, 480}, {560, 447}, {650, 440}, {760, 460}, {860, 505}}

// onScreen is where a place of the photograph lies on the screen.
func (b *tab) onScreen(at spot) spot {
	b.t.Helper()
	return js[spot](b, fmt.Sprintf(`(() => {
		const svg = document.querySelector("svg.overlay");
		svg.scrollIntoView({block: "center"});
		const p = new DOMPoint(%f, %f).matrixTransform(svg.getScreenCTM());
		return {x: p.x, y: p.y};
	})()`, at.X, at.Y))
}

// layLine presses places of the photograph one after another.
func (b *tab) layLine(places []spot) {
	b.t.Helper()
	for _, p := range places {
		at := b.onScreen(p)
		b.drag(at, at)
	}
}

// alongField is what the page would send as the line.
func (b *tab) alongField() string {
	b.t.Helper()
	return js[string](b, `document.querySelector("[name=along]").value`)
}

// laid counts the points of the line that the field holds.
func (b *tab) laid() int {
	b.t.Helper()
	return len(strings.FieldsFunc(b.alongField(), func(r rune) bool { return r == ',' || r == ' ' })) / 2
}

// TestLineOnPhotograph lays a line on a photograph that is refused without it, takes
// a point back, and reads along it.
func TestLineOnPhotograph(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	page, _, _ := strings.Cut(w.must(w.upload("/read", loopPhoto, photograph(t, loopPhoto))), "?")
	b := newTab(t)
	b.open(w.address + page)
	b.expect("This photograph was not read", "lay a line along it")
	b.do(chromedp.Click(choice(page, "hint", "line")))
	b.layLine(append(alongLoop, spot{100, 100}))
	if got := b.laid(); got != len(alongLoop)+1 {
		t.Fatalf("%d presses left %d points: %q", len(alongLoop)+1, got, b.alongField())
	}
	b.do(chromedp.Click(button("Take back the last")))
	b.do(chromedp.Click(choice(page, "plies", "2")))
	b.expect("7 points")
	b.shoot("line", 1280, "light")
	if status := b.press(button("Read it again")); status != 200 {
		t.Errorf("reading along a line answers %d", status)
	}
	b.expect("two strands, twist S", "Dotted: the line that you laid along the yarn", "rough")
	b.unfold("Read it again")
	if got := b.laid(); got != len(alongLoop) {
		t.Errorf("the page that shows the reading holds %d points, want %d", got, len(alongLoop))
	}
	b.do(chromedp.Click(button("Start over")))
	if got := b.alongField(); got != "" {
		t.Errorf("started over, the field holds %q", got)
	}
	if found := b.troubles(); len(found) > 0 {
		t.Errorf("the browser complained: %q", found)
	}
}

// TestLineByKeyboard lays a line on a telephone without pressing the picture.
func TestLineByKeyboard(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	page, _, _ := strings.Cut(w.must(w.upload("/read", loopPhoto, photograph(t, loopPhoto))), "?")
	b := newTab(t)
	b.look(390, "dark")
	b.open(w.address + page)
	b.do(chromedp.Click(choice(page, "hint", "line")))
	b.do(chromedp.Focus(button("Add a point")), chromedp.KeyEvent(kb.Enter))
	first := b.alongField()
	b.do(chromedp.KeyEvent(strings.Repeat(kb.ArrowLeft, 3) + kb.ArrowDown))
	if moved := b.alongField(); first == "" || moved == first {
		t.Errorf("the arrow keys moved the point from %q to %q", first, moved)
	}
	for range 2 {
		b.do(chromedp.Focus(button("Add a point")), chromedp.KeyEvent(kb.Enter))
	}
	if got := b.laid(); got != 3 {
		t.Errorf("three points were added; the field holds %q", b.alongField())
	}
	b.shoot("line", 390, "dark")
}

// TestLinesRefused sends lines that cannot be meant: the page says why, and keeps
// what was typed.
func TestLinesRefused(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	page, _, _ := strings.Cut(w.must(w.upload("/read", loopPhoto, photograph(t, loopPhoto))), "?")
	for _, tt := range []struct{ along, more, says string }{
		{"10,10", "", "two points or more"},
		{"10,10, 400", "", "two points or more"},
		{"10,10, 5000,10", "", "outside the picture"},
		{"10,10, 20,15", "", "11 pixels long"},
		{"10,10, 300,10, 300,300, 100,300, 100,2", "", "crosses itself"},
		{"10,10, 300,10", "&box1x=10&box1y=20", "not both"},
	} {
		a := w.get(page + "?plies=2&along=" + url.QueryEscape(tt.along) + tt.more)
		if a.status != 422 || !strings.Contains(a.body, tt.says) || !strings.Contains(a.body, `value="`+tt.along+`"`) {
			t.Errorf("%q%s answers %d, want 422 and %q:\n%s", tt.along, tt.more, a.status, tt.says, a.body)
		}
	}
}

// TestLineSupersedesReading reads a sample's photograph again along a line: the line
// stays with the new reading, and the former one stays in the journal.
func TestLineSupersedesReading(t *testing.T) {
	t.Parallel()
	w, bobbin, first := readPage(t, loopPhoto)
	var along []string
	for _, p := range alongLoop {
		along = append(along, fmt.Sprintf("%.0f,%.0f", p.X, p.Y))
	}
	line := strings.Join(along, ", ")
	if a := w.post(first+"/again", "along", "10,10"); a.status != 422 || !strings.Contains(a.body, "two points or more") {
		t.Errorf("a line of one point answers %d", a.status)
	}
	next := w.must(w.post(first+"/again", "plies", "2", "along", line))
	for _, says := range []string{"two strands, twist S", "Dotted: the line that you laid", `class="drawn"`} {
		if body := w.get(next).body; !strings.Contains(body, says) {
			t.Errorf("the reading along a line does not show %q:\n%s", says, body)
		}
	}
	refused := w.must(w.post(next+"/again", "plies", "2", "along", "600,100, 640,380"))
	if body := w.get(refused).body; !strings.Contains(body, "was not read") || !strings.Contains(body, `class="drawn"`) {
		t.Errorf("a refused reading does not keep its line:\n%s", body)
	}
	if body := w.get(next).body; !strings.Contains(body, "replaced by a later reading") || !strings.Contains(body, "twist S") {
		t.Errorf("the reading that was replaced does not say so:\n%s", body)
	}
	if all := readingsOf(t, w.get(bobbin).body); len(all) != 3 {
		t.Errorf("the readings are %q, want three", all)
	}
}
