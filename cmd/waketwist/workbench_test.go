package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"waketwist/internal/cli"
)

// photographs are the test pictures of package reading, whose true angles its
// truth.csv holds.
const photographs = "../../reading/testdata"

// workbench is the serve command over a folder, at a free port.
type workbench struct {
	t       testing.TB
	address string
	folder  string
	log     *lockedBuffer
	end     func()
}

// startWorkbench runs serve until the test ends or end is called. A request
// that failed inside the program fails the test.
func startWorkbench(t testing.TB, folder string, demo bool) *workbench {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	out, in := io.Pipe()
	log := new(lockedBuffer)
	done := make(chan error, 1)
	go func() {
		err := serve(ctx, cli.Serve{
			Addr: "127.0.0.1:0", Data: folder, Demo: demo,
			IO: cli.IO{Stdin: strings.NewReader(""), Stdout: in, Stderr: log, Getenv: os.Getenv},
		})
		in.CloseWithError(fmt.Errorf("serve ended: %w", err))
		done <- err
	}()
	w := &workbench{t: t, folder: folder, log: log, address: addressPrinted(t, out)}
	w.end = sync.OnceFunc(func() {
		cancel()
		if err := <-done; err != nil {
			t.Errorf("serve ended with: %v", err)
		}
		if s := log.String(); strings.Contains(s, "level=ERROR") {
			t.Errorf("serve logged:\n%s", s)
		}
	})
	t.Cleanup(func() { w.end() })
	return w
}

var printedAddress = regexp.MustCompile(`http://[0-9.]+:[0-9]+`)

// addressPrinted reads where a workbench says that it is open, and drops what
// it prints afterwards.
func addressPrinted(t testing.TB, out io.Reader) string {
	t.Helper()
	lines := bufio.NewReader(out)
	first, err := lines.ReadString('\n')
	address := printedAddress.FindString(first)
	if address == "" {
		t.Fatalf("the workbench printed %q (%v), want its address", first, err)
	}
	go io.Copy(io.Discard, lines)
	return address
}

// again stops the workbench and starts it once more over the same folder.
func (w *workbench) again() *workbench {
	w.t.Helper()
	w.end()
	return startWorkbench(w.t, w.folder, false)
}

// lockedBuffer is a buffer that a server writes while a test reads.
type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (b *lockedBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.Write(p)
}

func (b *lockedBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.String()
}

// answer is what came back from the workbench, with redirects not followed.
type answer struct {
	status int
	header http.Header
	body   string
}

var plainClient = &http.Client{
	Timeout:       60 * time.Second,
	CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
}

// send sends a request as it is.
func (w *workbench) send(req *http.Request) answer {
	w.t.Helper()
	resp, err := plainClient.Do(req)
	if err != nil {
		w.t.Fatalf("%s %s: %v", req.Method, req.URL.Path, err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		w.t.Fatalf("%s %s: %v", req.Method, req.URL.Path, err)
	}
	return answer{resp.StatusCode, resp.Header, string(body)}
}

func (w *workbench) request(method, path string, body io.Reader) *http.Request {
	w.t.Helper()
	req, err := http.NewRequest(method, w.address+path, body)
	if err != nil {
		w.t.Fatal(err)
	}
	return req
}

func (w *workbench) get(path string) answer {
	w.t.Helper()
	return w.send(w.request(http.MethodGet, path, nil))
}

// post sends a form without files: name, value, name, value.
func (w *workbench) post(path string, fields ...string) answer {
	w.t.Helper()
	values := url.Values{}
	for i := 0; i < len(fields); i += 2 {
		values.Add(fields[i], fields[i+1])
	}
	req := w.request(http.MethodPost, path, strings.NewReader(values.Encode()))
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return w.send(req)
}

// upload sends a form with one photograph and other fields; an empty name
// leaves the photograph out.
func (w *workbench) upload(path, name string, photo []byte, fields ...string) answer {
	w.t.Helper()
	body, kind := multipartForm(w.t, name, photo, fields...)
	req := w.request(http.MethodPost, path, bytes.NewReader(body))
	req.Header.Set("Content-Type", kind)
	return w.send(req)
}

func multipartForm(t testing.TB, name string, photo []byte, fields ...string) (body []byte, contentType string) {
	t.Helper()
	var out bytes.Buffer
	form := multipart.NewWriter(&out)
	for i := 0; i < len(fields); i += 2 {
		form.WriteField(fields[i], fields[i+1])
	}
	if name != "" {
		part, err := form.CreateFormFile("photo", name)
		if err != nil {
			t.Fatal(err)
		}
		part.Write(photo)
	}
	form.Close() // a buffer takes everything
	return out.Bytes(), form.FormDataContentType()
}

// must stops the test unless a form was taken, and returns where it leads to.
func (w *workbench) must(a answer) string {
	w.t.Helper()
	if a.status != http.StatusSeeOther {
		w.t.Fatalf("the form was answered with %d, want 303:\n%s", a.status, a.body)
	}
	return a.header.Get("Location")
}

func photograph(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(photographs, name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// number returns the first group of a pattern in a text.
func number(t testing.TB, pattern, text string) string {
	t.Helper()
	found := regexp.MustCompile(pattern).FindStringSubmatch(text)
	if found == nil {
		t.Fatalf("nothing matches %s in:\n%s", pattern, text)
	}
	return found[1]
}
