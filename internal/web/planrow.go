package web

import (
	"slices"
	"strings"

	"waketwist/internal/journal"
	"waketwist/plan"
)

// planPart is a part of the chain on the page: what matters, and the rest.
type planPart struct {
	Name, ID   string
	Rows, More []planRow
}

// planRow is a place for a value with what the plan makes of it.
type planRow struct {
	Field   string // empty for what only follows
	ID      string // that of the field in the page
	Label   string
	Example string
	Choices []string
	Long    bool
	Typed   string
	Problem string
	Answer  *planAnswer // nil where the plan does not reach it
}

// planAnswer is a line of the plan.
type planAnswer struct {
	Text, Range, State, Source, Why string
	Wished, Model                   bool
}

// planLayout is which fields stand where; those of a part that are not named come
// under more.
var planLayout = []struct {
	name, id string // the id is the head of the keys that belong there
	main     []string
}{
	{"Cloth", "cloth", []string{"cloth.weave", "cloth.width", "cloth.length", "cloth.sett", "cloth.picks", "cloth.reed-width", "cloth.ends", "cloth.warp-length", "cloth.warp", "cloth.weft"}},
	{"Knitted fabric", "knit", []string{"knit.width", "knit.length", "knit.pieces", "knit.swatch", "knit.swatch-mass"}},
	{"Yarn", "yarn", []string{"yarn.plies", "yarn.direction", "yarn.grist", "yarn.wraps", "yarn.length", "yarn.mass", "yarn.angle", "yarn.twist"}},
	{"Singles", "singles", []string{"singles.grist", "singles.diameter", "singles.angle", "singles.twist", "singles.length"}},
	{"Fibre", "fibre", []string{"fibre.bought", "fibre.in-hand", "fibre.breed"}},
	{"Work", "work", []string{"work.hours", "work.ply-hours", "work.bobbins", "work.ply-bobbins"}},
	{"In the middle of the work", "weighed", []string{"weighed.prepared", "weighed.left", "weighed.spun", "weighed.spun-length"}},
}

// outcomes are lines without a field, by the part under whose more they stand.
var outcomes = map[string][]string{
	"cloth": {"cloth.pick-count", "cloth.ends-washed", "cloth.picks-washed"},
	"fibre": {"fibre.spun", "fibre.prepared"},
}

// planParts lays the form and the plan out. r may be nil.
func planParts(f *form, fabric string, r *plan.Result, machines []journal.Machine) (out []planPart) {
	fields := map[string]plan.Field{}
	var order []string
	for _, one := range plan.Fields() {
		if one.Key == "work.machine" {
			one.Choices = machineNames(machines)
		}
		fields[one.Key] = one
		order = append(order, one.Key)
	}
	for _, l := range planLayout {
		if l.id == "cloth" && fabric != "woven" || l.id == "knit" && fabric != "knitted" {
			continue
		}
		part := planPart{Name: l.name, ID: l.id}
		main := map[string]bool{}
		for _, key := range l.main {
			main[key] = true
			part.Rows = append(part.Rows, planRowOf(f, fields[key], key, r))
		}
		for _, key := range slices.Concat(order, outcomes[l.id]) {
			if head, _, _ := strings.Cut(key, "."); head != l.id || main[key] {
				continue
			}
			row := planRowOf(f, fields[key], key, r)
			if row.Field == "" && row.Answer == nil {
				continue
			}
			if row.Typed != "" || row.Problem != "" { // what is filled in is not hidden
				part.Rows = append(part.Rows, row)
				continue
			}
			part.More = append(part.More, row)
		}
		if l.id == "work" && r != nil {
			part.Rows = append(part.Rows, settingRows(r)...)
		}
		part.Rows = keptRows(part.Rows)
		out = append(out, part)
	}
	return out
}

// machineNames are those in use, after none; nil where there are none, so that a
// name can be typed.
func machineNames(machines []journal.Machine) (names []string) {
	for _, m := range machines {
		if m.Struck == "" {
			names = append(names, m.Name)
		}
	}
	if names != nil {
		names = append([]string{""}, names...)
	}
	return names
}

// keptRows leaves out what neither has a field nor an answer.
func keptRows(rows []planRow) (out []planRow) {
	for _, row := range rows {
		if row.Field != "" || row.Answer != nil {
			out = append(out, row)
		}
	}
	return out
}

func planRowOf(f *form, field plan.Field, key string, r *plan.Result) planRow {
	row := planRow{
		Field: field.Key, ID: strings.ReplaceAll(key, ".", "-"), Label: field.Name, Example: field.Example, Choices: field.Choices, Long: field.Long,
		Typed: f.text(key), Problem: f.Problem(key),
	}
	if r == nil {
		return row
	}
	if line, ok := r.LineOf(key); ok {
		row.Label, row.Answer = line.Name, answerOf(line)
	}
	return row
}

func answerOf(l plan.Line) *planAnswer {
	return &planAnswer{
		Text: l.Text, Range: l.Range, State: l.State, Source: sourceWords[l.Source], Why: l.Why,
		Wished: l.Source == plan.Wished, Model: l.Source == plan.Follows || l.Source == plan.Assumed,
	}
}

var sourceWords = map[plan.Source]string{plan.Wished: "as you wish", plan.Learnt: "learnt", plan.Assumed: "assumed", plan.Follows: "modelled"}

// settingRows are the lines of the wheel.
func settingRows(r *plan.Result) (out []planRow) {
	for _, l := range r.Lines() {
		if l.Field == "" {
			out = append(out, planRow{ID: strings.ReplaceAll(l.Key, "_", "-"), Label: l.Name, Answer: answerOf(l)})
		}
	}
	return out
}
