package reading

import (
	"math"
	"slices"
)

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

// trimmedMean returns the mean and standard deviation of v without a share
// `cut` of the values at either end. Empty slices give 0.
func trimmedMean(v []float64, cut float64) (mean, sd float64) {
	s := slices.Clone(v)
	slices.Sort(s)
	k := int(cut * float64(len(s)))
	s = s[k : len(s)-k]
	if len(s) == 0 {
		return 0, 0
	}
	var sum, sum2 float64
	for _, x := range s {
		sum += x
		sum2 += x * x
	}
	n := float64(len(s))
	mean = sum / n
	return mean, math.Sqrt(math.Max(sum2/n-mean*mean, 0))
}

// nth returns the value of v that has k smaller ones before it in order. It
// reorders v, which must hold no NaN, only as far as is needed (Hoare 1961).
func nth(v []float32, k int) float32 {
	for lo, hi := 0, len(v)-1; lo < hi; {
		pivot := v[lo+(hi-lo)/2]
		i, j := lo, hi
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return v[k]
		}
	}
	return v[k]
}
