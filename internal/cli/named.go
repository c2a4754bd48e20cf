package cli

import (
	"strconv"
	"strings"

	"waketwist/internal/journal"
)

// key is the number and the name by which a record is asked for, and whether it is
// in use.
type key struct {
	id    journal.ID
	name  string
	inUse bool
}

func machineKey(m journal.Machine) key      { return key{m.ID, m.Name, m.Struck == ""} }
func whorlKey(w journal.Whorl) key          { return key{w.ID, w.Name, w.Struck == ""} }
func spoolKey(s journal.Spool) key          { return key{s.ID, s.Name, s.Struck == ""} }
func settingKey(s journal.MotorSetting) key { return key{s.ID, s.Name, s.Struck == ""} }
func projectKey(p journal.Project) key      { return key{p.ID, p.Name, true} }
func wishKey(w journal.Wish) key            { return key{w.ID, w.Name, true} }

// only finds the part that was named, else the only one in use; nil where several
// or none are.
func only[T any](all []T, named, kind string, keyOf func(T) key) (*T, error) {
	if named != "" {
		return findNamed(all, named, kind, keyOf)
	}
	var found *T
	for i := range all {
		if !keyOf(all[i]).inUse {
			continue
		}
		if found != nil {
			return nil, nil
		}
		found = &all[i]
	}
	return found, nil
}

// findNamed looks a record up by its whole name, its number, or a part of its name
// that only it has, among those in use.
func findNamed[T any](all []T, wanted, kind string, keyOf func(T) key) (*T, error) {
	var found []*T
	for i := range all {
		k := keyOf(all[i])
		switch {
		case !k.inUse:
			continue
		case strings.EqualFold(k.name, wanted):
			return &all[i], nil
		case strings.Contains(strings.ToLower(k.name), strings.ToLower(wanted)):
			found = append(found, &all[i])
		}
	}
	if len(found) == 1 {
		return found[0], nil
	}
	for i := range all {
		if k := keyOf(all[i]); len(found) == 0 && k.inUse && formatID(k.id) == wanted {
			return &all[i], nil
		}
	}
	names := quotedNames(all, keyOf)
	switch {
	case names == "":
		return nil, words("The journal has no " + kind + " in use; add one in the workbench first.")
	case len(found) > 1:
		return nil, words("More than one " + kind + " has “" + wanted + "” in its name; write the whole name, one of " + names + ".")
	}
	return nil, words("There is no " + kind + " “" + wanted + "” in use; choose one of " + names + ".")
}

func quotedNames[T any](all []T, keyOf func(T) key) string {
	var names []string
	for _, one := range all {
		if k := keyOf(one); k.inUse {
			names = append(names, "“"+k.name+"”")
		}
	}
	return strings.Join(names, ", ")
}

func formatID(id journal.ID) string { return strconv.FormatInt(int64(id), 10) }
