package scale

import (
	"cmp"
	"math"
	"slices"
)

// outermost goes from a ring to the rings outside of it about the same middle, for
// a rim may be of the ground's colour in places while a ring within it stands out
// all round. It reports false where something near outside may be the edge.
func (v *view) outermost(o outline) (outline, bool) {
	for range 4 {
		edge, ok := v.beyond(o, 2.4)
		if edge.mean() <= o.mean() {
			return o, ok
		}
		o = edge
	}
	return o, true
}

// beyond is the outermost outline about the middle of another and of its shape, up
// to so many times as large. Where there is none it reports whether nothing looks
// like one.
func (v *view) beyond(o outline, most float64) (edge outline, ok bool) {
	const lo, by, near = 1.015, 0.003, 1.55
	g := v.glassFor(o.mean(), 160)
	r := v.rimOf(g, o.ellipse, 0.97, most+0.03)
	within := max(0.004, 0.5*g.k/o.mean())
	share := make([]float64, int((most-lo)/by))
	for i := range share {
		share[i], _ = r.seen(lo+by*float64(i), within, rays)
	}
	chance := slices.Sorted(slices.Values(share))[len(share)/2]
	ok = true
	for i := len(share) - 2; i > 0; i-- {
		if (share[i]-chance)/(1.01-chance) < ringUnsure || share[i] < share[i-1] || share[i] < share[i+1] {
			continue
		}
		s := lo + by*float64(i)
		if e, found := v.measure(o.times(s)); found && e.about(o) && e.mean() > 1.01*o.mean() {
			return e, true
		}
		ok = ok && s > near
	}
	return o, ok
}

// ringUnsure is the share of a ring, beyond chance, from which it may be the
// edge; without a source.
const ringUnsure = 0.35

// about reports whether an outline has the middle and the shape of another.
func (o outline) about(k outline) bool {
	aside := math.Hypot(o.x-k.x, o.y-k.y) - 0.3
	return aside < besides*o.mean() && math.Abs(o.ratio()-k.ratio()) < unlike
}

// trimmed drops what lies far off the rest, and fits again.
func trimmed(e ellipse, points []Point) (ellipse, []Point, bool) {
	for range 3 {
		most := max(2.5*rough(e, points), 0.5)
		points = slices.DeleteFunc(points, func(p Point) bool { return math.Abs(e.off(p)) > most })
		var ok bool
		if e, ok = fitEllipse(e, points); !ok {
			return e, nil, false
		}
	}
	return e, points, true
}

// rough is the standard deviation of points about an outline.
func rough(e ellipse, points []Point) float64 {
	var sum float64
	for _, p := range points {
		d := e.off(p)
		sum += d * d
	}
	return math.Sqrt(sum / float64(max(len(points)-5, 1)))
}

// distinct keeps one outline of each disc, and one of several of the same size.
func distinct(found []outline) (out []outline) {
	slices.SortStableFunc(found, func(a, b outline) int { return cmp.Compare(b.mean(), a.mean()) })
	for len(found) > 0 {
		var same, others []outline
		for _, o := range found {
			if found[0].off(Point{o.x, o.y}) < 0 {
				same = append(same, o)
			} else {
				others = append(others, o)
			}
		}
		edge := edgeOf(same)
		if !slices.ContainsFunc(out, func(k outline) bool { return math.Abs(k.mean()-edge.mean()) < alike*k.mean() }) {
			out = append(out, edge)
		}
		found = others
	}
	return out
}

// edgeOf tells the edge of a disc from the rings and letters within it and from
// the shadow around it: it is the outermost about the same middle and of the same
// shape as the outline that is most truly an ellipse. An outline of edge and
// shadow together lies beside that middle.
func edgeOf(same []outline) outline {
	truest := slices.MinFunc(same, func(a, b outline) int { return cmp.Compare(a.error()/a.mean(), b.error()/b.mean()) })
	for _, o := range same { // from the outermost
		if o.about(truest) && o.error() < 2*truest.error()+0.0007 {
			return o
		}
	}
	return truest
}

// error is how far the edge strays from an ellipse, over its radius.
func (o outline) error() float64 { return o.rough / o.mean() }

func (o outline) ratio() float64 {
	long, short, _ := o.axes()
	return short / long
}
