package main

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

var (
	//go:embed testdata/audit.js
	auditScript string
	//go:embed testdata/focus.js
	focusScript string
	//go:embed testdata/unvisited.js
	unvisitedScript string
)

// audit lists the faults of the page shown.
func (b *tab) audit() []string {
	b.t.Helper()
	return slices.Concat(b.troubles(), js[[]string](b, auditScript), b.nameless())
}

// nameless lists what a screen reader could not name.
func (b *tab) nameless() (faults []string) {
	b.t.Helper()
	roles := []string{"button", "link", "textbox", "radio", "checkbox", "combobox", "slider", "image", "DisclosureTriangle", "navigation", "timer"}
	tree := call(b, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	for _, node := range tree.Nodes {
		if node.Ignored || node.Role == nil {
			continue
		}
		role := axText(node.Role)
		if slices.Contains(roles, role) && strings.TrimSpace(axText(node.Name)) == "" && role != "timer" {
			faults = append(faults, fmt.Sprintf("a %s has no name (node %d)", role, node.BackendDOMNodeID))
		}
	}
	return faults
}

func axText(v *accessibility.Value) (text string) {
	if v == nil || json.Unmarshal(v.Value, &text) != nil {
		return ""
	}
	return text
}

// tabThrough presses the tab key through the page and lists where the focus
// cannot be seen, and what the key does not reach.
func (b *tab) tabThrough() (faults []string) {
	b.t.Helper()
	// Where what was focused is taken away, the next tab starts from its place.
	js[chromedp.Void](b, `(() => {
		const top = document.createElement("span");
		top.tabIndex = -1;
		document.body.prepend(top);
		top.focus();
		top.remove();
		scrollTo(0, 0);
	})()`)
	type focus struct {
		What string `json:"what"`
		Seen bool   `json:"seen"`
	}
	for range 400 {
		b.do(chromedp.KeyEvent(kb.Tab))
		at := js[*focus](b, focusScript)
		if at == nil {
			return append(faults, js[[]string](b, unvisitedScript)...)
		}
		if !at.Seen {
			faults = append(faults, "the focus is not seen at "+at.What)
		}
	}
	return append(faults, "the tab key finds no end")
}

// openAll opens everything that folds.
func (b *tab) openAll() {
	b.t.Helper()
	js[chromedp.Void](b, `document.querySelectorAll("details").forEach((d) => { d.open = true; })`)
}

// headings are the headings of the page, in order.
func (b *tab) headings() []string {
	b.t.Helper()
	return js[[]string](b, `[...document.querySelectorAll("h1, h2, h3, h4, h5, h6")].map((h) => h.localName + " " + h.textContent)`)
}

// scripts turns scripts of pages on or off for the pages opened next.
func (b *tab) scripts(on bool) {
	b.t.Helper()
	call(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !on})
}

const faultyPage = `<!doctype html><html><head><title>Faults</title></head><body style="background:#fff">
<h1>One</h1><h1>Two</h1><h3>Skipped</h3>
<img src="data:image/gif;base64,R0lGODlhAQABAAAAACw="><img src="/missing.png" alt="">
<svg width="10" height="10"></svg>
<p style="color:#aaa">Pale words</p><p style="opacity:.3">Faint words</p>
<div style="width:2000px">A wide box</div>
<button style="height:20px">Small</button><button></button><a href="#x" style="display:block;border:1px solid">Flat</a>
<input name="unnamed"><p id="twice"></p><p id="twice"></p><p aria-labelledby="nobody"></p>
<a href="#y" style="outline:none">no ring</a><a href="#z" tabindex="-1">unreachable</a>
<script>console.error("said"); undefinedFunction();</script>
</body></html>`

func TestAuditNoticesFaults(t *testing.T) {
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path != "/" {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Header().Set("Content-Security-Policy", "default-src 'none'; img-src 'self' data:; style-src 'unsafe-inline'; script-src 'unsafe-inline' 'report-sample'")
		fmt.Fprint(w, strings.Replace(faultyPage, "<body", `<script src="/blocked.js"></script><body`, 1))
	}))
	defer server.Close()
	b := newTab(t)
	b.look(390, "light")
	b.open(server.URL)
	found := strings.Join(append(b.audit(), b.tabThrough()...), "\n")
	for _, want := range []string{
		"exception", "console error", "security error", "/missing.png answered 404",
		"no language", "2 first headings", "skips a level", "“twice” stands twice", "“nobody”, which is not there",
		"an image has no alt", "an image did not load", "neither named nor hidden", "wide in a window of 390, because of <div> “A wide box”",
		"only 20 high: <button> “Small”", "high: <a> “Flat”", "contrast 2.32 of text", "of text in <p> “Faint words”",
		"a button has no name", "a textbox has no name", "focus is not seen at <a> “no ring”", "unreachable",
	} {
		if !strings.Contains(found, want) {
			t.Errorf("the audit did not notice %q; it found:\n%s", want, found)
		}
	}
}
