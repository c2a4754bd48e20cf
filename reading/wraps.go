package reading

import "math"

const (
	leastWraps   = 3                  // yarns, the fewest that are read as wraps
	straightTurn = 1 * math.Pi / 180  // of the edges of a bundle from its axis
	mostTurn     = 3 * math.Pi / 180  // the most after the axis was turned
	mostTurns    = 2                  // times that it is turned: what lies far askew shows little of the edges at first
	sameTurn     = 2 * mostTurn       // up to which the yarns are the same, further apart or less so by their skew alone
	mostAskew    = 12 * math.Pi / 180 // to yarns that were found, of what may be the same: what repeats farther askew need not be cut out
	edgePieces   = 12                 // in which an edge is looked at
	edgeSpan     = 4                  // of them from one to the one it is compared with: of a bundle across a corner half an edge is seen
	leastWrapped = 1.2                // turns in view: a glint on a rod that is laid a little askew is taken for less
)

// Ground is looked at beside a bundle, in distances from yarn to yarn beyond the
// last that is sure: one may be left over there.
const (
	groundFrom  = 1.05
	groundTo    = 2.2
	groundLeast = 0.3 // where the picture ends sooner
	groundRim   = 0.25
)

// wraps are yarns side by side, cut out as one bundle.
type wraps struct {
	*cut
	dir   float64 // radians counter-clockwise from picture right
	apart float64 // from yarn to yarn, photo pixels
	far   float64 // from the axis: what lies beyond is ground

	yarns   []*cut // once they were asked for
	refused Reason // once they have been read, where they could not be
}

// readWraps reads the yarns of the wraps that were found in a picture, if any, whatever
// else stood out more in it: gaps between the yarns, or strands that lie in line from
// yarn to yarn. Fibres are looked at where they were not yet, as the place first looked
// at was refused for its size, or nothing stood out.
func readWraps(src *source, w *wraps, opt Options, first Reason) finding {
	if w == nil {
		return refuse(NoYarn)
	}
	if opt.Plies == 0 && first != TooSmall && first != TooLittle && first != NoYarn {
		opt.Plies = plyOnly
	}
	src.asked = laterScore
	if !w.enough(src) {
		return refuse(NoYarn)
	}
	r := w.readFit(src, w.single(src), opt)
	if r.Readable && w.strip.along.length() < leastWrapped*r.Pitch.Value {
		return refuse(TooLittle)
	}
	w.refused = r.Reason
	return r
}

// wraps is the bundle of yarns that repeats most clearly across a picture, nil where
// none is seen. What repeats across strands in line from yarn to yarn does so askew to
// the bundle, so it is the edges of the bundle that tell the direction of its yarns. What
// repeats less clearly is looked at only where these gainsay what does so more: yarns of
// one phase that fill the picture look like others askew to them, twisted the other way;
// or for the same yarns, where too few of them could be cut out.
func (m *cueMap) wraps(src *source) (first *wraps) {
	p := m.newProfile(m.cells())
	for _, r := range p.repeats() {
		if first != nil && first.askewTo(r.dir) > mostAskew {
			continue
		}
		w, askew := p.straight(src, r)
		if first == nil {
			if askew {
				continue
			}
			if w == nil {
				return nil
			}
			first = w
		}
		if w != nil && first.askewTo(w.dir) <= mostTurn && w.enough(src) {
			return w
		}
	}
	return first
}

// askewTo is the angle between the yarns and a direction, radians.
func (w *wraps) askewTo(dir float64) float64 { return math.Abs(math.Remainder(dir-w.dir, math.Pi)) }

// enough reports whether there are yarns enough, and large enough: small ones may be
// strands, or parts of ropes, that repeat across these.
func (w *wraps) enough(src *source) bool {
	yarns := w.single(src)
	return len(yarns) >= leastWraps && yarns[len(yarns)/2].width >= smallWidth
}

// straight cuts out what repeats and turns it along the edges of the bundle, and the same
// yarns once more along their own. It returns nil where no edges are seen, or where they lie
// askew to what repeats.
func (p *profile) straight(src *source, r repeat) (w *wraps, askew bool) {
	if w = p.wraps(src, r); w == nil {
		return nil, false
	}
	turn, ok := w.turn()
	for k := 0; k < mostTurns && ok && math.Abs(turn) > straightTurn; k++ {
		want := p.readable()
		if math.Abs(turn) <= sameTurn {
			want = wanted{r.apart / sameApart, r.apart * sameApart, knownClarity}
		} else if k > 0 {
			break
		}
		again := p.near(r.dir+turn, want)
		if again.apart == 0 {
			break
		}
		if w, r = p.wraps(src, again), again; w == nil {
			return nil, false
		}
		turn, ok = w.turn()
	}
	if askew = ok && math.Abs(turn) > mostTurn; askew || !ok {
		return nil, askew
	}
	return w, false
}

// wraps cuts what repeats out of the picture as one bundle, nil where no ground is
// seen beside it.
func (p *profile) wraps(src *source, r repeat) *wraps {
	from, to := p.extent(r)
	k := float64(p.m.k)
	apart, width := r.apart*k, (to-from)*k
	step := max(apart/rowsPerRough, finestStep)
	line := straightAcross(p.m.view, p.m.bandAt(r.dir, (from+to)/2, to-from, 0), step)
	if line == nil {
		return nil
	}
	s := src.sampler(step)
	st := s.straighten(line, width/2+groundTo*apart, step)
	st.see(s)
	rim := min(width/2+groundFrom*apart, st.visible()-groundRim*apart)
	if rim < width/2+groundLeast*apart {
		return nil
	}
	c := &cut{strip: st, cues: st.cueFields(), width: width, outline: evenOutline(st.cols(), width)}
	w := &wraps{cut: c, dir: r.dir, apart: apart, far: rim}
	w.evidence = w.learn(func(float64) bool { return true }).evidence(w.cues)
	return w
}

// visible is how far from the axis a fifth of the length of a strip lies in the
// picture, to one side at least.
func (st *strip) visible() (reach float64) {
	for j, s := range st.seen {
		if 5*(s.to-s.from) >= st.cols() {
			reach = max(reach, math.Abs(st.across(j)))
		}
	}
	return reach
}

// learn learns yarn from such places within the bundle, and ground from beyond.
func (w *wraps) learn(yarn func(across float64) bool) *classes {
	return learn(w.strip, w.cues, func(across float64) (isYarn, isGround bool) {
		return math.Abs(across) <= w.width/2 && yarn(across), math.Abs(across) > w.far
	})
}

// single is the yarns, cut out one by one, once for all who ask.
func (w *wraps) single(src *source) []*cut {
	if w.yarns != nil {
		return w.yarns
	}
	b := w.spaced(w.width/w.apart, w.width, 0)
	classes := w.learn(func(across float64) bool { return b.nearest(across) < middleOfYarn*w.apart })
	w.yarns = w.partBy(src, b, classes)
	return w.yarns
}

// turn is by how much the outer edges of a bundle turn away from its axis, in
// radians counter-clockwise. It reports false where too little of them is in the
// picture.
func (w *wraps) turn() (angle float64, ok bool) {
	reach := w.strip.reach
	o := traceOutline(w.strip, w.evidence, reach, reach, math.Inf(1))
	var slopes []float64
	for _, edge := range [2][]float64{o.top, o.bottom} {
		at := w.pieces(edge)
		for i := range edgePieces - edgeSpan {
			if rise := at[i+edgeSpan] - at[i]; !math.IsNaN(rise) {
				slopes = append(slopes, rise/(w.strip.along.length()*edgeSpan/edgePieces))
			}
		}
	}
	return -math.Atan(median(slopes)), len(slopes) >= edgePieces/4
}

// pieces is where an edge lies in each piece of its length, NaN where it leaves the
// picture.
func (w *wraps) pieces(edge []float64) (at [edgePieces]float64) {
	st := w.strip
	for k := range at {
		var in []float64
		from, to := k*st.cols()/edgePieces, (k+1)*st.cols()/edgePieces
		for i := from; i < to; i++ {
			if s := st.seen[w.row(edge[i])]; i >= s.from && i < s.to && math.Abs(edge[i]) < st.reach-2*st.step {
				in = append(in, edge[i])
			}
		}
		at[k] = math.NaN()
		if 2*len(in) > to-from {
			at[k] = median(in)
		}
	}
	return at
}
