package main

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

type spot struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// middle is the middle of a thing on the screen, scrolled into view.
func (b *tab) middle(thing string) spot {
	b.t.Helper()
	return js[spot](b, `(() => {
		const e = document.querySelector(`+strconv.Quote(thing)+`);
		e.scrollIntoView({block: "center"});
		const r = e.getBoundingClientRect();
		return {x: r.x + r.width / 2, y: r.y + r.height / 2};
	})()`)
}

// drag presses the mouse at one place, moves it in steps, and lets go.
func (b *tab) drag(from, to spot) {
	b.t.Helper()
	b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, from.X, from.Y),
		chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, from.X, from.Y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
	const steps = 6
	for i := 1; i <= steps; i++ {
		at := float64(i) / steps
		b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, from.X+at*(to.X-from.X), from.Y+at*(to.Y-from.Y), chromedp.ButtonLeft))
	}
	b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, to.X, to.Y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
}

// readPage opens the reading of a photograph of a new dry sample.
func readPage(t *testing.T, photo string) (w *workbench, bobbin, reading string) {
	t.Helper()
	w = startWorkbench(t, t.TempDir(), false)
	p := w.newProject("name", "Sash", "strands", "2")
	bobbin = w.newBobbin(p, "name", "Snipe", "direction", "S")
	w.must(w.post(bobbin+"/cut", "depth", "0"))
	return w, bobbin, w.must(w.upload(w.sample(p, bobbin)+"/reading", photo, photograph(t, photo)))
}

const (
	strandStart = `[role=slider][aria-label="strand line, end 1"]`
	strandEnd   = `[role=slider][aria-label="strand line, end 2"]`
)

// aside is a drag of the strand line's end, that many pixels square to the line.
func (b *tab) aside(by float64) (from, to spot) {
	b.t.Helper()
	b.waitFor(`getComputedStyle(document.querySelector('`+strandEnd+`')).visibility === "visible"`, patience)
	from = b.middle(strandEnd)
	start := js[spot](b, `(() => { const r = document.querySelector('`+strandStart+`').getBoundingClientRect(); return {x: r.x + r.width / 2, y: r.y + r.height / 2}; })()`)
	long := math.Hypot(from.X-start.X, from.Y-start.Y)
	return from, spot{from.X - by*(from.Y-start.Y)/long, from.Y + by*(from.X-start.X)/long}
}

func TestDragLineSupersedesReading(t *testing.T) {
	t.Parallel()
	w, bobbin, first := readPage(t, wetPhoto)
	b := newTab(t)
	b.open(w.address + first)
	read := b.measure("", "°")
	b.unfold("Correct it")
	shown := b.liveAngle()
	if math.Abs(shown-read.value) > 6 {
		t.Errorf("the lines start at %.1f degrees, the reading is %v", shown, read)
	}
	b.drag(b.aside(20))
	dragged := b.liveAngle()
	if math.Abs(dragged-shown) < 2 {
		t.Errorf("dragging the end of the line left the angle at %.1f degrees", dragged)
	}
	b.do(chromedp.Focus(chromedp.CSS(strandEnd)), chromedp.KeyEvent(strings.Repeat(kb.ArrowLeft, 3)))
	laid := b.liveAngle()
	if laid == dragged {
		t.Errorf("the arrow keys left the angle at %.1f degrees", laid)
	}
	b.press(button("Count my line instead"))
	b.expect("Does not count: replaced by a later reading", "your own line on the photograph", "1 reading, this piece only")
	all := readingsOf(t, w.get(bobbin).body)
	if len(all) != 2 || all[0] != first {
		t.Fatalf("the readings are %q, want %s and one more", all, first)
	}
	b.open(w.address + all[1])
	if now := b.measure("", "°"); math.Abs(now.value-laid) > 0.5 {
		t.Errorf("the line laid at %.1f degrees is recorded as %v", laid, now)
	}
	b.open(w.address + first)
	b.expect("Does not count: replaced by a later reading")
	if found := b.troubles(); len(found) > 0 {
		t.Errorf("the browser complained: %q", found)
	}
}

// liveAngle is the angle between the lines that lie on the photograph now.
func (b *tab) liveAngle() float64 {
	b.t.Helper()
	text := js[string](b, `document.querySelector("[aria-live]").textContent`)
	v, err := strconv.ParseFloat(number(b.t, `^([0-9.]+)°, twist [SZ]$`, text), 64)
	if err != nil {
		b.t.Fatal(err)
	}
	if v == 0 {
		b.t.Error("the lines are parallel")
	}
	return v
}

func TestReadAgainInBox(t *testing.T) {
	t.Parallel()
	w, bobbin, first := readPage(t, wetPhoto)
	b := newTab(t)
	b.open(w.address + first)
	b.unfold("Read it again")
	picture := `main svg[role=img]`
	middle := b.middle(picture)
	size := js[spot](b, `(() => { const r = document.querySelector("`+picture+`").getBoundingClientRect(); return {x: r.width, y: r.height}; })()`)
	b.drag(spot{middle.X - size.X*0.45, middle.Y - size.Y*0.45}, spot{middle.X + size.X*0.45, middle.Y + size.Y*0.45})
	box := js[[]string](b, `["box1x", "box1y", "box2x", "box2y"].map((n) => document.querySelector("[name=" + n + "]").value)`)
	if box[0] == "" || box[0] == box[2] || box[1] == box[3] {
		t.Fatalf("dragging a box over the picture left the fields %q", box)
	}
	b.do(chromedp.Click(choice("/again", "plies", "2")))
	b.press(named("button", "Read it again"))
	b.expect("two strands, twist Z")
	if all := readingsOf(t, w.get(bobbin).body); len(all) != 2 || b.path() != all[1] {
		t.Errorf("reading again leads to %s; the readings are %q", b.path(), all)
	}
	b.open(w.address + b.path())
	b.expect("Box: where you said that it lies")
	if kept := js[[]string](b, `["box1x", "box1y", "box2x", "box2y"].map((n) => document.querySelector("[name=" + n + "]").value)`); !slices.Equal(kept[:2], box[:2]) || kept[2] == "" || kept[3] == "" { // what was drawn beyond the picture is cut off
		t.Errorf("the box was drawn as %q and is kept as %q", box, kept)
	}
}

// TestBoxOnPhotograph says on a photograph outside any project where the yarn
// lies: by a press, and by numbers.
func TestBoxOnPhotograph(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	page := w.must(w.upload("/read", "wall.jpg", photograph(t, "neg_brick.jpg")))
	b := newTab(t)
	b.open(w.address + page)
	b.expect("This photograph was not read", "Press the yarn in the picture")
	at := b.middle(`main svg[role=img]`)
	b.drag(at, at)
	if box := js[[]string](b, `["box1x", "box1y", "box2x", "box2y"].map((n) => document.querySelector("[name=" + n + "]").value)`); box[0] == "" || box[1] == "" || box[2] != "" || box[3] != "" {
		t.Errorf("a press on the picture left the fields %q, want one place", box)
	}
	if status := b.press(button("Read it again")); status != 200 {
		t.Errorf("reading at a place answers %d", status)
	}
	page, _, _ = strings.Cut(w.must(w.upload("/read", "wet.jpg", photograph(t, wetPhoto))), "?")
	for _, tt := range []struct {
		query  string
		status int
		says   string
	}{
		{"box1x=0&box1y=0&box2x=4000&box2y=3000&plies=2", 200, "two strands"},
		{"box1x=5000&box1y=5000", 422, "outside the picture"},
		{"box1x=10&box2x=20", 422, "all four sides"},
		{"box1x=left&box1y=1", 422, "is not a number"},
	} {
		if a := w.get(page + "?" + tt.query); a.status != tt.status || !strings.Contains(a.body, tt.says) {
			t.Errorf("%s answers %d, want %d and %q:\n%s", tt.query, a.status, tt.status, tt.says, a.body)
		}
	}
}

func TestDraggingOnTelephone(t *testing.T) {
	t.Parallel()
	w, _, first := readPage(t, dryPhoto)
	b := newTab(t)
	b.look(390, "dark")
	b.open(w.address + first)
	b.unfold("Correct it")
	handle := js[float64](b, `document.querySelector('`+strandEnd+`').getBoundingClientRect().width`)
	if handle < 24 {
		t.Errorf("a handle is %.0f pixels across, too small for a finger", handle)
	}
	before := b.liveAngle()
	b.touchDrag(b.aside(20))
	if after := b.liveAngle(); after == before {
		t.Errorf("a finger left the angle at %.1f degrees", after)
	}
}

// touchDrag does with a finger what drag does with the mouse.
func (b *tab) touchDrag(from, to spot) {
	b.t.Helper()
	touch := func(kind input.DispatchTouchEventType, at ...spot) {
		points := []*input.TouchPoint{}
		for _, p := range at {
			points = append(points, &input.TouchPoint{X: p.X, Y: p.Y})
		}
		call(b, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
	}
	touch(input.DispatchTouchEventTypeTouchStart, from)
	touch(input.DispatchTouchEventTypeTouchMove, spot{(from.X + to.X) / 2, (from.Y + to.Y) / 2})
	touch(input.DispatchTouchEventTypeTouchMove, to)
	touch(input.DispatchTouchEventTypeTouchEnd)
}
