package reading

import (
	"cmp"
	"math"
	"slices"
)

// Yarns side by side at equal distances, as around a card or a bobbin, repeat
// across: what the map sums up to along lines of their direction does, whatever is
// between them, ground, clefts or both by turns.
const (
	repeatsSeen  = 3    // distances from yarn to yarn over which it must repeat
	leastClarity = 0.7  // and that share of the variance at least
	knownClarity = 0.5  // the same where the direction is known,
	sameApart    = 1.2  // and the distance to within this factor
	leastApart   = 2.5  // cells from yarn to yarn
	apartRatio   = 1.04 // of one distance that is tried to the next
	leastChord   = 0.3  // of the shorter side of the map: shorter lines are left out
	repeatsTried = 3    // directions
	fineTurns    = 4    // to either side, of fineTurn each
	fineTurn     = math.Pi / directions / 6
	alikeAcross  = 0.5 // correlation of one yarn's place with the next
)

// A repeat is what repeats across the map. Lengths are in cells.
type repeat struct {
	dir     float64 // of the lines, radians counter-clockwise from picture right
	apart   float64 // from one time to the next
	across  float64 // of the place where it shows best, from the middle of the map
	swing   float64 // how far the cues swing, in units of their noise
	clarity float64 // share of what the cues vary by there
}

// quality ranks what repeats.
func (r repeat) quality() float64 { return r.swing * r.clarity }

// A wanted repeat is so far apart, in cells, and so clear at least.
type wanted struct{ from, to, clarity float64 }

// readable is any distance from which yarn can be read.
func (p *profile) readable() wanted {
	return wanted{max(leastApart, leastWidth/float64(p.m.k)), math.Inf(1), leastClarity}
}

// A profile is what the map sums up to along lines of one direction, line by
// line, with running sums to find what repeats in it.
type profile struct {
	m        *cueMap
	cells    []cell
	sums     projection
	lines    []cell
	lo, hi   int // the lines that are long enough
	v        [3][]float64
	run, sq  [3][]float64 // of v and its square
	re, im   [3][]float64 // of v turning once from one time to the next
	ere, eim []float64    // of the turning alone
}

// newProfile returns a profile of no direction yet. The cells are shared.
func (m *cueMap) newProfile(cells []cell) *profile {
	bins := m.bins()
	p := &profile{m: m, cells: cells, sums: make(projection, bins+1), lines: make([]cell, bins)}
	for c := range p.v {
		for _, f := range []*[]float64{&p.v[c], &p.run[c], &p.sq[c], &p.re[c], &p.im[c]} {
			*f = make([]float64, bins+1)
		}
	}
	p.ere, p.eim = make([]float64, bins+1), make([]float64, bins+1)
	return p
}

// repeats returns what repeats most clearly across the map, best first.
func (p *profile) repeats() []repeat {
	found := make([]repeat, directions)
	abreast(2, func(half int) {
		p := p.m.newProfile(p.cells)
		for a := half; a < directions; a += 2 {
			found[a] = p.along(float64(a)*math.Pi/directions, p.readable())
		}
	})
	var best []repeat
	for a, r := range found {
		before, after := found[(a+directions-1)%directions], found[(a+1)%directions]
		if q := r.quality(); q > 0 && q >= before.quality() && q > after.quality() {
			best = append(best, r)
		}
	}
	slices.SortStableFunc(best, func(a, b repeat) int { return cmp.Compare(b.quality(), a.quality()) })
	best = best[:min(len(best), repeatsTried)]
	for i, r := range best {
		best[i] = p.near(r.dir, p.readable())
	}
	return best
}

// near returns what repeats most, as wanted, along directions near one.
func (p *profile) near(dir float64, want wanted) (best repeat) {
	for d := -fineTurns; d <= fineTurns; d++ {
		if r := p.along(dir+float64(d)*fineTurn, want); r.quality() > best.quality() {
			best = r
		}
	}
	return best
}

// along returns what repeats most, as wanted, along one direction: no distance where
// nothing does.
func (p *profile) along(dir float64, want wanted) (best repeat) {
	p.fill(dir)
	origin := p.origin(dir)
	for apart := want.from; apart <= want.to && apart*repeatsSeen < float64(p.hi-p.lo); apart *= apartRatio {
		n := int(repeatsSeen*apart + 0.5)
		p.turn(apart)
		for i := p.lo; i+n <= p.hi; i++ {
			r := repeat{dir: dir, apart: apart, across: float64(i) + float64(n-1)/2 - origin}
			if r.swing, r.clarity = p.swing(i, n); r.clarity >= want.clarity && r.quality() > best.quality() {
				best = r
			}
		}
	}
	return best
}

// origin is the line through the middle of the map.
func (p *profile) origin(dir float64) float64 { return p.m.origin(len(p.lines), dir) }

// fill sums the map along one direction.
func (p *profile) fill(dir float64) {
	p.m.project(p.sums, p.lines, p.cells, dir)
	least := leastChord * float64(min(p.m.w, p.m.h))
	long := func(i int) bool { return p.sums[i+1][mapCues]-p.sums[i][mapCues] >= least }
	for p.lo = 0; p.lo < len(p.lines) && !long(p.lo); p.lo++ {
	}
	for p.hi = p.lo; p.hi < len(p.lines) && long(p.hi); p.hi++ {
		n := p.sums[p.hi+1][mapCues] - p.sums[p.hi][mapCues]
		for c := range p.v {
			v := (p.sums[p.hi+1][c] - p.sums[p.hi][c]) / n / p.m.noise[c]
			p.v[c][p.hi] = v
			p.run[c][p.hi+1] = p.run[c][p.hi] + v
			p.sq[c][p.hi+1] = p.sq[c][p.hi] + v*v
		}
	}
}

// turn makes running sums of the cues turning once in a distance.
func (p *profile) turn(apart float64) {
	sin, cos := math.Sincos(2 * math.Pi * float64(p.lo) / apart)
	sinStep, cosStep := math.Sincos(2 * math.Pi / apart)
	for i := p.lo; i < p.hi; i++ {
		p.ere[i+1], p.eim[i+1] = p.ere[i]+cos, p.eim[i]+sin
		for c := range p.v {
			p.re[c][i+1] = p.re[c][i] + p.v[c][i]*cos
			p.im[c][i+1] = p.im[c][i] + p.v[c][i]*sin
		}
		sin, cos = sin*cosStep+cos*sinStep, cos*cosStep-sin*sinStep
	}
}

// swing returns how far the cues swing in n lines from the i-th, and the share of
// their variance that this is.
func (p *profile) swing(i, n int) (swing, clarity float64) {
	k := float64(n)
	ere, eim := p.ere[i+n]-p.ere[i], p.eim[i+n]-p.eim[i]
	var wave, all float64
	for c := range p.v {
		mean := (p.run[c][i+n] - p.run[c][i]) / k
		re := (p.re[c][i+n] - p.re[c][i] - mean*ere) / k
		im := (p.im[c][i+n] - p.im[c][i] - mean*eim) / k
		wave += 2 * (re*re + im*im)
		all += (p.sq[c][i+n]-p.sq[c][i])/k - mean*mean
	}
	return math.Sqrt(wave), wave / max(all, 1e-9)
}

// extent returns between which lines, from the middle of the map, it repeats.
func (p *profile) extent(r repeat) (from, to float64) {
	p.fill(r.dir)
	half, origin := repeatsSeen*r.apart/2, p.origin(r.dir)
	from, to = r.across-half+origin, r.across+half+origin
	for p.alike(from-r.apart, from, r.apart) {
		from -= r.apart
	}
	for p.alike(to, to-r.apart, r.apart) {
		to += r.apart
	}
	return from - origin, to - origin
}

// alike reports whether n lines from a are like those from b.
func (p *profile) alike(a, b, n float64) bool {
	if a < float64(p.lo) || a+n > float64(p.hi-1) {
		return false
	}
	var ab, aa, bb, off float64
	for c := range p.v {
		var sa, sb, k float64
		for i := 0.0; i < n; i++ {
			sa, sb, k = sa+p.at(c, a+i), sb+p.at(c, b+i), k+1
		}
		for i := 0.0; i < n; i++ {
			x, y := p.at(c, a+i)-sa/k, p.at(c, b+i)-sb/k
			ab, aa, bb = ab+x*y, aa+x*x, bb+y*y
		}
		off += (sa - sb) * (sa - sb) / k
	}
	return ab > alikeAcross*math.Sqrt(aa*bb) && off < bb
}

// at is a cue between two lines.
func (p *profile) at(c int, line float64) float64 {
	i := int(line)
	u := line - float64(i)
	return p.v[c][i]*(1-u) + p.v[c][i+1]*u
}
