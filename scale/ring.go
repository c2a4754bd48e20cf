package scale

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// Circles through three steps of a rim are tried at random, always the same
// ones (Fischler and Bolles 1981).
const (
	ringTries  = 300
	ringFirst  = 5     // steps of a ray that may belong to a ring
	ringWithin = 0.018 // share of the radius
	ringLeast  = 0.4   // share of the rays
	ringsMost  = 10
)

// rings returns the circles on which most steps of a rim lie, best first.
func rings(r *rim, e ellipse) []ellipse {
	rng := rand.New(rand.NewPCG(1, 2))
	var found []circle
	for range ringTries {
		var p [3]Point
		first, ok := rng.IntN(rays), true
		for i := range p {
			ray := (first + i*rays/3 + rng.IntN(rays/6)) % rays
			n := min(len(r[ray]), ringFirst)
			if n == 0 {
				ok = false
				break
			}
			p[i] = e.at(direction(ray), r[ray][rng.IntN(n)].s)
		}
		if !ok {
			continue
		}
		if c, ok := through(p); ok && math.Hypot(c.x-e.x, c.y-e.y) < 0.3*c.r {
			if c.votes = r.on(e, c); c.votes >= ringLeast {
				found = append(found, c)
			}
		}
	}
	return apartFrom(found)
}

// on is the share of rays with a step near a circle.
func (r *rim) on(e ellipse, c circle) float64 {
	n := 0
	for ray, all := range r {
		for _, o := range all[:min(len(all), ringFirst)] {
			p := e.at(direction(ray), o.s)
			if math.Abs(math.Hypot(p.X-c.x, p.Y-c.y)-c.r) <= ringWithin*c.r {
				n++
				break
			}
		}
	}
	return float64(n) / rays
}

// apartFrom keeps the best few circles that are not the same again.
func apartFrom(found []circle) (out []ellipse) {
	slices.SortStableFunc(found, func(a, b circle) int { return cmp.Compare(b.votes, a.votes) })
	var kept []circle
	for _, c := range found {
		if len(kept) == ringsMost {
			break
		}
		if !slices.ContainsFunc(kept, func(o circle) bool {
			return math.Hypot(o.x-c.x, o.y-c.y)+math.Abs(o.r-c.r) < 0.02*o.r
		}) {
			kept = append(kept, c)
			out = append(out, circular(c))
		}
	}
	return out
}

// through is the circle through three points.
func through(p [3]Point) (circle, bool) {
	ax, ay := p[1].X-p[0].X, p[1].Y-p[0].Y
	bx, by := p[2].X-p[0].X, p[2].Y-p[0].Y
	d := 2 * (ax*by - ay*bx)
	if math.Abs(d) < 1e-6 {
		return circle{}, false
	}
	a2, b2 := ax*ax+ay*ay, bx*bx+by*by
	ux, uy := (by*a2-ay*b2)/d, (ax*b2-bx*a2)/d
	return circle{x: p[0].X + ux, y: p[0].Y + uy, r: math.Hypot(ux, uy)}, true
}
