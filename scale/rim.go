package scale

import (
	"cmp"
	"math"
	"slices"
)

// rays is how many directions an outline is looked at in.
const rays = 240

// A step is a place on a ray where lightness changes most: at s times the
// outline's radius, by so much.
type step struct{ s, strength float64 }

// A rim holds the steps on each ray across an outline, strongest first.
type rim [rays][]step

// direction is that of a ray.
func direction(ray int) float64 { return 2 * math.Pi * float64(ray) / rays }

// glass looks at all channels, each as finely as it can.
type glass struct {
	lens [channels]lens
	k    float64 // of lightness
}

// rimOf looks across an outline from lo to hi times its radius. Neighbouring
// rays are averaged, which lets the outline stand and takes texture away.
func (v *view) rimOf(g glass, e ellipse, lo, hi float64) *rim {
	r := &rim{}
	for _, l := range g.lens {
		if l.plane == nil {
			continue
		}
		v.look(r, l, e, lo, hi)
	}
	for ray := range r {
		slices.SortStableFunc(r[ray], func(a, b step) int { return cmp.Compare(b.strength, a.strength) })
	}
	return r
}

// look adds the steps that a lens shows.
func (v *view) look(r *rim, l lens, e ellipse, lo, hi float64) {
	n := int((hi-lo)*e.mean()/(0.5*l.k)) + 5
	by := (hi - lo) / float64(n-1)
	light := make([]float64, rays*n)
	for ray := range rays {
		sin, cos := math.Sincos(direction(ray))
		radius := e.radius(direction(ray))
		for i := range n {
			away := radius * (lo + by*float64(i))
			light[ray*n+i] = l.at(e.x+away*cos, e.y+away*sin)
		}
	}
	line := make([]float64, n)
	for ray := range rays {
		if p := e.at(direction(ray), hi); !v.inside(p.X, p.Y) {
			continue
		}
		before, after := (ray+rays-1)%rays*n, (ray+1)%rays*n
		for i := range line {
			line[i] = (light[before+i] + 2*light[ray*n+i] + light[after+i]) / 4
		}
		r[ray] = steps(r[ray], line, lo, by)
	}
}

// leastStep is the least change of lightness, over two samples each way, that
// counts.
const leastStep = 3

// steps finds where a line of samples changes most, to a part of a sample.
func steps(out []step, line []float64, lo, by float64) []step {
	d := make([]float64, len(line))
	for i := 2; i < len(line)-2; i++ {
		d[i] = math.Abs(line[i+2] + line[i+1] - line[i-1] - line[i-2])
	}
	for i := 3; i < len(d)-3; i++ {
		if d[i] < leastStep || d[i] < d[i-1] || d[i] <= d[i+1] {
			continue
		}
		shift := 0.0
		if bend := d[i-1] - 2*d[i] + d[i+1]; bend < 0 {
			shift = (d[i-1] - d[i+1]) / (2 * bend)
		}
		out = append(out, step{lo + by*(float64(i)+shift), d[i]})
	}
	return out
}

// near returns, for each ray that has one among its first few steps, the point
// of the strongest step within so much of the outline times s.
func (r *rim) near(e ellipse, s, within float64, first int) (points []Point) {
	for ray, all := range r {
		for _, one := range all[:min(first, len(all))] {
			if math.Abs(one.s-s) <= within {
				points = append(points, e.at(direction(ray), one.s))
				break
			}
		}
	}
	return points
}

// seen is the share of the outline times s at which a ray has one of its first
// few steps, and the widest gap in it as a share of the whole turn.
func (r *rim) seen(s, within float64, first int) (share, gap float64) {
	n, run, longest := 0, 0, 0
	for i := range 2 * rays { // twice round, for a gap across the start
		all := r[i%rays]
		has := slices.ContainsFunc(all[:min(first, len(all))], func(o step) bool { return math.Abs(o.s-s) <= within })
		if run++; has {
			run = 0
		}
		if longest = max(longest, run); has && i < rays {
			n++
		}
	}
	return float64(n) / rays, float64(min(longest, rays)) / rays
}
