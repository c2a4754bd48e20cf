package cli

import (
	"errors"
	"path/filepath"
	"runtime"
)

var errNoHome = errors.New("there is no home folder to keep the journal in; name a folder with --data")

// dataFolder is the folder of the journal: $WAKETWIST_DATA, else a folder of
// its own where the platform keeps a user's data.
func dataFolder(getenv func(string) string) (string, error) {
	if folder := getenv("WAKETWIST_DATA"); folder != "" {
		return folder, nil
	}
	return platformFolder(runtime.GOOS, getenv)
}

// platformFolder follows the XDG Base Directory Specification on Linux and the
// Unixes, by which a relative XDG_DATA_HOME is to be ignored, and the customs
// of macOS and Windows there.
func platformFolder(system string, getenv func(string) string) (string, error) {
	home := getenv("HOME")
	var parts []string
	switch system {
	case "windows":
		home = getenv("LOCALAPPDATA")
		parts = []string{"Waketwist"}
	case "darwin", "ios":
		parts = []string{"Library", "Application Support", "Waketwist"}
	default:
		if xdg := getenv("XDG_DATA_HOME"); filepath.IsAbs(xdg) {
			return filepath.Join(xdg, "waketwist"), nil
		}
		parts = []string{".local", "share", "waketwist"}
	}
	if home == "" {
		return "", errNoHome
	}
	return filepath.Join(append([]string{home}, parts...)...), nil
}
