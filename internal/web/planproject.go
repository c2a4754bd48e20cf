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

// addProject keeps a project, for the plan that it was begun from where there is
// one.
func (b *bench) addProject(ctx context.Context, f *form, p journal.Project) (journal.ID, error) {
	if wish := quantity(f, "plan", recordID); wish != nil {
		return b.Store.AddProjectFor(ctx, *wish, p)
	}
	return b.Store.AddProject(ctx, p)
}
