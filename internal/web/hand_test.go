package web

import (
	"testing"
	"time"

	"waketwist/internal/journal"
	"waketwist/unit"
)

// A clock that was set back gives a new record an earlier time than the latest.
func TestHandFollowsEveryProject(t *testing.T) {
	latest := time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)
	angle := unit.Angle(40 * unit.Degree)
	ahead := journal.Project{ID: 1, Touched: latest}
	behind := journal.Project{ID: 2, Touched: latest.Add(-2 * time.Hour)}
	var b bench
	if b.handOf([]journal.Project{ahead, behind}) != nil {
		t.Fatal("nothing was read, and something was learnt")
	}
	behind.Touched = latest.Add(-time.Hour)
	behind.Bobbins = []journal.Bobbin{{ID: 1, Project: 2, Singles: &angle}}
	first := b.handOf([]journal.Project{ahead, behind})
	if first == nil {
		t.Fatal("a reading recorded on a clock set back taught nothing")
	}
	if b.handOf([]journal.Project{ahead, behind}) != first {
		t.Error("the same readings were brought together twice")
	}
}
