package scale

import (
	"cmp"
	"math"
	"slices"
)

// marks are a row looked at closely: how it repeats, and how long each mark is.
type marks struct {
	row
	// steady is the share of what lightness varies by along the row that is the
	// same from mark to mark: near 1 on a ruler, small in texture.
	steady float64
	// second is the depth of the deepest further dip between two marks over that
	// of the marks, anywhere along their length: finer marks.
	second float64
	// thick is the share of the step that the marks take.
	thick  float64
	length []float64 // photo pixels, of each tooth
	// first and last are where most marks begin and end across the row.
	first, last float64
	tilt        float64 // radians, of the marks against square to the row
	longer      []int
}

// phases is how many places from mark to mark are looked at.
const phases = 40

func (r row) measure() marks {
	m := marks{row: r}
	l := r.frame.v.lens(r.k)
	sum, steady := r.folded(l, r.v1, r.v2)
	m.steady = steady
	depth, half := dip(sum, 0), (slices.Min(sum[:])+slices.Max(sum[:]))/2
	for _, light := range sum {
		if light < half {
			m.thick += 1.0 / phases
		}
	}
	m.lengths(l)
	m.tilted(l)
	by := (m.v2 - m.v1) / 2
	for v := m.first; v < max(m.last-by, m.first+by/2); v += by {
		s, _ := r.folded(l, v, v+by)
		for phase := phases / 12; phase <= phases-phases/12; phase++ {
			m.second = max(m.second, dip(s, phase)/depth)
		}
	}
	m.longer = longer(m.length, m.index)
	return m
}

// outOfSight is the share of the marks that something may lie across.
const outOfSight = 0.25

// folded lays lightness along the row over itself from mark to mark, dark marks
// low, and returns its course with the share of the variance that it holds.
// Where it strays most from the others something lies across the ruler; a quarter
// of the marks are left out for that.
func (r row) folded(l lens, v1, v2 float64) (course [phases]float64, steady float64) {
	all := r.courses(l, v1, v2)
	course = meanCourse(all)
	slices.SortFunc(all, func(a, b [phases]float64) int { return cmp.Compare(apartBy(a, course), apartBy(b, course)) })
	all = all[:len(all)-int(outOfSight*float64(len(all)))]
	course = meanCourse(all)
	var same, whole float64
	for _, one := range all {
		same += apartBy(course, [phases]float64{})
		whole += apartBy(one, [phases]float64{})
	}
	return course, same / max(whole, 1)
}

// courses are the lightness around each mark, from mark to mark, about its mean.
func (r row) courses(l lens, v1, v2 float64) (all [][phases]float64) {
	p := r.frame.profile(l, v1, v2, float64(r.k))
	offset, period := r.line()
	for _, i := range r.index {
		var one [phases]float64
		var mean float64
		for k := range one {
			aside := float64((k+phases/2)%phases-phases/2) / phases // the mark is at phase 0
			one[k] = float64(r.dark) * p.at(offset+period*(float64(i)+aside))
			mean += one[k] / phases
		}
		for k := range one {
			one[k] -= mean
		}
		all = append(all, one)
	}
	return all
}

func meanCourse(all [][phases]float64) (mean [phases]float64) {
	for _, one := range all {
		for k, v := range one {
			mean[k] += v / float64(len(all))
		}
	}
	return mean
}

// apartBy is the sum of the squares by which two courses differ.
func apartBy(a, b [phases]float64) (sum float64) {
	for k := range a {
		sum += (a[k] - b[k]) * (a[k] - b[k])
	}
	return sum
}

// at is the light at u, between samples.
func (p profile) at(u float64) float64 {
	if len(p.light) == 0 {
		return 0
	}
	x := min(max((u-p.from)/p.by, 0), float64(len(p.light)-1))
	i := min(int(x), len(p.light)-2)
	f := float32(x - float64(i))
	return float64(p.light[i]*(1-f) + p.light[i+1]*f)
}

// dip is how far a course lies lower at a phase than on both sides of it.
func dip(course [phases]float64, phase int) float64 {
	const aside = phases / 8
	at := func(k int) float64 { return course[(k+2*phases)%phases] }
	low := min(at(phase-1), at(phase), at(phase+1))
	before, after := math.Inf(-1), math.Inf(-1)
	for k := 1; k <= aside; k++ {
		before, after = max(before, at(phase-k)), max(after, at(phase+k))
	}
	return max(0, min(before, after)-low)
}

// lengths follows each mark across the ruler both ways until it ends.
func (m *marks) lengths(l lens) {
	offset, period := m.line()
	by := float64(m.k)
	middle := (m.v1 + m.v2) / 2
	contrast := func(u, v float64) float64 {
		at := func(u float64) float64 { p := m.frame.at(u, v); return l.at(p.X, p.Y) }
		return float64(m.dark) * ((at(u-0.35*period)+at(u+0.35*period))/2 - at(u))
	}
	var here []float64
	for _, i := range m.index {
		here = append(here, contrast(offset+period*float64(i), middle))
	}
	slices.Sort(here)
	least := 0.5 * here[len(here)/2]
	var ends [2][]float64
	for _, i := range m.index {
		for side, way := range [2]float64{-1, 1} {
			var length float64
			u, missing := offset+period*float64(i), 0
			for n := 1; missing < 3 && float64(n)*by < 6*period+40*by; n++ {
				v := middle + way*by*float64(n)
				a, b, c := contrast(u-by/2, v), contrast(u, v), contrast(u+by/2, v)
				switch {
				case a > b && a > c:
					b, u = a, u-by/4
				case c > b:
					b, u = c, u+by/4
				}
				if missing++; b >= least {
					length += by * float64(missing)
					missing = 0
				}
			}
			ends[side] = append(ends[side], length)
		}
	}
	for i, up := range ends[0] {
		m.length = append(m.length, up+ends[1][i])
	}
	for side := range ends {
		slices.Sort(ends[side])
	}
	m.first, m.last = middle-ends[0][len(ends[0])/2], middle+ends[1][len(ends[1])/2]
}

// tilted measures how far the marks lean, which says by how much the row was not
// followed along the ruler. They are looked at where the shortest still is.
func (m *marks) tilted(l lens) {
	length := slices.Clone(m.length)
	slices.Sort(length)
	short := length[len(length)/4] / 2 // either way from the middle, if the row lies there
	middle, by := (m.v1+m.v2)/2, float64(m.k)
	offset, period := m.line()
	place := func(v float64) (float64, bool) {
		course, _ := m.folded(l, v-by, v+by)
		low := 0
		for k := -phases / 6; k <= phases/6; k++ {
			if course[(k+phases)%phases] < course[(low+phases)%phases] {
				low = k
			}
		}
		at := func(k int) float64 { return course[(k+2*phases)%phases] }
		bend := at(low-1) - 2*at(low) + at(low+1)
		if bend <= 0 || dip(course, (low+phases)%phases) < 8 {
			return 0, false
		}
		return offset + period*(float64(low)+(at(low-1)-at(low+1))/(2*bend))/phases, true
	}
	var best float64
	for _, way := range [2]float64{-1, 1} {
		for far := short; far > 2*by && far > best; far -= by {
			a, ok := place(middle)
			b, okay := place(middle + way*far)
			if ok && okay {
				best, m.tilt = far, way*math.Atan2(b-a, far)
				break
			}
		}
	}
}

// multiples are the numbers of finest marks from one longer mark to the next
// that rulers have.
var multiples = []int{2, 4, 5, 8, 10, 16}

// Limits of what makes every so-manieth mark a longer one; without a source.
const (
	longerBy    = 1.12 // over the median of the others
	longerShare = 0.8  // of the marks on either side that keep to it
)

// longer finds the multiples at which marks are longer than the others.
func longer(length []float64, index []int) (out []int) {
	for _, k := range multiples {
		for first := range k {
			var on, off []float64
			for i, l := range length {
				if index[i]%k == first {
					on = append(on, l)
				} else {
					off = append(off, l)
				}
			}
			if len(on) < 2 || len(off) < 2 {
				continue
			}
			slices.Sort(off)
			edge := longerBy * off[len(off)/2]
			if shareAbove(on, edge) >= longerShare && shareAbove(off, edge) <= 1-longerShare {
				out = append(out, k)
				break
			}
		}
	}
	return out
}

func shareAbove(v []float64, edge float64) float64 {
	n := 0
	for _, x := range v {
		if x > edge {
			n++
		}
	}
	return float64(n) / float64(len(v))
}
