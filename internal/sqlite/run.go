package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

// AddRun keeps a new run of plying with its feeds. It refuses bobbins of
// another project and parts of another machine (Invalid). Its checks and skeins are added one by one
// afterwards.
func (s *Store) AddRun(ctx context.Context, r journal.Run) (_ journal.ID, err error) {
	defer wrap(&err, "keep the run %q", r.Name)
	if err := r.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touch(ctx, kindProject, r.Project); err != nil {
			return 0, err
		}
		if err := tx.checkDrive(ctx, r.Drive); err != nil {
			return 0, err
		}
		id, err := tx.insert(ctx, `
			INSERT INTO run (project_id, name, strands, chain, offset_share, direction, machine_id, whorl_id, setting_id, spool_id,
				treadle_turns, flyer_rpm, draw_m, beat_s, note, started_at, ended_at, recorded_at)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
			r.Project, r.Name, r.Plan.Strands, r.Plan.Chain, r.Plan.Offset, r.Direction.String(),
			numberOrNil(r.Drive.Machine), numberOrNil(r.Drive.Whorl), numberOrNil(r.Drive.Setting), numberOrNil(r.Drive.Spool),
			r.Drive.Ratio, r.Drive.RPM, inUnits(r.Drive.Draw, unit.Metre), inSeconds(r.Drive.Beat),
			r.Note, stamp(r.Started), stampOrNil(r.Ended), stamp(tx.now))
		if err != nil {
			return 0, err
		}
		return id, tx.insertFeeds(ctx, id, r)
	})
}

func (tx *tx) insertFeeds(ctx context.Context, run journal.ID, r journal.Run) error {
	for i, f := range r.Feeds {
		if err := tx.checkFeed(ctx, f, r.Project); err != nil {
			return err
		}
		var adds string
		var across *float64
		if o := f.OverEnd; o != nil {
			adds, across = o.Adds.String(), inUnits(&o.Package, unit.Millimetre)
		}
		if _, err := tx.ExecContext(ctx, `
			INSERT INTO feed (run_id, position, bobbin_id, rewound, over_end_adds, package_mm) VALUES (?, ?, ?, ?, ?, ?)`,
			run, i+1, f.Bobbin, f.Rewound, adds, across); err != nil {
			return err
		}
	}
	return nil
}

// checkFeed refuses a bobbin that is not there or is spun for another project.
func (tx *tx) checkFeed(ctx context.Context, f journal.Feed, project journal.ID) error {
	var owner journal.ID
	err := tx.QueryRowContext(ctx, projectOf[kindBobbin], f.Bobbin).Scan(&owner)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return journal.Missing(kindBobbin, f.Bobbin)
	case err != nil:
		return err
	case owner != project:
		return &journal.Error{Code: journal.Invalid, Field: "feeds", Text: fmt.Sprintf(
			"Bobbin number %d is of another project (number %d); choose bobbins of the run's own project.", f.Bobbin, owner)}
	}
	return nil
}

// formerRun puts a run as it is into the history.
const formerRun = `
	INSERT INTO history (kind, record_id, changed_at, former)
	SELECT 'run', id, ?, json_object('name', name, 'machine_id', machine_id, 'whorl_id', whorl_id,
		'setting_id', setting_id, 'spool_id', spool_id, 'treadle_turns', treadle_turns, 'flyer_rpm', flyer_rpm,
		'draw_m', draw_m, 'beat_s', beat_s, 'note', note, 'ended_at', ended_at)
	FROM run WHERE id = ?`

// ChangeRun changes the name, drive and note of a run and whether it has ended;
// the former version goes to the history. Nothing else in r counts.
func (s *Store) ChangeRun(ctx context.Context, r journal.Run) (err error) {
	defer wrap(&err, "change run %d", r.ID)
	return s.write(ctx, func(tx *tx) error {
		if err := tx.touch(ctx, kindRun, r.ID); err != nil {
			return err
		}
		if err := tx.checkChange(ctx, r); err != nil {
			return err
		}
		if err := tx.checkDrive(ctx, r.Drive); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, formerRun, stamp(tx.now), r.ID); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `
			UPDATE run SET name = ?, machine_id = ?, whorl_id = ?, setting_id = ?, spool_id = ?,
				treadle_turns = ?, flyer_rpm = ?, draw_m = ?, beat_s = ?, note = ?, ended_at = ? WHERE id = ?`,
			r.Name, numberOrNil(r.Drive.Machine), numberOrNil(r.Drive.Whorl), numberOrNil(r.Drive.Setting), numberOrNil(r.Drive.Spool),
			r.Drive.Ratio, r.Drive.RPM, inUnits(r.Drive.Draw, unit.Metre), inSeconds(r.Drive.Beat),
			r.Note, stampOrNil(r.Ended), r.ID)
		return err
	})
}

// checkChange refuses what cannot be meant of the run that is kept.
func (tx *tx) checkChange(ctx context.Context, r journal.Run) error {
	found, err := loadRuns(ctx, tx.Tx, only(kindRun, r.ID), pieces{})
	if err != nil {
		return err
	}
	changed := found[0]
	changed.Name, changed.Drive, changed.Note, changed.Ended = r.Name, r.Drive, r.Note, r.Ended
	return changed.Check()
}

// Run returns a run of plying whole.
func (s *Store) Run(ctx context.Context, id journal.ID) (r *journal.Run, err error) {
	defer wrap(&err, "load run %d", id)
	err = s.read(ctx, func(tx *sql.Tx) error {
		part := only(kindRun, id)
		own, err := loadPieces(ctx, tx, part)
		if err != nil {
			return err
		}
		found, err := loadRuns(ctx, tx, part, own)
		if err != nil {
			return err
		}
		r, err = single(found, kindRun, id)
		return err
	})
	return r, err
}

func loadRuns(ctx context.Context, tx *sql.Tx, part scope, own pieces) ([]journal.Run, error) {
	runs, err := list(ctx, tx, scanRun, `
		SELECT id AS run_id, project_id, name, strands, chain, offset_share, direction,
			coalesce(machine_id, 0), coalesce(whorl_id, 0), coalesce(setting_id, 0), coalesce(spool_id, 0), treadle_turns, flyer_rpm, draw_m, beat_s, note, started_at, ended_at, recorded_at
		FROM run WHERE `+part.where+` ORDER BY id`, part.args...)
	if err != nil {
		return nil, err
	}
	feeds, err := list(ctx, tx, scanFeed, `
		SELECT run_id, bobbin_id, rewound, over_end_adds, package_mm FROM feed JOIN run ON run.id = run_id
		WHERE `+part.where+` ORDER BY run_id, position`, part.args...)
	if err != nil {
		return nil, err
	}
	feedsOf := make(map[journal.ID][]journal.Feed)
	for _, f := range feeds {
		feedsOf[f.run] = append(feedsOf[f.run], f.Feed)
	}
	checksOf := grouped(own.samples, func(s journal.Sample) journal.ID { return s.Run })
	skeinsOf := grouped(own.skeins, func(s journal.Skein) journal.ID { return s.Run })
	for i := range runs {
		r := &runs[i]
		r.Feeds, r.Checks, r.Skeins = feedsOf[r.ID], checksOf[r.ID], skeinsOf[r.ID]
	}
	return runs, nil
}

func scanRun(row *sql.Rows) (r journal.Run, err error) {
	err = row.Scan(&r.ID, &r.Project, &r.Name, &r.Plan.Strands, &r.Plan.Chain, &r.Plan.Offset, word(&r.Direction, yarn.ParseDirection),
		&r.Drive.Machine, &r.Drive.Whorl, &r.Drive.Setting, &r.Drive.Spool, &r.Drive.Ratio, &r.Drive.RPM, amountOrNil(&r.Drive.Draw, unit.Metre), secondsOrNil(&r.Drive.Beat),
		&r.Note, moment(&r.Started), momentOrNil(&r.Ended), moment(&r.Recorded))
	return r, err
}

// feed is a feed with the run that it belongs to.
type feed struct {
	run journal.ID
	journal.Feed
}

func scanFeed(row *sql.Rows) (f feed, err error) {
	var over journal.OverEnd
	var across *unit.Length
	err = row.Scan(&f.run, &f.Bobbin, &f.Rewound, word(&over.Adds, yarn.ParseDirection), amountOrNil(&across, unit.Millimetre))
	if across != nil {
		over.Package = *across
		f.OverEnd = &over
	}
	return f, err
}
