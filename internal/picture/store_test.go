package picture

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func openStore(tb testing.TB) *Store {
	tb.Helper()
	s, err := OpenStore(filepath.Join(tb.TempDir(), "photographs"))
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

func put(tb testing.TB, s *Store, data []byte) Hash {
	tb.Helper()
	h, _, err := s.Put(context.Background(), data)
	if err != nil {
		tb.Fatal(err)
	}
	return h
}

func TestPutAndRead(t *testing.T) {
	s := openStore(t)
	for name, data := range noted(t, 6) {
		h, info, err := s.Put(context.Background(), data)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		clean, want, _ := Strip(data)
		got, err := s.Read(h)
		if err != nil || !bytes.Equal(got, clean) || info != want {
			t.Errorf("%s: got %d bytes of %+v, %v, want %d of %+v", name, len(got), info, err, len(clean), want)
		}
		f, format, err := s.Open(h)
		if err != nil || format != info.Format {
			t.Fatalf("%s: got format %s, %v, want %s", name, format, err, info.Format)
		}
		opened, err := io.ReadAll(f)
		if err := errors.Join(err, f.Close()); err != nil || !bytes.Equal(opened, clean) {
			t.Errorf("%s: open gives %d bytes, %v, want %d", name, len(opened), err, len(clean))
		}
	}
}

func TestPutAgain(t *testing.T) {
	s := openStore(t)
	data := notedJPEG(jpegOf(t, textured(40, 24)), 6)
	h := put(t, s, data)
	old := time.Now().Add(-time.Minute).Truncate(time.Second)
	if err := os.Chtimes(s.path(h, ".jpg"), old, old); err != nil {
		t.Fatal(err)
	}
	clean, err := s.Read(h)
	if err != nil {
		t.Fatal(err)
	}
	elsewhere := bytes.ReplaceAll(data, []byte(secret), []byte("FRONT GARDEN DOR"))
	for name, again := range map[string][]byte{"the same": data, "stripped": clean, "other notes": elsewhere} {
		if got := put(t, s, again); got != h {
			t.Errorf("%s: got hash %s, want %s", name, got, h)
		}
	}
	if info, err := os.Stat(s.path(h, ".jpg")); err != nil || !info.ModTime().Equal(old) {
		t.Errorf("the file was written again, %v", err)
	}
}

func TestPutMends(t *testing.T) {
	s := openStore(t)
	data := jpegOf(t, textured(40, 24))
	h := put(t, s, data)
	for name, damage := range map[string][]byte{
		"cut":        data[:100],
		"empty":      nil,
		"wrong byte": flipped(data, len(data)-9),
	} {
		if err := os.WriteFile(s.path(h, ".jpg"), damage, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := s.Read(h); codeOf(err) != Damaged {
			t.Errorf("%s: got %v, want code %s", name, err, Damaged)
		}
		put(t, s, data)
		if _, err := s.Read(h); err != nil {
			t.Errorf("%s: after putting it again: %v", name, err)
		}
	}
}

func TestPutKeepsNothingThatCannotBeDecoded(t *testing.T) {
	s := openStore(t)
	_, _, err := s.Put(context.Background(), closed(jpegOf(t, textured(64, 64))))
	if codeOf(err) != Damaged {
		t.Errorf("got %v, want code %s", err, Damaged)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := s.Put(ctx, jpegOf(t, textured(64, 64))); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want cancelled", err)
	}
	if got := files(t, s); len(got) != 0 {
		t.Errorf("kept %v", got)
	}
}

// files lists the files in the store by their paths.
func files(t *testing.T, s *Store) (paths []string) {
	t.Helper()
	err := filepath.WalkDir(s.folder, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			paths = append(paths, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return paths
}

func TestOnlyTheOwnerMayRead(t *testing.T) {
	s := openStore(t)
	h := put(t, s, jpegOf(t, textured(40, 24)))
	for path, want := range map[string]fs.FileMode{
		s.folder:                    fs.ModeDir | 0o700,
		filepath.Dir(s.path(h, "")): fs.ModeDir | 0o700,
		s.path(h, ".jpg"):           0o600,
		s.reducedPath(h, Thumbnail): 0o600,
		s.reducedPath(h, Preview):   0o600,
	} {
		if info, err := os.Stat(path); err != nil || info.Mode() != want {
			t.Errorf("%s: got %v, %v, want %v", path, info, err, want)
		}
	}
}

func TestReduced(t *testing.T) {
	s := openStore(t)
	h := put(t, s, notedJPEG(jpegOf(t, textured(800, 400)), 6))
	for side, want := range map[Side]image.Point{Thumbnail: {160, 320}, Preview: {400, 800}} {
		kept, err := s.Reduced(context.Background(), h, side)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.Remove(s.reducedPath(h, side)); err != nil {
			t.Fatal(err)
		}
		anew, err := s.Reduced(context.Background(), h, side)
		if err != nil {
			t.Fatal(err)
		}
		for _, data := range [][]byte{kept, anew} {
			config, err := jpeg.DecodeConfig(bytes.NewReader(data))
			if got := image.Pt(config.Width, config.Height); err != nil || got != want {
				t.Errorf("side %d: got %v, %v, want %v", side, got, err, want)
			}
		}
		if _, err := os.Stat(s.reducedPath(h, side)); err != nil {
			t.Errorf("side %d is not kept: %v", side, err)
		}
	}
}

func TestNotKept(t *testing.T) {
	s := openStore(t)
	outside := filepath.Join(filepath.Dir(s.folder), "diary.jpg")
	if err := os.WriteFile(outside, jpegOf(t, textured(40, 24)), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, h := range []Hash{
		"", "ab", "../diary", "../../diary", Hash(strings.Repeat("A", 64)),
		Hash(strings.Repeat("a", 64)), Hash(strings.Repeat("a", 64) + "\n"),
		Hash("../" + strings.Repeat("a", 61)),
	} {
		_, errRead := s.Read(h)
		_, _, errOpen := s.Open(h)
		_, errReduced := s.Reduced(context.Background(), h, Thumbnail)
		for _, err := range []error{errRead, errOpen, errReduced} {
			if codeOf(err) != NotKept {
				t.Errorf("%q: got %v, want code %s", h, err, NotKept)
			}
		}
	}
}

func TestParseHash(t *testing.T) {
	want := strings.Repeat("0123456789abcdef", 4)
	if got, err := ParseHash(want); err != nil || string(got) != want {
		t.Errorf("got %q, %v, want %q", got, err, want)
	}
	for _, s := range []string{"", want[1:], want + "0", strings.ToUpper(want), "g" + want[1:]} {
		if _, err := ParseHash(s); codeOf(err) != NotKept {
			t.Errorf("%q: got %v, want code %s", s, err, NotKept)
		}
	}
}

func TestOpenSweeps(t *testing.T) {
	s := openStore(t)
	h := put(t, s, jpegOf(t, textured(40, 24)))
	folder := filepath.Dir(s.path(h, ""))
	cut, growing := filepath.Join(folder, unfinished+"1"), filepath.Join(folder, unfinished+"2")
	for _, path := range []string{cut, growing} {
		if err := os.WriteFile(path, []byte("half a photogr"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	old := time.Now().Add(-2 * abandoned)
	for _, path := range []string{cut, s.path(h, ".jpg")} {
		if err := os.Chtimes(path, old, old); err != nil {
			t.Fatal(err)
		}
	}
	again, err := OpenStore(s.folder)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(cut); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("what was cut off is still there: %v", err)
	}
	if _, err := os.Stat(growing); err != nil {
		t.Errorf("what another process writes is gone: %v", err)
	}
	if _, err := again.Read(h); err != nil {
		t.Errorf("the photograph is gone: %v", err)
	}
}

// A reader meets the one file or the other, never a part of either.
func TestWriteReplacesInOneStep(t *testing.T) {
	s := openStore(t)
	path := s.path(Hash(strings.Repeat("a", 64)), ".jpg")
	warp, weft := bytes.Repeat([]byte("warp"), 1<<18), bytes.Repeat([]byte("weft"), 1<<19)
	if err := s.write(path, warp); err != nil {
		t.Fatal(err)
	}
	done := make(chan error)
	go func() {
		var err error
		for range 10 {
			err = errors.Join(err, s.write(path, weft), s.write(path, warp))
		}
		done <- err
	}()
	for {
		got, err := os.ReadFile(path)
		if err != nil || !bytes.Equal(got, warp) && !bytes.Equal(got, weft) {
			t.Errorf("met %d bytes, %v", len(got), err)
		}
		select {
		case err := <-done:
			if err != nil {
				t.Error(err)
			}
			return
		default:
		}
	}
}

func TestStoreFailed(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenStore(filepath.Join(file, "photographs")); codeOf(err) != StoreFailed {
		t.Errorf("folder below a file: got %v, want code %s", err, StoreFailed)
	}
	s := openStore(t)
	data := jpegOf(t, textured(40, 24))
	folder := filepath.Dir(s.path(hashOf(data), ""))
	if err := os.WriteFile(folder, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	_, _, err := s.Put(context.Background(), data)
	if codeOf(err) != StoreFailed {
		t.Errorf("subfolder in the way: got %v, want code %s", err, StoreFailed)
	}
	var cause *fs.PathError
	if !errors.As(err, &cause) {
		t.Errorf("%v does not say what the disc reported", err)
	}
}
