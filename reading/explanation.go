package reading

import (
	"cmp"
	"image"
	"math"
	"slices"

	"waketwist/raster"
	"waketwist/unit"
	"waketwist/yarn"
)

// An Explanation shows what a reading rests on. Where no yarn was found it is
// empty.
type Explanation struct {
	// Strip is the yarn straightened: it runs to the right, and Z still looks
	// like Z.
	Strip *image.YCbCr
	// Model is the best ply, drawn place for place beside Strip and lit from
	// above; nil where none was fitted. A refused photograph may have one: it
	// shows what was not believed.
	Model *image.Gray
	// StepPixels is the distance between neighbouring pixels of Strip and of
	// Model, in photo pixels.
	StepPixels float64
	// Lean tells in which directions the texture of the strip's middle runs.
	Lean []Lean
	// Repeat tells how like itself the yarn is after some way along.
	Repeat []Repeat
	// Fits tell how well each kind of ply explains the yarn, best first.
	Fits []Fit
}

// A Lean is the share of the texture that runs within leanStep about an angle
// to the yarn's axis. The angle is positive where the texture leans like a Z.
type Lean struct {
	Angle unit.Angle
	Share float64
}

// A Repeat is the correlation, -1 to 1, of the yarn with itself some photo
// pixels further along.
type Repeat struct {
	AlongPixels, Correlation float64
}

// A Fit is how well a ply explains the yarn: the log likelihood per
// independent point, up to a constant.
type Fit struct {
	Plies     int
	Direction yarn.Direction
	Score     float64
}

// Explain reads a photograph as Read does and shows what the reading rests on.
// It takes several times as long.
func Explain(photo *raster.Photo, opt Options) (Reading, Explanation) {
	w := &witness{}
	r := read(photo, opt, w).Reading
	r.Overlay.Drawn = slices.Clone(opt.Along)
	return r, w.explanation(newSource(photo), r)
}

// A witness remembers what was found on the way to a reading. A nil one
// remembers nothing.
type witness struct{ tried []testimony }

// testimony is what one place in the picture showed.
type testimony struct {
	yarns []*cut
	all   []solution
	best  solution
}

func (w *witness) found(yarns []*cut) {
	if w != nil {
		w.tried = append(w.tried, testimony{yarns: yarns})
	}
}

// forget drops what was found last.
func (w *witness) forget() {
	if w != nil {
		w.tried = w.tried[:len(w.tried)-1]
	}
}

// last is a witness of the place that was looked at last.
func (w *witness) last() *witness {
	if w == nil {
		return nil
	}
	return &witness{w.tried[len(w.tried)-1:]}
}

// only makes it remember what another one does.
func (w *witness) only(o *witness) {
	if w != nil {
		*w = *o
	}
}

func (w *witness) weighed(all []solution, best solution) {
	if w != nil {
		t := &w.tried[len(w.tried)-1]
		t.all, t.best = all, best
	}
}

// explanation tells what the reading rests on: the second place tried counts
// only where the first could not be read and the second could.
func (w *witness) explanation(src *source, r Reading) Explanation {
	if len(w.tried) == 0 {
		return Explanation{}
	}
	t := w.tried[0]
	if r.Readable {
		t = w.tried[len(w.tried)-1]
	}
	c := t.yarns[len(t.yarns)/2]
	if n := len(t.best.of); n > 0 {
		c = t.best.of[n/2].cut
	}
	st := c.straightened(src)
	if st == nil {
		return Explanation{}
	}
	e := Explanation{Strip: st.picture(), StepPixels: st.step, Lean: c.leans(st), Fits: fitsOf(t.all)}
	e.Repeat = c.body().repeats()
	if n := len(t.best.fits); n > 0 {
		e.Model = t.best.of[n/2].drawn(t.best.fits[n/2].refined(), st)
	}
	return e
}

// fitsOf keeps the best solution of each number of strands and direction.
func fitsOf(all []solution) (out []Fit) {
	for _, s := range all {
		f := Fit{s.key.n, yarn.S, s.score}
		if s.key.z {
			f.Direction = yarn.Z
		}
		same := func(g Fit) bool { return g.Plies == f.Plies && g.Direction == f.Direction }
		if i := slices.IndexFunc(out, same); i < 0 {
			out = append(out, f)
		} else {
			out[i].Score = max(out[i].Score, f.Score)
		}
	}
	slices.SortStableFunc(out, func(a, b Fit) int { return cmp.Compare(b.Score, a.Score) })
	return out
}

const (
	shownRows    = 96   // pixels of the shown strip to the yarn's width
	shownReach   = 0.85 // to either side of the axis, in widths
	longestShown = 2400 // pixels
)

// straightened lays the picture along the yarn, with ground to either side. It
// is nil for a yarn of no length.
func (c *cut) straightened(src *source) *strip {
	a := c.strip.along
	step := max(c.width/shownRows, 1, a.length()/longestShown)
	if a.len() < 3 {
		return nil
	}
	return src.sampler(step).straighten(a.eased(step, int(c.width/a.step)), shownReach*c.width, step)
}

// eased lays the axis out anew at a finer step with its wobble smoothed over
// the radius, in points, so that what is straightened along it is not jagged.
func (a *axis) eased(step float64, radius int) *axis {
	x, y := smooth(a.x, nil, radius), smooth(a.y, nil, radius)
	tx, ty := smooth(a.tx, nil, radius), smooth(a.ty, nil, radius)
	out := &axis{step: step}
	for i := range int(a.length()/step) + 1 {
		z := float64(i) * step / a.step
		k := min(int(z), a.len()-2)
		mix := func(v []float64) float64 { return v[k] + (z-float64(k))*(v[k+1]-v[k]) }
		length := math.Hypot(mix(tx), mix(ty))
		out.x, out.y = append(out.x, mix(x)), append(out.y, mix(y))
		out.tx, out.ty = append(out.tx, mix(tx)/length), append(out.ty, mix(ty)/length)
	}
	return out
}

// picture is the strip in its colours.
func (st *strip) picture() *image.YCbCr {
	out := image.NewYCbCr(image.Rect(0, 0, st.cols(), st.rows()), image.YCbCrSubsampleRatio444)
	for c, plane := range [3][]uint8{out.Y, out.Cb, out.Cr} {
		for j := range st.rows() {
			for i, v := range st.chan_[c].Row(j) {
				plane[j*out.YStride+i] = uint8(min(max(v+0.5, 0), 255))
			}
		}
	}
	return out
}

// placed gives the middle and the half width of the yarn at each column of the
// shown strip, in photo pixels across.
func (c *cut) placed(st *strip) (mid, half []float64) {
	radius := int(smoothRadius * c.width / c.strip.along.step)
	top, bottom := smooth(c.outline.top, c.outline.sure, radius), smooth(c.outline.bottom, c.outline.sure, radius)
	mid, half = make([]float64, st.cols()), make([]float64, st.cols())
	for i := range mid {
		k := min(int(float64(i)*st.step/c.strip.along.step), len(top)-1)
		mid[i], half[i] = (top[k]+bottom[k])/2, max((bottom[k]-top[k])/2, 1e-6)
	}
	fine := int(c.width / st.step)
	return smooth(mid, nil, fine), smooth(half, nil, fine)
}

const (
	leanBins   = 60 // over 180 degrees
	leanStep   = 180 * unit.Degree / leanBins
	leanMiddle = 0.7 // of the half width: beyond, the surface turns away
)

// leans is the histogram of the directions across the gradient, each counted
// by its energy.
func (c *cut) leans(st *strip) []Lean {
	out := make([]Lean, leanBins)
	for k := range out {
		out[k].Angle = -90*unit.Degree + (unit.Angle(k)+0.5)*leanStep
	}
	luma := st.chan_[0].Clone()
	luma.BlurRows(0.7)
	luma.BlurColumns(0.7)
	gx, gy := luma.Gradient()
	mid, half := c.placed(st)
	var sum float64
	for j := range st.rows() {
		for i := range st.cols() {
			if math.Abs(st.across(j)-mid[i]) > leanMiddle*half[i] {
				continue
			}
			x, y := float64(gx.Pix[j*gx.W+i]), float64(gy.Pix[j*gy.W+i])
			if y < 0 {
				x, y = -x, -y
			}
			k := int((math.Atan2(-x, y) + math.Pi/2) / float64(leanStep))
			out[min(k, leanBins-1)].Share += x*x + y*y
			sum += x*x + y*y
		}
	}
	for k := range out {
		out[k].Share /= max(sum, 1e-12)
	}
	return out
}

// repeats is the autocorrelation along the yarn over up to half its length, of
// what varies at the scale of strands.
func (b *body) repeats() []Repeat {
	f, slow := b.main.Clone(), b.main.Clone()
	slow.BlurRows(3 * colsPerBody)
	for i := range f.Pix {
		f.Pix[i] -= slow.Pix[i]
	}
	perCol := b.cut.strip.along.length() / float64(max(b.cols()-1, 1))
	rows, _ := middle()
	out := make([]Repeat, b.cols()/2)
	for lag := range out {
		var xy, xx, yy float64
		for _, j := range rows {
			row := f.Row(j)
			for i := lag; i < len(row); i++ {
				u, v := float64(row[i-lag]), float64(row[i])
				xy, xx, yy = xy+u*v, xx+u*u, yy+v*v
			}
		}
		out[lag] = Repeat{float64(lag) * perCol, xy / max(math.Sqrt(xx*yy), 1e-12)}
	}
	return out
}

// drawn draws the fitted ply over the columns and rows of a strip.
func (b *body) drawn(m fitting, st *strip) *image.Gray {
	out := image.NewGray(image.Rect(0, 0, st.cols(), st.rows()))
	mid, half := b.cut.placed(st)
	at := 0
	for i := range st.cols() {
		for at < b.cols()-2 && b.place[at+1] < float64(i)*st.step {
			at++
		}
		u := (float64(i)*st.step - b.place[at]) / max(b.place[at+1]-b.place[at], 1e-9)
		phase := m.trace.phase[at] + u*(m.trace.phase[at+1]-m.trace.phase[at])
		phi := m.turned(phase)
		for j := range st.rows() {
			across := (st.across(j) - mid[i]) / half[i]
			y := (across - m.offset) / m.scale * m.guess.ply.sil
			out.Pix[j*out.Stride+i] = m.guess.shade(phi, y)
		}
	}
	return out
}

// turned is the phase of the model's strands where the fold has the given
// phase. An S is the picture of a Z run backwards, see fold.seen.
func (m fitting) turned(phase float64) float64 {
	if !m.guess.z {
		phase = -phase
	}
	return -(phase - m.shift) * float64(m.guess.repeat) / float64(m.guess.ply.n)
}

// shade is the brightness of the model at a place across, lit from above the
// strip and before it. Strands that differ are drawn in different greys; the
// ground is black.
func (g guess) shade(phi, y float64) uint8 {
	s := g.ply.look(phi, y)
	if !s.hit {
		return 0
	}
	light := 0.3 + 0.7*max(0, 0.55*-s.ny+0.83*s.nx)
	tone := 1 - 0.45*float64(s.strand%g.repeat)/float64(max(g.repeat-1, 1))
	return uint8(230 * light * tone * min(1, 0.35+0.65*s.depth))
}
