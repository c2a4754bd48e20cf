package sqlite

import (
	"errors"
	"fmt"

	driver "modernc.org/sqlite"
	codes "modernc.org/sqlite/lib"

	"waketwist/internal/journal"
)

// troubles says what the primary result codes of SQLite mean to the person, and
// what to do about them.
var troubles = map[int]string{
	codes.SQLITE_BUSY:     "another program has held the journal for more than five seconds; close that program, or wait, and try again",
	codes.SQLITE_FULL:     "the disc is full; free some space and try again",
	codes.SQLITE_IOERR:    "the disc could not be read or written; see that it is connected and sound, then try again",
	codes.SQLITE_CORRUPT:  "the journal's file is damaged; bring it back from a backup",
	codes.SQLITE_NOTADB:   "the journal's file is not a journal; move it away, or choose another folder",
	codes.SQLITE_READONLY: "the journal may not be written; allow writing to its folder and file, or choose another folder",
	codes.SQLITE_CANTOPEN: "the journal may not be written; allow writing to its folder and file, or choose another folder",
	codes.SQLITE_PERM:     "the journal may not be written; allow writing to its folder and file, or choose another folder",
}

// primary returns the primary result code of the driver's error in err's chain,
// zero without one.
func primary(err error) int {
	var e *driver.Error
	if errors.As(err, &e) {
		return e.Code() & 0xff
	}
	return 0
}

// wrap says what was being done when *err happened and, where the cause is
// known, what to do. Refusals are already in words for the person and stay as
// they are.
func wrap(err *error, format string, args ...any) {
	if *err == nil || journal.CodeOf(*err) != 0 {
		return
	}
	doing := fmt.Sprintf(format, args...)
	if advice, known := troubles[primary(*err)]; known {
		*err = fmt.Errorf("%s: %s (%w)", doing, advice, *err)
		return
	}
	*err = fmt.Errorf("%s: %w", doing, *err)
}
