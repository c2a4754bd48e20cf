package sqlite

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"reflect"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"waketwist/internal/journal"
)

// The test binary runs itself again as another process: childRole says as what
// and childFolder in which folder.
const (
	childRole   = "WAKETWIST_TEST_ROLE"
	childFolder = "WAKETWIST_TEST_FOLDER"
)

var roles = map[string]func(folder string) error{
	"start":  startInChild,
	"append": appendInChild,
	"record": recordInChild,
}

func TestMain(m *testing.M) {
	role := os.Getenv(childRole)
	if role == "" {
		os.Exit(m.Run())
	}
	if err := roles[role](os.Getenv(childFolder)); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// child returns this program as another process, not yet started.
func child(t *testing.T, role, folder string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), childRole+"="+role, childFolder+"="+folder)
	return cmd
}

var dawn = time.Date(2026, 3, 1, 6, 30, 0, 0, time.UTC)

// ticking returns a clock that goes on by a second whenever it is read; its
// first time is a second after dawn.
func ticking() func() time.Time {
	var m sync.Mutex
	now := dawn
	return func() time.Time {
		m.Lock()
		defer m.Unlock()
		now = now.Add(time.Second)
		return now
	}
}

func tick(n int) time.Time { return dawn.Add(time.Duration(n) * time.Second) }

func openIn(t testing.TB, folder string, clock func() time.Time) *Store {
	t.Helper()
	s, err := Open(t.Context(), folder, clock)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

func openNew(t testing.TB) *Store {
	t.Helper()
	return openIn(t, t.TempDir(), ticking())
}

// must returns a function that passes a value on and ends the test on an error.
func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// kept compares records: numbers agree to 1e-9 of their size, times and texts
// exactly.
var kept = cmp.FilterValues(
	func(a, b any) bool { return isFloat(a) && isFloat(b) },
	cmp.Comparer(func(a, b any) bool {
		x, y := reflect.ValueOf(a).Float(), reflect.ValueOf(b).Float()
		return math.Abs(x-y) <= 1e-9*math.Max(math.Abs(x), math.Abs(y))
	}))

func isFloat(v any) bool {
	return v != nil && reflect.TypeOf(v).Kind() == reflect.Float64
}

func same(t testing.TB, want, got any) {
	t.Helper()
	if diff := cmp.Diff(want, got, kept); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func ptr[T any](v T) *T { return &v }

// checkSound asks SQLite whether the file is whole.
func checkSound(t *testing.T, s *Store) {
	t.Helper()
	var verdict string
	if err := s.reader.QueryRow(`PRAGMA integrity_check`).Scan(&verdict); err != nil || verdict != "ok" {
		t.Fatalf("integrity: %q, %v", verdict, err)
	}
	if n := count(t, s, `SELECT count(*) FROM pragma_foreign_key_check`); n != 0 {
		t.Fatalf("%d rows refer to rows that are not there", n)
	}
}

func count(t testing.TB, s *Store, query string, args ...any) (n int) {
	t.Helper()
	if err := s.reader.QueryRow(query, args...).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

// planted keeps a project with one bobbin and one sample, at ticks 1 to 3.
func planted(t testing.TB, s *Store) (project, bobbin, sample journal.ID) {
	t.Helper()
	keep := must[journal.ID](t)
	project = keep(s.AddProject(t.Context(), aProject()))
	bobbin = keep(s.AddBobbin(t.Context(), journal.Bobbin{Project: project, Name: "first"}))
	sample = keep(s.AddSample(t.Context(), rewet(bobbin)))
	return project, bobbin, sample
}

// plied keeps a project with one bobbin, a run that plies it and a skein of the
// run, at ticks 1 to 4.
func plied(t testing.TB, s *Store) (project, run, skein journal.ID) {
	t.Helper()
	keep := must[journal.ID](t)
	project = keep(s.AddProject(t.Context(), aProject()))
	bobbin := keep(s.AddBobbin(t.Context(), journal.Bobbin{Project: project, Name: "first"}))
	run = keep(s.AddRun(t.Context(), aRun(project, bobbin)))
	skein = keep(s.AddSkein(t.Context(), journal.Skein{Run: run, Name: "first skein"}))
	return project, run, skein
}
