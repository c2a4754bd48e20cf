package reading

import (
	"math"
	"sync"

	"waketwist/unit"
	"waketwist/yarn"
)

// packing is the mean share, of the radius at which round strands would just
// touch, at which soft strands lie: they press into each other. Hard strands of
// three and more open a hollow core as the twist gets steep and lie further
// out; soft ones fill it instead, and hollow is how much of the core is taken
// to stay open. The spread of both goes into the interval.
const (
	packing   = 0.94
	packingSD = 0.03
	hollow    = 0.4
)

// touchingRadius is the radius of the helix of strand centres over the strand
// radius, for n round strands laid straight that touch their neighbours.
func touchingRadius(n int) float64 { return 1 / math.Sin(math.Pi/float64(n)) }

// touchingAt is the same for hard strands at helix angle b. Past 45 degrees two
// strands no longer touch straight across; nothing more is added there.
func touchingAt(n int, b float64) float64 {
	return yarn.ContactRadius(n, yarn.CentreAngle(math.Min(b, math.Pi/4)))
}

// openShare is how much of the opening of a hollow core counts as the standard
// deviation of the radius: hard strands open all of it, the softest none, and those
// that open it are not pressed into each other either.
const openShare = 0.85

// radiusSD is the standard deviation of the helix radius for an outline of
// given width, as a share.
func (p ply) radiusSD() float64 {
	if p.form == flat {
		return flatSD
	}
	// A wider helix makes the outline wider as well.
	open := (touchingAt(p.n, p.b)/touchingRadius(p.n) - 1) / (p.R + 1)
	return math.Hypot(packingSD, openShare*open)
}

// A form is the shape that strands take in the yarn.
type form int

// Strands stay round, or press each other flat until they fill the yarn like
// slices of a cake.
const (
	round form = iota
	flat
	numForms
)

// A ply is the geometry of n like strands. Round strands have radius 1; the
// yarn of flat ones has.
type ply struct {
	n     int
	form  form
	b     float64 // helix angle of the strand centres, radians
	R     float64 // radius of that helix
	sil   float64 // mean half width of the silhouette
	turnZ float64 // axial length of one full turn
}

// newPly lays n strands at angle b, round ones with mean packing.
func newPly(n int, f form, b float64) ply {
	laid := touchingRadius(n)
	p := ply{n: n, form: f, b: b, R: packing * (laid + hollow*(touchingAt(n, b)-laid))}
	if f == flat {
		p.R = flatRadius(n)
	}
	p.turnZ = 2 * math.Pi * p.R / math.Tan(b)
	var sum float64
	const steps = 24
	for i := range steps {
		sum += p.silhouette(2 * math.Pi * float64(i) / steps / float64(n))
	}
	p.sil = sum / steps
	return p
}

// envelope is the outer half width.
func (p ply) envelope() float64 {
	if p.form == flat {
		return 1
	}
	return p.R + 1
}

// silhouette is the upper extent of the yarn across the picture at phase phi.
// Cut square to the yarn, a strand's section is an ellipse longer around the
// axis than away from it.
func (p ply) silhouette(phi float64) float64 {
	if p.form == flat {
		return p.flatSilhouette(phi)
	}
	long := 1 / math.Cos(p.b)
	best := 0.0
	for i := range p.n {
		a := phi + 2*math.Pi*float64(i)/float64(p.n)
		sin, cos := math.Sincos(a)
		best = max(best, p.R*cos+math.Sqrt(cos*cos+long*long*sin*sin))
	}
	return best
}

// surface is what a ray meets: which strand, the surface normal, and how far
// from the yarn's axis (0 in the deepest cleft, 1 at the envelope).
type surface struct {
	strand     int
	ny, nx, nz float64 // across the picture, towards the eye, along the yarn
	depth      float64
	hit        bool
}

// look follows the ray at height y across the yarn, at phase phi.
func (p ply) look(phi, y float64) surface {
	if p.form == flat {
		return p.lookFlat(phi, y)
	}
	var s surface
	nearest := math.Inf(-1)
	cb, sb := math.Cos(p.b), math.Sin(p.b)
	for i := range p.n {
		sin, cos := math.Sincos(phi + 2*math.Pi*float64(i)/float64(p.n))
		dy := y - p.R*cos
		// Section: (u.er)^2 + (u.et cos b)^2 = 1 with er = (cos, sin) and
		// et = (-sin, cos) in (across, towards the eye).
		k := cb * cb
		qyy, qxx, qxy := cos*cos+k*sin*sin, sin*sin+k*cos*cos, cos*sin*(1-k)
		disc := qxy*qxy*dy*dy - qxx*(qyy*dy*dy-1)
		if disc < 0 {
			continue
		}
		dx := (-qxy*dy + math.Sqrt(disc)) / qxx
		x := p.R*sin + dx
		if x <= nearest {
			continue
		}
		nearest = x
		radial := dy*cos + dx*sin
		around := (-dy*sin + dx*cos) * cb
		s = surface{strand: i, hit: true,
			ny: radial*cos - around*cb*sin, nx: radial*sin + around*cb*cos, nz: -around * sb,
			depth: math.Hypot(x, y) / p.envelope()}
	}
	return s
}

// plyTables holds plies on a grid of angles.
var plyTables = sync.OnceValue(func() (t [numForms][mostStrands + 1][]ply) {
	for f := range numForms {
		for n := 2; n <= mostStrands; n++ {
			for d := minPlyDegrees; d <= maxPlyDegrees; d++ {
				t[f][n] = append(t[f][n], newPly(n, f, float64(d)*math.Pi/180))
			}
		}
	}
	return t
})

const (
	maxPlies      = 4
	mostStrands   = 7 // known as too many
	minPlyDegrees = 4
	maxPlyDegrees = 62
)

// plyFor returns the ply of n strands whose full turn takes pitch, both pitch
// and the mean silhouette width in the same unit. It reports false where no
// ply of the table is that steep or that flat.
func plyFor(n int, f form, pitch, silhouette float64) (ply, bool) {
	t := plyTables()[f][n]
	want := pitch / silhouette
	ratio := func(p ply) float64 { return p.turnZ / (2 * p.sil) }
	if want > ratio(t[0]) || want < ratio(t[len(t)-1]) {
		return ply{}, false
	}
	lo, hi := 0, len(t)-1
	for hi-lo > 1 {
		mid := (lo + hi) / 2
		if ratio(t[mid]) >= want {
			lo = mid
		} else {
			hi = mid
		}
	}
	share := (ratio(t[lo]) - want) / (ratio(t[lo]) - ratio(t[hi]))
	a, b := t[lo], t[hi]
	mix := func(u, v float64) float64 { return u + share*(v-u) }
	p := ply{n: n, form: f, b: mix(a.b, b.b), R: mix(a.R, b.R), sil: mix(a.sil, b.sil)}
	p.turnZ = 2 * math.Pi * p.R / math.Tan(p.b)
	return p, true
}

// borderAngle is the mean angle of the visible border between strands over the
// middle half of the yarn's width, found by following it in the model.
func (p ply) borderAngle() unit.Angle {
	const steps = 64
	var rise, run float64
	span := 2 * math.Pi / float64(p.n)
	prev := math.NaN()
	var prevPhi float64
	for i := range steps {
		phi := span * float64(i) / steps * 2
		y, ok := p.borderAt(phi)
		if !ok || math.Abs(y) > 0.5*p.envelope() {
			prev = math.NaN()
			continue
		}
		if !math.IsNaN(prev) && y < prev {
			rise += prev - y
			run += (phi - prevPhi) / (2 * math.Pi) * p.turnZ
		}
		prev, prevPhi = y, phi
	}
	if run == 0 {
		return unit.Angle(p.b)
	}
	return unit.Atan(rise / run)
}

// borderAt finds the border between strand 0 and strand 1 at phase phi.
func (p ply) borderAt(phi float64) (y float64, ok bool) {
	const rays = 96
	last := -1
	for k := range rays {
		y := (float64(k)/(rays-1)*2 - 1) * p.envelope()
		s := p.look(phi, y)
		if !s.hit {
			last = -1
			continue
		}
		if last == 1 && s.strand == 0 || last == 0 && s.strand == 1 {
			return y, true
		}
		last = s.strand
	}
	return 0, false
}
