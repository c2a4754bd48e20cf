package web

import (
	"context"

	"waketwist/internal/job"
	"waketwist/internal/journal"
)

// verdict is how a piece of ply stands against the target of its project.
type verdict struct {
	Words string
	OnIt  bool
}

// verdictOf compares a piece of a run with its target; nil for other samples, and
// without a target or a reading that counts.
func (b *bench) verdictOf(ctx context.Context, s journal.Sample) (*verdict, error) {
	if s.Run == 0 || len(s.Valid()) == 0 {
		return nil, nil
	}
	run, err := b.Store.Run(ctx, s.Run)
	if err != nil {
		return nil, err
	}
	p, err := b.Store.Project(ctx, run.Project)
	if err != nil || p.Target() == nil {
		return nil, err
	}
	driven, err := b.drive(ctx, run.Drive)
	if err != nil {
		return nil, err
	}
	check := job.CheckOf(s, *p.Target(), driven, job.DiameterOf(*p, *run))
	return &verdict{check.Words(), check.Standing == job.OnTarget}, nil
}
