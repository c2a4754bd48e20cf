package sqlite

import (
	"bufio"
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
	"waketwist/internal/picture"
)

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
		checkAcknowledged(t, wholeRecords(t, s, folder), acks)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		if t.Failed() {
			t.Fatalf("after round %d", round)
		}
	}
	tally := make(map[string]int)
	for _, ack := range acks {
		tally[ack.kind]++
	}
	t.Logf("acknowledged in %d rounds: %v", rounds, tally)
	if len(tally) != 19 {
		t.Errorf("not every kind of record came to be kept")
	}
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
	after := 1 + rand.IntN(33) // a round of both halves is 27 records
	lines := bufio.NewReader(out)
	var acks []acknowledged
	for {
		ack, err := readAck(lines)
		if err != nil {
			break // a line that was cut off acknowledges nothing
		}
		if acks = append(acks, ack); len(acks) == after {
			time.AfterFunc(rand.N(20*time.Millisecond), func() { _ = cmd.Process.Kill() })
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

// whole is a journal after a kill: what was found in it, all of it whole.
type whole struct {
	*testing.T
	photos *picture.Store
	found  map[acknowledged]bool
	seen   map[string]bool // photographs that have been read
}

// wholeRecords returns what the journal holds. Everything in it must be whole,
// acknowledged or not.
func wholeRecords(t *testing.T, s *Store, folder string) map[acknowledged]bool {
	t.Helper()
	w := &whole{t, must[*picture.Store](t)(picture.OpenStore(photographsIn(folder))), make(map[acknowledged]bool), make(map[string]bool)}
	p := must[*journal.Project](t)(s.Project(t.Context(), 1))
	for _, b := range p.Bobbins {
		want := bobbinOf(numberIn(t, b.Note))
		for i := range want.Stretches {
			want.Stretches[i].Bobbin = b.ID
		}
		w.record("bobbin", b.ID, want, b)
		w.samples(b.Samples, journal.Sample{Bobbin: b.ID})
		w.weighings(b)
	}
	w.swatches(must[[]journal.Swatch](t)(s.Swatches(t.Context())))
	ended := 0
	for _, r := range p.Runs {
		ended += w.run(r)
	}
	if n := count(t, s, `SELECT count(*) FROM history WHERE kind = 'run'`); n != ended {
		t.Errorf("%d former runs in the history, %d ended", n, ended)
	}
	for _, m := range must[[]journal.Machine](t)(s.Machines(t.Context())) {
		w.machine(m)
	}
	for _, one := range must[[]journal.Wish](t)(s.Wishes(t.Context())) {
		w.wish(one)
	}
	return w.found
}

func (w *whole) record(kind string, id journal.ID, want, got any) {
	w.Helper()
	w.found[acknowledged{kind, id}] = true
	checkWhole(w.T, want, got)
}

// run returns how often the run was changed.
func (w *whole) run(r journal.Run) (changes int) {
	n, want := numberIn(w.T, r.Note), runOf
	if r.Ended != nil {
		w.found[acknowledged{"end", r.ID}] = true
		want, changes = endedRunOf, 1
	}
	w.record("run", r.ID, want(n, r.Feeds[0].Bobbin), r)
	w.samples(r.Checks, journal.Sample{Run: r.ID})
	for _, s := range r.Skeins {
		w.skein(s, r.ID)
	}
	return changes
}

func (w *whole) skein(s journal.Skein, run journal.ID) {
	n := numberIn(w.T, s.Note)
	w.record("skein", s.ID, skeinOf(n, run), s)
	for _, m := range s.Measures {
		w.record("measure", m.ID, measureOf(n, s.ID), m)
	}
	for _, wash := range s.Washes {
		w.record("wash", wash.ID, washOf(n, s.ID), wash)
	}
	for _, h := range s.Hangs {
		w.record("hang", h.ID, hangOf(n, s.ID), h)
	}
	for _, u := range s.Uses {
		w.record("use", u.ID, useOf(n, s.ID), u)
	}
	w.samples(s.Samples, journal.Sample{Skein: s.ID})
}

func (w *whole) machine(m journal.Machine) {
	n := numberIn(w.T, m.Note)
	w.record("machine", m.ID, machineOfNumber(n), m)
	for _, one := range m.Whorls {
		want := whorlOf(n, m.ID)
		for i := range want.Counts {
			want.Counts[i].Whorl = one.ID
		}
		w.record("whorl", one.ID, want, one)
		if one.Struck == reasonFor(one.ID) {
			w.found[acknowledged{"whorlstrike", one.ID}] = true
		}
	}
}

func (w *whole) wish(one journal.Wish) {
	n := numberIn(w.T, one.Name)
	w.record("wish", one.ID, wishOfNumber(n, []string{"cloth.length"}[:one.Versions-1]...), one)
	if one.Versions == 2 {
		w.found[acknowledged{"wishversion", one.ID}] = true
	}
}

func (w *whole) weighings(b journal.Bobbin) {
	for _, one := range b.Weighings {
		w.record("weighing", one.ID, weighingOf(numberIn(w.T, one.Note), b.ID), one)
		if one.Struck == reasonFor(one.ID) {
			w.found[acknowledged{"weighing-struck", one.ID}] = true
		}
	}
}

func (w *whole) swatches(all []journal.Swatch) {
	for _, s := range all {
		w.record("swatch", s.ID, swatchOf(numberIn(w.T, s.Note)), s)
	}
}

func (w *whole) samples(all []journal.Sample, of journal.Sample) {
	for _, s := range all {
		w.record("sample", s.ID, sampleOf(numberIn(w.T, s.Note), of), s)
		for _, r := range s.Readings {
			w.record("reading", r.ID, readingOf(numberIn(w.T, r.Note), s.ID), r)
			w.photograph(r.Photo.Hash)
			if r.Struck == reasonFor(r.ID) {
				w.found[acknowledged{"strike", r.ID}] = true
			}
		}
	}
}

// photograph reads the photograph of a reading, which checks its hash, and so
// every byte.
func (w *whole) photograph(hash string) {
	if w.seen[hash] {
		return
	}
	w.seen[hash] = true
	if _, err := w.photos.Read(picture.Hash(hash)); err != nil {
		w.Errorf("the photograph %s of a reading: %v", hash, err)
	}
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
		"ID": true, "Recorded": true, "Samples": true, "Readings": true, "Skeins": true, "Weighings": true, "Uses": true,
		"Checks": true, "Measures": true, "Washes": true, "Hangs": true, "Whorls": true, "Supersedes": true, "SupersededBy": true, "Struck": true,
		"Changed": true, "Versions": true,
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
