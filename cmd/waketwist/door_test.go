package main

import (
	"bytes"
	"io"
	"net"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"
)

// oneSample is a workbench with a bobbin whose dry sample waits to be read; it
// returns the address at which readings are taken.
func oneSample(t *testing.T) (w *workbench, bobbin, reading string) {
	t.Helper()
	w = startWorkbench(t, t.TempDir(), false)
	p := w.newProject("name", "Door", "strands", "2")
	bobbin = w.newBobbin(p, "name", "Wren", "direction", "Z")
	w.must(w.post(bobbin+"/cut", "depth", "0"))
	return w, bobbin, w.sample(p, bobbin) + "/reading"
}

func TestDoorNames(t *testing.T) {
	t.Parallel()
	w, _, _ := oneSample(t)
	port := w.address[strings.LastIndex(w.address, ":"):]
	for host, want := range map[string]int{
		"127.0.0.1" + port: 200, "localhost" + port: 200, "LOCALHOST" + port: 200, "[::1]" + port: 200, "localhost": 200,
		"spinning.example" + port: 421, "127.0.0.1.spinning.example" + port: 421, "localhost.spinning.example": 421,
		"192.168.1.20" + port: 421, "0.0.0.0" + port: 421,
	} {
		for _, path := range []string{"/", "/yarn.png?n=2&deg=30&d=S&state=rewet&w=1", "/nowhere"} {
			req := w.request(http.MethodGet, path, nil)
			req.Host = host
			a := w.send(req)
			if want == 421 && a.status != 421 || want == 200 && a.status == 421 {
				t.Errorf("%s asked of %q is answered with %d", path, host, a.status)
			}
		}
	}
}

func TestDoorOtherSites(t *testing.T) {
	t.Parallel()
	w, bobbin, _ := oneSample(t)
	form := url.Values{"name": {"From elsewhere"}, "strands": {"2"}}.Encode()
	for _, tt := range []struct {
		name, header, value string
		want                int
	}{
		{"another site", "Sec-Fetch-Site", "cross-site", 403},
		{"another port of this machine", "Sec-Fetch-Site", "same-site", 403},
		{"another origin", "Origin", "http://spinning.example", 403},
		{"no origin that can be named", "Origin", "null", 403},
		{"another port as origin", "Origin", "http://127.0.0.1:1", 403},
		{"the workbench", "Sec-Fetch-Site", "same-origin", 303},
		{"the workbench as origin", "Origin", w.address, 303},
		{"no browser", "Accept", "*/*", 303},
	} {
		t.Run(tt.name, func(t *testing.T) {
			before := strings.Count(w.get("/").body, "From elsewhere")
			req := w.request(http.MethodPost, "/project/new", strings.NewReader(form))
			req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			req.Header.Set(tt.header, tt.value)
			if a := w.send(req); a.status != tt.want {
				t.Errorf("a form is answered with %d, want %d", a.status, tt.want)
			}
			added := strings.Count(w.get("/").body, "From elsewhere") - before
			if (added > 0) != (tt.want == 303) {
				t.Errorf("%d was answered, and %d projects were added", tt.want, added)
			}
		})
	}
	req := w.request(http.MethodPost, bobbin+"/cut", nil)
	req.Header.Set("Sec-Fetch-Site", "cross-site")
	if a := w.send(req); a.status != 403 || !strings.Contains(a.body, "another site") {
		t.Errorf("an empty form from another site is answered with %d and\n%s", a.status, a.body)
	}
}

func TestDoorHeaders(t *testing.T) {
	t.Parallel()
	w, bobbin, reading := oneSample(t)
	photo := number(t, `href="(/photo/[0-9a-f]{64})`, w.get(w.must(w.upload(reading, "dry.jpg", photograph(t, dryPhoto)))).body)
	asset := number(t, `href="(/assets/[^"]+\.css)"`, w.get("/").body)
	foreign := w.request(http.MethodGet, "/", nil)
	foreign.Host = "spinning.example"
	for name, a := range map[string]answer{
		"page": w.get("/"), "photograph": w.get(photo), "asset": w.get(asset), "no asset": w.get("/assets/none.css"),
		"drawing": w.get("/yarn.png?n=2&deg=30&d=S&state=rewet&w=1"), "no page": w.get("/nowhere"), "redirect": w.post(bobbin+"/cut", "depth", "0"),
		"refusal": w.post("/project/new", "name", ""), "foreign name": w.send(foreign), "method": w.send(w.request(http.MethodDelete, "/", nil)),
	} {
		policy := a.header.Get("Content-Security-Policy")
		for _, want := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "form-action 'self'", "base-uri 'none'", "frame-ancestors 'none'"} {
			if !strings.Contains(policy, want) {
				t.Errorf("%s: the policy %q lacks %s", name, policy, want)
			}
		}
		if strings.Contains(policy, "unsafe") {
			t.Errorf("%s: the policy %q lets unsafe things in", name, policy)
		}
		if got := a.header.Get("X-Content-Type-Options"); got != "nosniff" {
			t.Errorf("%s: X-Content-Type-Options is %q", name, got)
		}
		if a.body != "" && a.header.Get("Content-Type") == "" {
			t.Errorf("%s has no content type", name)
		}
		if got := a.header.Get("Server"); got != "" {
			t.Errorf("%s names its server %q", name, got)
		}
	}
}

func TestDoorPaths(t *testing.T) {
	t.Parallel()
	w, bobbin, reading := oneSample(t)
	none := strings.Repeat("0", 64)
	for _, tt := range []struct {
		method, path string
		want         int
	}{
		{"GET", "/nowhere", 404},
		{"GET", "/project", 404},
		{"GET", "/project/", 404},
		{"GET", "/project/0", 404},
		{"GET", "/project/-1", 404},
		{"GET", "/project/999", 404},
		{"GET", "/project/1e3", 404},
		{"GET", "/project/99999999999999999999", 404},
		{"GET", "/project/1'%20OR%20'1'='1", 404},
		{"GET", "/project/999/wake", 404},
		{"GET", "/project/1/wake?bobbin=999", 404},
		{"GET", "/bobbin/999", 404},
		{"GET", "/bobbin/%00", 404},
		{"GET", "/reading/999", 404},
		{"POST", "/reading/999/line", 404},
		{"POST", "/reading/999/strike", 404},
		{"POST", "/sample/999/soaked", 404},
		{"POST", "/bobbin/999/cut", 404},
		{"GET", "/photo/" + none, 404},
		{"GET", "/photo/abc", 404},
		{"GET", "/photo/" + none + "/../../journal.db", 404},
		{"GET", "/photo/..%2f..%2fjournal.db", 404},
		{"GET", "/photo/..%5c..%5cjournal.db", 404},
		{"GET", "/photo/%2e%2e/%2e%2e/etc/passwd", 404},
		{"GET", "/read/" + none, 404},
		{"GET", "/read/..%2fx", 404},
		{"GET", "/assets/", 404},
		{"GET", "/assets/workbench.css", 404},
		{"GET", "/assets/..%2f..%2fgo.mod", 404},
		{"GET", "/assets/../../etc/passwd", 404},
		{"GET", "/assets/..%2fpage%2fbench%2fbench.tmpl", 404},
		{"GET", "//spinning.example/", 404},
		{"GET", "/yarn.png", 422},
		{"GET", "/yarn.png?n=9&deg=30&d=S&w=1", 422},
		{"GET", "/yarn.png?n=2&deg=NaN&d=S&w=1", 422},
		{"GET", "/yarn.png?n=2&deg=30&d=S&w=1e9", 422},
		{"POST", "/", 405},
		{"PUT", "/project/1", 405},
		{"DELETE", bobbin, 405},
		{"PATCH", reading, 405},
		{"POST", "/help", 405},
		{"POST", "/assets/workbench.css", 405},
		{"TRACE", "/", 405},
		{"HEAD", "/", 200},
	} {
		a := w.send(w.rawRequest(tt.method, tt.path))
		for hops := 0; a.status/100 == 3 && hops < 3; hops++ { // cleaning the path is a redirect
			a = w.send(w.rawRequest(tt.method, a.header.Get("Location")))
		}
		if a.status != tt.want {
			t.Errorf("%s %s is answered with %d, want %d", tt.method, tt.path, a.status, tt.want)
		}
		for _, leak := range []string{"root:", "module waketwist", "{{define", "SQLite format", "goroutine"} {
			if strings.Contains(a.body, leak) {
				t.Errorf("%s %s lets out %q", tt.method, tt.path, leak)
			}
		}
	}
}

// rawRequest asks for a path exactly as written.
func (w *workbench) rawRequest(method, path string) *http.Request {
	w.t.Helper()
	req := w.request(method, "/", nil)
	req.URL.Opaque = "//" + req.URL.Host + path
	if strings.HasPrefix(path, "http://") {
		w.t.Fatalf("led to %s", path)
	}
	return req
}

func TestDoorBodies(t *testing.T) {
	t.Parallel()
	w, bobbin, reading := oneSample(t)
	const formKind, upload = "application/x-www-form-urlencoded", "multipart/form-data; boundary=b"
	part := "--b\r\nContent-Disposition: form-data; name=\"angles\"\r\n\r\n"
	file := "--b\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"a.jpg\"\r\n\r\n"
	for _, tt := range []struct {
		name, path, kind string
		body             io.Reader
		want             int
	}{
		{"long form", "/project/new", formKind, strings.NewReader("name=" + strings.Repeat("a", 300<<10)), 413},
		{"long form where none is needed", bobbin + "/cut", formKind, endless(1 << 20), 413},
		{"far too long field", reading, upload, io.MultiReader(strings.NewReader(part), endless(30<<20)), 413},
		{"far too large photographs", reading, upload, io.MultiReader(strings.NewReader(file), endless(90<<20)), 413},
		{"form of no encoding", "/project/new", formKind, strings.NewReader("name=%zz"), 400},
		{"no multipart form", reading, formKind, strings.NewReader("angles=20"), 400},
		{"no boundary", reading, "multipart/form-data", strings.NewReader(part), 400},
		{"cut off in a part", reading, upload, strings.NewReader(part + "20"), 400},
		{"cut off in the headers", reading, upload, strings.NewReader(part[:30]), 422}, // the same as a form with nothing in it
		{"rubbish", reading, upload, strings.NewReader("rubbish"), 400},
		{"empty", reading, upload, strings.NewReader(""), 400},
		{"very many fields", reading, upload, strings.NewReader(strings.Repeat(part+"1\r\n", 5000) + "--b--\r\n"), 413},
	} {
		t.Run(tt.name, func(t *testing.T) {
			req := w.request(http.MethodPost, tt.path, tt.body)
			req.Header.Set("Content-Type", tt.kind)
			a := w.send(req)
			if a.status != tt.want || !strings.Contains(a.body, "<h1>") {
				t.Errorf("answered with %d and %.200q, want %d and a page", a.status, a.body, tt.want)
			}
		})
	}
	if all := readingsOf(t, w.get(bobbin).body); len(all) != 0 {
		t.Errorf("forms that were refused left the readings %q", all)
	}
}

// endless is that many letters.
func endless(n int64) io.Reader { return io.LimitReader(letters{}, n) }

type letters struct{}

func (letters) Read(p []byte) (int, error) {
	copy(p, bytes.Repeat([]byte("a"), len(p)))
	return len(p), nil
}

func TestDoorSlowClient(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	conn, err := net.Dial("tcp", strings.TrimPrefix(w.address, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	start := time.Now()
	gone := make(chan struct{})
	go func() {
		io.Copy(io.Discard, conn) // until the server closes it
		close(gone)
	}()
	io.WriteString(conn, "GET / HTTP/1.1\r\nHost: localhost\r\n")
	for i := range 40 { // a header every fifth of a second
		select {
		case <-gone:
			if waited := time.Since(start); waited < 2*time.Second {
				t.Errorf("cut off after %v, which an honest client may need", waited)
			}
			return
		case <-time.After(200 * time.Millisecond):
			io.WriteString(conn, "X-Drip: "+strings.Repeat("x", i)+"\r\n")
		}
	}
	t.Errorf("after %v the connection is still open", time.Since(start))
}
