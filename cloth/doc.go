// Package cloth reckons the loom's side of a yarn: how close to set it in a
// given weave, how well that covers, how much warp and weft a finished cloth
// takes, what each end bears, and whether the twist will show.
//
// Its numbers are starting points for a sample. An answer is an
// estimate.Estimate whose flags say where an assumption or a rule of the trade
// entered. Densities on the loom, off the loom and washed are different types,
// as they are different numbers.
package cloth

import (
	"fmt"

	"waketwist/estimate"
)

// Flags of this package.
const (
	Assumed        estimate.Flag = "assumption"      // a spread or value that no source gives
	CommonPractice estimate.Flag = "common practice" // a rule of the trade
	FromMemory     estimate.Flag = "from memory"     // a published value not checked against its source
	UnevenRows     estimate.Flag = "uneven rows"     // some picks interlace more often than others
)

// drawCount is the number of draws behind an estimate.
const drawCount = 2000

// Error says why a question about cloth cannot be answered, and what to do.
type Error struct {
	Problem, Advice string
}

// Error returns the problem and the advice as two sentences.
func (e *Error) Error() string { return e.Problem + " " + e.Advice }

func refuse(advice, problem string, args ...any) error {
	return &Error{Problem: fmt.Sprintf(problem, args...), Advice: advice}
}
