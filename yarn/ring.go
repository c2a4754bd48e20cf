package yarn

import "math"

// ring is the contact geometry of strands of unlike thickness in one ply. A
// strand's place is y = tan b = R omega, omega = 2 pi U in radians per unit of
// length, so that all lengths are measured against the pitch.
type ring struct {
	n     int
	touch [MaxStrands][MaxStrands]float64 // centre distance at contact
}

// gap returns the least angle about the axis between two strands at y1 and y2
// whose centre lines come no nearer than reach (in units of 1/omega), and how
// steeply it grows: d gap = weight (reach d reach - (y1 - y2 cos) dy1 - (y2 -
// y1 cos) dy2).
//
// The squared distance of the centre lines at angle g, after sliding x along one
// of them, is y1^2 + y2^2 - 2 p cos(g + x) + x^2, p = y1 y2. It is least where x = -p
// sin f, f = g + x; setting it to reach^2 gives a quadratic in p cos f, whose
// root 1 + p cos f > 0 is the minimum (own derivation). Strands that pass each
// other at any angle have the gap 0.
func gap(y1, y2, reach float64) (g, cos, weight float64) {
	p := y1 * y2
	m := y1*y1 + y2*y2 + p*p - reach*reach
	pcos := m / (1 + math.Sqrt(max(1+m, 0)))
	if pcos >= p {
		return 0, 1, 0
	}
	cos = max(pcos/p, -1)
	psin := p * math.Sqrt((1-cos)*(1+cos))
	return math.Acos(cos) + psin, cos, 1 / max(psin, 1e-12*(1e-6+p))
}

// opposite returns the least distance of two strands on opposite sides of the
// axis, in units of 1/omega. Up to y1 y2 = 1 they are nearest straight across.
func opposite(y1, y2 float64) float64 {
	p := y1 * y2
	if p <= 1 {
		return y1 + y2
	}
	// f + p sin f is concave up to the root, so Newton's steps rise to it.
	f := 0.0
	for range 50 {
		sin, cos := math.Sincos(f)
		move := (math.Pi - f - p*sin) / (1 + p*cos)
		f += move
		if !(move > 1e-15) {
			break
		}
	}
	sin, cos := math.Sincos(f)
	return math.Sqrt(y1*y1 + y2*y2 - 2*p*cos + p*p*sin*sin)
}

// place is a set of strand places with the tightest turns they allow.
type place struct {
	omega float64
	slope [MaxStrands]float64 // d omega / d y
	held  [MaxStrands]bool    // strands without which omega could be larger
}

// tightest returns the largest omega at which no two strands overlap: every
// closed chain of strands round the axis must have room in one turn. A chain of
// two is a pair that meets across the axis.
func (r *ring) tightest(y *[MaxStrands]float64) place {
	most := math.Inf(1)
	for i := range r.n {
		for j := range i {
			most = min(most, opposite(y[i], y[j])/r.touch[i][j])
		}
	}
	if r.n == 2 {
		return r.placed(y, most, chain{size: 2, order: [MaxStrands]int{0, 1}})
	}
	if c := r.widest(y, most); c.turn <= 2*math.Pi+1e-12 {
		return r.placed(y, most, c)
	}
	omega := root(func(omega float64) float64 {
		return r.widest(y, omega).turn - 2*math.Pi
	}, 0, most, 1e-16*most)
	return r.placed(y, omega, r.widest(y, omega))
}

// placed works out how omega moves with the strands' places. The turn of the
// chain that holds them stays 2 pi.
func (r *ring) placed(y *[MaxStrands]float64, omega float64, c chain) place {
	p := place{omega: omega}
	if i, j := c.order[0], c.order[1]; c.size == 2 && y[i]*y[j] <= 1 {
		p.slope[i], p.slope[j] = 1/r.touch[i][j], 1/r.touch[i][j]
		p.held[i], p.held[j] = true, true
		return p
	}
	total := 0.0
	for e := range c.size {
		i, j := c.order[e], c.order[(e+1)%c.size]
		reach := omega * r.touch[i][j]
		_, cos, w := gap(y[i], y[j], reach)
		p.slope[i] += w * (y[i] - y[j]*cos)
		p.slope[j] += w * (y[j] - y[i]*cos)
		total += w * reach * r.touch[i][j]
		p.held[i] = true
	}
	for i := range r.n {
		p.slope[i] /= total
	}
	return p
}

// chain is a closed chain of strands round the axis in their order, and the
// angle it needs.
type chain struct {
	turn  float64
	size  int
	order [MaxStrands]int
}

// widest returns the chain that needs most angle at omega: the longest closed
// path over the gaps.
func (r *ring) widest(y *[MaxStrands]float64, omega float64) chain {
	var gaps [MaxStrands][MaxStrands]float64
	for i := range r.n {
		for j := range i {
			gaps[i][j], _, _ = gap(y[i], y[j], omega*r.touch[i][j])
			gaps[j][i] = gaps[i][j]
		}
	}
	var out chain
	for first := range r.n - 1 {
		if c := r.widestFrom(first, &gaps); c.turn > out.turn {
			out = c
		}
	}
	return out
}

// widestFrom is widest for chains of which first is the lowest strand.
func (r *ring) widestFrom(first int, gaps *[MaxStrands][MaxStrands]float64) chain {
	var far [MaxStrands]float64
	var from [MaxStrands]int
	out, last := chain{turn: -1}, first
	for j := first + 1; j < r.n; j++ {
		far[j] = -1
		for i := first; i < j; i++ {
			if way := far[i] + gaps[i][j]; way > far[j] {
				far[j], from[j] = way, i
			}
		}
		if turn := far[j] + gaps[j][first]; turn > out.turn {
			out.turn, last = turn, j
		}
	}
	for i := last; ; i = from[i] {
		out.order[out.size] = i
		out.size++
		if i == first {
			return out
		}
	}
}
