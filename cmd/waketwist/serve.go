package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"os/exec"
	"path/filepath"
	"runtime"
	"time"

	"waketwist/internal/cli"
	"waketwist/internal/demo"
	"waketwist/internal/journal"
	"waketwist/internal/picture"
	"waketwist/internal/sqlite"
	"waketwist/internal/web"
)

// serve opens the journal and answers pages until ctx ends. Store and pages meet
// only here.
func serve(ctx context.Context, s cli.Serve) (err error) {
	held := sqlite.Holds(s.Data)
	store, err := sqlite.Open(ctx, s.Data, time.Now)
	if err != nil {
		return err
	}
	if !held {
		fmt.Fprintf(s.IO.Stderr, "A new journal was begun in %s\nWhere one of yours should be there, stop with Ctrl-C and see how the folder is spelt.\n", whole(s.Data))
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	photos, err := picture.OpenStore(filepath.Join(s.Data, "photographs"))
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", s.Addr)
	if err != nil {
		return fmt.Errorf("the workbench cannot listen at %s: is it running already? Stop that one, or choose another port with --addr 127.0.0.1:0", s.Addr)
	}
	if s.Demo {
		if err := firstStart(ctx, store, photos, s.IO.Stderr); err != nil {
			return errors.Join(err, listener.Close())
		}
	}
	handler, err := web.Handler(web.Config{Store: store, Photos: photos, Clock: time.Now, Log: slog.New(slog.NewTextHandler(s.IO.Stderr, nil))})
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	address := "http://" + listener.Addr().String()
	fmt.Fprintf(s.IO.Stdout, "The workbench is open at %s\nStop it with Ctrl-C; what is recorded is kept in %s\n", address, whole(s.Data))
	if s.Open {
		openBrowser(address)
	}
	return web.Serve(ctx, listener, handler)
}

// whole is the full path of a folder, so that one begun in the wrong place is
// found again.
func whole(folder string) string {
	if path, err := filepath.Abs(folder); err == nil {
		return path
	}
	return folder
}

// openJournal opens the journal for a command that only reads it, and begins
// none.
func openJournal(ctx context.Context, data string) (journal.Store, func() error, error) {
	if !sqlite.Holds(data) {
		return nil, nil, fmt.Errorf("no journal is to be found in %s; name the folder of yours with --data, or begin one there with “waketwist serve --data”", whole(data))
	}
	store, err := sqlite.Open(ctx, data, time.Now)
	if err != nil {
		return nil, nil, err
	}
	return store, store.Close, nil
}

// firstStart makes the demonstration in a journal that holds nothing yet.
func firstStart(ctx context.Context, store *sqlite.Store, photos *picture.Store, out io.Writer) error {
	projects, err := store.Projects(ctx)
	if err != nil || len(projects) > 0 {
		return err
	}
	fmt.Fprintln(out, "First start: making a demonstration project ...")
	return demo.Make(ctx, store, photos, time.Now())
}

// openBrowser shows the workbench. Without a browser the printed address is
// enough, so failing to start one is no trouble.
func openBrowser(address string) {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	cmd := exec.Command(name, args...)
	if cmd.Start() == nil {
		go cmd.Wait() // only to collect it
	}
}
