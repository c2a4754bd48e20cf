package drawing

import (
	"math"
	"runtime"
	"sync"
)

// sample is the nearest surface seen at one point of a strip. Directions are
// along the axis (z), across it (x) and towards the viewer (y), for Z twist.
type sample struct {
	depth  float32 // y of the surface
	nx, nz float32 // of the unit normal; ny is positive
	theta  float32 // radians round the strand, following a fibre
	along  float32 // strand diameters along the centre line
	strand int8    // 1 for the first; 0 where there is no yarn
}

// strip is a stretch of yarn lying along the columns, drawn as Z twist. Its
// cells lie column by column.
type strip struct {
	yarn     Yarn
	stations []station
	wool     fleece
	patches  []patch // of each strand
	radius   float64 // mean, of a strand, in samples
	height   int     // samples in a column
	end      int     // column where the straight part ends
	cells    []sample
}

// newStrip finds the surface of the yarn at the given samples per millimetre.
func newStrip(y Yarn, perMM float64, columns, height int) *strip {
	y.CentreRadiusRatio = y.centreRatio() // solved once
	s := &strip{yarn: y, wool: carded(), patches: cut(y.Seed, y.Plies), height: height, end: columns}
	s.radius = y.StrandDiameter.Millimetres() / 2 * perMM
	s.stations = survey(y, s.radius, columns)
	s.cells = make([]sample, columns*height)
	shift := 2 * math.Pi * math.Mod(float64(y.Seed)*0.381966, 1)
	if y.Braid {
		s.end = 0
		s.drawBraid()
		return s
	}
	if y.Loop {
		s.end = loopStart(columns, s.radius)
		shift = math.Pi/2 - s.stations[min(s.end, columns-1)].phase
	}
	for i := range s.stations {
		s.stations[i].phase += shift
	}
	inParallel(s.end, s.drawColumns)
	if y.Loop {
		s.drawLoop()
	}
	return s
}

// inParallel shares the numbers below n among the processors in runs.
func inParallel(n int, do func(from, to int)) {
	workers := min(runtime.GOMAXPROCS(0), n/16+1)
	var wg sync.WaitGroup
	for w := range workers {
		wg.Go(func() { do(n*w/workers, n*(w+1)/workers) })
	}
	wg.Wait()
}

// point is a place on the outline of a strand's section.
type point struct {
	x, y, nx, ny, nz, theta, along float64
}

func (s *strip) drawColumns(from, to int) {
	circle := newCircle(s.radius, 2.2)
	for i := from; i < to; i++ {
		for k := range s.yarn.Plies {
			s.drawSection(i, k, circle)
		}
		s.drawCore(i)
	}
}

// drawCore closes the pinholes that relief leaves where strands meet on the
// axis, far down so that they stay dark.
func (s *strip) drawCore(column int) {
	st := &s.stations[column]
	cells := s.cells[column*s.height:][:s.height]
	reach := int(0.15 * st.radius)
	for row := max(0, s.height/2-reach); row < min(s.height, s.height/2+reach); row++ {
		if cells[row].strand == 0 {
			cells[row] = sample{along: float32(st.arc / (2 * s.radius)), strand: 1}
		}
	}
}

// circle holds angles round a strand with their sines and cosines.
type circle struct{ theta, sin, cos []float64 }

// newCircle steps round a strand, so many samples at a time.
func newCircle(radius, step float64) circle {
	n := max(int(math.Ceil(2*math.Pi*radius/step)), 48)
	c := circle{make([]float64, n+1), make([]float64, n+1), make([]float64, n+1)}
	for j := range c.theta {
		c.theta[j] = 2 * math.Pi * float64(j) / float64(n)
		c.sin[j], c.cos[j] = math.Sincos(c.theta[j])
	}
	return c
}

// drawSection draws the cut of one strand by the plane across the axis at a
// column. The cut is closed: the point at angle theta round the strand lies in
// this plane when its centre lies r sin(theta) sin(b) back along the axis.
func (s *strip) drawSection(column, strand int, c circle) {
	st := &s.stations[column]
	cells := s.cells[column*s.height:][:s.height]
	turn := st.phase + 2*math.Pi*float64(strand)/float64(s.yarn.Plies)
	last := s.outline(st, strand, turn, c, 0)
	for j := 1; j < len(c.theta); j++ {
		next := s.outline(st, strand, turn, c, j)
		if last.ny > 0 || next.ny > 0 {
			drawSegment(cells, last, next, strand)
		}
		last = next
	}
}

// outline returns the point of the section at the j-th angle.
func (s *strip) outline(st *station, strand int, turn float64, c circle, j int) point {
	sin, cos := c.sin[j], c.cos[j]
	back := -st.radius * sin * st.sinB
	sinPhi, cosPhi := math.Sincos(turn + back*st.rate)
	p := point{
		nx:    cos*sinPhi - sin*st.cosB*cosPhi,
		ny:    cos*cosPhi + sin*st.cosB*sinPhi,
		nz:    sin * st.sinB,
		theta: c.theta[j] - st.slip - st.curl*back/st.cosB,
		along: (st.arc + back/st.cosB) / (2 * s.radius),
	}
	r := st.radius * (1 + s.relief()*s.wool.heightAt(s.patches[strand], p.theta, p.along))
	p.x = st.centre*sinPhi + r*p.nx
	p.y = st.centre*cosPhi + r*p.ny
	return p
}

// relief is the height of the locks over the strand's radius.
func (s *strip) relief() float64 {
	switch s.yarn.Finish {
	case Polished:
		return 0
	case Wet:
		return 0.018
	}
	return 0.028
}

// drawSegment fills the rows between two points where they lie in front.
func drawSegment(cells []sample, a, b point, strand int) {
	if a.x > b.x {
		a, b = b, a
	}
	mid := float64(len(cells))/2 - 0.5
	from := max(0, int(math.Ceil(a.x+mid)))
	to := min(len(cells)-1, int(math.Ceil(b.x+mid))-1)
	for row := from; row <= to; row++ {
		t := (float64(row) - mid - a.x) / (b.x - a.x)
		if c := &cells[row]; c.strand == 0 || a.y+t*(b.y-a.y) > float64(c.depth) {
			putSample(c, between(a, b, t), strand)
		}
	}
}

// between interpolates what a sample holds, t running from 0 at a to 1 at b.
func between(a, b point, t float64) point {
	mix := func(p, q float64) float64 { return p + t*(q-p) }
	return point{
		y: mix(a.y, b.y), nx: mix(a.nx, b.nx), nz: mix(a.nz, b.nz),
		theta: mix(a.theta, b.theta), along: mix(a.along, b.along),
	}
}

func putSample(c *sample, p point, strand int) {
	*c = sample{
		depth: float32(p.y), nx: float32(p.nx), nz: float32(p.nz),
		theta: float32(p.theta), along: float32(p.along), strand: int8(strand + 1),
	}
}
