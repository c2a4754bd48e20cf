package picture

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// putting, set to a folder, makes the test binary keep photographs there until
// it is killed.
const putting = "WAKETWIST_TEST_PUTTING"

func TestMain(m *testing.M) {
	if folder := os.Getenv(putting); folder != "" {
		fmt.Fprintln(os.Stderr, putWithoutEnd(folder))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// putWithoutEnd keeps one photograph after another and names each when it is
// kept.
func putWithoutEnd(folder string) error {
	s, err := OpenStore(folder)
	if err != nil {
		return err
	}
	for n := 0; ; n++ {
		img := textured(64, 64)
		copy(img.Pix, fmt.Sprintf("%08d", n))
		data, err := encodeJPEG(img)
		if err != nil {
			return err
		}
		h, _, err := s.Put(context.Background(), data)
		if err != nil {
			return err
		}
		fmt.Println(h)
	}
}

// However Put is killed, what it had returned is kept, and no file under a
// final name is less than whole.
func TestPutKilled(t *testing.T) {
	folder := t.TempDir()
	for round := range 5 {
		kept := killAfter(t, folder, 5+round)
		s, err := OpenStore(folder)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range kept {
			if _, err := s.Read(h); err != nil {
				t.Errorf("%s was put and is not kept: %v", h, err)
			}
		}
		for _, path := range files(t, s) {
			checkWhole(t, path)
		}
	}
}

// killAfter runs the test binary as a keeper of photographs, kills it after n of
// them, and returns the hashes it named.
func killAfter(t *testing.T, folder string, n int) (kept []Hash) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), putting+"="+folder)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	for lines := bufio.NewScanner(out); lines.Scan(); {
		h, err := ParseHash(lines.Text())
		if err != nil {
			continue // cut by the kill
		}
		if kept = append(kept, h); len(kept) == n {
			if err := cmd.Process.Kill(); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := cmd.Wait(); err == nil || len(kept) < n {
		t.Fatalf("the keeper ended by itself after %d photographs: %v", len(kept), err)
	}
	return kept
}

func checkWhole(t *testing.T, path string) {
	t.Helper()
	name := filepath.Base(path)
	if strings.HasPrefix(name, unfinished) {
		return
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := Decode(context.Background(), data, ignore); err != nil {
		t.Errorf("%s: %v", name, err)
	}
	if hash, isOriginal := strings.CutSuffix(name, ".jpg"); isOriginal && len(hash) == 64 && string(hashOf(data)) != hash {
		t.Errorf("%s does not hold what its name says", name)
	}
}
