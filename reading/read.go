package reading

import (
	"math"

	"waketwist/raster"
	"waketwist/unit"
)

const (
	leastSide   = 32  // pixels of the picture's shorter side
	leastWidth  = 13  // pixels of the yarn's envelope
	bandsTried  = 4   // candidates followed
	leastAspect = 1.3 // length of yarn in view over its width
)

func read(photo *raster.Photo, opt Options) Reading {
	w, h := photo.Size()
	if min(w, h) < leastSide {
		return refuse(TooSmall)
	}
	if tooDark(photo) {
		return refuse(TooDark)
	}
	m := makeCueMap(photo)
	c := bestCandidate(photo, m.findBands(bandsTried), m.noise)
	if c == nil || c.strength < 2 {
		return refuse(NoYarn)
	}
	if c.cut.strip.along.length() < leastAspect*c.cut.width {
		return refuse(TooLittle)
	}
	if r := c.cut.unfit(); r != NoReason {
		return refuse(r)
	}
	return c.cut.read(opt)
}

func refuse(r Reason) Reading { return Reading{Reason: r} }

// tooDark reports whether hardly any part of the picture is lit.
func tooDark(photo *raster.Photo) bool {
	w, h := photo.Size()
	p := photo.Reduce(raster.Luma, max(max(w, h)/200, 1))
	var lit int
	for y := range p.H {
		for _, v := range p.Row(y) {
			if v > 36 {
				lit++
			}
		}
	}
	return lit*200 < p.W*p.H
}

// unfit checks the yarn's size and sharpness.
func (c *cut) unfit() Reason {
	if c.width < leastWidth {
		return TooSmall
	}
	if c.edgeBlur() > 0.16*c.width {
		return TooBlurred
	}
	return NoReason
}

// edgeBlur is the typical distance in photo pixels over which the picture
// changes from ground to yarn: the step at the edge over its steepest slope.
func (c *cut) edgeBlur() float64 {
	st := c.strip
	luma := st.chan_[0]
	var rise []float64
	at := func(i int, y float64) float64 {
		return float64(luma.At(float64(i), (y+st.reach)/st.step))
	}
	for i := 2; i < st.cols()-2; i += 3 {
		for side, edge := range [2]float64{c.outline.top[i], c.outline.bottom[i]} {
			out := float64(2*side - 1)
			var steep float64
			lo, hi := math.Inf(1), math.Inf(-1)
			for k := -8; k <= 8; k++ {
				d := float64(k) / 8 * 0.3 * c.width
				a, b := at(i, edge+out*d), at(i, edge+out*(d+st.step))
				steep = math.Max(steep, math.Abs(b-a)/st.step)
				lo, hi = math.Min(lo, a), math.Max(hi, a)
			}
			if steep > 0 && hi-lo > 12 {
				rise = append(rise, (hi-lo)/steep)
			}
		}
	}
	if len(rise) == 0 {
		return 0
	}
	return median(rise)
}

// read reads a cut-out yarn.
func (c *cut) read(opt Options) Reading {
	b := newBody(c.strip, c.outline, c.evidence)
	var r Reading
	if opt.Plies != 1 {
		if best, ok := b.bestPly(opt.Plies); ok {
			r = c.plyReading(b, best)
		}
	}
	if !r.Readable {
		if opt.Plies > 1 {
			return refuse(NoLay)
		}
		r = c.singlesReading()
	}
	if r.Readable {
		r.Axis = c.direction()
		r.StrandsInView = 1
	}
	return r
}

// direction is the mean direction of the axis.
func (c *cut) direction() unit.Angle {
	a := c.strip.along
	n := a.len() - 1
	d := math.Atan2(-(a.y[n] - a.y[0]), a.x[n]-a.x[0])
	if d < 0 {
		d += math.Pi
	}
	if d >= math.Pi {
		d -= math.Pi
	}
	return unit.Angle(d)
}

const leastPlyScore = 0.3

// bestPly returns the best explanation as a ply, if any is good enough.
func (b *body) bestPly(plies int) (best fitting, ok bool) {
	for _, f := range b.explain(plies) {
		if f.score > best.score {
			best = f
		}
	}
	return best, best.score > leastPlyScore
}

// plyReading turns the best fit into a reading.
func (c *cut) plyReading(b *body, f fitting) Reading {
	q := f.guess.ply
	turn := f.period * float64(q.n) / float64(f.guess.repeat) * b.step
	width := b.width * f.scale * q.envelope() / q.sil
	r := Reading{Readable: true, Structure: Ply, Plies: q.n, Direction: S,
		Angle: interval(unit.Angle(q.b), 1.5*unit.Degree),
		Width: Pixels{width, 0.03 * width}, Pitch: Pixels{turn, 0.02 * turn}}
	if f.guess.z {
		r.Direction = Z
	}
	return r
}

// singlesReading measures the surface fibres.
func (c *cut) singlesReading() Reading {
	f := c.readFibres()
	if f.contrast < 0.4 {
		return refuse(NoLay)
	}
	if f.contrast-f.mirror < 0.08 {
		return refuse(BothWays)
	}
	r := Reading{Readable: true, Structure: Singles, Plies: 1, Direction: S,
		Angle: interval(unit.Angle(math.Abs(f.angle)), 2*unit.Degree),
		Width: Pixels{c.width, 0.02 * c.width}}
	if f.angle > 0 {
		r.Direction = Z
	}
	return r
}

// interval is an angle with a normal 90 % interval.
func interval(v, sd unit.Angle) Angle {
	return Angle{Value: v, SD: sd, Low: max(v-1.645*sd, 0), High: v + 1.645*sd}
}
