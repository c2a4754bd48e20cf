package sqlite

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"waketwist/internal/journal"
	"waketwist/unit"
)

// What the recording process writes follows from a number that stands in its
// notes, so that any record, acknowledged or not, can be told to be whole.

func bobbinOf(n int) journal.Bobbin {
	b := fullBobbin(1)
	b.Note, b.Diameter = strconv.Itoa(n), ptr(unit.Length(1+n%40)*0.1*unit.Millimetre)
	return b
}

func sampleOf(n int, bobbin journal.ID) journal.Sample {
	s := rewet(bobbin)
	s.Note, s.AgeHours = strconv.Itoa(n), ptr(float64(n))
	return s
}

func readingOf(n int, sample journal.ID) journal.Reading {
	r := photographed(sample)
	r.Note, r.Angle = strconv.Itoa(n), unit.Angle(1+n%70)*unit.Degree
	if n%4 == 0 { // of many pages, so that the kill often falls between them
		r.Trace = `"` + strings.Repeat(strconv.Itoa(n%10), 400_000) + `"`
	}
	return r
}

func reasonFor(id journal.ID) string { return fmt.Sprintf("reading %d slipped", id) }

// recordInChild records without end. It prints a line for each record after the
// store has acknowledged it.
func recordInChild(folder string) error {
	s, err := Open(context.Background(), folder, time.Now)
	if err != nil {
		return err
	}
	for n := rand.IntN(1e6); ; n++ {
		if err := recordOnce(s, n); err != nil {
			return err
		}
	}
}

func recordOnce(s *Store, n int) error {
	ctx := context.Background()
	bobbin, err := s.AddBobbin(ctx, bobbinOf(n))
	if err := acknowledge("bobbin", bobbin, err); err != nil {
		return err
	}
	sample, err := s.AddSample(ctx, sampleOf(n, bobbin))
	if err := acknowledge("sample", sample, err); err != nil {
		return err
	}
	var last journal.ID
	for i := range 4 {
		r := readingOf(n+i, sample)
		r.Supersedes = last
		last, err = s.AddReading(ctx, r)
		if err := acknowledge("reading", last, err); err != nil {
			return err
		}
	}
	return acknowledge("strike", last, s.StrikeReading(ctx, last, reasonFor(last)))
}

func acknowledge(kind string, id journal.ID, err error) error {
	if err == nil {
		_, err = fmt.Println(kind, id)
	}
	return err
}

// acknowledged is what a process has said to be kept.
type acknowledged struct {
	kind string
	id   journal.ID
}

func TestKilledWhileWriting(t *testing.T) {
	const rounds = 30
	folder := t.TempDir()
	first := must[*Store](t)(Open(t.Context(), folder, time.Now))
	must[journal.ID](t)(first.AddProject(t.Context(), aProject()))
	if err := first.Close(); err != nil {
		t.Fatal(err)
	}
	var acks []acknowledged
	for round := range rounds {
		acks = append(acks, recordAndKill(t, folder)...)
		s, err := Open(t.Context(), folder, time.Now)
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		checkSound(t, s)
		checkAcknowledged(t, wholeRecords(t, s), acks)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		if t.Failed() {
			t.Fatalf("after round %d", round)
		}
	}
	t.Logf("%d records acknowledged in %d rounds", len(acks), rounds)
}

func TestKilledWhileStarting(t *testing.T) {
	for range 15 {
		folder := t.TempDir()
		cmd := child(t, "start", folder)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(rand.N(60 * time.Millisecond))
		_ = cmd.Process.Kill() // it may have ended
		_ = cmd.Wait()
		s := openIn(t, folder, time.Now)
		must[journal.ID](t)(s.AddProject(t.Context(), aProject()))
		checkSound(t, s)
	}
}

// recordAndKill lets another process record until a random moment.
func recordAndKill(t *testing.T, folder string) []acknowledged {
	t.Helper()
	cmd := child(t, "record", folder)
	var said strings.Builder
	cmd.Stderr = &said
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(out)
	var acks []acknowledged
	for {
		ack, err := readAck(lines)
		if err != nil {
			break // a line that was cut off acknowledges nothing
		}
		if acks = append(acks, ack); len(acks) == 1 {
			time.AfterFunc(rand.N(100*time.Millisecond), func() { _ = cmd.Process.Kill() })
		}
	}
	var exit *exec.ExitError
	if err := cmd.Wait(); !errors.As(err, &exit) || exit.Exited() {
		t.Fatalf("the recording process ended by itself: %v: %s", err, said.String())
	}
	return acks
}

func readAck(lines *bufio.Reader) (ack acknowledged, err error) {
	line, err := lines.ReadString('\n')
	if err != nil {
		return ack, err
	}
	_, err = fmt.Sscan(line, &ack.kind, &ack.id)
	return ack, err
}

// wholeRecords returns what the journal holds. Everything in it must be whole,
// acknowledged or not.
func wholeRecords(t *testing.T, s *Store) map[acknowledged]bool {
	t.Helper()
	found := make(map[acknowledged]bool)
	for _, b := range must[*journal.Project](t)(s.Project(t.Context(), 1)).Bobbins {
		found[acknowledged{"bobbin", b.ID}] = true
		checkWhole(t, bobbinOf(numberIn(t, b.Note)), b)
		for _, sample := range b.Samples {
			found[acknowledged{"sample", sample.ID}] = true
			checkWhole(t, sampleOf(numberIn(t, sample.Note), b.ID), sample)
			for _, r := range sample.Readings {
				found[acknowledged{"reading", r.ID}] = true
				checkWhole(t, readingOf(numberIn(t, r.Note), sample.ID), r)
				if r.Struck == reasonFor(r.ID) {
					found[acknowledged{"strike", r.ID}] = true
				}
			}
		}
	}
	return found
}

func numberIn(t *testing.T, note string) int {
	t.Helper()
	return must[int](t)(strconv.Atoi(note))
}

// checkWhole compares all that is written in the same call: a bobbin with its
// stretches, but not what is added to a record later or set by the store.
func checkWhole(t *testing.T, want, got any) {
	t.Helper()
	later := map[string]bool{
		"ID": true, "Recorded": true, "Bobbin": true, "Samples": true, "Readings": true,
		"Supersedes": true, "SupersededBy": true, "Struck": true,
	}
	ignored := cmp.FilterPath(func(p cmp.Path) bool {
		field, ok := p.Last().(cmp.StructField)
		return ok && later[field.Name()]
	}, cmp.Ignore())
	if diff := cmp.Diff(want, got, kept, ignored); diff != "" {
		t.Errorf("not whole (-want +got):\n%s", diff)
	}
}

func checkAcknowledged(t *testing.T, found map[acknowledged]bool, acks []acknowledged) {
	t.Helper()
	for _, ack := range acks {
		if !found[ack] {
			t.Errorf("%s %d was acknowledged and is not there", ack.kind, ack.id)
		}
	}
}
