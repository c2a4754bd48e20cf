package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

// AddMachine keeps a new machine. Its parts are added one by one afterwards.
func (s *Store) AddMachine(ctx context.Context, m journal.Machine) (_ journal.ID, err error) {
	defer wrap(&err, "keep the machine %q", m.Name)
	if err := m.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		return tx.insert(ctx, `INSERT INTO machine (name, kind, note, demo, recorded_at) VALUES (?, ?, ?, ?, ?)`,
			m.Name, m.Kind.String(), m.Note, m.Demo, stamp(tx.now))
	})
}

// ChangeMachine changes the name and the note of a machine; the former ones are
// kept. Nothing else in m counts.
func (s *Store) ChangeMachine(ctx context.Context, m journal.Machine) (err error) {
	defer wrap(&err, "change machine %d", m.ID)
	return s.write(ctx, func(tx *tx) error {
		kept, err := machineWith(ctx, tx.Tx, journal.PartMachine, m.ID)
		if err != nil {
			return err
		}
		kept.Name, kept.Note = m.Name, m.Note
		if err := kept.Check(); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `
			INSERT INTO machine_former (machine_id, name, note, changed_at) SELECT id, name, note, ? FROM machine WHERE id = ?`,
			stamp(tx.now), m.ID); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `UPDATE machine SET name = ?, note = ? WHERE id = ?`, m.Name, m.Note, m.ID)
		return err
	})
}

// AddSpool keeps a new empty bobbin of a machine.
func (s *Store) AddSpool(ctx context.Context, spool journal.Spool) (_ journal.ID, err error) {
	defer wrap(&err, "keep the bobbin %q", spool.Name)
	if err := spool.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if _, err := machineWith(ctx, tx.Tx, journal.PartMachine, spool.Machine); err != nil {
			return 0, err
		}
		return tx.insert(ctx, `INSERT INTO spool (machine_id, name, core_mm, full_mm, tare_g, holds_g, recorded_at) VALUES (?, ?, ?, ?, ?, ?, ?)`,
			spool.Machine, spool.Name, inUnits(spool.Core, unit.Millimetre), inUnits(spool.Full, unit.Millimetre),
			inUnits(spool.Tare, unit.Gram), inUnits(spool.Holds, unit.Gram), stamp(tx.now))
	})
}

// machineOf finds the number of the machine that a part belongs to.
var machineOf = map[journal.Part]string{
	journal.PartMachine: `?`,
	journal.PartWhorl:   `SELECT machine_id FROM whorl WHERE id = ?`,
	journal.PartCount:   `SELECT machine_id FROM whorl WHERE id = (SELECT whorl_id FROM whorl_count WHERE id = ?)`,
	journal.PartSetting: `SELECT machine_id FROM motor_setting WHERE id = ?`,
	journal.PartTiming:  `SELECT machine_id FROM motor_setting WHERE id = (SELECT setting_id FROM timing WHERE id = ?)`,
	journal.PartSpool:   `SELECT machine_id FROM spool WHERE id = ?`,
	journal.PartSlip:    `SELECT machine_id FROM whorl WHERE id = (SELECT whorl_id FROM slip WHERE id = ?)`,
}

// machineWith returns the machine that a part belongs to, without its parts. It
// refuses when there is no such part.
func machineWith(ctx context.Context, tx *sql.Tx, part journal.Part, id journal.ID) (m journal.Machine, err error) {
	err = tx.QueryRowContext(ctx, `SELECT id, name, kind, note, demo, recorded_at FROM machine WHERE id = (`+machineOf[part]+`)`, id).
		Scan(&m.ID, &m.Name, word(&m.Kind, wheel.ParseKind), &m.Note, &m.Demo, moment(&m.Recorded))
	if errors.Is(err, sql.ErrNoRows) {
		return m, journal.Missing(string(part), id)
	}
	return m, err
}

// checkDrive refuses a drive whose parts are not of its machine.
func (tx *tx) checkDrive(ctx context.Context, d journal.Drive) error {
	if d.Machine == 0 {
		return nil
	}
	m, err := machineWith(ctx, tx.Tx, journal.PartMachine, d.Machine)
	if err != nil {
		return err
	}
	for _, of := range []struct {
		part journal.Part
		id   journal.ID
	}{{journal.PartWhorl, d.Whorl}, {journal.PartSetting, d.Setting}, {journal.PartSpool, d.Spool}} {
		if of.id == 0 {
			continue
		}
		owner, err := machineWith(ctx, tx.Tx, of.part, of.id)
		if err != nil {
			return err
		}
		if owner.ID != m.ID {
			return &journal.Error{Code: journal.Invalid, Field: "machine", Text: fmt.Sprintf(
				"That %s is of another machine, %s; choose one of %s.", of.part, owner.Name, m.Name)}
		}
	}
	return nil
}

// struckColumns are the columns of machine_strike by the part that they name.
var struckColumns = map[journal.Part]string{
	journal.PartMachine: "machine_id", journal.PartWhorl: "whorl_id", journal.PartCount: "count_id", journal.PartSetting: "setting_id",
	journal.PartTiming: "timing_id", journal.PartSpool: "spool_id", journal.PartSlip: "slip_id",
}

// StrikePart notes that a machine or a part of one no longer counts, or is no
// longer used. It refuses one that has been struck already (Conflict).
func (s *Store) StrikePart(ctx context.Context, p journal.Part, id journal.ID, reason string) (err error) {
	defer wrap(&err, "strike the %s %d", p, id)
	if err := p.CheckStrike(reason); err != nil {
		return err
	}
	return s.write(ctx, func(tx *tx) error {
		if _, err := machineWith(ctx, tx.Tx, p, id); err != nil {
			return err
		}
		var former string
		err := tx.QueryRowContext(ctx, `SELECT reason FROM machine_strike WHERE `+struckColumns[p]+` = ?`, id).Scan(&former)
		if err == nil {
			return p.Struck(id, former)
		}
		if !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO machine_strike (`+struckColumns[p]+`, reason, recorded_at) VALUES (?, ?, ?)`, id, reason, stamp(tx.now))
		return err
	})
}
