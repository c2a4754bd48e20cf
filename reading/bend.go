package reading

import (
	"cmp"
	"math"
	"slices"
)

// shareOfBox is the widths that yarn in a box is looked for, over that of the box.
// A box around a strand that runs from corner to corner is much wider than it.
var shareOfBox = [...]float64{0.9, 0.7, 0.5, 0.35, 0.25, 0.17}

const (
	withinBox  = 0.3 // widths that the middle of the strand keeps from the side of the box
	leastNodes = 8   // half widths along which it is followed
	leastStand = 1.5 // mean contrast with its flanks, in units of the picture's roughness
	mostStand  = 6   // that one place may count for
	standParts = 4   // of the length
	leastPart  = 0.4 // contrast of each over that of the whole: a line that crosses yarn has less
	bendStep   = 2   // rows between bends tried, at least
	bendSteps  = 6   // to either side, at most
	bendApart  = 0.4 // widths between bends that are two
	bendsTried = 3   // the strand itself, and gaps beside it that stand out as much
)

// A followedStrand is a line along which yarn of a width may run.
type followedStrand struct {
	along *axis
	width float64
}

// boxedStrands follows yarn of several widths along the long side of the box.
func boxedStrands(src *source, m *cueMap) (out []followedStrand) {
	at := m.at
	short := float64(min(at.Dx(), at.Dy()))
	x, y := float64(at.Min.X+at.Max.X)/2, float64(at.Min.Y+at.Max.Y)/2
	xs, ys := []float64{x, x}, []float64{float64(at.Min.Y), float64(at.Max.Y)}
	if at.Dx() > at.Dy() {
		xs, ys = []float64{float64(at.Min.X), float64(at.Max.X)}, []float64{y, y}
	}
	for _, share := range shareOfBox {
		width := share * short
		if width < leastWidth {
			continue
		}
		for _, a := range m.bends(src, newAxis(xs, ys, width/rowsPerWidth), width, short) {
			out = append(out, followedStrand{a, width})
		}
	}
	return out
}

// A bend is a slightly curved way along the box: where its ends and its middle lie
// across, in rows, and how far what it follows stands out.
type bend struct {
	first, middle, last float64
	stand               float64
}

// at is where the bend lies at a share of its length.
func (b bend) at(u float64) float64 {
	return b.first*(1-u)*(1-2*u) + b.middle*4*u*(1-u) + b.last*u*(2*u-1)
}

// bends are the middles of what stands out most in a box when followed at a
// width: the strand itself, and the gaps beside it, which lean to neither side.
func (m *cueMap) bends(src *source, line *axis, width, short float64) (out []*axis) {
	if line == nil {
		return nil
	}
	s := src.sampler(line.step)
	t := &tracer{strip: s.straighten(line, short/2+1.3*width, line.step), width: rowsPerWidth, hop: rowsPerWidth / 2}
	t.fillScores(s, m)
	if t.nodes < leastNodes {
		return nil
	}
	reach := short/2 - withinBox*width
	for _, b := range t.bestBends(reach / line.step) {
		x, y := make([]float64, t.nodes), make([]float64, t.nodes)
		for n := range x {
			u := float64(n) / float64(t.nodes-1)
			i := min(n*t.hop+t.hop/2, line.len()-1)
			x[n], y[n] = line.at(i, b.at(u)*line.step)
		}
		if a := newAxis(x, y, line.step); a != nil {
			out = append(out, a)
		}
	}
	return out
}

// bestBends tries bends whose ends and middle lie within reach rows of the line.
func (t *tracer) bestBends(reach float64) (out []bend) {
	var all []bend
	step := max(bendStep, reach/bendSteps)
	for f := -reach; f <= reach; f += step {
		for l := -reach; l <= reach; l += step {
			for c := -reach; c <= reach; c += step {
				b := bend{first: f, middle: c, last: l}
				if b.stand = t.standing(t.rowOf(b)); b.stand >= leastStand {
					all = append(all, b)
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b bend) int { return cmp.Compare(b.stand, a.stand) })
	for _, b := range all {
		near := func(o bend) bool {
			return math.Abs(b.first-o.first)+2*math.Abs(b.middle-o.middle)+math.Abs(b.last-o.last) < 4*bendApart*rowsPerWidth
		}
		if !slices.ContainsFunc(out, near) {
			out = append(out, b)
		}
		if len(out) == bendsTried {
			break
		}
	}
	return out
}

// rowOf is the row in which a bend lies at each node.
func (t *tracer) rowOf(b bend) func(node int) int {
	half := float64(t.strip.rows()-1) / 2
	return func(n int) int { return int(math.Round(half + 0.5 + b.at(float64(n)/float64(t.nodes-1)))) }
}

// standing is how far what lies in a row of each node stands out from its flanks in
// the mean; no place counts for more than mostStand. It is zero where a part has
// much less than the whole.
func (t *tracer) standing(row func(node int) int) (sum float64) {
	var part [standParts]float64
	for n, score := range t.score {
		if j := row(n); j >= 0 && j < len(score) {
			part[n*standParts/t.nodes] += min(score[j], mostStand)
		}
	}
	least := math.Inf(1)
	for _, p := range part {
		sum += p
		least = min(least, p)
	}
	if least*standParts < leastPart*sum {
		return 0
	}
	return sum / float64(t.nodes)
}

// evenCut is yarn of an even width along a line, where edges are not asked for.
func evenCut(src *source, along *axis, width float64) *cut {
	step := max(width/rowsPerYarn, finestStep)
	a := along.moved(make([]float64, along.len()), step)
	if a == nil {
		return nil
	}
	a = a.eased(step, int(2*width/step))
	st := src.sampler(step).straighten(a, 1.4*width, step)
	return &cut{strip: st, outline: evenOutline(st.cols(), width), width: width, abreast: 1}
}
