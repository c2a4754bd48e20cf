package cloth

import (
	"math"

	"waketwist/unit"
)

// Reed is the fineness of a reed in dents per metre.
type Reed float64

// DentsPerInch returns the reed of n dents in an inch.
func DentsPerInch(n float64) Reed { return Reed(n / unit.Inch.Metres()) }

// PerInch returns the dents in an inch.
func (r Reed) PerInch() float64 { return float64(r) * unit.Inch.Metres() }

// Sley is how ends go through a reed.
type Sley struct {
	Order []int // ends in each dent, over and over
	Sett  Density[OnLoom]
	Off   Share // of the sett that was asked for: over 0 where it comes out closer
}

const (
	longestOrder = 8    // dents in an order
	mostInDent   = 8    // ends
	nearEnough   = 0.03 // of the sett asked for, for a shorter order to win
)

// SleyFor returns the shortest order of up to 8 dents that gives a sett within
// 3 %, and else the nearest. It refuses with an *Error a reed far from the sett.
func SleyFor(wanted Density[OnLoom], reed Reed) (Sley, error) {
	if err := positive("The reed", float64(reed)); err != nil {
		return Sley{}, err
	}
	if err := positive("The sett", float64(wanted)); err != nil {
		return Sley{}, err
	}
	per := float64(wanted) / float64(reed)
	switch {
	case per > mostInDent:
		return Sley{}, refuse("Take a finer reed.", "%.3g ends an inch in a reed of %.3g dents an inch crowd more than %d ends into a dent.", wanted.PerInch(), reed.PerInch(), mostInDent)
	case per < 1.0/longestOrder:
		return Sley{}, refuse("Take a coarser reed.", "%.3g ends an inch leave a reed of %.3g dents an inch almost empty.", wanted.PerInch(), reed.PerInch())
	}
	best := Sley{Off: Share(math.Inf(1))}
	for dents := 1; dents <= longestOrder; dents++ {
		ends := max(1, math.Round(per*float64(dents)))
		sett := Density[OnLoom](float64(reed) * ends / float64(dents))
		if off := Share(sett/wanted - 1); math.Abs(float64(off)) < math.Abs(float64(best.Off))-1e-12 {
			best = Sley{spreadOver(int(ends), dents), sett, off}
		}
		if math.Abs(float64(best.Off)) <= nearEnough {
			break
		}
	}
	return best, nil
}

// spreadOver puts ends into dents as evenly as whole numbers allow.
func spreadOver(ends, dents int) []int {
	out := make([]int, dents)
	for i := range out {
		out[i] = (i+1)*ends/dents - i*ends/dents
	}
	return out
}

// Dents returns how many dents a number of ends takes.
func (s Sley) Dents(ends int) (dents int) {
	for left := ends; left > 0; dents++ {
		left -= s.Order[dents%len(s.Order)]
	}
	return dents
}
