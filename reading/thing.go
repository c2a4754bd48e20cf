package reading

import "slices"

// thingRim is how many cells of its rim are left out of what lies on a thing.
const thingRim = 1.5

// readThing reads yarn on something that stands out more than the yarn does and was too
// broad for its length to be yarn, as a card around which it was wound. Only a ply is
// believed there, and one that is as clear as what is looked at second must be.
func readThing(src *source, thing *cut, m *cueMap, opt Options) finding {
	if opt.Plies == 0 {
		opt.Plies = plyOnly
	}
	on := m.on(thing)
	asked, ground := src.asked, src.ground
	defer func() { src.asked, src.ground = asked, ground }()
	src.asked, src.ground = laterScore, on.look()
	r := readCandidates(src, candidates(src, on.findBands(on.bandsTried()), on), on, opt)
	if !r.Readable {
		r = readWraps(src, on.wraps(src), opt, r.Reason)
	}
	return r
}

// on is the map of what lies on a thing: around it everything is taken to look as most
// of it does.
func (m *cueMap) on(thing *cut) *cueMap {
	n := *m
	within := m.within(thing)
	for c := range n.cue[:mapCues-1] {
		var inside []float32
		for i, in := range within {
			if in {
				inside = append(inside, m.cue[c][i])
			}
		}
		usual := medianOf(inside)
		n.cue[c] = slices.Clone(m.cue[c])
		for i, in := range within {
			if !in {
				n.cue[c][i] = float32(usual)
			}
		}
		if c < len(n.bulk) {
			n.bulk[c] = usual
		}
	}
	n.setUnlike()
	return &n
}

// within reports of every cell whether it lies on a thing.
func (m *cueMap) within(thing *cut) []bool {
	in := make([]bool, m.w*m.h)
	a := thing.strip.along
	rim, k := thingRim*float64(m.k), float64(m.k)
	for i := range in {
		x := float64(m.view.Min.X) + (float64(i%m.w)+0.5)*k
		y := float64(m.view.Min.Y) + (float64(i/m.w)+0.5)*k
		at := a.nearest(x, y)
		across := (y-a.y[at])*a.tx[at] - (x-a.x[at])*a.ty[at]
		along := (x-a.x[at])*a.tx[at] + (y-a.y[at])*a.ty[at]
		o := min(at, len(thing.outline.top)-1)
		in[i] = max(along, -along) < rim && across > thing.outline.top[o]+rim && across < thing.outline.bottom[o]-rim
	}
	return in
}
