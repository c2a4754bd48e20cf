package reading

import "math"

// Soft strands flatten against each other. Here a flattened strand is a slice
// of the yarn's round section, its outer face a little more curved than the
// yarn: the border between two strands then runs from one edge of the yarn to
// the other, where round strands show an S-curve.
const (
	faceTilt   = 0.7  // radians by which the face turns away at the border
	cleftDepth = 0.12 // of the yarn's radius, at the border
)

// flatShare is how much of the way from round strands that touch to slices flat
// strands have gone, in the mean, where it tells on the radius of the helix:
// the picture does not show how the fibres lie inside. flatSD is the standard
// deviation of that radius, as a share.
const (
	flatShare = 0.5
	flatSD    = 0.08
)

// flatRadius is the helix radius of n flat strands over that of the yarn.
func flatRadius(n int) float64 {
	touching := packing * touchingRadius(n)
	return flatShare*sliceCentre(n) + (1-flatShare)*touching/(touching+1)
}

// sliceCentre is the distance of the centre of one of n equal slices of a disc
// of radius 1 from the disc's centre.
func sliceCentre(n int) float64 {
	half := math.Pi / float64(n)
	return 2 * math.Sin(half) / (3 * half)
}

// slice returns which strand lies at angle a around the axis at phase phi, and
// how far from its middle: 0 there and -1 or 1 at its borders.
func (p ply) slice(a, phi float64) (strand int, off float64) {
	u := (a - phi) / (2 * math.Pi) * float64(p.n)
	k := math.Round(u)
	return ((int(k) % p.n) + p.n) % p.n, 2 * (u - k)
}

// face is the distance from the axis so far from the middle of a slice.
func face(off float64) float64 { return 1 - cleftDepth*off*off*off*off }

// flatSilhouette is the upper extent across the picture at phase phi.
func (p ply) flatSilhouette(phi float64) float64 {
	best := 0.0
	for d := -0.5; d <= 0.5; d += 0.05 {
		_, off := p.slice(d, phi)
		best = max(best, face(off)*math.Cos(d))
	}
	return best
}

// lookFlat follows the ray at height y across the yarn, at phase phi.
func (p ply) lookFlat(phi, y float64) surface {
	// The face lies a little inside the radius 1; two steps towards it are
	// enough.
	r := 1.0
	var x, off float64
	var strand int
	for range 3 {
		if math.Abs(y) >= r {
			return surface{}
		}
		x = math.Sqrt(r*r - y*y)
		strand, off = p.slice(math.Atan2(x, y), phi)
		r = face(off)
	}
	around, radial := math.Sincos(faceTilt * off)
	sin, cos := x/math.Hypot(x, y), y/math.Hypot(x, y)
	sb, cb := math.Sincos(p.b)
	return surface{strand: strand, hit: true,
		ny: radial*cos - around*cb*sin, nx: radial*sin + around*cb*cos, nz: -around * sb,
		depth: math.Hypot(x, y)}
}
