package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/BurntSushi/toml"

	"waketwist/plan"
)

// longestPlan is the most of a file that is read as a plan, in bytes.
const longestPlan = 1 << 20

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
	content, err := io.ReadAll(io.LimitReader(r, longestPlan+1))
	if err != nil {
		return nil, misused("the plan cannot be read; check that it is a text file")
	}
	if len(content) > longestPlan {
		return nil, misused("the file is too long for a plan")
	}
	parts := map[string]any{}
	_, err = toml.Decode(string(content), &parts)
	var parse toml.ParseError
	switch {
	case errors.As(err, &parse):
		return nil, misused("line %d of the plan cannot be read: %s; write each value as in width = \"50 cm\"", parse.Position.Line, strings.TrimSuffix(oneLine(parse.Message), "."))
	case err != nil:
		return nil, misused("the plan cannot be read; write a heading such as [cloth], and below it each value as in width = \"50 cm\"")
	}
	return flatten(parts)
}

// flatten turns headings and the values below them into the fields of a text.
func flatten(parts map[string]any) (plan.Text, error) {
	out := plan.Text{}
	for part, values := range parts {
		below, ok := values.(map[string]any)
		if !ok {
			return nil, misused("“%s” stands under no heading; write one such as [cloth] above it", part)
		}
		for name, v := range below {
			text, err := valueText(v)
			if err != nil {
				return nil, misused("%s.%s: %v", part, name, err)
			}
			out[part+"."+name] = text
		}
	}
	return out, nil
}

// valueText writes a value as a person would: a bare number is taken as it is, so
// that the one who reads it may say which unit it lacks.
func valueText(v any) (string, error) {
	switch v := v.(type) {
	case string:
		return strings.TrimSpace(v), nil
	case int64, float64:
		return fmt.Sprint(v), nil
	case []any:
		list := make([]string, len(v))
		for i, one := range v {
			var err error
			if list[i], err = valueText(one); err != nil {
				return "", err
			}
		}
		return strings.Join(list, ", "), nil
	}
	return "", words("a value stands in quotes")
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
