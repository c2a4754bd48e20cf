package sqlite

import (
	"context"
	"database/sql"
	"fmt"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
)

// degreeCelsius is the unit in which temperatures are kept.
const degreeCelsius unit.Temperature = 1

// AddSample keeps a new sample with its readings.
func (s *Store) AddSample(ctx context.Context, sample journal.Sample) (_ journal.ID, err error) {
	kind, owner := ownerOf(sample)
	defer wrap(&err, "keep a sample of %s %d", kind, owner)
	if err := sample.Check(); err != nil {
		return 0, err
	}
	for _, r := range sample.Readings {
		if err := r.Check(); err != nil {
			return 0, err
		}
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touch(ctx, kind, owner); err != nil {
			return 0, err
		}
		id, err := tx.insert(ctx, `
			INSERT INTO sample (bobbin_id, run_id, skein_id, state, place, depth_share, age_h, humidity_pct,
				soak_min, soak_started_at, water_c, load, load_g, note, recorded_at)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
			numberOrNil(sample.Bobbin), numberOrNil(sample.Run), numberOrNil(sample.Skein),
			sample.State.String(), sample.Place, sample.Depth, sample.AgeHours, sample.Humidity,
			sample.Soak, stampOrNil(sample.SoakStart), inUnits(sample.Water, degreeCelsius),
			sample.Load.String(), sample.LoadGrams, sample.Note, stamp(tx.now))
		if err != nil {
			return 0, err
		}
		return id, tx.insertReadings(ctx, id, sample.Readings)
	})
}

// ownerOf returns what a sample is a piece of.
func ownerOf(sample journal.Sample) (kind string, id journal.ID) {
	switch {
	case sample.Run != 0:
		return kindRun, sample.Run
	case sample.Skein != 0:
		return kindSkein, sample.Skein
	}
	return kindBobbin, sample.Bobbin
}

// EndSoak notes how long a sample has lain in water. It refuses a sample whose
// soak was never started (Invalid) or has been noted already (Conflict).
func (s *Store) EndSoak(ctx context.Context, id journal.ID, minutes float64) (err error) {
	defer wrap(&err, "end the soak of sample %d", id)
	return s.write(ctx, func(tx *tx) error {
		if err := tx.touch(ctx, kindSample, id); err != nil {
			return err
		}
		found, err := loadSamples(ctx, tx.Tx, only(kindSample, id))
		if err != nil {
			return err
		}
		if err := checkSoak(found[0], minutes); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `UPDATE sample SET soak_min = ? WHERE id = ?`, minutes, id)
		return err
	})
}

func checkSoak(sample journal.Sample, minutes float64) error {
	switch {
	case sample.Soak != nil:
		return &journal.Error{Code: journal.Conflict, Field: "soak", Text: fmt.Sprintf(
			"The soak of this sample is recorded already, as %.4g minutes; if that is wrong, record the sample anew.", *sample.Soak)}
	case sample.SoakStart == nil:
		return &journal.Error{Code: journal.Invalid, Field: "soak", Text: "This sample has not been put into water; record a re-wet sample and start its soak first."}
	}
	sample.Soak = &minutes
	return sample.Check()
}

// Sample returns a sample with all its readings.
func (s *Store) Sample(ctx context.Context, id journal.ID) (_ *journal.Sample, err error) {
	defer wrap(&err, "load sample %d", id)
	return s.sample(ctx, only(kindSample, id), kindSample, id)
}

// SampleOf returns the sample that a reading belongs to, with all its readings.
func (s *Store) SampleOf(ctx context.Context, reading journal.ID) (_ *journal.Sample, err error) {
	defer wrap(&err, "load the sample of reading %d", reading)
	part := scope{`sample_id = (SELECT sample_id FROM reading WHERE id = ?)`, []any{reading}}
	return s.sample(ctx, part, kindReading, reading)
}

// sample returns the sample of a scope that was asked for by the number of a
// record.
func (s *Store) sample(ctx context.Context, part scope, kind string, id journal.ID) (sample *journal.Sample, err error) {
	err = s.read(ctx, func(tx *sql.Tx) error {
		found, err := loadSamples(ctx, tx, part)
		if err != nil {
			return err
		}
		sample, err = single(found, kind, id)
		return err
	})
	return sample, err
}

func loadSamples(ctx context.Context, tx *sql.Tx, part scope) ([]journal.Sample, error) {
	samples, err := list(ctx, tx, scanSample, `
		SELECT id, coalesce(bobbin_id, 0), coalesce(run_id, 0), coalesce(skein_id, 0), state, place, depth_share,
			age_h, humidity_pct, soak_min, soak_started_at, water_c, load, load_g, note, recorded_at
		FROM sample WHERE id IN (SELECT sample_id FROM sample_owner WHERE `+part.where+`) ORDER BY id`, part.args...)
	if err != nil {
		return nil, err
	}
	readings, err := loadReadings(ctx, tx, part)
	if err != nil {
		return nil, err
	}
	readingsOf := grouped(readings, func(r journal.Reading) journal.ID { return r.Sample })
	for i := range samples {
		samples[i].Readings = readingsOf[samples[i].ID]
	}
	return samples, nil
}

func scanSample(row *sql.Rows) (s journal.Sample, err error) {
	err = row.Scan(&s.ID, &s.Bobbin, &s.Run, &s.Skein, word(&s.State, estimate.ParseState), &s.Place, &s.Depth,
		&s.AgeHours, &s.Humidity, &s.Soak, momentOrNil(&s.SoakStart), amountOrNil(&s.Water, degreeCelsius),
		word(&s.Load, estimate.ParseLoad), &s.LoadGrams, &s.Note, moment(&s.Recorded))
	return s, err
}
