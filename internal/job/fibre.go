package job

import (
	"regexp"
	"strconv"
	"strings"

	"waketwist/hand"
	"waketwist/internal/journal"
	"waketwist/rest"
)

// curveDraws is the number of set curves behind an answer on resting.
const curveDraws = 400

var (
	percentFirst = regexp.MustCompile(`(\d{1,3})\s*%\s*([\p{L}][\p{L}' -]*[\p{L}])`)
	percentLast  = regexp.MustCompile(`([\p{L}][\p{L}' -]*[\p{L}])\s*(\d{1,3})\s*%`)
)

// fibrePart is one fibre of a blend with its share of the mass.
type fibrePart struct {
	name  string
	share rest.Share
}

// fibreParts reads a blend as spinners write it: "70 % wool, 30 % silk" or "wool
// 70%, silk 30%". Anything else is one fibre.
func fibreParts(fibre string) (parts []fibrePart) {
	for _, m := range percentFirst.FindAllStringSubmatch(fibre, -1) {
		parts = append(parts, partOf(m[2], m[1]))
	}
	if len(parts) < 2 {
		parts = nil
		for _, m := range percentLast.FindAllStringSubmatch(fibre, -1) {
			parts = append(parts, partOf(m[1], m[2]))
		}
	}
	if len(parts) < 2 {
		return []fibrePart{{fibre, 1}}
	}
	return parts
}

func partOf(name, percent string) fibrePart {
	n, err := strconv.Atoi(percent)
	if err != nil { // cannot be: the pattern holds digits only
		panic(err)
	}
	return fibrePart{strings.TrimSpace(name), rest.Share(n) / 100}
}

// restingOf draws how the fibre of a bobbin falls asleep, part by part of its
// blend, as far as it is known; nil, for the assumptions, where nothing is.
func restingOf(known *hand.Posterior, b journal.Bobbin) []rest.Blend {
	if known == nil {
		return nil
	}
	var parts []rest.Fibre
	for _, p := range fibreParts(fibreOf(b)) {
		parts = append(parts, rest.Fibre{Curves: known.Curves(p.name, curveDraws), Share: p.share})
	}
	blend, err := rest.Mix(parts...)
	if err != nil { // shares of nothing: taken as not known
		return nil
	}
	return blend
}
