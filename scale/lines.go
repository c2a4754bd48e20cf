package scale

import (
	"cmp"
	"math"
	"slices"

	"waketwist/raster"
)

// A frame turns the view so that u runs along a ruler and v across it, both in
// photo pixels from the view's middle.
type frame struct {
	v        *view
	mid      Point
	cos, sin float64
}

func (v *view) frame(dir float64) frame {
	sin, cos := math.Sincos(dir)
	r := v.part
	return frame{v, Point{float64(r.Min.X+r.Max.X-1) / 2, float64(r.Min.Y+r.Max.Y-1) / 2}, cos, sin}
}

func (f frame) at(u, v float64) Point {
	return Point{f.mid.X + u*f.cos - v*f.sin, f.mid.Y + u*f.sin + v*f.cos}
}

// stretch is the part of the line at v that lies in the view.
func (f frame) stretch(v float64) (from, to float64) {
	from, to = math.Inf(-1), math.Inf(1)
	o := f.at(0, v)
	r := f.v.part
	clip := func(at, slope float64, lo, hi int) {
		a, b := float64(lo)+1-at, float64(hi)-2-at
		if math.Abs(slope) < 1e-9 {
			if a > 0 || b < 0 {
				to = math.Inf(-1)
			}
			return
		}
		if a, b = a/slope, b/slope; a > b {
			a, b = b, a
		}
		from, to = max(from, a), min(to, b)
	}
	clip(o.X, f.cos, r.Min.X, r.Max.X)
	clip(o.Y, f.sin, r.Min.Y, r.Max.Y)
	return from, to
}

// reach is how far v runs either way.
func (f frame) reach() float64 {
	w, h := float64(f.v.part.Dx()), float64(f.v.part.Dy())
	return (math.Abs(f.sin)*w + math.Abs(f.cos)*h) / 2
}

// A profile is lightness along a line, averaged over some breadth across it.
type profile struct {
	from, by float64 // u of the first sample, and photo pixels between samples
	light    []float32
}

func (p profile) u(i float64) float64 { return p.from + p.by*i }

// profile averages lines between v1 and v2, by photo pixels apart, with samples
// as far apart.
func (f frame) profile(l lens, v1, v2, by float64) profile {
	from, to := f.stretch(v1)
	a, b := f.stretch(v2)
	from, to = max(from, a), min(to, b)
	n := int((to-from)/by) + 1
	if !(to > from) || n < 16 {
		return profile{}
	}
	lines := max(int((v2-v1)/by+0.5), 1)
	p := profile{from, by, make([]float32, n)}
	for j := range lines {
		v := v1 + (float64(j)+0.5)*(v2-v1)/float64(lines)
		for i := range p.light {
			at := f.at(p.u(float64(i)), v)
			p.light[i] += float32(l.at(at.X, at.Y))
		}
	}
	for i := range p.light {
		p.light[i] /= float32(lines)
	}
	return p
}

// mostDirections are searched for rulers, besides the sides of the picture.
const mostDirections = 6

// directions are those in which a ruler may lie, in radians from the picture's
// right with rows running down: marks are many parallel edges across it, and its
// own edge is one along it.
func (v *view) directions() []float64 {
	k := 1
	for v.side() > searchSide*k {
		k *= 2
	}
	const bins = 180
	var count [bins]float64
	for _, e := range edgesOf(v.crop(0, k)) {
		a := math.Atan2(float64(e.ny), float64(e.nx)) / math.Pi * bins
		count[(int(math.Round(a))+2*bins)%bins]++
	}
	at := func(i int) float64 { return count[(i+2*bins)%bins] }
	type peak struct{ dir, sharp float64 }
	var peaks []peak
	for i := range bins {
		near := at(i-1) + at(i) + at(i+1)
		around := (at(i-6) + at(i-5) + at(i-4) + at(i+4) + at(i+5) + at(i+6)) / 2
		if at(i) >= at(i-1) && at(i) > at(i+1) && near > around {
			dir := float64(i) + (at(i+1)-at(i-1))/near
			peaks = append(peaks, peak{dir * math.Pi / bins, near - around})
		}
	}
	slices.SortStableFunc(peaks, func(a, b peak) int { return cmp.Compare(b.sharp, a.sharp) })
	out := []float64{0, math.Pi / 2}
	add := func(d float64) {
		d = math.Mod(d+2*math.Pi, math.Pi)
		if !slices.ContainsFunc(out, func(o float64) bool { return math.Abs(math.Remainder(o-d, math.Pi)) < 0.012 }) {
			out = append(out, d)
		}
	}
	for _, p := range peaks[:min(len(peaks), mostDirections)] {
		add(p.dir)
		add(p.dir + math.Pi/2)
	}
	return out
}

// curved is how much a profile bends at each sample, smoothed to the given
// standard deviation in samples: high at dark marks about as wide.
func (p profile) curved(sigma float64) []float32 {
	f := &raster.Field{W: len(p.light), H: 1, Pix: slices.Clone(p.light)}
	f.BlurRows(sigma)
	out := make([]float32, len(p.light))
	step := max(int(math.Round(1.4*sigma)), 1)
	for i := step; i < len(out)-step; i++ {
		out[i] = (f.Pix[i-step]+f.Pix[i+step])/2 - f.Pix[i]
	}
	return out
}
