package web

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"path"
	"sort"
	"strings"
	"time"

	"waketwist/internal/journal"
	"waketwist/unit"
)

// The pages: one folder each with its template, style and script side by side.
//
//go:embed page
var pageFiles embed.FS

// pages are the templates and what they load.
type pages struct {
	templates map[string]*template.Template
	assets    assets
}

// assets are the styles and scripts by name, each under a name that carries a
// hash of its content, so that browsers may keep them.
type assets struct {
	byName map[string]string // wake.js -> wake.3f2a91c0.js
	files  map[string][]byte
}

// loadPages parses all templates. Styles of all pages make one file, in the
// order of their folders with the layout first; scripts stay apart.
func loadPages() (pages, error) {
	p := pages{templates: map[string]*template.Template{}, assets: assets{map[string]string{}, map[string][]byte{}}}
	if err := p.assets.load(); err != nil {
		return p, err
	}
	shared, err := template.New("").Funcs(p.functions()).ParseFS(pageFiles, "page/layout/*.tmpl")
	if err != nil {
		return p, err
	}
	files, err := fs.Glob(pageFiles, "page/*/*.tmpl")
	if err != nil {
		return p, err
	}
	for _, file := range files {
		name := path.Base(path.Dir(file))
		if name == "layout" || p.templates[name] != nil {
			continue
		}
		own, err := shared.Clone()
		if err != nil {
			return p, err
		}
		if p.templates[name], err = own.ParseFS(pageFiles, "page/"+name+"/*.tmpl"); err != nil {
			return p, fmt.Errorf("page %s: %w", name, err)
		}
	}
	return p, nil
}

func (a *assets) load() error {
	files, err := fs.Glob(pageFiles, "page/*/*.*")
	if err != nil {
		return err
	}
	sort.Slice(files, func(i, j int) bool {
		li, lj := strings.HasPrefix(files[i], "page/layout/"), strings.HasPrefix(files[j], "page/layout/")
		if li != lj {
			return li
		}
		return files[i] < files[j]
	})
	var style bytes.Buffer
	for _, file := range files {
		data, err := pageFiles.ReadFile(file)
		if err != nil {
			return err
		}
		switch path.Ext(file) {
		case ".css":
			style.Write(data)
		case ".js", ".svg":
			a.add(path.Base(file), data)
		}
	}
	a.add("workbench.css", style.Bytes())
	return nil
}

func (a *assets) add(name string, data []byte) {
	sum := sha256.Sum256(data)
	ext := path.Ext(name)
	hashed := strings.TrimSuffix(name, ext) + "." + hex.EncodeToString(sum[:4]) + ext
	a.byName[name] = hashed
	a.files[hashed] = data
}

var mediaTypes = map[string]string{
	".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml",
}

// ServeHTTP sends an asset.
func (a assets) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	data, ok := a.files[r.PathValue("name")]
	if !ok {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", mediaTypes[path.Ext(r.PathValue("name"))])
	w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	w.Write(data) // a reader that left needs no answer
}

// frame is what the layout shows around a page.
type frame struct {
	Title string
	Page  string // name of the page, for its script and for the navigation
	Body  any
}

// show answers with a page. It is built whole before the first byte is sent, so
// that a failing template never leaves half a page.
func (b *bench) show(w http.ResponseWriter, r *http.Request, status int, name, title string, body any) error {
	t := b.pages.templates[name]
	if t == nil {
		return fmt.Errorf("there is no page %q", name)
	}
	var out bytes.Buffer
	if err := t.ExecuteTemplate(&out, "layout", frame{title, name, body}); err != nil {
		return fmt.Errorf("page %s: %w", name, err)
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	if r.Method != http.MethodHead {
		w.Write(out.Bytes()) // a reader that left needs no answer
	}
	return nil
}

// functions are what templates may call.
func (p *pages) functions() template.FuncMap {
	return template.FuncMap{
		"asset": func(name string) (string, error) {
			hashed, ok := p.assets.byName[name]
			if !ok {
				return "", fmt.Errorf("there is no asset %q", name)
			}
			return "/assets/" + hashed, nil
		},
		"has":       func(name string) bool { _, ok := p.assets.byName[name]; return ok },
		"words":     func(words ...string) []string { return words },
		"inc":       func(i int) int { return i + 1 },
		"whole":     func(v *float64) string { return fmt.Sprintf("%.0f", *v) },
		"day":       day,
		"prepared":  preparedWords,
		"took":      func(d *time.Duration) string { return unit.FormatDuration(*d) },
		"reads":     readsOf,
		"checkform": func(action string, states []stateChoice, f *form) checkForm { return checkForm{action, states, f} },
		"gear":      func(v machineView, f *form, any string) gearForm { return gearForm{v, f, any} },
		"seen":      func(v machineView, f *form) gearForm { return gearForm{machineView: v, Form: f} },
		"tallied":   func(machine journal.ID, g gearView) talliedView { return talliedView{g, machine} },
		"strike":    strikeOf,
		"both":      func(r *resultView, v wakeView) resultPage { return resultPage{r, v} },
	}
}

// preparedWords names a preparation for a spinner.
func preparedWords(key string) string {
	switch key {
	case "unknown":
		return "not known"
	case "semi":
		return "between worsted and woollen"
	}
	return key
}
