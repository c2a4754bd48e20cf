package job

import (
	"strconv"
	"strings"

	"waketwist/internal/journal"
)

// Label is the number and the name by which a record is asked for, and whether it
// is in use.
type Label struct {
	ID    journal.ID
	Name  string
	InUse bool
}

// MachineLabel is that of a machine.
func MachineLabel(m journal.Machine) Label { return Label{m.ID, m.Name, m.Struck == ""} }

// Named looks a record up by its whole name, its number, or a part of its name
// that only it has, among those in use. kind is the word for it. It refuses with a
// *journal.Error names that none, or several, have.
func Named[T any](all []T, wanted, kind string, labelOf func(T) Label) (*T, error) {
	var called, found []*T
	for i := range all {
		l := labelOf(all[i])
		switch {
		case !l.InUse:
			continue
		case strings.EqualFold(l.Name, wanted):
			called = append(called, &all[i])
		case strings.Contains(strings.ToLower(l.Name), strings.ToLower(wanted)):
			found = append(found, &all[i])
		}
	}
	switch {
	case len(called) == 1:
		return called[0], nil
	case len(called) > 1:
		return nil, unfit("More than one %s is called “%s”; give each a name of its own in the workbench.", kind, wanted)
	case len(found) == 1:
		return found[0], nil
	}
	for i := range all {
		if l := labelOf(all[i]); len(found) == 0 && l.InUse && strconv.FormatInt(int64(l.ID), 10) == wanted {
			return &all[i], nil
		}
	}
	names := QuotedNames(all, labelOf)
	switch {
	case names == "":
		return nil, unfit("The journal has no %s in use; add one in the workbench first.", kind)
	case len(found) > 1:
		return nil, unfit("More than one %s has “%s” in its name; write the whole name, one of %s.", kind, wanted, names)
	}
	return nil, unfit("There is no %s “%s” in use; choose one of %s.", kind, wanted, names)
}

// QuotedNames lists the names of the records in use, each in quotes.
func QuotedNames[T any](all []T, labelOf func(T) Label) string {
	var names []string
	for _, one := range all {
		if l := labelOf(one); l.InUse {
			names = append(names, "“"+l.Name+"”")
		}
	}
	return strings.Join(names, ", ")
}
