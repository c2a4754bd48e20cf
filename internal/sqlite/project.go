package sqlite

import (
	"context"
	"database/sql"

	"waketwist/internal/journal"
	"waketwist/unit"
)

// AddProject keeps a new project. Its bobbins, runs and targets are added one by
// one afterwards.
func (s *Store) AddProject(ctx context.Context, p journal.Project) (_ journal.ID, err error) {
	defer wrap(&err, "keep the project %q", p.Name)
	if err := p.Check(); err != nil {
		return 0, err
	}
	return s.add(ctx, func(tx *tx) (journal.ID, error) { return tx.insertProject(ctx, p) })
}

func (tx *tx) insertProject(ctx context.Context, p journal.Project) (journal.ID, error) {
	return tx.insert(ctx, `
		INSERT INTO project (name, aim, strands, chain, offset_share, want_deg, demo, created_at, touched_at, finished_at)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		p.Name, p.Aim, p.Plan.Strands, p.Plan.Chain, p.Plan.Offset, inUnits(p.Want, unit.Degree), p.Demo,
		stamp(tx.now), stamp(tx.now), stampOrNil(p.Finished))
}

// formerProject puts a project as it is into the history.
const formerProject = `
	INSERT INTO history (kind, record_id, changed_at, former)
	SELECT 'project', id, ?, json_object('name', name, 'aim', aim, 'strands', strands, 'chain', chain,
		'offset_share', offset_share, 'want_deg', want_deg, 'finished_at', finished_at)
	FROM project WHERE id = ?`

// ChangeProject changes the name, aim and plan of a project and whether it is
// finished; the former version goes to the history.
func (s *Store) ChangeProject(ctx context.Context, p journal.Project) (err error) {
	defer wrap(&err, "change project %d", p.ID)
	if err := p.Check(); err != nil {
		return err
	}
	return s.write(ctx, func(tx *tx) error {
		if err := tx.touch(ctx, kindProject, p.ID); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, formerProject, stamp(tx.now), p.ID); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `
			UPDATE project SET name = ?, aim = ?, strands = ?, chain = ?, offset_share = ?, want_deg = ?, finished_at = ? WHERE id = ?`,
			p.Name, p.Aim, p.Plan.Strands, p.Plan.Chain, p.Plan.Offset, inUnits(p.Want, unit.Degree), stampOrNil(p.Finished), p.ID)
		return err
	})
}

// Projects returns all projects whole, the latest touched first.
func (s *Store) Projects(ctx context.Context) (projects []journal.Project, err error) {
	defer wrap(&err, "load the projects")
	err = s.read(ctx, func(tx *sql.Tx) error {
		projects, err = loadProjects(ctx, tx, everything)
		return err
	})
	return projects, err
}

// Project returns a project whole.
func (s *Store) Project(ctx context.Context, id journal.ID) (p *journal.Project, err error) {
	defer wrap(&err, "load project %d", id)
	err = s.read(ctx, func(tx *sql.Tx) error {
		found, err := loadProjects(ctx, tx, only(kindProject, id))
		if err != nil {
			return err
		}
		p, err = single(found, kindProject, id)
		return err
	})
	return p, err
}

func loadProjects(ctx context.Context, tx *sql.Tx, part scope) ([]journal.Project, error) {
	projects, err := list(ctx, tx, scanProject, `
		SELECT id AS project_id, name, aim, strands, chain, offset_share, want_deg, demo, created_at, touched_at, finished_at
		FROM project WHERE `+part.where+` ORDER BY touched_at DESC, id DESC`, part.args...)
	if err != nil {
		return nil, err
	}
	own, err := loadPieces(ctx, tx, part)
	if err != nil {
		return nil, err
	}
	bobbins, err := loadBobbins(ctx, tx, part, own)
	if err != nil {
		return nil, err
	}
	runs, err := loadRuns(ctx, tx, part, own)
	if err != nil {
		return nil, err
	}
	targets, err := loadTargets(ctx, tx, part)
	if err != nil {
		return nil, err
	}
	bobbinsOf := grouped(bobbins, func(b journal.Bobbin) journal.ID { return b.Project })
	runsOf := grouped(runs, func(r journal.Run) journal.ID { return r.Project })
	targetsOf := grouped(targets, func(t journal.Target) journal.ID { return t.Project })
	for i := range projects {
		p := &projects[i]
		p.Bobbins, p.Runs, p.Targets = bobbinsOf[p.ID], runsOf[p.ID], targetsOf[p.ID]
	}
	return projects, nil
}

func scanProject(row *sql.Rows) (p journal.Project, err error) {
	err = row.Scan(&p.ID, &p.Name, &p.Aim, &p.Plan.Strands, &p.Plan.Chain, &p.Plan.Offset, amountOrNil(&p.Want, unit.Degree), &p.Demo,
		moment(&p.Created), moment(&p.Touched), momentOrNil(&p.Finished))
	return p, err
}
