package demo

import (
	"bytes"
	"context"
	"embed"
	"fmt"

	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/plan"
)

// planFiles are three plans in scenarios of our own: back from a cloth, back from
// a knitted pair, and forwards from a fleece and the evenings of a winter.
//
//go:embed plan/*.toml
var planFiles embed.FS

// Plans are the demonstration's plans by their names, in the order in which they
// are kept.
var Plans = []struct{ Name, File string }{
	{"Shawl from one fleece", "shawl"}, {"Boot socks", "socks"}, {"Landing stage cushion", "cushion"},
}

// Plan returns one of them as it is written. It panics where there is none of
// that name of a file.
func Plan(file string) plan.Text {
	content, err := planFiles.ReadFile("plan/" + file + ".toml")
	if err != nil {
		panic(err)
	}
	text, err := job.ReadPlan(bytes.NewReader(content))
	if err != nil {
		panic(err)
	}
	return text
}

// keepPlans keeps the plans in a journal.
func keepPlans(ctx context.Context, store journal.Store) error {
	for _, p := range Plans {
		if _, err := store.AddWish(ctx, journal.Wish{Name: p.Name, Demo: true, Text: Plan(p.File)}); err != nil {
			return fmt.Errorf("demonstration, plan %s: %w", p.Name, err)
		}
	}
	return nil
}
