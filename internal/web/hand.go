package web

import (
	"context"

	"waketwist/hand"
	"waketwist/internal/job"
)

// record is everything the spinner's readings can teach from.
func (b *bench) record(ctx context.Context) (hand.Record, error) {
	projects, err := b.Store.Projects(ctx)
	if err != nil {
		return hand.Record{}, err
	}
	record, _ := job.RecordOf(projects)
	return record, nil
}
