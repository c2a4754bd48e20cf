package cli

import (
	"waketwist/internal/job"
	"waketwist/internal/journal"
)

func whorlKey(w journal.Whorl) job.Label {
	return job.Label{ID: w.ID, Name: w.Name, InUse: w.Struck == ""}
}
func spoolKey(s journal.Spool) job.Label {
	return job.Label{ID: s.ID, Name: s.Name, InUse: s.Struck == ""}
}
func settingKey(s journal.MotorSetting) job.Label {
	return job.Label{ID: s.ID, Name: s.Name, InUse: s.Struck == ""}
}
func projectKey(p journal.Project) job.Label { return job.Label{ID: p.ID, Name: p.Name, InUse: true} }
func wishKey(w journal.Wish) job.Label       { return job.Label{ID: w.ID, Name: w.Name, InUse: true} }

// only finds the part that was named, else the only one in use; nil where several
// or none are.
func only[T any](all []T, named, kind string, labelOf func(T) job.Label) (*T, error) {
	if named != "" {
		return job.Named(all, named, kind, labelOf)
	}
	var found *T
	for i := range all {
		if !labelOf(all[i]).InUse {
			continue
		}
		if found != nil {
			return nil, nil
		}
		found = &all[i]
	}
	return found, nil
}
