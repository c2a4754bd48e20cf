package scale

import (
	"cmp"
	"math"
	"slices"

	"waketwist/raster"
)

// A circle is a first guess at a disc, in photo pixels.
type circle struct {
	x, y, r float64
	votes   float64 // share of the outline that speaks for it
}

// Circles are looked for at the reduction at which their radius lies between
// these, in pixels of the reduced picture: fine texture is gone there, and what
// is left of an outline still says where its middle lies.
const (
	leastRadius = 10
	mostRadius  = 22
	searchSide  = 800  // longer side of the finest picture that is searched
	leastVotes  = 0.28 // share of the outline
	guesses     = 10   // followed at each reduction
)

// circles returns guesses at all sizes, best first at each size.
func (v *view) circles() (out []circle) {
	k := 1
	for v.side() > searchSide*k {
		k *= 2
	}
	for ; min(v.part.Dx(), v.part.Dy()) >= 2*leastRadius*k; k *= 2 {
		out = append(out, v.circlesAt(k)...)
	}
	return out
}

// an edge is a place where lightness changes, with the unit vector across it.
type edge struct{ x, y, nx, ny float32 }

// circlesAt returns guesses in the view reduced by k, by votes of the edges for
// the places at which a circle through them would have its middle.
func (v *view) circlesAt(k int) []circle {
	f := v.crop(0, k)
	votes := raster.NewField(f.W, f.H)
	edges := edgesOf(f)
	for c := 1; c < channels; c++ {
		if k%v.photo.ChromaStep() == 0 && v.coloured() {
			edges = append(edges, edgesOf(v.crop(c, k))...)
		}
	}
	var found []circle
	for r := leastRadius; r <= mostRadius; r++ {
		clear(votes.Pix)
		vote(votes, edges, float32(r))
		found = append(found, peaks(votes, float64(r))...)
	}
	slices.SortStableFunc(found, func(a, b circle) int { return cmp.Compare(b.votes, a.votes) })
	var kept []circle
	for _, c := range found {
		if len(kept) == guesses {
			break
		}
		if !slices.ContainsFunc(kept, func(o circle) bool {
			return math.Hypot(o.x-c.x, o.y-c.y) < 0.3*o.r && math.Abs(o.r-c.r) < 0.3*o.r
		}) {
			kept = append(kept, c)
		}
	}
	for i, c := range kept {
		p := v.fromCrop(c.x, c.y, k)
		kept[i] = circle{p.X, p.Y, c.r * float64(k), c.votes}
	}
	return kept
}

// Least slopes that count as an edge: in steps of lightness a pixel, and as a
// share of a slope that is steep in the picture.
const (
	leastSlope  = 1.5
	slopeShare  = 0.08
	steepRanked = 0.98
)

// edgesOf thins the slopes of a picture to edges one pixel wide (Canny 1986).
func edgesOf(f *raster.Field) []edge {
	f.BlurRows(0.9)
	f.BlurColumns(0.9)
	gx, gy := f.Gradient()
	slope := raster.NewField(f.W, f.H)
	for i := range slope.Pix {
		slope.Pix[i] = float32(math.Hypot(float64(gx.Pix[i]), float64(gy.Pix[i])))
	}
	least := max(leastSlope, slopeShare*ranked(slope.Pix, steepRanked))
	var out []edge
	for y := 2; y < f.H-2; y++ {
		for x := 2; x < f.W-2; x++ {
			i := y*f.W + x
			s := slope.Pix[i]
			if float64(s) < least {
				continue
			}
			nx, ny := gx.Pix[i]/s, gy.Pix[i]/s
			step := int(math.Round(float64(nx))) + f.W*int(math.Round(float64(ny)))
			if s >= slope.Pix[i-step] && s > slope.Pix[i+step] {
				out = append(out, edge{float32(x), float32(y), nx, ny})
			}
		}
	}
	return out
}

// ranked is the value below which a share of every seventh value lies.
func ranked(v []float32, share float64) float64 {
	var s []float32
	for i := 0; i < len(v); i += 7 {
		s = append(s, v[i])
	}
	if len(s) == 0 {
		return 0
	}
	slices.Sort(s)
	return float64(s[min(int(share*float64(len(s))), len(s)-1)])
}

// vote adds one for each edge at the two places at a distance r across it.
func vote(votes *raster.Field, edges []edge, r float32) {
	for _, e := range edges {
		for _, side := range [2]float32{r, -r} {
			x, y := int(e.x+side*e.nx+0.5), int(e.y+side*e.ny+0.5)
			if x >= 0 && y >= 0 && x < votes.W && y < votes.H {
				votes.Pix[y*votes.W+x]++
			}
		}
	}
}

// peaks returns the places with the most votes around them.
func peaks(votes *raster.Field, r float64) (out []circle) {
	around := raster.NewField(votes.W, votes.H)
	w := votes.W
	for y := 1; y < votes.H-1; y++ {
		for x := 1; x < w-1; x++ {
			i := y*w + x
			v := votes.Pix
			around.Pix[i] = v[i-w-1] + v[i-w] + v[i-w+1] + v[i-1] + v[i] + v[i+1] + v[i+w-1] + v[i+w] + v[i+w+1]
		}
	}
	least := float32(leastVotes * 2 * math.Pi * r)
	for y := 1; y < votes.H-1; y++ {
		for x := 1; x < w-1; x++ {
			i, a := y*w+x, around.Pix
			if a[i] >= least && a[i] >= a[i-1] && a[i] > a[i+1] && a[i] >= a[i-w] && a[i] > a[i+w] {
				out = append(out, circle{float64(x), float64(y), r, float64(a[i]) / (2 * math.Pi * r)})
			}
		}
	}
	return out
}
