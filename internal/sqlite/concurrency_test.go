package sqlite

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"waketwist/internal/journal"
)

func TestManyGoroutinesWrite(t *testing.T) {
	const writers, each = 8, 100
	s := openIn(t, t.TempDir(), time.Now)
	project, _, sample := planted(t, s)
	var all sync.WaitGroup
	for w := range writers {
		all.Go(func() {
			for i := range each {
				r := typed(sample)
				r.Note = fmt.Sprintf("%d of %d", i, w)
				if _, err := s.AddReading(t.Context(), r); err != nil {
					t.Errorf("writer %d, reading %d: %v", w, i, err)
				}
				if _, err := s.Project(t.Context(), project); err != nil {
					t.Errorf("writer %d, look %d: %v", w, i, err)
				}
			}
		})
	}
	all.Wait()
	notes := make(map[string]bool)
	for _, r := range must[*journal.Sample](t)(s.Sample(t.Context(), sample)).Readings {
		notes[r.Note] = true
	}
	if len(notes) != writers*each {
		t.Errorf("%d different readings, want %d", len(notes), writers*each)
	}
	checkSound(t, s)
}

// Exactly one of many may replace a reading.
func TestOneReplacesAReading(t *testing.T) {
	s := openNew(t)
	_, _, sample := planted(t, s)
	old := must[journal.ID](t)(s.AddReading(t.Context(), typed(sample)))
	codes := make(chan journal.Code, 8)
	for range cap(codes) {
		go func() {
			r := typed(sample)
			r.Supersedes = old
			_, err := s.AddReading(t.Context(), r)
			codes <- journal.CodeOf(err)
		}()
	}
	tally := make(map[journal.Code]int)
	for range cap(codes) {
		tally[<-codes]++
	}
	same(t, map[journal.Code]int{0: 1, journal.Conflict: cap(codes) - 1}, tally)
}

const perProcess = 60

// appendInChild adds readings to the first sample of a journal.
func appendInChild(folder string) error {
	s, err := Open(context.Background(), folder, time.Now)
	if err != nil {
		return err
	}
	for range perProcess {
		if _, err := s.AddReading(context.Background(), typed(1)); err != nil {
			return err
		}
	}
	return s.Close()
}

func TestProcessesShareAJournal(t *testing.T) {
	const processes = 2
	folder := t.TempDir()
	s := openIn(t, folder, time.Now)
	_, _, sample := planted(t, s)
	wait := startAll(t, processes, "append", folder)
	for range perProcess {
		must[journal.ID](t)(s.AddReading(t.Context(), typed(sample)))
	}
	wait()
	if n := len(must[*journal.Sample](t)(s.Sample(t.Context(), sample)).Readings); n != perProcess*(processes+1) {
		t.Errorf("%d readings, want %d", n, perProcess*(processes+1))
	}
	checkSound(t, s)
}

// startInChild opens a journal that may not be there yet and adds a project.
func startInChild(folder string) error {
	s, err := Open(context.Background(), folder, time.Now)
	if err != nil {
		return err
	}
	if _, err := s.AddProject(context.Background(), aProject()); err != nil {
		return err
	}
	return s.Close()
}

func TestProcessesStartAJournalTogether(t *testing.T) {
	const processes = 4
	for range 3 {
		folder := filepath.Join(t.TempDir(), "new")
		startAll(t, processes, "start", folder)()
		s := openIn(t, folder, time.Now)
		if n := len(must[[]journal.Project](t)(s.Projects(t.Context()))); n != processes {
			t.Errorf("%d projects, want %d", n, processes)
		}
		checkSound(t, s)
	}
}

// startAll starts several children and returns a function that waits for them.
func startAll(t *testing.T, processes int, role, folder string) (wait func()) {
	t.Helper()
	var waits []func()
	for range processes {
		cmd := child(t, role, folder)
		var said bytes.Buffer
		cmd.Stderr = &said
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		waits = append(waits, func() {
			if err := cmd.Wait(); err != nil {
				t.Errorf("another process: %v: %s", err, said.String())
			}
		})
	}
	return func() {
		for _, wait := range waits {
			wait()
		}
	}
}
