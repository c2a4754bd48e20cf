package job

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/BurntSushi/toml"

	"waketwist/plan"
)

// longestPlan is the most of a file that is read as a plan, in bytes.
const longestPlan = 1 << 20

// PlanTextError says why a text is no plan, in one sentence.
type PlanTextError string

// Error returns the sentence.
func (e PlanTextError) Error() string { return string(e) }

func noPlan(format string, args ...any) error { return PlanTextError(fmt.Sprintf(format, args...)) }

// ReadPlan reads a plan as it is written in TOML: a heading for each part of the
// chain, and below it each value. It refuses with a PlanTextError what is none.
// Whether the values can be meant is for plan.Read to say.
func ReadPlan(r io.Reader) (plan.Text, error) {
	content, err := io.ReadAll(io.LimitReader(r, longestPlan+1))
	if err != nil {
		return nil, noPlan("the plan cannot be read; check that it is a text file")
	}
	if len(content) > longestPlan {
		return nil, noPlan("the file is too long for a plan")
	}
	parts := map[string]any{}
	_, err = toml.Decode(string(content), &parts)
	var parse toml.ParseError
	switch {
	case errors.As(err, &parse):
		said := strings.Join(strings.Fields(parse.Message), " ")
		return nil, noPlan("line %d of the plan cannot be read: %s; write each value as in width = \"50 cm\"", parse.Position.Line, strings.TrimSuffix(said, "."))
	case err != nil:
		return nil, noPlan("the plan cannot be read; write a heading such as [cloth], and below it each value as in width = \"50 cm\"")
	}
	return flatten(parts)
}

// flatten turns headings and the values below them into the fields of a text.
func flatten(parts map[string]any) (plan.Text, error) {
	out := plan.Text{}
	for part, values := range parts {
		below, ok := values.(map[string]any)
		if !ok {
			return nil, noPlan("“%s” stands under no heading; write one such as [cloth] above it", part)
		}
		for name, v := range below {
			text, ok := valueText(v)
			if !ok {
				return nil, noPlan("%s.%s: a value stands in quotes", part, name)
			}
			out[part+"."+name] = text
		}
	}
	return out, nil
}

// valueText writes a value as a person would: a bare number is taken as it is, so
// that the one who reads it may say which unit it lacks.
func valueText(v any) (string, bool) {
	switch v := v.(type) {
	case string:
		return strings.TrimSpace(v), true
	case int64, float64:
		return fmt.Sprint(v), true
	case []any:
		list := make([]string, len(v))
		for i, one := range v {
			var ok bool
			if list[i], ok = valueText(one); !ok {
				return "", false
			}
		}
		return strings.Join(list, ", "), true
	}
	return "", false
}

// WritePlan writes a plan so that ReadPlan reads it back.
func WritePlan(t plan.Text) ([]byte, error) {
	parts := map[string]map[string]string{}
	for key, value := range t {
		part, name, _ := strings.Cut(key, ".")
		if value = strings.TrimSpace(value); value == "" {
			continue
		}
		if parts[part] == nil {
			parts[part] = map[string]string{}
		}
		parts[part][name] = value
	}
	var out bytes.Buffer
	encoder := toml.NewEncoder(&out)
	encoder.Indent = ""
	err := encoder.Encode(parts)
	return out.Bytes(), err
}
