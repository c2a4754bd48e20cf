//go:build unix

package sqlite

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

const nobody = 65534

func init() { roles["nobody"] = openAsNobody }

// openAsNobody opens a journal without the privilege of writing everywhere.
func openAsNobody(folder string) error {
	if os.Getuid() == 0 {
		if err := syscall.Setuid(nobody); err != nil {
			return err
		}
	}
	s, err := Open(context.Background(), folder, time.Now)
	if err != nil {
		return err
	}
	return s.Close()
}

func TestOnlyTheOwnerMayRead(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "journal")
	openIn(t, folder, ticking())
	for name, want := range map[string]fs.FileMode{"": 0o700, fileName: 0o600, fileName + "-wal": 0o600} {
		info, err := os.Stat(filepath.Join(folder, name))
		if err != nil || info.Mode().Perm() != want {
			t.Errorf("%q: %v, %v", name, info, err)
		}
	}
}

func TestFolderThatMayNotBeWritten(t *testing.T) {
	tests := []struct {
		name    string
		prepare func(t *testing.T, folder string)
		says    string
	}{
		{"empty folder", func(*testing.T, string) {}, "no file can be made in the folder; allow writing to it, or choose another folder"},
		{"folder with a journal", func(t *testing.T, folder string) {
			s := must[*Store](t)(Open(t.Context(), folder, ticking()))
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			setMode(t, filepath.Join(folder, fileName), 0o444)
		}, "the journal may not be written; allow writing to its folder and file"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			outer := t.TempDir()
			folder := filepath.Join(outer, "journal")
			if err := os.Mkdir(folder, 0o755); err != nil {
				t.Fatal(err)
			}
			tt.prepare(t, folder)
			setMode(t, filepath.Dir(outer), 0o755)
			setMode(t, outer, 0o755)
			setMode(t, folder, 0o555)
			t.Cleanup(func() { setMode(t, folder, 0o755) })

			out, err := child(t, "nobody", folder).CombinedOutput()
			if err == nil || !strings.Contains(string(out), tt.says) {
				t.Errorf("%v, %s, want %q", err, out, tt.says)
			}
		})
	}
}

func setMode(t *testing.T, path string, mode os.FileMode) {
	t.Helper()
	if err := os.Chmod(path, mode); err != nil {
		t.Fatal(err)
	}
}
