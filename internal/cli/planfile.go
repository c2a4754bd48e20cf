package cli

import (
	"io"
	"os"

	"waketwist/internal/job"
	"waketwist/plan"
)

// readPlan reads a plan from a file, or from standard input.
func readPlan(name string, stdin io.Reader) (plan.Text, error) {
	if name == "-" {
		return decodePlan(stdin)
	}
	file, err := os.Open(name)
	if err != nil {
		return nil, misused("“%s” cannot be opened; check that it is a file you may read", name)
	}
	defer file.Close()
	return decodePlan(file)
}

func decodePlan(r io.Reader) (plan.Text, error) {
	text, err := job.ReadPlan(r)
	if err != nil {
		return nil, misused("%v", err)
	}
	return text, nil
}

// wishOf puts a text into the terms of the core, and names the first field, from
// the top of the chain, that cannot be read.
func wishOf(t plan.Text) (plan.Wish, error) {
	w, problems := plan.Read(t)
	for _, f := range plan.Fields() {
		if err := problems[f.Key]; err != nil {
			return w, misused("%s: %v", f.Key, err)
		}
	}
	for key := range problems {
		return w, misused("the plan has no place for “%s”; “waketwist plan --fields” lists what it has", key)
	}
	return w, nil
}
