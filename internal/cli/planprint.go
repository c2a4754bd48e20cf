package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"waketwist/internal/sheet"
	"waketwist/plan"
)

// printTo writes the plan as a PDF to a file.
func (c *planCmd) printTo(ask planAsk, r *plan.Result, o *plan.Outlook, stash []string) error {
	name := string(c.Print)
	paper, err := sheet.ParsePaper(c.Paper)
	if err != nil {
		return misused("--paper: %v", err)
	}
	if name == "-" || strings.HasSuffix(name, string(filepath.Separator)) {
		return misused("--print needs the name of a file, such as plan.pdf")
	}
	var out bytes.Buffer
	if err := sheet.Plan(&out, sheet.Head{Title: c.title(ask), At: time.Now(), Paper: paper, Stash: stash}, r, o); err != nil {
		return err
	}
	return writeSheet(name, out.Bytes())
}

// title is the one that was given, or else the name of the plan or of its file.
func (c *planCmd) title(ask planAsk) string {
	switch {
	case c.Title != "":
		return string(c.Title)
	case ask.name != "":
		return ask.name
	}
	return strings.TrimSuffix(filepath.Base(string(c.File)), filepath.Ext(string(c.File)))
}

// writeSheet writes a sheet to a file as a whole: beside it first, then in its
// place. It refuses to take the place of what is no sheet.
func writeSheet(name string, content []byte) error {
	mode, err := replaceable(name)
	if err != nil {
		return err
	}
	beside, err := os.CreateTemp(filepath.Dir(name), ".waketwist-*.pdf")
	if err != nil {
		return notWritten(name, err)
	}
	_, err = beside.Write(content)
	err = errors.Join(err, beside.Chmod(mode), beside.Sync(), beside.Close())
	if err == nil {
		err = os.Rename(beside.Name(), name)
	}
	if err != nil {
		os.Remove(beside.Name())
		return notWritten(name, err)
	}
	return nil
}

// replaceable returns the mode of the file to write. What is there already may go
// only where it is a sheet of this program.
func replaceable(name string) (os.FileMode, error) {
	const usual = 0o644
	file, err := os.Open(name)
	if errors.Is(err, os.ErrNotExist) {
		return usual, nil
	}
	if err != nil {
		return 0, notWritten(name, err)
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return 0, notWritten(name, err)
	}
	content, err := io.ReadAll(io.LimitReader(file, longestSheet))
	if err != nil || !info.Mode().IsRegular() || !sheet.Is(content) {
		return 0, words(fmt.Sprintf("%s is there already and is no sheet that this program printed, so it stays as it is. Name another file", name))
	}
	return info.Mode().Perm(), nil
}

// longestSheet is more than any sheet has, in bytes.
const longestSheet = 16 << 20
