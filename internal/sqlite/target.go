package sqlite

import (
	"context"
	"database/sql"

	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

// turnPerMetre is the unit in which turns are kept.
const turnPerMetre = yarn.PlyTwist(unit.TurnPerMetre)

// AddTarget keeps a new target, which from now on is the one in force.
func (s *Store) AddTarget(ctx context.Context, t journal.Target) (_ journal.ID, err error) {
	defer wrap(&err, "keep a target for project %d", t.Project)
	if err := t.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) {
		if err := tx.touch(ctx, kindProject, t.Project); err != nil {
			return 0, err
		}
		return tx.insertTarget(ctx, t)
	})
}

func (tx *tx) insertTarget(ctx context.Context, t journal.Target) (journal.ID, error) {
	var twist, low, high *float64
	if n := t.TurnsTPM; n != nil {
		twist, low, high = inUnits(&n.Value, turnPerMetre), inUnits(&n.Low, turnPerMetre), inUnits(&n.High, turnPerMetre)
	}
	return tx.insert(ctx, `
		INSERT INTO target (project_id, strands, chain, offset_share, line,
			angle_deg, angle_low_deg, angle_high_deg, washed_deg, washed_low_deg, washed_high_deg,
			wheel_deg, wheel_low_deg, wheel_high_deg, twist_tpm, twist_low_tpm, twist_high_tpm,
			measured, note, recorded_at)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		t.Project, t.Plan.Strands, t.Plan.Chain, t.Plan.Offset, t.Line.String(),
		t.Angle.Value.Degrees(), t.Angle.Low.Degrees(), t.Angle.High.Degrees(),
		t.Washed.Value.Degrees(), t.Washed.Low.Degrees(), t.Washed.High.Degrees(),
		t.Wheel.Value.Degrees(), t.Wheel.Low.Degrees(), t.Wheel.High.Degrees(),
		twist, low, high, t.Measured, t.Note, stamp(tx.now))
}

func loadTargets(ctx context.Context, tx *sql.Tx, part scope) ([]journal.Target, error) {
	return list(ctx, tx, scanTarget, `
		SELECT id, project_id, strands, chain, offset_share, line,
			angle_deg, angle_low_deg, angle_high_deg, washed_deg, washed_low_deg, washed_high_deg,
			wheel_deg, wheel_low_deg, wheel_high_deg, twist_tpm, twist_low_tpm, twist_high_tpm,
			measured, note, recorded_at
		FROM target WHERE `+part.where+` ORDER BY id`, part.args...)
}

func scanTarget(row *sql.Rows) (t journal.Target, err error) {
	var twist, low, high *yarn.PlyTwist
	err = row.Scan(&t.ID, &t.Project, &t.Plan.Strands, &t.Plan.Chain, &t.Plan.Offset, word(&t.Line, yarn.ParseLine),
		amount(&t.Angle.Value, unit.Degree), amount(&t.Angle.Low, unit.Degree), amount(&t.Angle.High, unit.Degree),
		amount(&t.Washed.Value, unit.Degree), amount(&t.Washed.Low, unit.Degree), amount(&t.Washed.High, unit.Degree),
		amount(&t.Wheel.Value, unit.Degree), amount(&t.Wheel.Low, unit.Degree), amount(&t.Wheel.High, unit.Degree),
		amountOrNil(&twist, turnPerMetre), amountOrNil(&low, turnPerMetre), amountOrNil(&high, turnPerMetre),
		&t.Measured, &t.Note, moment(&t.Recorded))
	if twist != nil && low != nil && high != nil {
		t.TurnsTPM = &journal.Turns{Value: *twist, Low: *low, High: *high}
	}
	return t, err
}
