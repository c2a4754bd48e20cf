package journal

import "context"

// ID numbers a record within its kind; zero is a record not yet kept.
type ID int64

// Store keeps the journal. When a method returns without error, what it was
// given is on disk and outlives a killed process. Methods refuse with *Error:
// Invalid for records that break the rules, NotFound for unknown numbers, and
// Conflict for a reading, weighing or swatch that has been superseded or struck or a soak that has
// been ended already.
//
// The Add methods return the number of the new record and set its time of
// recording. Every method is one transaction.
type Store interface {
	Projects(ctx context.Context) ([]Project, error) // all of them, whole, the latest touched first
	Project(ctx context.Context, id ID) (*Project, error)
	AddProject(ctx context.Context, p Project) (ID, error)
	ChangeProject(ctx context.Context, p Project) error // name, aim, plan, wish and whether it is finished

	Machines
	Wishes
	StashStore

	Lots(ctx context.Context) ([]Lot, error)       // with their weighings
	AddLot(ctx context.Context, l Lot) (ID, error) // with its weighings

	Bobbin(ctx context.Context, id ID) (*Bobbin, error)
	AddBobbin(ctx context.Context, b Bobbin) (ID, error) // with its stretches, and with its lot where that has no number yet
	ChangeBobbin(ctx context.Context, b Bobbin) error    // everything but its project, stretches, samples and skeins
	AddStretch(ctx context.Context, s Stretch) (ID, error)

	Run(ctx context.Context, id ID) (*Run, error)
	AddRun(ctx context.Context, r Run) (ID, error) // with its feeds, which are bobbins of its project, and parts of one machine
	ChangeRun(ctx context.Context, r Run) error    // name, drive, note and whether it has ended

	Skein(ctx context.Context, id ID) (*Skein, error)
	AddSkein(ctx context.Context, s Skein) (ID, error)
	AddMeasure(ctx context.Context, m Measure) (ID, error)
	AddWash(ctx context.Context, w Wash) (ID, error)
	AddHang(ctx context.Context, h Hang) (ID, error)

	Sample(ctx context.Context, id ID) (*Sample, error)
	SampleOf(ctx context.Context, reading ID) (*Sample, error) // the sample that a reading belongs to
	AddSample(ctx context.Context, s Sample) (ID, error)       // with its readings
	EndSoak(ctx context.Context, sample ID, minutes float64) error

	AddReading(ctx context.Context, r Reading) (ID, error) // supersedes r.Supersedes when that is set
	AddReadings(ctx context.Context, all []Reading) error  // of one sample: all of them or none
	StrikeReading(ctx context.Context, id ID, reason string) error

	AddTarget(ctx context.Context, t Target) (ID, error)
}
