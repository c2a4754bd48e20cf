package cli

import (
	"context"
	"errors"

	"waketwist/internal/journal"
)

// Opener opens the journal in a folder; close ends its use.
type Opener func(ctx context.Context, data string) (store journal.Store, close func() error, err error)

// inJournal opens the journal in the folder that a flag names, else in the usual
// one, does something with it, and closes it.
func inJournal(a *app, data text, do func(journal.Store) error) error {
	folder := string(data)
	if folder == "" {
		var err error
		if folder, err = dataFolder(a.Getenv); err != nil {
			return err
		}
	}
	store, end, err := a.Journal(a, folder)
	if err != nil {
		return err
	}
	return errors.Join(do(store), end())
}
