package yarn

import "math"

// root returns where f crosses zero between lo and hi, at which it must have
// unlike signs, to within tolerance: inverse quadratic interpolation where it
// is safe and halving where not (Chandrupatla, Adv. Eng. Softw. 28 (1997) 145).
// Without unlike signs it returns the end at which f is nearer zero.
func root(f func(float64) float64, lo, hi, tolerance float64) float64 {
	a, b := hi, lo
	fa, fb := f(a), f(b)
	c, fc := a, fa
	if math.Signbit(fa) == math.Signbit(fb) {
		return nearer(a, fa, b, fb)
	}
	for t := 0.5; ; {
		x := a + t*(b-a)
		fx := f(x)
		if math.Signbit(fx) == math.Signbit(fa) {
			c, fc = a, fa
		} else {
			c, fc, b, fb = b, fb, a, fa
		}
		a, fa = x, fx
		best := nearer(a, fa, b, fb)
		least := (2e-16*math.Abs(best) + tolerance/2) / math.Abs(b-a)
		if !(least < 0.5) || fa == 0 {
			return best
		}
		t = min(max(step(a, b, c, fa, fb, fc), least), 1-least)
	}
}

func nearer(a, fa, b, fb float64) float64 {
	if math.Abs(fa) < math.Abs(fb) {
		return a
	}
	return b
}

// step returns the share of the way from a to b at which to look next.
func step(a, b, c, fa, fb, fc float64) float64 {
	xi, phi := (a-b)/(c-b), (fa-fb)/(fc-fb)
	if !(phi*phi < xi && (1-phi)*(1-phi) < 1-xi) {
		return 0.5
	}
	return fa/(fb-fa)*fc/(fb-fc) + (c-a)/(b-a)*fa/(fc-fa)*fb/(fc-fb)
}
