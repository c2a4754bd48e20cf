package cli

import (
	"bytes"
	"errors"
	"fmt"
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
	paper, err := c.paper()
	if err != nil {
		return err
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

// paper is the one that was named, or else A4.
func (c *planCmd) paper() (sheet.Paper, error) {
	if c.Paper == "" {
		return sheet.A4, nil
	}
	paper, err := sheet.ParsePaper(string(c.Paper))
	if err != nil {
		return paper, misused("--paper: %v", err)
	}
	return paper, nil
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
	beside := filepath.Join(filepath.Dir(name), "."+filepath.Base(name)+".part")
	os.Remove(beside) // one that was broken off
	if err = writeSynced(beside, content, mode); err == nil {
		err = os.Rename(beside, name)
	}
	if err != nil {
		os.Remove(beside)
		return notWritten(name, err)
	}
	return nil
}

// writeSynced writes a new file and sees it on the disk.
func writeSynced(name string, content []byte, mode os.FileMode) error {
	file, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	_, err = file.Write(content)
	return errors.Join(err, file.Sync(), file.Close())
}

// replaceable returns the mode of the file to write. What is there already may go
// only where it is a sheet of this program.
func replaceable(name string) (os.FileMode, error) {
	const usual = 0o666 // less the user's own mask
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return usual, nil
	case err != nil:
		return 0, notWritten(name, err)
	}
	if !info.Mode().IsRegular() || info.Size() > longestSheet || !isSheet(name) {
		return 0, words(fmt.Sprintf("%s is there already and is no sheet that this program printed, so it stays as it is. Name another file", name))
	}
	return info.Mode().Perm(), nil
}

func isSheet(name string) bool {
	content, err := os.ReadFile(name)
	return err == nil && sheet.Is(content)
}

// longestSheet is more than any sheet has, in bytes.
const longestSheet = 16 << 20
