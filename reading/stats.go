package reading

import "slices"

// median returns the middle value of v, which it leaves as it was. Empty
// slices give 0.
func median(v []float64) float64 { return quantile(v, 0.5) }

// quantile returns the value below which a share q of v lies.
func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return 0
	}
	s := slices.Clone(v)
	slices.Sort(s)
	return s[min(int(q*float64(len(s))), len(s)-1)]
}
