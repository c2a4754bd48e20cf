package web

import (
	"context"
	"fmt"
	"net/url"
	"strconv"

	"waketwist/internal/journal"
	"waketwist/plan"
)

// projectValues begins a project from a plan: its name, and the ply that it asks
// for where a project can hold it.
func projectValues(wish journal.Wish) url.Values {
	v := url.Values{"plan": {fmt.Sprint(wish.ID)}, "name": {wish.Name}, "strands": {"2"}}
	asked, _ := plan.Read(wish.Text)
	if n := asked.Plies; n >= 2 && n <= 4 {
		v.Set("strands", strconv.Itoa(n))
	}
	asked.Wheel = nil // the machine is no matter of the ply
	if r, err := plan.Solve(asked); err == nil && plan.SourceOf(r, plan.PlyAngle) == plan.Wished {
		v.Set("want", strconv.FormatFloat(plan.Of(r, plan.PlyAngle).Value.Degrees(), 'f', 0, 64))
	}
	return v
}

// planFor gives the plan that a project was begun from to that project.
func (b *bench) planFor(ctx context.Context, f *form, project journal.ID) error {
	id := quantity(f, "plan", recordID)
	if id == nil {
		return nil
	}
	wish, err := b.Store.Wish(ctx, *id)
	if err != nil {
		return err
	}
	wish.Project = project
	return b.Store.ChangeWish(ctx, *wish)
}
