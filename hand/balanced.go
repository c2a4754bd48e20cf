package hand

import (
	"math"

	"waketwist/yarn"
)

// balanced is yarn.Balanced, held clear of the limit, by a secant in logarithms
// in which the balance is nearly straight: a forecast asks for thousands.
func balanced(n int, k, t float64) yarn.CentreAngle {
	if n == 2 {
		y, _, _ := plyback(math.Log(t), math.Log(k))
		return yarn.CentreAngle(math.Atan(math.Exp(min(y, steepestWake))))
	}
	edge := yarn.Limit(n) * 44 / 45
	limit := math.Log(math.Tan(float64(edge)))
	miss := func(y float64) float64 {
		have, err := yarn.LivingFor(n, yarn.Stiffness(k), yarn.CentreAngle(math.Atan(math.Exp(y))))
		if err != nil { // cannot be: y is held under the limit
			panic(err)
		}
		return math.Log(float64(have) / t)
	}
	if miss(limit) <= 0 {
		return edge
	}
	return yarn.CentreAngle(math.Atan(math.Exp(secant(miss, limit-1e-3, math.Log(t), limit))))
}

// secant finds where a rising function is zero below a limit: Newton's method
// with slopes taken from the last two points, halving where it leaves the bracket.
func secant(f func(float64) float64, first, second, limit float64) float64 {
	lo, hi := min(first, second)-6, limit
	a, fa := first, f(first)
	b := min(max(second, lo), limit-1e-2)
	for range 60 {
		fb := f(b)
		if fb > 0 {
			hi = b
		} else {
			lo = b
		}
		if math.Abs(fb) < 1e-10 {
			return b
		}
		next := b - fb*(b-a)/(fb-fa)
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		a, fa, b = b, fb, next
	}
	return b
}
