package scale

import (
	"cmp"
	"image"
	"math"
	"slices"

	"waketwist/raster"
	"waketwist/unit"
)

// A Ruler is a row of marks as it lies in the photograph.
type Ruler struct {
	From, To Point  // the first and the last mark
	Spacing  Pixels // of the finest marks
	Marks    int    // seen
	// Longer is the number of finest marks from one longer mark to the next, such
	// as 5 and 10, where longer ones were told; ascending.
	Longer []int
}

// rulerSide is the longer side of the picture in which marks are searched for.
const rulerSide = 1600

// A row is a comb with the line on which it was found.
type row struct {
	comb
	frame  frame
	v1, v2 float64
	dark   float32 // 1 for dark marks on light ground, -1 for light ones
	k      int
}

// worth ranks rows: many teeth, and even.
func (r row) worth() float64 { return float64(len(r.teeth)) / (0.02 + r.rough/r.period) }

// FindRuler finds the marks of a ruler in a photograph, which stand spacing
// apart where they are finest. The ruler may lie in any direction, but its marks
// must stand out, seven of them at least. It refuses where it cannot tell whether
// finer marks than those it sees are there, or where the longer ones among them
// are not those of the spacing. At is a box around the marks or a small one on
// them; empty for the whole picture. The error is a *Refusal.
func FindRuler(photo *raster.Photo, at image.Rectangle, spacing unit.Length) (Ruler, error) {
	v := newView(photo, at)
	found, doubtful := v.rulers()
	switch {
	case len(found) == 0 && doubtful:
		return Ruler{}, &Refusal{Unsure, "between the marks that stand out there seem to be finer ones, too faint to be measured; come nearer, or give better light"}
	case len(found) == 0:
		return Ruler{}, &Refusal{NothingFound, "no row of marks stands out in it; seven at least must be sharp and in view; or draw a box around them"}
	}
	for _, m := range found[1:] {
		if found[0].disagrees(m.row) {
			return Ruler{}, &Refusal{Several, "it shows two rows of marks of different spacing; draw a box around the one that is meant"}
		}
	}
	if err := found[0].finest(spacing); err != nil {
		return Ruler{}, err
	}
	return found[0].ruler(), nil
}

// Limits of what makes a row of marks a ruler's; without a source. Weaves, bricks
// and plied yarn keep below one of them.
const (
	leastWorth  = 280
	leastSteady = 0.8
	mostSecond  = 0.4
	mostThick   = 0.4
	rowsLooked  = 40 // closely
	rowsAlike   = 6  // of one spacing among them
)

// rulers finds what may be rulers, one of each spacing, the most convincing
// first, and reports whether there are rows with something between their marks.
func (v *view) rulers() (found []marks, doubtful bool) {
	var looked []row
	for _, r := range v.rows() {
		alike := 0
		for _, o := range looked {
			if r.like(o) {
				alike++
			}
		}
		if alike == rowsAlike {
			continue
		}
		if len(looked) == rowsLooked || r.worth() < leastWorth {
			break
		}
		looked = append(looked, r)
		m := r.measure()
		switch i := slices.IndexFunc(found, func(o marks) bool { return r.like(o.row) }); {
		case m.steady < leastSteady || m.thick > mostThick:
		case m.second > mostSecond:
			doubtful = doubtful || m.second < 2*mostSecond && len(m.longer) > 0
		case i < 0:
			found = append(found, m)
		case m.spread() < found[i].spread():
			found[i] = m
		}
	}
	return found, doubtful
}

// like reports whether two rows have the same spacing.
func (r row) like(o row) bool { return math.Abs(r.period-o.period) < 0.02*r.period }

// rows finds rows of marks in all directions, the best first.
func (v *view) rows() (out []row) {
	k := (v.side() + rulerSide - 1) / rulerSide
	l := v.lens(k)
	by := float64(k)
	height := max(6*by, float64(v.side())/160)
	for _, dir := range v.directions() {
		f := v.frame(dir)
		for c := -f.reach(); c < f.reach(); c += height / 2 {
			out = append(out, f.rowsAt(l, c, c+height, by)...)
		}
	}
	out = slices.DeleteFunc(out, func(r row) bool { return !v.pointsAt(r) })
	slices.SortStableFunc(out, func(a, b row) int { return cmp.Compare(b.worth(), a.worth()) })
	return out
}

// rowsAt finds rows of marks between v1 and v2.
func (f frame) rowsAt(l lens, v1, v2, by float64) (out []row) {
	p := f.profile(l, v1, v2, by)
	if len(p.light) == 0 {
		return nil
	}
	for _, sigma := range []float64{0.8, 2, 5} {
		bend := p.curved(sigma)
		for _, dark := range []float32{1, -1} {
			for _, c := range combs(p.teeth(bend, dark), by) {
				if c.outweighs(p.teeth(bend, -dark)) {
					out = append(out, row{c, f, v1, v2, dark, int(l.k)})
				}
			}
		}
	}
	return out
}

// pointsAt reports whether a row is where a person pointed.
func (v *view) pointsAt(r row) bool {
	if v.at.Empty() {
		return true
	}
	mid := Point{float64(v.at.Min.X+v.at.Max.X) / 2, float64(v.at.Min.Y+v.at.Max.Y) / 2}
	dx, dy := mid.X-r.frame.mid.X, mid.Y-r.frame.mid.Y
	u, across := dx*r.frame.cos+dy*r.frame.sin, dy*r.frame.cos-dx*r.frame.sin
	near := 0.03 * float64(v.side())
	if v.boxed() {
		near = float64(max(v.at.Dx(), v.at.Dy())) / 2
	}
	return u > r.teeth[0].u-near && u < r.teeth[len(r.teeth)-1].u+near && across > r.v1-near && across < r.v2+near
}

// disagrees reports whether another row has another spacing. Marks further apart
// by a whole number are the longer ones of the same ruler.
func (r row) disagrees(o row) bool {
	times := max(o.period, r.period) / min(o.period, r.period)
	return math.Abs(times-math.Round(times)) > 0.03*times
}

// rulerSD is the standard deviation of the spacing, as a share, that the
// thickness of a ruler and its printing leave; without a source.
const rulerSD = 0.003

// ruler is the row in figures. Where the spacing drifts along it, seen from
// aside, every value on the way may be that of the yarn.
func (m marks) ruler() Ruler {
	offset, period := m.line()
	middle := (m.v1 + m.v2) / 2
	last := float64(m.index[len(m.index)-1])
	return Ruler{
		From: m.frame.at(offset, middle), To: m.frame.at(offset+last*period, middle),
		Spacing: Pixels{period * math.Cos(m.tilt), math.Hypot(m.spread(), rulerSD*period)},
		Marks:   len(m.teeth), Longer: m.longer,
	}
}

// spread is the standard deviation that the fit of the step leaves, and its drift
// from the first mark to the last, if that is more than chance.
func (c *comb) spread() float64 {
	half := len(c.teeth) / 2
	first := comb{teeth: c.teeth[:half], index: c.index[:half]}
	second := comb{teeth: c.teeth[half:], index: c.index[half:]}
	_, a := first.line()
	_, b := second.line()
	var mean, sum float64
	for _, i := range c.index {
		mean += float64(i) / float64(len(c.index))
	}
	for _, i := range c.index {
		sum += (float64(i) - mean) * (float64(i) - mean)
	}
	fit := c.rough / math.Sqrt(sum)
	// The halves lie half the row apart, and each holds an eighth of the sum.
	drift := 2 * math.Abs(a-b)
	if chance := 2 * 4 * fit; drift < 2*chance {
		drift = 0
	}
	return math.Hypot(fit, drift/math.Sqrt(12))
}
