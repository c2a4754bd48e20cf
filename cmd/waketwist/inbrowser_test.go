package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image/jpeg"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"waketwist/raster"
	"waketwist/reading"
	"waketwist/unit"
)

// TestReadingInBrowser compiles the reading core for the browser and holds that
// it reads photographs there as it does here. The last places may differ, since
// processors round their own exponentials and fuse multiplication with addition.
func TestReadingInBrowser(t *testing.T) {
	folder := inBrowser(t)
	server := httptest.NewServer(http.FileServer(http.Dir(folder)))
	defer server.Close()
	b := newTab(t)
	b.open(server.URL + "/page.html")
	js[bool](b, "started")
	for _, name := range []string{"dev_009.jpg", "dev_055.jpg", "dev_022.jpg"} {
		t.Run(name, func(t *testing.T) {
			file, err := os.ReadFile(filepath.Join("../../reading/testdata", name))
			if err != nil {
				t.Fatal(err)
			}
			put(t, folder, name, file)
			said := js[string](b, fmt.Sprintf(`fetch(%q).then(r => r.arrayBuffer()).then(a => read(new Uint8Array(a)))`, name))
			var got reading.Reading
			if err := json.Unmarshal([]byte(said), &got); err != nil {
				t.Fatalf("%v: %s", err, said)
			}
			near := func(a, b unit.Angle) bool { return math.Abs(float64(a-b)) < 1e-6 }
			if diff := cmp.Diff(readHere(t, file), got, cmp.Comparer(near), cmpopts.EquateApprox(1e-6, 1e-9), cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("here -, in the browser +:\n%s", diff)
			}
		})
	}
}

// inBrowser lays out a page with the reading core in a folder of its own.
func inBrowser(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	build := exec.Command("go", "build", "-o", filepath.Join(folder, "read.wasm"), "./testdata/inbrowser")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	glue, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib/wasm/wasm_exec.js"))
	if err != nil {
		t.Fatal(err)
	}
	put(t, folder, "wasm_exec.js", glue)
	put(t, folder, "page.html", []byte(`<!doctype html><title>reading</title><link rel="icon" href="data:,">
<script src="wasm_exec.js"></script>
<script>
const go = new Go();
const started = WebAssembly.instantiateStreaming(fetch("read.wasm"), go.importObject)
	.then(made => { go.run(made.instance); return true; });
</script>`))
	return folder
}

func put(t *testing.T, folder, name string, data []byte) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(folder, name), data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// readHere reads the photograph in this process.
func readHere(t *testing.T, file []byte) reading.Reading {
	t.Helper()
	photo, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	r := reading.Read(raster.NewPhoto(photo, 1), reading.Options{})
	if !r.Readable {
		t.Fatal("a photograph that can be read is refused")
	}
	return r
}
