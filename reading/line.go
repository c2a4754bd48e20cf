package reading

import (
	"math"

	"waketwist/raster"
)

// Fibres that drown in noise are still long: along their own helix the picture
// stays alike, where noise, felt and bare surfaces do not. The correlation along
// lines, less that along lines of the opposite lean, is not biased by noise or
// blur, which are the same for both.
const (
	lineRows    = 48   // rows at which the surface is sampled
	lineEdge    = 0.75 // of the half width, to either side: beyond, the surface turns away
	lineSteps   = 24   // places on a line
	lineBands   = 8    // means of neighbouring places, of which those apart are compared
	lineReach   = 1.2  // half widths along the yarn that a line goes to either side at most, since fibres end
	lineCols    = 40   // columns to the yarn's width
	flattest    = 7 * math.Pi / 180
	lineRatio   = 1.05 // of neighbouring angles tried
	lineAngles  = 44   // to 57 degrees
	leastOfPeak = 0.7
)

// A lineLay is what long lines on a yarn's surface say of its lean.
type lineLay struct {
	angle   float64 // radians, positive for Z
	along   float64 // correlation along the lines, -1 to 1
	steady  float64 // mean lead over the opposite lean, in its standard errors, from window to window
	agree   float64 // share of the windows in which it leads
	windows int     // each as long as the yarn is wide
}

// Lines are believed from here on. Of rods, felt and bare grounds each stays
// below one limit.
const (
	leastAlong       = 0.18
	leastSteady      = 4.5
	leastAgree       = 0.8
	leastLineWindows = 5
	mostAlong        = 0.6 // what is as alike as this is strands, not fibres
)

func (l lineLay) clear() bool {
	return l.along >= leastAlong && l.along <= mostAlong && l.steady >= leastSteady && l.agree >= leastAgree && l.windows >= leastLineWindows
}

// fibres is what the lines say of the fibres.
func (l lineLay) fibres() fibreLay {
	return fibreLay{angle: l.angle, local: l.along, windows: l.windows, noise: lineBias}
}

// readLines measures along which helix the surface is most like itself.
func (c *cut) readLines(src *source) (l lineLay) {
	s := c.laidFlat(src)
	if s == nil {
		return l
	}
	var lead [lineAngles]float64 // of Z over S
	best := 0
	for k := range lead {
		z, _ := s.alike(lineAngle(k))
		m, _ := s.alike(-lineAngle(k))
		lead[k] = z - m
		if math.Abs(lead[k]) > math.Abs(lead[best]) {
			best, l.along = k, max(z, m)
		}
	}
	if lead[best] == 0 { // nothing varies
		return lineLay{}
	}
	l.angle = math.Copysign(peak(lead[:], best), lead[best])
	l.compare(s)
	return l
}

// lineAngle is one of the angles tried, from flattest on.
func lineAngle(k int) float64 { return flattest * math.Pow(lineRatio, float64(k)) }

// peak is the mean of the angles about the best that lead nearly as clearly,
// since noise makes the highest place jump.
func peak(lead []float64, best int) float64 {
	var sum, weight float64
	for _, step := range [2]int{1, -1} {
		for k := best; k >= 0 && k < len(lead); k += step {
			w := lead[k]/lead[best] - leastOfPeak
			if w <= 0 {
				break
			}
			sum += w * math.Log(lineAngle(k))
			weight += w
		}
	}
	return math.Exp(sum / weight)
}

// compare sets how steadily the lean leads over the opposite one.
func (l *lineLay) compare(s *flatYarn) {
	_, own := s.alike(l.angle)
	_, mirror := s.alike(-l.angle)
	l.windows = len(own)
	var sum, sum2 float64
	n := float64(len(own))
	for w := range own {
		d := own[w] - mirror[w]
		sum += d
		sum2 += d * d
		if d > 0 {
			l.agree += 1 / n
		}
	}
	mean := sum / n
	l.steady = mean / math.Sqrt(math.Max(sum2/n-mean*mean, 1e-9)/n)
}

// A flatYarn is the luma of a yarn laid flat: rows at equal parts of the half
// width, without what changes slowly along them.
type flatYarn struct {
	rows   *raster.Field
	half   float64 // mean half width, columns
	window int     // columns
}

// laidFlat lays the yarn flat. It is nil for yarn of no length.
func (c *cut) laidFlat(src *source) *flatYarn {
	step := max(c.width/lineCols, finestFibre)
	line := c.strip.along.moved(make([]float64, c.strip.cols()), step)
	if line == nil {
		return nil
	}
	st := src.sampler(step).straighten(line, lineEdge*c.width, step)
	mid, half := c.placed(st)
	s := &flatYarn{rows: raster.NewField(st.cols(), lineRows), window: max(int(c.width/step), 8)}
	for i := range st.cols() {
		s.half += half[i] / step / float64(st.cols())
		for r := range lineRows {
			y := (mid[i] + lineAcross(r)*half[i] + st.reach) / st.step
			s.rows.Row(r)[i] = st.chan_[0].At(float64(i), y)
		}
	}
	slow := s.rows.Clone()
	slow.BlurRows(fibreDetail * c.width / step)
	for i := range s.rows.Pix {
		s.rows.Pix[i] -= slow.Pix[i]
	}
	return s
}

// lineAcross is where a row of a surface lies, in half widths.
func lineAcross(r int) float64 { return ((float64(r)+0.5)/lineRows*2 - 1) * lineEdge }

// A place on a line: a row, and how many columns after the middle it lies.
type linePlace struct{ row, after int }

// line is the helix of angle a (radians, positive for Z) through the middle of
// the surface, as far as it is followed.
func (s *flatYarn) line(a float64) (p [lineSteps]linePlace) {
	tan := math.Tan(a)
	edge := math.Sin(min(math.Asin(lineEdge), lineReach*math.Abs(tan)))
	for k := range p {
		v := ((float64(k)+0.5)/lineSteps*2 - 1) * edge
		row := min(int((v/lineEdge+1)/2*lineRows), lineRows-1)
		p[k] = linePlace{row, int(math.Round(s.half * math.Asin(lineAcross(row)) / tan))}
	}
	return p
}

// alike is the mean correlation of places apart on lines of angle a, over the
// surface and in each window of it. Neighbouring bands are left out: blur makes
// them alike.
func (s *flatYarn) alike(a float64) (all float64, windows []float64) {
	const apart = lineBands*lineBands - 3*lineBands + 2
	line, n := s.line(a), s.rows.W
	first, last := line[0].after, line[lineSteps-1].after
	count := max(n/s.window, 1)
	both, own := make([]float64, count), make([]float64, count)
	for i := max(0, -first, -last); i < n-max(0, first, last); i++ {
		var band [lineBands]float64
		for k, p := range line {
			band[k*lineBands/lineSteps] += float64(s.rows.Pix[p.row*n+i+p.after])
		}
		var sum, squares, next float64
		for k, b := range band {
			sum += b
			squares += b * b
			if k > 0 {
				next += 2 * b * band[k-1]
			}
		}
		w := min(i/s.window, count-1)
		both[w] += (sum*sum - squares - next) / apart
		own[w] += squares / lineBands
	}
	var total, of float64
	for w := range both {
		total += both[w]
		of += own[w]
		both[w] /= math.Max(own[w], 1e-9)
	}
	return total / math.Max(of, 1e-9), both
}
