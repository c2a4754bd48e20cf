package sqlite

import (
	"context"
	"database/sql"

	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

// Machines returns all machines whole, in order of recording.
func (s *Store) Machines(ctx context.Context) (all []journal.Machine, err error) {
	defer wrap(&err, "load the machines")
	err = s.read(ctx, func(tx *sql.Tx) error {
		all, err = loadMachines(ctx, tx, everything)
		return err
	})
	return all, err
}

// Machine returns a machine whole.
func (s *Store) Machine(ctx context.Context, id journal.ID) (m *journal.Machine, err error) {
	defer wrap(&err, "load machine %d", id)
	err = s.read(ctx, func(tx *sql.Tx) error {
		found, err := loadMachines(ctx, tx, only(string(journal.PartMachine), id))
		if err != nil {
			return err
		}
		m, err = single(found, string(journal.PartMachine), id)
		return err
	})
	return m, err
}

func loadMachines(ctx context.Context, tx *sql.Tx, part scope) ([]journal.Machine, error) {
	machines, err := list(ctx, tx, scanMachine, `
		SELECT id AS machine_id, name, kind, note, demo, recorded_at, `+struck("machine_id", "machine.id")+`
		FROM machine WHERE `+part.where+` ORDER BY id`, part.args...)
	if err != nil {
		return nil, err
	}
	whorls, err := loadWhorls(ctx, tx, part)
	if err != nil {
		return nil, err
	}
	settings, err := loadSettings(ctx, tx, part)
	if err != nil {
		return nil, err
	}
	spools, err := list(ctx, tx, scanSpool, `
		SELECT id, machine_id, name, core_mm, full_mm, tare_g, holds_g, recorded_at, `+struck("spool_id", "spool.id")+`
		FROM spool WHERE `+part.where+` ORDER BY id`, part.args...)
	if err != nil {
		return nil, err
	}
	slips, err := list(ctx, tx, scanSlip, `
		SELECT slip.id, machine_id, whorl_id, rhythm_bpm, `+seenColumns+`, slip.recorded_at, `+struck("slip_id", "slip.id")+`
		FROM slip JOIN whorl ON whorl.id = whorl_id WHERE `+part.where+` ORDER BY slip.id`, part.args...)
	if err != nil {
		return nil, err
	}
	whorlsOf := grouped(whorls, func(w journal.Whorl) journal.ID { return w.Machine })
	settingsOf := grouped(settings, func(s journal.MotorSetting) journal.ID { return s.Machine })
	spoolsOf := grouped(spools, func(s journal.Spool) journal.ID { return s.Machine })
	slipsOf := grouped(slips, func(s journal.Slip) journal.ID { return s.Machine })
	for i := range machines {
		m := &machines[i]
		m.Whorls, m.Settings, m.Spools, m.Slips = whorlsOf[m.ID], settingsOf[m.ID], spoolsOf[m.ID], slipsOf[m.ID]
	}
	return machines, nil
}

func loadWhorls(ctx context.Context, tx *sql.Tx, part scope) ([]journal.Whorl, error) {
	whorls, err := list(ctx, tx, scanWhorl, `
		SELECT id, machine_id, name, stated_turns, recorded_at, `+struck("whorl_id", "whorl.id")+`
		FROM whorl WHERE `+part.where+` ORDER BY id`, part.args...)
	if err != nil {
		return nil, err
	}
	counts, err := list(ctx, tx, scanCount, `
		SELECT c.id, whorl_id, seen_turns, treadles, c.recorded_at, `+struck("count_id", "c.id")+`
		FROM whorl_count AS c JOIN whorl ON whorl.id = whorl_id WHERE `+part.where+` ORDER BY c.id`, part.args...)
	if err != nil {
		return nil, err
	}
	countsOf := grouped(counts, func(c journal.Count) journal.ID { return c.Whorl })
	for i := range whorls {
		whorls[i].Counts = countsOf[whorls[i].ID]
	}
	return whorls, nil
}

func loadSettings(ctx context.Context, tx *sql.Tx, part scope) ([]journal.MotorSetting, error) {
	settings, err := list(ctx, tx, scanSetting, `
		SELECT id, machine_id, name, stated_rpm, recorded_at, `+struck("setting_id", "motor_setting.id")+`
		FROM motor_setting WHERE `+part.where+` ORDER BY id`, part.args...)
	if err != nil {
		return nil, err
	}
	timings, err := list(ctx, tx, scanTiming, `
		SELECT t.id, setting_id, `+seenColumns+`, t.recorded_at, `+struck("timing_id", "t.id")+`
		FROM timing AS t JOIN motor_setting ON motor_setting.id = setting_id WHERE `+part.where+` ORDER BY t.id`, part.args...)
	if err != nil {
		return nil, err
	}
	timingsOf := grouped(timings, func(t journal.Timing) journal.ID { return t.Setting })
	for i := range settings {
		settings[i].Timings = timingsOf[settings[i].ID]
	}
	return settings, nil
}

// struck is the reason for which a part was struck, empty without one.
func struck(column, id string) string {
	return `coalesce((SELECT reason FROM machine_strike AS s WHERE s.` + column + ` = ` + id + `), '')`
}

func scanMachine(row *sql.Rows) (m journal.Machine, err error) {
	err = row.Scan(&m.ID, &m.Name, word(&m.Kind, wheel.ParseKind), &m.Note, &m.Demo, moment(&m.Recorded), &m.Struck)
	return m, err
}

func scanWhorl(row *sql.Rows) (w journal.Whorl, err error) {
	err = row.Scan(&w.ID, &w.Machine, &w.Name, amountOrNil(&w.Stated, 1), moment(&w.Recorded), &w.Struck)
	return w, err
}

func scanCount(row *sql.Rows) (c journal.Count, err error) {
	err = row.Scan(&c.ID, &c.Whorl, amount(&c.Turns, 1), amount(&c.Treadles, 1), moment(&c.Recorded), &c.Struck)
	return c, err
}

func scanSetting(row *sql.Rows) (s journal.MotorSetting, err error) {
	err = row.Scan(&s.ID, &s.Machine, &s.Name, amountOrNil(&s.Stated, 1), moment(&s.Recorded), &s.Struck)
	return s, err
}

func scanTiming(row *sql.Rows) (t journal.Timing, err error) {
	err = row.Scan(append(append([]any{&t.ID, &t.Setting}, seen(&t.Seen)...), moment(&t.Recorded), &t.Struck)...)
	return t, err
}

func scanSpool(row *sql.Rows) (s journal.Spool, err error) {
	err = row.Scan(&s.ID, &s.Machine, &s.Name, amountOrNil(&s.Core, unit.Millimetre), amountOrNil(&s.Full, unit.Millimetre),
		amountOrNil(&s.Tare, unit.Gram), amountOrNil(&s.Holds, unit.Gram), moment(&s.Recorded), &s.Struck)
	return s, err
}

func scanSlip(row *sql.Rows) (s journal.Slip, err error) {
	err = row.Scan(append(append([]any{&s.ID, &s.Machine, &s.Whorl, amount(&s.Rhythm, 1)}, seen(&s.Seen)...), moment(&s.Recorded), &s.Struck)...)
	return s, err
}
