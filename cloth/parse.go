package cloth

import (
	"strconv"
	"strings"
	"unicode"
)

// ParseWeave reads a weave from text. It is either a drawdown, a line for each
// pick with X where the end lies over the pick and . where it lies under, the
// last pick first, as the cloth is seen; or a draft of three lists:
//
//	threading: 1 2 3 4
//	tie-up:    1+2 2+3 3+4 4+1
//	treadling: 1 2 3 4
//
// and, where it matters, "shafts: 4". A tie-up may also be written with commas
// between treadles and blanks between shafts. Blank lines, and lines that begin with #,
// say nothing; blanks in a drawdown are dropped. What cannot be meant is refused
// with an *Error.
func ParseWeave(text string) (Weave, error) {
	var lines []string
	for line := range strings.Lines(text) {
		line = strings.Join(strings.Fields(line), " ")
		if line != "" && !strings.HasPrefix(line, "#") {
			lines = append(lines, withColon(line))
		}
	}
	switch {
	case len(lines) == 0:
		return Weave{}, refuse("Draw one whole repeat with X and ., a line for each pick.", "There is no weave in the text.")
	case len(lines) > MaxThreads:
		return Weave{}, refuse("Draw one repeat only.", "A repeat of more than %d threads is not taken.", MaxThreads)
	case strings.Contains(lines[0], ":"):
		return parseDraft(lines)
	}
	return parseGrid(lines)
}

// withColon sets the colon behind the name of a list where it was left out.
func withColon(line string) string {
	name, list, _ := strings.Cut(line, " ")
	switch strings.ToLower(name) {
	case "threading", "tie-up", "tieup", "treadling", "shafts":
		return name + ": " + list
	}
	return line
}

func parseGrid(lines []string) (Weave, error) {
	up := make([][]bool, len(lines))
	for i, line := range lines {
		for _, r := range line {
			switch r {
			case 'X', 'x':
				up[i] = append(up[i], true)
			case '.':
				up[i] = append(up[i], false)
			case ' ':
			default:
				return Weave{}, refuse("Use X where the end lies over the pick and . where it lies under.", "Line %d of the drawdown has the sign “%s”.", i+1, shortened(string(r)))
			}
		}
	}
	return Drawdown(up)
}

func parseDraft(lines []string) (Weave, error) {
	var d Draft
	seen := map[string]bool{}
	for _, line := range lines {
		name, list, found := strings.Cut(line, ":")
		name = strings.ToLower(strings.TrimSpace(name))
		if !found {
			return Weave{}, refuse("Write each list on one line behind its name.", "A line of the draft has no name: “%s”.", shortened(line))
		}
		if seen[name] {
			return Weave{}, refuse("Give each list once.", "The list %s is given twice.", shortened(name))
		}
		seen[name] = true
		if err := d.read(name, list); err != nil {
			return Weave{}, err
		}
	}
	return d.Weave()
}

// read takes one list of the draft.
func (d *Draft) read(name, list string) (err error) {
	switch name {
	case "threading":
		d.Threading, err = numbers(list)
	case "treadling":
		d.Treadling, err = numbers(list)
	case "tie-up", "tieup":
		for _, treadle := range treadles(list) {
			shafts, err := numbers(strings.ReplaceAll(treadle, "+", " "))
			if err != nil {
				return err
			}
			d.TieUp = append(d.TieUp, shafts)
		}
	case "shafts":
		var n []int
		if n, err = numbers(list); err == nil && (len(n) != 1 || n[0] < 1) {
			return refuse("Give one number, such as 4.", "The draft has “%s” for its shafts.", shortened(list))
		} else if err == nil {
			d.Shafts = n[0]
		}
	default:
		return refuse("Use threading, tie-up, treadling and shafts.", "A draft has no “%s”.", shortened(name))
	}
	return err
}

// treadles cuts a tie-up into what each treadle is tied to.
func treadles(list string) []string {
	if strings.Contains(list, ",") && !strings.Contains(list, "+") {
		return strings.Split(list, ",")
	}
	return words(list)
}

// words cuts a list at blanks and commas.
func words(list string) []string {
	return strings.FieldsFunc(list, func(r rune) bool { return r == ' ' || r == ',' })
}

func numbers(list string) ([]int, error) {
	var out []int
	for _, word := range words(list) {
		n, err := strconv.Atoi(word)
		if err != nil || n < 0 || n > MaxThreads {
			return nil, refuse("Give the numbers of shafts or treadles, with blanks between.", "“%s” is no number of a shaft or treadle.", shortened(word))
		}
		out = append(out, n)
	}
	return out, nil
}

// shortened keeps what is quoted in an error short and fit to print.
func shortened(s string) string {
	r := []rune(strings.TrimSpace(s))
	for i, c := range r {
		if !unicode.IsPrint(c) {
			r[i] = '?'
		}
	}
	if len(r) > 24 {
		return string(r[:24]) + "…"
	}
	return string(r)
}
