package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

var shots = flag.String("shots", "", "write a picture of every page at every width and scheme into this `folder`")

func TestMain(m *testing.M) {
	code := m.Run()
	closeBrowser()
	os.Exit(code)
}

var closeBrowser = func() {}

// browser is the one Chromium that all tests share, each in its own tab.
var browser = sync.OnceValues(func() (context.Context, error) {
	path, err := chromium()
	if err != nil {
		return nil, err
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		// A page that is kept alive for going back tells nothing when it returns.
		chromedp.Flag("disable-features", "Translate,BlinkGenPropertyTrees,BackForwardCache"),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	outer, stop := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, cancel := chromedp.NewContext(outer)
	closeBrowser = func() { cancel(); stop() }
	return ctx, chromedp.Do(ctx)
})

// chromium finds the browser.
func chromium() (string, error) {
	if path := os.Getenv("CHROMIUM"); path != "" {
		return path, nil
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errors.New("these tests need Chromium: install it (on Debian: apt-get install chromium) or name it in $CHROMIUM")
}

// tab is a page of the browser with everything that went wrong in it.
type tab struct {
	t       testing.TB
	ctx     context.Context
	mu      sync.Mutex
	trouble []string
	status  int64 // of the document shown last
	posts   []string
}

func newTab(t testing.TB) *tab {
	t.Helper()
	shared, err := browser()
	if err != nil {
		t.Fatal(err)
	}
	b := &tab{t: t}
	ctx, cancel := chromedp.NewContext(shared, chromedp.WithListener(b.listen))
	t.Cleanup(cancel)
	b.ctx = ctx
	if err := chromedp.Do(ctx); err != nil { // opens the tab for as long as the test lasts
		t.Fatal(err)
	}
	b.look(1280, "light")
	return b
}

// listen notes what a page complained of and what it could not load.
func (b *tab) listen(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		b.note("exception: %s %s", e.ExceptionDetails.Text, description(e.ExceptionDetails.Exception))
	case *runtime.EventConsoleAPICalled:
		if e.Type == "error" || e.Type == "warning" || e.Type == "assert" {
			b.note("console %s", e.Type)
		}
	case *log.EventEntryAdded:
		// Answers with an error status are judged where they arrive.
		if e.Entry.Source != log.EntrySourceNetwork {
			b.note("%s %s: %s", e.Entry.Source, e.Entry.Level, e.Entry.Text)
		}
	case *network.EventLoadingFailed:
		if !e.Canceled || e.BlockedReason != "" {
			b.note("failed to load a %s: %s %s", e.Type, e.ErrorText, e.BlockedReason)
		}
	case *network.EventRequestWillBeSent:
		if e.Request.Method == http.MethodPost {
			b.posts = append(b.posts, e.Request.URL)
		}
	case *network.EventResponseReceived:
		if e.Type == network.ResourceTypeDocument {
			b.status = e.Response.Status
		} else if e.Response.Status >= 400 {
			b.note("%s answered %d", e.Response.URL, e.Response.Status)
		}
	}
}

func description(o *runtime.RemoteObject) string {
	if o == nil {
		return ""
	}
	return o.Description
}

func (b *tab) note(format string, args ...any) {
	b.trouble = append(b.trouble, fmt.Sprintf(format, args...))
}

// troubles returns what went wrong since it was last asked.
func (b *tab) troubles() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	found := b.trouble
	b.trouble = nil
	return found
}

func (b *tab) lastStatus() int64 {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.status
}

func (b *tab) postsSent() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return slices.Clone(b.posts)
}

// patience is how long one step in the browser may take.
const patience = 40 * time.Second

// do takes steps in the tab, or stops the test.
func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.t.Fatalf("%v\n%s", err, strings.Join(b.troubles(), "\n"))
	}
}

// open goes to an address and returns the status it answered with.
func (b *tab) open(address string) int64 {
	b.t.Helper()
	b.do(chromedp.Navigate(address))
	return b.lastStatus()
}

// arrive takes steps that lead to another page and waits for it to load; it
// returns the page's status.
func (b *tab) arrive(steps ...chromedp.Action[chromedp.Void]) int64 {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	if _, err := chromedp.RunResponse(ctx, steps...); err != nil {
		b.t.Fatalf("%v\n%s", err, strings.Join(b.troubles(), "\n"))
	}
	return b.lastStatus()
}

// js evaluates an expression in the page.
func js[T any](b *tab, expression string) T {
	b.t.Helper()
	return run(b, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// run takes a step that yields a value.
func run[T any](b *tab, step chromedp.Action[T]) T {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, step)
	if err != nil {
		b.t.Fatalf("%v\n%s", err, strings.Join(b.troubles(), "\n"))
	}
	return v
}

// call sends the browser a command.
func call[P, R any](b *tab, command cdp.Command[P, R], params P) R {
	b.t.Helper()
	return run(b, func(ctx context.Context, target *chromedp.Target) (R, error) {
		return cdp.Call(ctx, target, command, params)
	})
}

// look sets the width of the window in CSS pixels, and light or dark.
func (b *tab) look(width int64, scheme string) {
	b.t.Helper()
	height := int64(844)
	if width > 800 {
		height = 900
	}
	call(b, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: width, Height: height, DeviceScaleFactor: 1})
	call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	})
}
