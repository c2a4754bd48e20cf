package cli

import (
	"context"

	"waketwist/internal/journal"
)

// Opener opens the journal in a folder; close ends its use.
type Opener func(ctx context.Context, data string) (store journal.Store, close func() error, err error)

// openJournal opens the journal in the folder that a flag names, else in the
// usual one.
func openJournal(a *app, data text) (store journal.Store, end func() error, err error) {
	folder := string(data)
	if folder == "" {
		if folder, err = dataFolder(a.Getenv); err != nil {
			return nil, nil, err
		}
	}
	return a.Journal(a, folder)
}
