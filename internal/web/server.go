// Package web is the workbench: pages served on this machine only, for a
// spinner at a bench with a phone or a computer.
package web

import (
	"context"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"time"

	"waketwist/internal/journal"
	"waketwist/internal/picture"
)

// Config is what a workbench needs.
type Config struct {
	Store  journal.Store
	Photos *picture.Store
	Clock  func() time.Time // the time of day; time.Now outside tests
	Log    *slog.Logger
}

// bench is the workbench behind all pages.
type bench struct {
	Config
	pages  pages
	taught taught
}

// Handler returns the workbench as a handler, guarded: it answers only to names
// of this machine and refuses requests that other sites send.
func Handler(c Config) (http.Handler, error) {
	p, err := loadPages()
	if err != nil {
		return nil, err
	}
	b := &bench{Config: c, pages: p}
	return b.guard(b.routes()), nil
}

// Serve answers on a listener until ctx ends, then lets requests under way
// finish.
func Serve(ctx context.Context, l net.Listener, h http.Handler) error {
	server := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       2 * time.Minute, // a photograph over a slow wireless link
		WriteTimeout:      2 * time.Minute,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    64 << 10,
	}
	done := make(chan error, 1)
	go func() { done <- server.Serve(l) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	end, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	if err := server.Shutdown(end); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return nil
}
