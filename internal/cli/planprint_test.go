package cli

import (
	"os"
	"path/filepath"
	"testing"
)

// TestWriteSheet leaves one file, with the rights that it had, and nothing beside
// it, whether it was written or refused.
func TestWriteSheet(t *testing.T) {
	const old, fresh = "%PDF-1.3\n/Producer (Waketwist)\nold", "%PDF-1.3\n/Producer (Waketwist)\nnew"
	for _, c := range []struct {
		name, before, after string
		refused             bool
	}{
		{"none before", "", fresh, false},
		{"a sheet before", old, fresh, false},
		{"another PDF before", "%PDF-1.3\n/Producer (another)", "%PDF-1.3\n/Producer (another)", true},
		{"a text before", "wool", "wool", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			name, mode := filepath.Join(t.TempDir(), "plan.pdf"), os.FileMode(0o644)
			if c.before != "" {
				mode = 0o600
				if err := os.WriteFile(name, []byte(c.before), mode); err != nil {
					t.Fatal(err)
				}
			}
			if err := writeSheet(name, []byte(fresh)); (err != nil) != c.refused {
				t.Errorf("writing said %v", err)
			}
			got, err := os.ReadFile(name)
			if err != nil || string(got) != c.after {
				t.Errorf("the file holds %q, %v", got, err)
			}
			info, err := os.Stat(name)
			if err != nil || info.Mode().Perm() != mode {
				t.Errorf("the file has the rights %v, %v", info.Mode(), err)
			}
			if all, err := os.ReadDir(filepath.Dir(name)); err != nil || len(all) != 1 {
				t.Errorf("%d files lie there, %v", len(all), err)
			}
		})
	}
}
