package journal

import "context"

// StashStore keeps what is in hand: fibre lots with their weighings, swatches,
// and what became of skeins. It is a part of Store and keeps its rules.
type StashStore interface {
	Lot(ctx context.Context, id ID) (*Lot, error) // with its weighings
	AddWeighing(ctx context.Context, w Weighing) (ID, error)
	StrikeWeighing(ctx context.Context, id ID, reason string) error

	Swatches(ctx context.Context) ([]Swatch, error) // all of them, in order of recording
	Swatch(ctx context.Context, id ID) (*Swatch, error)
	AddSwatch(ctx context.Context, s Swatch) (ID, error) // supersedes s.Supersedes when that is set
	StrikeSwatch(ctx context.Context, id ID, reason string) error

	AddUse(ctx context.Context, u Use) (ID, error)
}
