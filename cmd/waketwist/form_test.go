package main

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// slip is a form filled in wrongly in one field.
type slip struct {
	page   string
	action string   // of the form
	fields []string // name, value, name, value
	wrong  string   // the field that is wrong
	says   string   // part of what is said of it
}

func slips(w *workbench) []slip {
	p := w.newProject("name", "Shawl", "strands", "2")
	bare := w.newBobbin(p, "name", "Bare", "direction", "Z")
	dry := w.newBobbin(p, "name", "Dry", "direction", "Z")
	w.must(w.post(dry+"/cut", "depth", "0"))
	reading := w.sample(p, dry) + "/reading"
	soak := w.newBobbin(p, "name", "To soak", "direction", "Z")
	w.must(w.post(soak+"/cut", "depth", "0"))
	w.must(w.upload(w.sample(p, soak)+"/reading", "", nil, "angles", "21"))
	read := w.newBobbin(p, "name", "Read", "direction", "Z")
	w.must(w.post(read+"/cut", "depth", "0"))
	dryRead := w.sample(p, read)
	w.must(w.upload(dryRead+"/reading", "", nil, "angles", "21"))
	w.must(w.post(read+"/soak", "minutes", "25"))
	wetRead := w.sample(p, read)
	run := w.must(w.post(p+"/run", "name", "Run", "feed", strings.TrimPrefix(soak, "/bobbin/"), "direction", "S"))
	skein := w.must(w.post(run + "/skein"))
	project := func(wrong, value, says string) slip {
		return slip{"/project/new", "/project/new", []string{"name", "Throw", "aim", "a throw", "strands", "3", wrong, value}, wrong, says}
	}
	bobbin := func(wrong, value, says string) slip {
		return slip{p + "/bobbin", p + "/bobbin", []string{"name", "Fern", "direction", "S", wrong, value}, wrong, says}
	}
	return []slip{
		project("name", "", "Give the project a name"),
		project("name", strings.Repeat("n", 200), "longer than"),
		project("aim", strings.Repeat("n", 5000), "longer than"),
		project("offset", "some", "not a number"),
		project("offset", "80", "between -50 and 50"),
		project("want", "steep", "steep"),
		project("want", "95", "95"),
		{p, p, []string{"strands", "4", "offset", "much"}, "offset", "not a number"},
		bobbin("name", " ", "Give the bobbin a name"),
		bobbin("thickness", "thin", "thin"),
		bobbin("thickness", "60 mm", "are not yarn"),
		bobbin("thickness", "2000 wpi", "2000 wpi"),
		bobbin("thickness", "600 wpi", "cannot be meant"),
		bobbin("singles", "steep", "steep"),
		bobbin("singles", "89", "cannot be meant"),
		{p + "/bobbin", p + "/bobbin", []string{"name", "Fern", "started", "2026-03-04", "ended", "2026-03-01"}, "ended", "swap the two days"},
		{p + "/bobbin", p + "/bobbin", []string{"name", "Fern", "started", "0026-03-04", "ended", "2026-03-01"}, "started", "cannot be meant"},
		{p + "/bobbin", p + "/bobbin", []string{"name", "Fern", "lotname", strings.Repeat("l", 200), "preparation", "worsted"}, "lotname", "longer than"},
		{p + "/bobbin", p + "/bobbin", []string{"name", "Fern", "lotname", "Dun", "fibre", strings.Repeat("l", 200), "preparation", "worsted"}, "fibre", "longer than"},
		{bare, bare, []string{"name", "Bare", "thickness", "60 mm"}, "thickness", "are not yarn"},
		{bare, bare, []string{"name", "Bare", "note", strings.Repeat("n", 5000)}, "note", "longer than"},
		{bare, bare + "/stretch", []string{"started", "2026-03-04", "ended", "2026-03-05", "length", "-3 m"}, "length", "cannot be negative"},
		{bare, bare + "/stretch", []string{"length", "12 m"}, "started", "Give the day"},
		{wake(p, bare), bare + "/cut", []string{"age", "old", "load", "5 g"}, "age", "old"},
		{wake(p, bare), bare + "/cut", []string{"age", "3 days", "load", "much"}, "load", "much"},
		{wake(p, bare), bare + "/cut", []string{"depth", "0.5", "load", "5 kg"}, "load", "grams"},
		{wake(p, dry), reading, []string{"angles", "twenty"}, "angles", "twenty"},
		{wake(p, dry), reading, []string{"angles", "20, 88"}, "angles", "cannot be meant"},
		{p + "/run", p + "/run", []string{"name", "", "direction", "S"}, "name", "a name"},
		{p + "/run", p + "/run", []string{"name", "Run", "ratio", "many"}, "ratio", "not a number"},
		{p + "/run", p + "/run", []string{"name", "Run", "draw", "long"}, "draw", "long"},
		{run, run, []string{"ratio", "9000"}, "ratio", "cannot be meant"},
		{run, run, []string{"rpm", "-9", "draw", "60 cm"}, "rpm", "cannot be meant"},
		{run, run, []string{"beat", "-2"}, "beat", "cannot be meant"},
		{run, run + "/check", []string{"angles", "steep"}, "angles", "steep"},
		{run, run + "/check", []string{"angles", ""}, "angles", "Choose a photograph"},
		{skein, skein + "/measure", []string{"loops", "", "girth", ""}, "loops", "Give the loops"},
		{skein, skein + "/measure", []string{"loops", "some"}, "loops", "“some” is not a whole number"},
		{skein, skein + "/measure", []string{"loops", "60", "girth", "-1 m"}, "girth", "negative"},
		{skein, skein + "/measure", []string{"mass", "heavy"}, "mass", "heavy"},
		{skein, skein + "/measure", []string{"wraps", "900 wpi"}, "wraps", "cannot be meant"},
		{skein, skein + "/measure", []string{"mass", "90 g", "humidity", "400"}, "humidity", "cannot be meant"},
		{skein, skein + "/measure", []string{"mass", "90 g", "load", "x"}, "load", "x"},
		{skein, skein + "/wash", []string{"treatment", ""}, "treatment", "Say how the skein was finished"},
		{skein, skein + "/wash", []string{"treatment", "soak", "water", "140"}, "water", "cannot be meant"},
		{skein, skein + "/wash", []string{"treatment", "soak", "minutes", "-3"}, "minutes", "cannot be meant"},
		{skein, skein + "/wash", []string{"treatment", "soak", "hung", "x"}, "hung", "x"},
		{skein, skein + "/hang", []string{"direction", "S", "turns", "many"}, "turns", "not a number"},
		{skein, skein + "/hang", []string{"direction", "", "turns", "3"}, "direction", "Say which way"},
		{skein, skein + "/hang", []string{"direction", "S", "turns", ""}, "turns", "count them"},
		{skein, skein + "/hang", []string{"direction", "S", "turns", "3", "length", "x"}, "length", "x"},
		{skein, skein + "/check", []string{"angles", "flat"}, "angles", "flat"},
		{wake(p, read), dryRead + "/reading", []string{"angles", "dry"}, "angles", "“dry”"},
		{wake(p, read), wetRead + "/reading", []string{"angles", "wet"}, "angles", "“wet”"},
		{wake(p, soak), soak + "/soak", []string{"water", "cold", "minutes", "25"}, "water", "cold"},
		{wake(p, soak), soak + "/soak", []string{"water", "200", "minutes", "25"}, "water", "cannot be meant"},
		{wake(p, soak), soak + "/soak", []string{"water", "19", "minutes", "-4"}, "minutes", "cannot be meant"},
		{wake(p, soak), soak + "/soak", []string{"water", "19", "minutes", "long"}, "minutes", "not a number"},
	}
}

func TestWrongInputIsKeptAndSaid(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	b := newTab(t)
	for _, s := range slips(w) {
		b.open(w.address + s.page)
		if status := b.arrive(fill(s.action, s.fields)); status != 422 {
			t.Errorf("%s with %q is answered with %d, want 422", s.action, s.fields, status)
			continue
		}
		for name, typed := range s.typed() {
			if got := js[string](b, valueOf(s.action, name)); got != typed {
				t.Errorf("%s: after %.80q, %s reads %.80q", s.action, s.fields, name, got)
			}
		}
		if at := js[[]string](b, saidAt(s.action, s.says)); !slices.Contains(at, s.wrong) {
			t.Errorf("%s: after %.80q, %q is said at %q, want at %s", s.action, s.fields, s.says, at, s.wrong)
		}
		b.waitFor(`document.activeElement.matches(".problem")`, patience)
		if said := js[string](b, `document.activeElement.textContent`); !regexp.MustCompile(`^[^a-z].*[.?!]$`).MatchString(said) {
			t.Errorf("%s: after %.80q, the page opens at %q, which is no sentence", s.action, s.fields, said)
		} else if regexp.MustCompile(`(?i)strconv|parsing|invalid syntax|%!`).MatchString(said) {
			t.Errorf("%s: after %.80q, the page opens at %q, which is no word for a spinner", s.action, s.fields, said)
		}
	}
}

// typed is what each field was left with; a later value replaces a former.
func (s slip) typed() map[string]string {
	out := map[string]string{}
	for i := 0; i < len(s.fields); i += 2 {
		out[s.fields[i]] = s.fields[i+1]
	}
	return out
}

// formOf is the form of an action that a field may stand in.
func formOf(action string) string {
	return `[...document.forms].filter((f) => new URL(f.action).pathname === ` + strconv.Quote(action) + `)`
}

func valueOf(action, name string) string {
	return formOf(action) + `.map((f) => f.elements.namedItem(` + strconv.Quote(name) + `)).find((e) => e).value`
}

// saidAt lists the fields of a form at which a text is seen: those that come
// last before it, or that share a line of fields with it.
func saidAt(action, text string) string {
	return `(() => {
		const at = new Set();
		for (const form of ` + formOf(action) + `) {
			const said = [...form.querySelectorAll("p, span, output")].filter((e) => e.checkVisibility() && e.textContent.includes(` + strconv.Quote(text) + `) && !e.closest("textarea"));
			for (const e of said) {
				const before = [...form.elements].filter((f) => f.name && e.compareDocumentPosition(f) & Node.DOCUMENT_POSITION_PRECEDING);
				const last = before[before.length - 1];
				if (!last) continue;
				at.add(last.name);
				const group = last.closest(".fields");
				if (group && !group.contains(e)) for (const f of before) if (group.contains(f)) at.add(f.name);
			}
		}
		return [...at];
	})()`
}

func TestBackDoesNotSendAgain(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	b := newTab(t)
	b.begin(w, "Once only", "Z")
	b.press(button("They are cut"))
	b.typeAngles("21, 22")
	sent := b.postsSent()
	if len(sent) != 4 {
		t.Fatalf("four forms were sent as %q", sent)
	}
	for range 4 { // readings, cut, bobbin, project
		b.do(chromedp.NavigateBack())
	}
	b.expect("What do you call it")
	for range 2 {
		b.do(chromedp.NavigateForward(), chromedp.Reload())
	}
	if again := b.postsSent(); len(again) != len(sent) {
		t.Errorf("going back and forward sent %q once more", again[len(sent):])
	}
	if n := strings.Count(w.get("/").body, "Once only"); n != 1 {
		t.Errorf("the project stands on the bench %d times", n)
	}
	if all := readingsOf(t, w.get("/bobbin/1").body); len(all) != 2 {
		t.Errorf("two angles were recorded as %q", all)
	}
}

func TestNewProjectByKeyboardOnly(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	b := newTab(t)
	b.open(w.address)
	b.tabTo("I have rested bobbins")
	b.arrive(chromedp.KeyEvent(kb.Enter))
	b.tabTo("name")
	b.do(chromedp.KeyEvent("Gloves without a mouse"))
	b.tabTo("aim")
	b.do(chromedp.KeyEvent("Warm, and thin enough to write in."))
	b.tabTo("strands")
	b.do(chromedp.KeyEvent(kb.ArrowDown))
	b.tabTo("offset")
	b.do(chromedp.KeyEvent("10"))
	b.tabTo("Go on to the bobbins")
	b.arrive(chromedp.KeyEvent(" "))
	if b.path() != "/project/1/bobbin" {
		t.Fatalf("the keyboard led to %s", b.path())
	}
	b.open(w.address + "/project/1")
	b.expect("Gloves without a mouse", "Warm, and thin enough to write in")
	for name, want := range map[string]string{"strands": "3", "offset": "10"} {
		if got := js[string](b, valueOf("/project/1", name)); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
}

// tabTo presses the tab key until a thing of a name or with a text has the
// focus.
func (b *tab) tabTo(what string) {
	b.t.Helper()
	for range 60 {
		b.do(chromedp.KeyEvent(kb.Tab))
		at := js[string](b, `(() => { const e = document.activeElement; return (e.name || "") + "|" + e.textContent; })()`)
		if name, text, _ := strings.Cut(at, "|"); name == what || strings.Contains(text, what) && name == "" && text != "" && len(text) < 200 {
			return
		}
	}
	b.t.Fatalf("the tab key does not reach %q on %s", what, b.path())
}
