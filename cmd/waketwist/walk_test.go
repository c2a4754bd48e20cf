package main

import (
	"fmt"
	"html"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"
)

// widths are those of a telephone and of a computer.
var (
	widths  = []int64{390, 1280}
	schemes = []string{"light", "dark"}
)

// visit is a page to look over: an address, and a form to send from there when
// the page is an answer to one.
type visit struct {
	path   string
	status int
	form   string   // action of the form to send
	fields []string // name, value, name, value
}

func TestWalk(t *testing.T) {
	if *shots != "" {
		if err := os.MkdirAll(*shots, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	empty, full := startWorkbench(t, t.TempDir(), false), startWorkbench(t, t.TempDir(), true)
	unlinked := furnish(t, full)
	pages := crawl(t, full, append([]string{"/"}, unlinked...))
	if len(pages) < 30 {
		t.Errorf("only %d pages are linked: %q", len(pages), pages)
	}
	walk(t, empty, "empty", []visit{{path: "/", status: 200}})
	var visits []visit
	for _, path := range pages {
		visits = append(visits, visit{path: path, status: 200})
	}
	walk(t, full, "", append(visits, wrongTurns(t, full)...))
}

// wrongTurns are pages that say what is wrong.
func wrongTurns(t *testing.T, w *workbench) []visit {
	t.Helper()
	bobbin := number(t, `href="(/bobbin/\d+)"`, w.get("/project/1").body)
	bare := w.newProject("name", "For wrong turns", "strands", "2")
	uncut := w.newBobbin(bare, "name", "Uncut", "direction", "")
	cut := w.newBobbin(bare, "name", "Cut", "direction", "Z")
	w.must(w.post(cut+"/cut", "depth", "0"))
	reading := w.sample(bare, cut) + "/reading"
	soak := w.newBobbin(bare, "name", "To soak", "direction", "Z")
	w.must(w.post(soak+"/cut", "depth", "0"))
	w.must(w.upload(w.sample(bare, soak)+"/reading", "", nil, "angles", "21"))
	run := w.must(w.post(bare+"/run", "name", "Run", "feed", strings.TrimPrefix(soak, "/bobbin/"), "direction", "S"))
	skein := w.must(w.post(run + "/skein"))
	lot := number(t, `href="(/lot/\d+)"`, w.get("/stash").body)
	return []visit{
		{path: "/nowhere", status: 404},
		{path: "/project/999", status: 404},
		{path: "/plan/new?fabric=woven&cloth.width=wide&yarn.plies=9&fibre.breed=griffin", status: 422},
		{path: "/plan/new?fabric=knitted&knit.width=20+cm", status: 422},
		{path: "/plan/new?fabric=yarn&yarn.length=400+m&yarn.mass=100+g&yarn.grist=900+tex&fibre.in-hand=20+g", status: 422},
		{path: "/project/new", status: 422, form: "/project/new", fields: []string{"name", "", "offset", "a lot"}},
		{path: "/project/1", status: 422, form: "/project/1", fields: []string{"offset", "900"}},
		{path: "/project/1/bobbin", status: 422, form: "/project/1/bobbin", fields: []string{"name", "", "thickness", "thin", "singles", "200", "started", "2026-02-03", "ended", "2026-02-01"}},
		{path: bobbin, status: 422, form: bobbin, fields: []string{"name", "", "thickness", "x", "singles", "y"}},
		{path: bobbin, status: 422, form: bobbin + "/stretch", fields: []string{"length", "long"}},
		{path: wake(bare, uncut), status: 422, form: uncut + "/cut", fields: []string{"age", "old", "load", "much"}},
		{path: wake(bare, cut), status: 422, form: reading, fields: []string{"angles", "steep"}},
		{path: wake(bare, soak), status: 422, form: soak + "/soak", fields: []string{"water", "cold", "minutes", "some"}},
		{path: "/read", status: 422, form: "/read"},
		{path: bare + "/run", status: 422, form: bare + "/run", fields: []string{"name", "", "ratio", "x", "draw", "y", "rpm", "z", "beat", "w"}},
		{path: run, status: 422, form: run, fields: []string{"ratio", "900"}},
		{path: run, status: 422, form: run + "/check", fields: []string{"angles", "steep"}},
		{path: skein, status: 422, form: skein + "/measure", fields: []string{"loops", "some", "girth", "x", "load", "y", "mass", "z", "wraps", "w", "humidity", "v"}},
		{path: skein, status: 422, form: skein + "/wash", fields: []string{"treatment", "", "water", "x", "minutes", "y", "hung", "z"}},
		{path: skein, status: 422, form: skein + "/hang", fields: []string{"turns", "x", "length", "y"}},
		{path: "/machine", status: 422, form: "/machine", fields: []string{"name", ""}},
		{path: "/machine/1", status: 422, form: "/machine/1/whorl", fields: []string{"name", "", "turns", "x", "treadles", "y", "stated", "z"}},
		{path: "/machine/1", status: 422, form: "/machine/1/slip", fields: []string{"rhythm", "x", "turns", "y", "seconds", "z"}},
		{path: "/machine/1", status: 422, form: "/machine/1/bobbin", fields: []string{"name", "", "core", "x", "full", "y", "tare", "z", "holds", "w"}},
		{path: "/machine/1?ask=set&twist=x&draw=&rhythm=y", status: 422},
		{path: "/machine/2?ask=went&length=36+in&treadles=0.5&whorl=4&spool=2", status: 422},
		{path: "/machine/3", status: 422, form: "/machine/3/setting", fields: []string{"name", "", "turns", "1", "how", "on film", "frames", "2", "rate", "240"}},
		{path: "/machine/3?ask=set&twist=9+tpi&draw=6+in", status: 422},
		{path: skein, status: 422, form: skein + "/check", fields: []string{"angles", "flat"}},
		{path: skein, status: 422, form: skein + "/use", fields: []string{"usenote", "gone"}},
		{path: "/stash", status: 422, form: "/stash/lot", fields: []string{"name", "", "mass", "much", "step", "fine"}},
		{path: lot, status: 422, form: lot + "/weigh", fields: []string{"mass", "much", "tare", "x", "before", "y", "step", "z", "humidity", "w"}},
		{path: lot, status: 422, form: lot + "/strike", fields: []string{"reason", ""}},
		{path: bobbin, status: 422, form: bobbin + "/weigh", fields: []string{"mass", "90 g", "tare", "100 g"}},
		{path: "/swatch/new", status: 422, form: "/swatch/new", fields: []string{"name", "", "onwidth", "wide"}},
		{path: "/lot/999", status: 404},
		{path: "/swatch/999", status: 404},
	}
}

var (
	anchor   = regexp.MustCompile(`<a\s[^>]*?href="([^"]*)"`)
	fragment = regexp.MustCompile(`#.*$`)
	// slipped is what a value printed wrongly looks like.
	slipped = regexp.MustCompile(`[^<>]{0,40}(%!|&lt;nil&gt;|\bNaN\b|[+-]Inf\b|0x[0-9a-f]{6}|\bno value\b|0001-01-01|January 0?1, 1\b)[^<>]{0,20}`)
)

// crawl follows all links of the workbench and returns the pages, each once,
// with every link that leads to a place checked.
func crawl(t *testing.T, w *workbench, from []string) (pages []string) {
	t.Helper()
	bodies := map[string]string{}
	for queue := from; len(queue) > 0; queue = queue[1:] {
		address := queue[0]
		path := fragment.ReplaceAllString(address, "")
		if _, known := bodies[path]; !known {
			a := w.get(path)
			if a.status != http.StatusOK {
				t.Errorf("a link leads to %s, which answers %d", path, a.status)
			}
			if slip := slipped.FindString(a.body); slip != "" {
				t.Errorf("%s shows %q, which no person wrote", path, slip)
			}
			bodies[path] = a.body
			pages = append(pages, path)
			queue = append(queue, links(t, w, path, a.body)...)
		}
		if _, place, ok := strings.Cut(address, "#"); ok && !strings.Contains(bodies[path], ` id="`+place+`"`) {
			t.Errorf("a link leads to %s, and that page has no place of this name", address)
		}
	}
	return pages
}

// links lists where a page leads within the workbench.
func links(t *testing.T, w *workbench, from, body string) (out []string) {
	t.Helper()
	base, err := url.Parse(w.address + from)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range anchor.FindAllStringSubmatch(body, -1) {
		to, err := base.Parse(html.UnescapeString(m[1]))
		if err != nil {
			t.Errorf("%s has the link %q: %v", from, m[1], err)
			continue
		}
		if address := to.String(); strings.HasPrefix(address, w.address+"/") {
			out = append(out, strings.TrimPrefix(address, w.address))
		} else {
			t.Errorf("%s leads out of the workbench, to %s", from, address)
		}
	}
	return out
}

// walk looks over pages at all widths, in light and dark.
func walk(t *testing.T, w *workbench, prefix string, visits []visit) {
	names := map[string]bool{}
	for _, v := range visits {
		name := strings.Trim(prefix+"-"+v.slug(), "-")
		for n := 2; names[name]; n++ {
			name = strings.Trim(prefix+"-"+v.slug(), "-") + "-" + strconv.Itoa(n)
		}
		names[name] = true
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b := newTab(t)
			for _, width := range widths {
				b.lookOver(w, v, name, width)
			}
			b.withoutScripts(w, v)
		})
	}
}

var notName = regexp.MustCompile(`[^a-z0-9]+`)

// slug names a visit for a file.
func (v visit) slug() string {
	name := v.path
	if v.status != http.StatusOK {
		name += " " + strconv.Itoa(v.status) + " " + v.form
	}
	name = regexp.MustCompile(`[0-9a-f]{64}`).ReplaceAllStringFunc(name, func(hash string) string { return hash[:6] })
	if name = strings.Trim(notName.ReplaceAllString(strings.ToLower(name), "-"), "-"); name == "" {
		name = "bench"
	}
	return name
}

// lookOver judges one page at one width: as it comes in all schemes, then with
// everything unfolded.
func (b *tab) lookOver(w *workbench, v visit, name string, width int64) {
	b.t.Helper()
	for _, scheme := range schemes {
		b.look(width, scheme)
		if scheme == schemes[0] {
			b.enter(w, v)
		}
		b.shoot(name, width, scheme)
		b.complain(fmt.Sprintf("%d wide, %s", width, scheme), b.audit())
	}
	b.openAll()
	for _, scheme := range schemes {
		b.look(width, scheme)
		b.complain(fmt.Sprintf("%d wide, %s, unfolded", width, scheme), b.audit())
	}
	b.complain(fmt.Sprintf("%d wide, with the tab key", width), b.tabThrough())
}

// withoutScripts compares a page with itself when no script may run.
func (b *tab) withoutScripts(w *workbench, v visit) {
	b.t.Helper()
	scripted := b.headings()
	b.look(widths[0], schemes[0])
	b.scripts(false)
	b.enter(w, v)
	if diff := cmp.Diff(scripted, b.headings()); diff != "" {
		b.t.Errorf("headings with (-) and without (+) scripts:\n%s", diff)
	}
	b.complain("without scripts", b.audit())
}

func (b *tab) complain(when string, faults []string) {
	b.t.Helper()
	slices.Sort(faults)
	for _, fault := range slices.Compact(faults) {
		b.t.Errorf("%s: %s", when, fault)
	}
}

// enter opens the page of a visit, by its form when it has one.
func (b *tab) enter(w *workbench, v visit) {
	b.t.Helper()
	status := b.open(w.address + v.path)
	if v.form != "" {
		status = b.arrive(fill(v.form, v.fields))
	}
	if status != int64(v.status) {
		b.t.Errorf("the page answered %d, want %d", status, v.status)
	}
}

// fill puts values into the form of an action that has all those fields, and
// sends it past the browser's own checks, as a browser without them would.
func fill(action string, fields []string) chromedp.Action[chromedp.Void] {
	given := "{"
	for i := 0; i < len(fields); i += 2 {
		given += strconv.Quote(fields[i]) + ": " + strconv.Quote(fields[i+1]) + ", "
	}
	given += "}"
	return chromedp.Evaluate[chromedp.Void](`(() => {
		const given = ` + given + `;
		const form = [...document.forms].find((f) => new URL(f.action).pathname === ` + strconv.Quote(action) + ` && Object.keys(given).every((name) => f.elements.namedItem(name)));
		for (const name in given) form.elements.namedItem(name).value = given[name];
		form.noValidate = true;
		form.submit();
	})()`)
}

// shoot keeps a picture of the whole page when pictures are wanted.
func (b *tab) shoot(name string, width int64, scheme string) {
	b.t.Helper()
	if *shots == "" {
		return
	}
	file := filepath.Join(*shots, name+"-"+strconv.FormatInt(width, 10)+"-"+scheme+".png")
	if err := os.WriteFile(file, run(b, chromedp.FullScreenshot(100)), 0o644); err != nil {
		b.t.Fatal(err)
	}
}
