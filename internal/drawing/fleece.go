package drawing

import (
	"math"
	"math/rand/v2"
	"sync"
)

// The fleece is a patch of fibre surface that repeats both ways: fleeceAround
// texels once round a strand, fleecePerDiameter texels for one strand diameter
// along a fibre. Both sizes are powers of two.
const (
	fleeceAround      = 512
	fleeceAlong       = 512
	fleecePerDiameter = 36
)

// texel is one point of the fleece.
type texel struct {
	tone   float32 // lightness about 0, sd near 1
	height float32 // relief about 0, sd near 1
	across float32 // slope of the relief per texel round the strand
}

type fleece []texel

// carded is the one fleece that all yarns are drawn from, each strand from a
// part of its own.
var carded = sync.OnceValue(card)

// card lays down locks and single fibres at random, along the second direction
// on average.
func card() fleece {
	rng := rand.New(rand.NewPCG(2, 2))
	height := make([]float32, fleeceAround*fleeceAlong)
	tone := make([]float32, len(height))
	for range 46 {
		layFibre(rng, height, lock(rng))
	}
	standardise(height)
	for range 900 {
		layFibre(rng, tone, singleFibre(rng))
	}
	standardise(tone)
	for i := range height {
		height[i] += 0.3 * tone[i]
	}
	return weave(tone, height)
}

// stroke is a soft line along the fleece. Widths are in texels round the
// strand, of which about a hundred and sixty go to a diameter.
type stroke struct {
	width  float64 // standard deviation
	length int
	slope  float64 // texels round per texel along
	wander float64
	weight float64
}

func lock(rng *rand.Rand) stroke {
	return stroke{7 + 12*rng.Float64(), 160 + rng.IntN(300), 0.25 * rng.NormFloat64(), 30 * rng.Float64(), 1.2 * (rng.Float64() - 0.35)}
}

func singleFibre(rng *rand.Rand) stroke {
	return stroke{1.5 + 2.2*rng.Float64(), 60 + rng.IntN(220), 0.55 * rng.NormFloat64(), 26 * rng.Float64(), rng.NormFloat64()}
}

// layFibre adds the stroke at a random place, thinning out towards its ends.
func layFibre(rng *rand.Rand, on []float32, s stroke) {
	u0, v0 := fleeceAround*rng.Float64(), rng.IntN(fleeceAlong)
	bend := 2 * math.Pi * rng.Float64()
	reach := int(math.Ceil(2.4 * s.width))
	for j := range s.length {
		t := float64(j) / float64(s.length)
		u := u0 + s.slope*float64(j) + s.wander*math.Sin(bend+5*t)
		fade := s.weight * math.Sin(math.Pi*t)
		row := on[(v0+j)%fleeceAlong*fleeceAround:][:fleeceAround]
		for k := int(u) - reach; k <= int(u)+reach; k++ {
			x := (float64(k) - u) / s.width
			row[k&(fleeceAround-1)] += float32(fade * bell(x))
		}
	}
}

// bell is near exp(-x^2/2) out to 2.4 and zero beyond.
func bell(x float64) float64 {
	b := max(0, 1-x*x/5.76)
	return b * b * b
}

// standardise brings the patch to mean 0 and standard deviation 1.
func standardise(p []float32) {
	var sum, squares float64
	for _, x := range p {
		sum += float64(x)
		squares += float64(x) * float64(x)
	}
	n := float64(len(p))
	mean := sum / n
	sd := math.Sqrt(squares/n - mean*mean)
	for i := range p {
		p[i] = float32((float64(p[i]) - mean) / sd)
	}
}

func weave(tone, height []float32) fleece {
	f := make(fleece, len(tone))
	for i := range f {
		row, u := i&^(fleeceAround-1), i&(fleeceAround-1)
		right, left := height[row+(u+1)&(fleeceAround-1)], height[row+(u-1)&(fleeceAround-1)]
		f[i] = texel{tone: tone[i], height: height[i], across: (right - left) / 2}
	}
	return f
}

// patch is the part of the fleece that one strand is drawn from.
type patch struct{ around, along float64 }

// cut chooses a patch for each strand.
func cut(seed uint64, strands int) []patch {
	rng := rand.New(rand.NewPCG(seed, 2))
	ps := make([]patch, strands)
	for i := range ps {
		// The large whole numbers keep the sums positive, see at.
		ps[i] = patch{1<<16 + fleeceAround*rng.Float64(), 1<<16 + fleeceAlong*rng.Float64()}
	}
	return ps
}

// at returns the texel at angle theta round a fibre's own track and at a length
// along it, in strand diameters.
func (f fleece) at(p patch, theta, along float64) *texel {
	u := int(p.around + theta*(fleeceAround/(2*math.Pi)))
	v := int(p.along + along*fleecePerDiameter)
	return &f[v&(fleeceAlong-1)*fleeceAround+u&(fleeceAround-1)]
}

// heightAt is the relief there, smooth along the fibre.
func (f fleece) heightAt(p patch, theta, along float64) float64 {
	u := int(p.around+theta*(fleeceAround/(2*math.Pi))) & (fleeceAround - 1)
	at := p.along + along*fleecePerDiameter
	v := int(at)
	t := float32(at - float64(v))
	here, next := f[v&(fleeceAlong-1)*fleeceAround+u], f[(v+1)&(fleeceAlong-1)*fleeceAround+u]
	return float64(here.height + t*(next.height-here.height))
}
