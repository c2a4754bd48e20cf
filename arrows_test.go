package waketwist

import (
	"maps"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// core are the packages that a textile engineer could import: pure, with no
// file, clock, log or network behind them.
var core = []string{"unit", "estimate", "yarn", "finish", "rest", "hand", "wheel", "cloth", "plan", "raster", "reading", "scale"}

// allowed names, for each package of the application, the others that it may
// import; the core packages are allowed to all of them.
var allowed = map[string][]string{
	"internal/journal":  {},
	"internal/job":      {"internal/journal"},
	"internal/sqlite":   {"internal/journal"},
	"internal/picture":  {},
	"internal/drawing":  {},
	"internal/accuracy": {},
	"internal/overlay":  {"internal/job"},
	"internal/sheet":    {},
	"internal/demo":     {"internal/journal", "internal/job", "internal/picture", "internal/drawing"},
	"internal/simulate": {},
	"internal/web":      {"internal/journal", "internal/job", "internal/picture", "internal/drawing", "internal/sheet"},
	"internal/cli":      {"internal/job", "internal/journal", "internal/overlay", "internal/picture", "internal/sheet"},
	"cmd/waketwist":     {"internal/cli", "internal/journal", "internal/web", "internal/sqlite", "internal/picture", "internal/demo"},
}

// forbidden are standard packages that a pure package has no use for.
var forbidden = []string{"os", "net", "net/http", "log", "log/slog", "io/fs", "os/exec", "database/sql"}

// TestArrows fails where an import runs against the arrows of ARCHITECTURE.md.
func TestArrows(t *testing.T) {
	imports := directImports(t)
	for from, list := range imports {
		for _, to := range list {
			if why := wrong(from, to); why != "" {
				t.Errorf("%s imports %s: %s", from, to, why)
			}
		}
	}
	for _, name := range slices.Concat(core, slices.Collect(maps.Keys(allowed))) {
		if _, ok := imports[name]; !ok {
			t.Errorf("%s is named here but is not in the project", name)
		}
	}
}

// directImports lists what the package in each folder imports.
func directImports(t *testing.T) map[string][]string {
	t.Helper()
	out, err := exec.Command("go", "list", "-f", "{{.ImportPath}} {{join .Imports \" \"}}", "./...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	imports := map[string][]string{}
	for line := range strings.Lines(string(out)) {
		fields := strings.Fields(line)
		if folder, ok := strings.CutPrefix(fields[0], "waketwist/"); ok {
			imports[folder] = fields[1:]
		}
	}
	return imports
}

func wrong(from, to string) string {
	to, own := strings.CutPrefix(to, "waketwist/")
	switch {
	case slices.Contains(core, from):
		return wrongInCore(to, own)
	case !own || slices.Contains(core, to):
		return ""
	}
	may, known := allowed[from]
	if !known {
		return "no arrow is drawn for " + from + "; draw it in ARCHITECTURE.md and here"
	}
	if !slices.Contains(may, to) {
		return "this arrow is not drawn"
	}
	return ""
}

func wrongInCore(to string, own bool) string {
	switch {
	case own && !slices.Contains(core, to):
		return "the core must not know the application"
	case slices.Contains(forbidden, to):
		return "the core has no files, clock, log or network"
	case !own && strings.Contains(strings.Split(to, "/")[0], ".") && !strings.HasPrefix(to, "gonum.org/"):
		return "the core stands on the standard library and gonum only"
	}
	return ""
}
