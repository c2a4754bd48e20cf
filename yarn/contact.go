package yarn

import "math"

// MaxStrands is the largest number of strands the contact solution covers: in
// rings of more the strands no longer touch their neighbours only.
const MaxStrands = 7

// ContactRadius returns R/(d/2), the radius of the centre-line helix of n (2 to
// 7) touching strands at helix angle b (0 to under 90 deg), in strand radii.
//
// R is where the least distance between the centre lines of neighbouring
// strands is d. With the helix (cos x, sin x, x cot b) and its neighbour turned
// by 2 pi/n the squared distance is h(x) = 2 - 2 cos(x + 2 pi/n) + x^2 cot^2 b
// in units of R, so R/d = 1/sqrt(min h). For two strands the minimum stays at
// x = 0 up to 45 deg (Olsen and Bohr, Theor. Chem. Acc. 125 (2010) 207). It
// panics when n is out of range.
func ContactRadius(n int, b CentreAngle) float64 {
	r, _ := contact(n, float64(b))
	return r
}

// contact returns R and dR/db, both for strands of radius 1.
func contact(n int, b float64) (r, slope float64) {
	if n < 2 || n > MaxStrands {
		panic("yarn: contact of fewer than 2 or more than 7 strands")
	}
	if n == 2 && b <= math.Pi/4 {
		return 1, 0
	}
	shift := 2 * math.Pi / float64(n)
	if b < 1e-6 {
		return 1 / math.Sin(shift/2), 0
	}
	cot := 1 / math.Tan(b)
	x := nearest(shift, cot*cot)
	h := 2 - 2*math.Cos(x+shift) + x*x*cot*cot
	// The minimum is flat in x, so only the explicit part of h moves with b.
	sin := math.Sin(b)
	dh := -2 * x * x * cot / (sin * sin)
	r = 2 / math.Sqrt(h)
	return r, -r / (2 * h) * dh
}

// nearest returns the x in [-shift, 0] at which h(x) is least: the root of
// h'(x)/2 = sin(x + shift) + x c nearest the straight-up position, c = cot^2 b.
func nearest(shift, c float64) float64 {
	// For two strands x = 0 is a root too, and past 45 deg a maximum: keep clear.
	lo, hi := -shift, -1e-9
	x := -shift / (2 + c)
	for range 60 {
		f := math.Sin(x+shift) + x*c
		if f > 0 {
			hi = x
		} else {
			lo = x
		}
		next := x - f/(math.Cos(x+shift)+c)
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-x) < 1e-14 {
			return next
		}
		x = next
	}
	return x
}
