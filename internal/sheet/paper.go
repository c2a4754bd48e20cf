package sheet

import (
	"fmt"
	"strings"
)

// Paper is a size of paper, upright.
type Paper int

// The papers: A4 of ISO 216, 210 by 297 mm, and US Letter, 8.5 by 11 in.
const (
	A4 Paper = iota
	Letter
)

// ParsePaper reads the name of a paper, "a4" or "letter".
func ParsePaper(name string) (Paper, error) {
	for p := A4; p <= Letter; p++ {
		if strings.EqualFold(strings.TrimSpace(name), p.String()) {
			return p, nil
		}
	}
	return 0, fmt.Errorf("“%s” is no paper that a sheet is made for; give a4 or letter", name)
}

// String returns the name that ParsePaper reads.
func (p Paper) String() string { return [...]string{"a4", "letter"}[p] }

// size returns width and height in millimetres.
func (p Paper) size() (width, height float64) {
	if p == Letter {
		return 215.9, 279.4
	}
	return 210, 297
}
