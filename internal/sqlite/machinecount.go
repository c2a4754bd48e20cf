package sqlite

import (
	"context"
	"fmt"

	"waketwist/internal/journal"
	"waketwist/wheel"
)

// AddWhorl keeps a new whorl of a machine with its counts.
func (s *Store) AddWhorl(ctx context.Context, w journal.Whorl) (_ journal.ID, err error) {
	defer wrap(&err, "keep the whorl %q", w.Name)
	if err := w.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		m, err := machineWith(ctx, tx.Tx, journal.PartMachine, w.Machine)
		if err != nil {
			return 0, err
		}
		if err := m.CheckWhorl(); err != nil {
			return 0, err
		}
		id, err := tx.insert(ctx, `INSERT INTO whorl (machine_id, name, stated_turns, recorded_at) VALUES (?, ?, ?, ?)`,
			w.Machine, w.Name, inUnits(w.Stated, 1), stamp(tx.now))
		if err != nil {
			return 0, err
		}
		for _, c := range w.Counts {
			if _, err := tx.insertCount(ctx, id, c); err != nil {
				return 0, err
			}
		}
		return id, nil
	})
}

// AddCount keeps a further count of a whorl.
func (s *Store) AddCount(ctx context.Context, c journal.Count) (_ journal.ID, err error) {
	defer wrap(&err, "keep a count of whorl %d", c.Whorl)
	if err := c.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if _, err := machineWith(ctx, tx.Tx, journal.PartWhorl, c.Whorl); err != nil {
			return 0, err
		}
		return tx.insertCount(ctx, c.Whorl, c)
	})
}

func (tx *tx) insertCount(ctx context.Context, whorl journal.ID, c journal.Count) (journal.ID, error) {
	return tx.insert(ctx, `INSERT INTO whorl_count (whorl_id, seen_turns, treadles, recorded_at) VALUES (?, ?, ?, ?)`,
		whorl, float64(c.Turns), float64(c.Treadles), stamp(tx.now))
}

// AddMotorSetting keeps a new setting of a motor with its timings.
func (s *Store) AddMotorSetting(ctx context.Context, one journal.MotorSetting) (_ journal.ID, err error) {
	defer wrap(&err, "keep the setting %q", one.Name)
	if err := one.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		m, err := machineWith(ctx, tx.Tx, journal.PartMachine, one.Machine)
		if err != nil {
			return 0, err
		}
		if err := m.CheckMotorSetting(); err != nil {
			return 0, err
		}
		id, err := tx.insert(ctx, `INSERT INTO motor_setting (machine_id, name, stated_rpm, recorded_at) VALUES (?, ?, ?, ?)`,
			one.Machine, one.Name, inUnits(one.Stated, 1), stamp(tx.now))
		if err != nil {
			return 0, err
		}
		for _, t := range one.Timings {
			if _, err := tx.insertTiming(ctx, id, t); err != nil {
				return 0, err
			}
		}
		return id, nil
	})
}

// AddTiming keeps a further timing of a motor's setting.
func (s *Store) AddTiming(ctx context.Context, t journal.Timing) (_ journal.ID, err error) {
	defer wrap(&err, "keep a timing of setting %d", t.Setting)
	if err := t.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if _, err := machineWith(ctx, tx.Tx, journal.PartSetting, t.Setting); err != nil {
			return 0, err
		}
		return tx.insertTiming(ctx, t.Setting, t)
	})
}

func (tx *tx) insertTiming(ctx context.Context, setting journal.ID, t journal.Timing) (journal.ID, error) {
	return tx.insert(ctx, `INSERT INTO timing (setting_id, `+seenColumns+`, recorded_at) VALUES (?, ?, ?, ?, ?, ?, ?)`,
		append(append([]any{setting}, seenValues(t.Seen)...), stamp(tx.now))...)
}

// AddSlip keeps what a band was seen to pass on. It refuses a whorl of another
// machine (Invalid).
func (s *Store) AddSlip(ctx context.Context, slip journal.Slip) (_ journal.ID, err error) {
	defer wrap(&err, "keep the slip of machine %d", slip.Machine)
	if err := slip.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		m, err := machineWith(ctx, tx.Tx, journal.PartMachine, slip.Machine)
		if err != nil {
			return 0, err
		}
		if err := m.CheckSlip(); err != nil {
			return 0, err
		}
		owner, err := machineWith(ctx, tx.Tx, journal.PartWhorl, slip.Whorl)
		if err != nil {
			return 0, err
		}
		if owner.ID != m.ID {
			return 0, &journal.Error{Code: journal.Invalid, Field: "whorl", Text: fmt.Sprintf("That whorl is of another machine, %s.", owner.Name)}
		}
		return tx.insert(ctx, `INSERT INTO slip (whorl_id, rhythm_bpm, `+seenColumns+`, recorded_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
			append(append([]any{slip.Whorl, float64(slip.Rhythm)}, seenValues(slip.Seen)...), stamp(tx.now))...)
	})
}

// seenColumns are those of turns counted over a time.
const seenColumns = `how, seen_turns, over_s, frames, film_fps`

func seenValues(s journal.Seen) []any {
	if s.How == journal.OnFilm {
		return []any{string(s.How), float64(s.Turns), nil, s.Frames, s.FramesPerSecond}
	}
	return []any{string(s.How), float64(s.Turns), float64(s.Time), nil, nil}
}

// seen reads turns counted over a time.
func seen(into *journal.Seen) []any {
	return []any{
		(*string)(&into.How), amount(&into.Turns, 1), orZero(&into.Time, func(t *wheel.Seconds) column { return amount(t, 1) }),
		orZero(&into.Frames, wholeNumber), orZero(&into.FramesPerSecond, func(v *float64) column { return amount(v, 1) }),
	}
}
