package scale

import (
	"cmp"
	"fmt"
	"image"
	"math"
	"slices"

	"waketwist/raster"
	"waketwist/unit"
)

// A Disc is a coin or another round flat thing as it lies in the photograph.
type Disc struct {
	Centre Point
	// Long and Short are the axes of its outline, an ellipse where it is seen from
	// a little aside; both in photo pixels.
	Long, Short float64
	// Turn is the direction of the long axis, counter-clockwise from picture
	// right, 0 to 180 degrees.
	Turn unit.Angle
	// Diameter is what its diameter takes in the picture on average over all
	// directions, with the spread that the edge, the slant and its thickness leave.
	Diameter Pixels
}

// Ratio is the short axis over the long one, 1 seen from straight above.
func (d Disc) Ratio() float64 { return d.Short / d.Long }

// Outline returns n points of the outline in order, for drawing it.
func (d Disc) Outline(n int) []Point {
	out := make([]Point, n)
	tsin, tcos := math.Sincos(-float64(d.Turn)) // rows run downwards
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		u, v := d.Long/2*cos, d.Short/2*sin
		out[i] = Point{d.Centre.X + u*tcos - v*tsin, d.Centre.Y + u*tsin + v*tcos}
	}
	return out
}

// Limits of what counts as a disc; without a source.
const (
	leastSeen     = 0.65  // share of the outline that stands out
	chanceSeen    = 4     // photo pixels: of this over the radius more is asked
	leastFollowed = 0.5   // the same, before it is measured finely
	widestGap     = 0.3   // share of the whole turn without an outline
	mostRough     = 0.012 // standard deviation of the edge about the ellipse, over the radius
	leastRatio    = 0.94  // 20 degrees from straight above
	flattest      = 0.7   // below this no disc is meant
	leastDisc     = 18    // photo pixels of radius
)

// Limits within which rings belong to one coin: how far their middles lie apart,
// over the radius, and how much their axis ratios differ; without a source.
const (
	besides = 0.003
	unlike  = 0.015
)

// Spreads of the diameter; without a source.
const (
	edgeSD   = 0.35  // photo pixels: where blur lets an edge seem to be
	raisedSD = 0.004 // share: a coin's face lies nearer to the camera than its ground
	alike    = 0.03  // share by which discs that agree may differ
)

// FindDisc finds the one disc in a photograph, of any size, colour and pattern,
// if its outline stands out. Where the picture shows several it wants to be
// told which: at is a box around it, or a small one on it; empty for the whole
// picture. The error is a *Refusal.
func FindDisc(photo *raster.Photo, at image.Rectangle) (Disc, error) {
	v := newView(photo, at)
	var found []outline
	for _, e := range v.ellipses() {
		if o, ok := v.measure(e); ok && v.meant(o.ellipse) {
			found = append(found, o)
		}
	}
	found = distinct(found)
	if len(found) == 0 {
		if o, ok := v.aslant(); ok {
			return Disc{}, slanting(o.ratio())
		}
	}
	switch {
	case len(found) == 0:
		return Disc{}, &Refusal{NothingFound, "no coin or disc stands out in it; lay it flat on a plain ground, whole in the picture, or draw a box around it"}
	case len(found) > 1:
		return Disc{}, &Refusal{Several, fmt.Sprintf("it shows %d round things of different size; draw a box around the one that is meant", len(found))}
	}
	edge, ok := v.outermost(found[0])
	if !ok {
		return Disc{}, &Refusal{Unsure, "it is not clear which of the rings of the disc is its edge; lay it on ground of another colour, whole in the picture"}
	}
	d := edge.disc()
	if d.Ratio() < leastRatio {
		return Disc{}, slanting(d.Ratio())
	}
	return d, nil
}

func slanting(ratio float64) error {
	return &Refusal{Slanting, fmt.Sprintf("the disc is seen too much from the side: its axes are as %.2f to 1, where at least %.2f is needed; hold the camera straight above", ratio, leastRatio)}
}

// aslantTried is how many guesses are followed for a disc seen from the side.
const aslantTried = 10

// aslant looks for a disc that is seen from the side, where none is seen from
// above: through the likeliest circles it lays ellipses in eight directions.
func (v *view) aslant() (outline, bool) {
	all := v.circles()
	slices.SortStableFunc(all, func(a, b circle) int { return cmp.Compare(b.votes*b.r, a.votes*a.r) })
	for _, c := range all[:min(len(all), aslantTried)] {
		g := v.glassFor(c.r, 60)
		for i := range 8 {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 8)
			e := circular(c)
			e.b, e.c = 0.1*e.a*cos, 0.1*e.a*sin // axes as 0.9 to 1
			e, ok := v.narrow(g, e, 0.03, 0.015, 0.01)
			if !ok || e.mean() < leastDisc {
				continue
			}
			if o, ok := v.measure(e); ok && v.meant(o.ellipse) && o.ratio() < leastRatio {
				return o, true
			}
		}
	}
	return outline{}, false
}

// ellipses are the outlines that are worth measuring, none twice.
func (v *view) ellipses() (out []ellipse) {
	add := func(e ellipse) {
		if !slices.ContainsFunc(out, func(o ellipse) bool {
			return math.Hypot(o.x-e.x, o.y-e.y) < 0.008*o.mean() && math.Abs(o.mean()-e.mean()) < 0.008*o.mean()
		}) {
			out = append(out, e)
		}
	}
	for _, c := range v.circles() {
		for _, e := range v.follow(c) {
			add(e)
		}
	}
	for _, e := range slices.Clone(out) {
		for _, h := range v.halves(e) {
			add(h)
		}
	}
	return out
}

// meant reports whether a disc is where a person pointed.
func (v *view) meant(e ellipse) bool {
	if v.at.Empty() {
		return true
	}
	if image.Pt(int(e.x), int(e.y)).In(v.at) {
		return true
	}
	mid := Point{float64(v.at.Min.X+v.at.Max.X) / 2, float64(v.at.Min.Y+v.at.Max.Y) / 2}
	return !v.boxed() && e.off(mid) < 0
}

// An outline is an ellipse that was followed, with how well it was seen.
type outline struct {
	ellipse
	share float64 // seen
	rough float64 // standard deviation of the edge about it, photo pixels
	n     int     // rays on which the edge was measured
}

// glassFor is one that shows a radius in at most so many pixels.
func (v *view) glassFor(r, most float64) (g glass) {
	k := 1
	for r > most*float64(k) {
		k *= 2
	}
	for c := range g.lens {
		if c == 0 || v.coloured() {
			g.lens[c] = v.lensOf(c, k)
		}
	}
	g.k = g.lens[0].k
	return g
}

// coloured reports whether the picture has any colour.
func (v *view) coloured() bool {
	p := v.plane(1, 64)
	return slices.ContainsFunc(p.Pix, func(c uint8) bool { return c != p.Pix[0] })
}

// follow draws outlines out of a guess.
func (v *view) follow(c circle) (out []ellipse) {
	l := v.glassFor(c.r, 120)
	all := rings(v.rimOf(l, circular(c), 0.6, 1.5), circular(c))
	for _, e := range all {
		if e, ok := v.narrow(l, e, 0.025, 0.015, 0.01); ok && e.mean() >= leastDisc && v.firm(l, e) >= leastFollowed {
			out = append(out, e)
		}
	}
	return out
}

// narrow fits an outline in ever narrower looks.
func (v *view) narrow(l glass, e ellipse, looks ...float64) (ellipse, bool) {
	ok := true
	for _, within := range looks {
		if e, ok = fitEllipse(e, v.rimOf(l, e, 0.85, 1.15).near(e, 1, within, 4)); !ok {
			break
		}
	}
	return e, ok
}

// firm is the share of an outline that stands out.
func (v *view) firm(l glass, e ellipse) float64 {
	share, _ := v.rimOf(l, e, 0.88, 1.12).seen(1, max(0.006, 0.5*l.k/e.mean()), 3)
	return share
}

// halves draws outlines out of the halves of one, in eight directions: on the
// side of the lamp it is the disc's, though it may be its shadow's on the other.
func (v *view) halves(e ellipse) (out []ellipse) {
	l := v.glassFor(e.mean(), 240)
	if v.firm(l, e) < leastSeen {
		return nil
	}
	r := v.rimOf(l, e, 0.9, 1.1)
	for from := 0; from < rays; from += rays / 8 {
		var half rim
		for i := range rays * 9 / 20 {
			half[(from+i)%rays] = r[(from+i)%rays]
		}
		h, ok := fitEllipse(e, half.near(e, 1, 0.01, 3))
		if !ok {
			continue
		}
		if h, ok = v.narrow(l, h, 0.015, 0.008); ok && v.firm(l, h) >= leastFollowed {
			out = append(out, h)
		}
	}
	return out
}

// measure fits the edge as finely as the photograph shows it, and judges it.
func (v *view) measure(e ellipse) (o outline, ok bool) {
	fine := v.glassFor(e.mean(), 500)
	var points []Point
	for _, within := range []float64{0.012, 0.006} {
		within = max(within, 1.2*fine.k/e.mean())
		reach := within + 5*fine.k/e.mean()
		points = v.rimOf(fine, e, 1-reach, 1+reach).near(e, 1, within, 2)
		if e, ok = fitEllipse(e, points); !ok {
			return o, false
		}
	}
	if e, points, ok = trimmed(e, points); !ok {
		return o, false
	}
	o = outline{ellipse: e, n: len(points), rough: rough(e, points)}
	var gap float64
	within := max(0.004, 0.5*fine.k/e.mean())
	o.share, gap = v.rimOf(fine, e, 0.88, 1.12).seen(1, within, 3)
	long, short, _ := e.axes()
	// Chance fills more of a small outline.
	return o, o.share >= leastSeen+chanceSeen/e.mean() && gap <= widestGap && o.rough <= max(mostRough*e.mean(), 0.7) && short >= flattest*long
}

// disc is the outline in figures.
func (o outline) disc() Disc {
	long, short, turn := o.axes()
	turn = math.Mod(2*math.Pi-turn, math.Pi) // rows run downwards
	mean := 2 * o.mean()
	edge := 2 * math.Hypot(edgeSD, o.rough/math.Sqrt(float64(o.n)/4)) // neighbouring rays share their errors
	// Which direction the yarn runs in is not known here: every value between the
	// axes may be that of its plane.
	slant := 2 * (long - short) / math.Sqrt(12)
	return Disc{
		Centre: Point{o.x, o.y}, Long: 2 * long, Short: 2 * short, Turn: unit.Angle(turn),
		Diameter: Pixels{mean, math.Sqrt(edge*edge + slant*slant + raisedSD*raisedSD*mean*mean)},
	}
}
