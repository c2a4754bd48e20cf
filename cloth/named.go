package cloth

import (
	"regexp"
	"strconv"
	"strings"
)

var (
	twillName   = regexp.MustCompile(`^(?:(\d+(?:/\d+)+)[ -]twill|twill[ -](\d+(?:/\d+)+))$`)
	satinName   = regexp.MustCompile(`^(?:(\d+)(?:[ -](?:end|shaft))?[ -](satin|sateen)|(satin|sateen)[ -](\d+))$`)
	hopsackName = regexp.MustCompile(`^(?:(\d+)/(\d+)[ -](?:hopsack|basket)|(?:hopsack|basket)[ -](\d+)/(\d+))$`)
)

// Named returns the weave of a name: plain, a twill as 2/2-twill or
// 3/1/1/2-twill (over and under in turn, the line rising to the right), a satin
// as 5-end-satin or a sateen as 8-end-sateen, a hopsack as 2/2-hopsack (ends and
// picks of a group). Upper case and blanks for hyphens will do. It refuses with
// an *Error names that it does not know and weaves that do not exist.
func Named(name string) (Weave, error) {
	name = strings.Join(strings.Fields(strings.ToLower(name)), " ")
	if m := twillName.FindStringSubmatch(name); m != nil {
		return twill(m[1] + m[2])
	}
	if m := satinName.FindStringSubmatch(name); m != nil {
		return satin(figure(m[1]+m[4]), m[2]+m[3] == "satin")
	}
	if m := hopsackName.FindStringSubmatch(name); m != nil {
		return hopsack(figure(m[1]+m[3]), figure(m[2]+m[4]))
	}
	switch name {
	case "plain", "plain weave", "plain-weave", "tabby":
		return hopsack(1, 1)
	}
	return Weave{}, refuse("Use plain, 2/2-twill, 5-end-satin, 2/2-hopsack or the like, or draw it with X and . in a file.",
		"There is no weave with the name “%s” here.", shortened(name))
}

// figure reads digits; those too large to read are larger than any weave here.
func figure(digits string) int {
	n, err := strconv.Atoi(digits)
	if err != nil {
		return MaxThreads + 1
	}
	return n
}

// twill makes over/under/over/under; every pick moves one end to the right.
func twill(steps string) (Weave, error) {
	var pattern []bool
	parts := strings.Split(steps, "/")
	for i, part := range parts {
		n := figure(part)
		if n < 1 || n > MaxThreads {
			return Weave{}, refuse("Give the ends over and under in turn, such as 2/2 or 3/1/1/2.", "A %s twill is none.", shortened(steps))
		}
		for range n {
			pattern = append(pattern, i%2 == 0)
		}
	}
	if len(parts)%2 != 0 || len(pattern) < 3 {
		return Weave{}, refuse("Give the ends over and under in turn, 3 or more together, such as 1/2 or 2/2.", "A %s twill is none.", shortened(steps))
	}
	return shifted(pattern, 1)
}

// satin binds each end once in the repeat, no two bindings side by side. A satin
// shows the warp, a sateen the weft.
func satin(ends int, warp bool) (Weave, error) {
	if ends > MaxThreads {
		return Weave{}, refuse("Give fewer ends.", "A satin of more than %d ends is not taken.", MaxThreads)
	}
	for step := 2; step < ends-1; step++ {
		if divisor(step, ends) == 1 {
			pattern := make([]bool, ends)
			for i := range pattern {
				pattern[i] = (i == 0) != warp
			}
			return shifted(pattern, step)
		}
	}
	return Weave{}, refuse("Use 5, 7, 8 or more ends, or draw an irregular one.", "There is no regular satin of %d ends.", ends)
}

func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// shifted makes as many picks as ends, each moved to the right of the one before.
func shifted(first []bool, step int) (Weave, error) {
	n := len(first)
	if n > MaxThreads {
		return Weave{}, refuse("Give fewer ends.", "A repeat of more than %d threads is not taken.", MaxThreads)
	}
	up := make([][]bool, n)
	for pick := range n {
		row := make([]bool, n)
		for end := range n {
			row[(end+pick*step)%n] = first[end]
		}
		up[n-1-pick] = row
	}
	return Drawdown(up)
}

// hopsack is plain weave of groups of ends and picks.
func hopsack(ends, picks int) (Weave, error) {
	if ends < 1 || picks < 1 || ends > MaxThreads/2 || picks > MaxThreads/2 {
		return Weave{}, refuse("Give the ends and picks of a group, such as 2/2.", "A hopsack of %d ends and %d picks is none.", ends, picks)
	}
	up := make([][]bool, 2*picks)
	for pick := range up {
		up[pick] = make([]bool, 2*ends)
		for end := range up[pick] {
			up[pick][end] = (end/ends+pick/picks)%2 == 1
		}
	}
	return Drawdown(up)
}
