package yarn

import "math"

// slip moves the lengths of two or three strands, from rest at v with equal
// lengths, to those of least energy gained per length of strand,
//
//	F = sum s (e - C tau^2/2) / sum s ,  s = sqrt(1 + y^2),
//
// where C tau^2/2 is what a straight strand holds before it is plied, and
// returns the new v of the shortest strand. Newton's method in the places y,
// with the curvature from differences of the slope.
//
// A strand on which the others do not press ends as a straight core on the axis,
// and they stand off. ok is false where no such lengths are found: three strands,
// one of which would be wound so steeply round another that both lock.
func (s *system) slip(v float64) (rest float64, ok bool) {
	y := [3]float64{v, v, v}
	at, slope := s.gained(y)
	for damp, tries := 1e-6, 0; tries < 200 && !s.settled(y, at, slope, 1e-13); tries++ {
		next := s.descend(y, slope, damp)
		gained, nextSlope := s.gained(next)
		if next == y || damp > 1e9 {
			break
		}
		if !(gained <= at+1e-15*math.Abs(at)) {
			damp *= 10
			continue
		}
		y, at, slope = next, gained, nextSlope
		damp = max(damp/10, 1e-14)
	}
	ok = s.settled(y, at, slope, 1e-7)
	rest = s.split(y)
	return rest, ok && s.at(rest).turned > 0
}

// stopped says whether strand i is a straight core that the others do not press.
func stopped(y, slope [3]float64, i int) bool { return y[i] <= flat && slope[i] > 0 }

// settled says whether all strands that can move have no reason to.
func (s *system) settled(y [3]float64, gained float64, slope [3]float64, within float64) bool {
	for i := range s.n {
		if !stopped(y, slope, i) && math.Abs(slope[i]) > within*math.Abs(gained) {
			return false
		}
	}
	return true
}

// descend returns the places after one damped Newton step.
func (s *system) descend(y, slope [3]float64, damp float64) [3]float64 {
	h := s.curvature(y)
	for i := range s.n {
		if !stopped(y, slope, i) {
			continue
		}
		for j := range s.n {
			h[i][j], h[j][i] = 0, 0
		}
		h[i][i], slope[i] = 1, 0
	}
	step := solve(s.n, h, slope, damp)
	for i := range s.n {
		y[i] = max(y[i]-step[i], y[i]/8, flat)
	}
	return y
}

// gained returns F at the places y and how it grows with each.
func (s *system) gained(y [3]float64) (f float64, slope [3]float64) {
	var all [MaxStrands]float64
	copy(all[:], y[:])
	p := s.tightest(&all)
	var length, press float64
	var gain, tilt [3]float64
	for i := range s.n {
		l := math.Sqrt(1 + y[i]*y[i])
		gain[i] = s.energy(i, y[i], p.omega) - s.c[i]/2*s.tau[i]*s.tau[i]
		var tighten float64
		tilt[i], tighten = s.forces(i, y[i], p.omega)
		f += l * gain[i]
		length += l
		press += l * tighten
	}
	f /= length
	for i := range s.n {
		l := math.Sqrt(1 + y[i]*y[i])
		slope[i] = (y[i]/l*(gain[i]-f) + l*tilt[i] + press*p.slope[i]) / length
	}
	return f, slope
}

// curvature returns the second derivatives of F by central differences of its
// slope.
func (s *system) curvature(y [3]float64) (h [3][3]float64) {
	for j := range s.n {
		up, down := y, y
		d := 1e-5 * y[j]
		up[j] += d
		down[j] -= d
		_, above := s.gained(up)
		_, below := s.gained(down)
		for i := range s.n {
			h[i][j] += (above[i] - below[i]) / (4 * d)
			h[j][i] += (above[i] - below[i]) / (4 * d)
		}
	}
	return h
}

// solve returns the step x with (h + damp) x = g, more damped until h is safely
// positive (Cholesky).
func solve(n int, h [3][3]float64, g [3]float64, damp float64) [3]float64 {
	for {
		l, ok := h, true
		for i := range n {
			for j := range i + 1 {
				sum := h[i][j]
				if i == j {
					sum += damp
				}
				for k := range j {
					sum -= l[i][k] * l[j][k]
				}
				if i != j {
					l[i][j] = sum / l[j][j]
					continue
				}
				ok = ok && sum > 1e-3*damp
				l[i][i] = math.Sqrt(math.Max(sum, 1e-300))
			}
		}
		if ok {
			return back(n, l, g)
		}
		damp *= 4
	}
}

// back solves l l' x = g for x.
func back(n int, l [3][3]float64, g [3]float64) (x [3]float64) {
	for i := range n {
		x[i] = g[i]
		for k := range i {
			x[i] -= l[i][k] * x[k]
		}
		x[i] /= l[i][i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			x[i] -= l[k][i] * x[k]
		}
		x[i] /= l[i][i]
	}
	return x
}

// split takes the lengths that strands at y have for the system's and returns v.
func (s *system) split(y [3]float64) float64 {
	least := min(y[0], y[1])
	if s.n == 3 {
		least = min(least, y[2])
	}
	var share [MaxStrands]float64
	for i := range s.n {
		share[i] = math.Sqrt((1 + y[i]*y[i]) / (1 + least*least))
	}
	s.feed(share)
	return least
}
