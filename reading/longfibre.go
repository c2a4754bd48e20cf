package reading

import "math"

// Fibres too faint to show their lean place by place still show it in what two
// lines along the yarn have in common: a fibre that winds around crosses both,
// and crosses the second further along by their distance, with the surface
// unrolled, over the tangent of its angle. Noise, felt, whose fibres are short and lie
// across each other, and the surface of a rod have as little in common that way as
// by the mirrored angle.
const (
	unrolledRows  = 32   // lines along the yarn
	unrolledReach = 0.95 // radians round the yarn to either side of the middle
	unrolledSlow  = 0.5  // brightness that varies over more widths than this to either side is light
	longStretches = 4    // of the yarn, or of yarns together, each of which must lean to the same side

	slightestLong = 8 // degrees
	steepestLong  = 56
)

// linesApart is how many lines lie between those that are compared: 0.2 to 0.5
// radians, beyond the blur of the picture and the length of felted fibres.
var linesApart = [...]int{3, 5, 8}

// The limits of long fibres. What a piece of yarn has in common by chance goes
// down with the root of its length.
const (
	leastCommon = 0.25 // share of the variance beyond the mirrored angle's, times the root of the length in widths
	clearCommon = 0.1  // the same of fibres that are clear place by place
	leastDepth  = 0.5  // standard deviation in levels of what is in common: a rod's is less
	longClearer = 0.08 // of contrast that the stronger blur adds: it takes out noise, not the loops of a cord or felt
	longHint    = 0.2  // evidence for a ply beyond which faint fibres may be those of its strands
	longApart   = 10   // degrees by which the slopes of the texture may differ from the angle in common
)

// A longLay is the lean of what lines along the yarn have in common.
type longLay struct {
	angle  float64 // degrees, positive for Z
	common float64 // share of the variance beyond that by the mirrored angle, times the root of the length in widths
	depth  float64 // standard deviation of what is in common, levels
	steady bool    // every stretch leans to the same side
}

// longFibres measures what the lines of each yarn have in common, of yarns side by
// side as of one that is as long as they are together.
func longFibres(src *source, yarns []*cut) longLay {
	var all angleTerms
	var parts, toZ int
	var variance, widths float64
	each := (longStretches + len(yarns) - 1) / len(yarns)
	for _, c := range yarns {
		u := c.unroll(src)
		if u == nil {
			return longLay{}
		}
		for k := range each {
			part := u.common(len(u.line[0])*k/each, len(u.line[0])*(k+1)/each)
			toZ += all.add(part)
			parts++
		}
		variance += u.variance / float64(len(yarns))
		widths += c.strip.along.length() / c.width
	}
	return all.lean(parts, toZ, variance, widths)
}

// sure reports whether long fibres bear out the lean of a texture that is too
// faint to be believed alone, but comes out clearer through the stronger blur.
func (l longLay) sure(clear, faint fibreLay) bool {
	return l.common >= leastCommon && l.depth >= leastDepth && l.steady &&
		faint.contrast >= clear.contrast+longClearer &&
		math.Abs(l.angle-faint.angle*180/math.Pi) <= longApart
}

// plainCommon is what lines of yarns side by side have in common from which it bears
// their texture out: knitted cords and wraps of plies come to less, or lean otherwise.
const plainCommon = 0.8

// bearsOut reports whether long fibres are plain and lean as the texture does, where
// strands, and fibres between glints, lean otherwise.
func (l longLay) bearsOut(f fibreLay) bool {
	times := tanDegrees(math.Abs(l.angle)) / seenTangent(f)
	return l.common >= plainCommon && l.steady && l.angle*f.angle > 0 && times < bordersSteeper && times > 1/bordersSteeper
}

// Borders between dark strands lean like faint fibres, but are seen more clearly than
// these, and what lines have in common is steeper.
const (
	bordersClearer = 0.25 // of what varies, alike along borders, over the contrast of the fibres: singles come to 0.12, dark ropes to 0.4
	bordersSteeper = 1.15 // tangent of what is in common over the fibres': dark ropes come to 1.23
)

// steeperThan reports whether what lines have in common is steeper than the fibres.
func (l longLay) steeperThan(f fibreLay) bool {
	return tanDegrees(math.Abs(l.angle)) > bordersSteeper*seenTangent(f)
}

// unrolled is the surface of a yarn laid flat: lines along it at equal angles
// round it, of brightness with the slow part taken out.
type unrolled struct {
	line     [unrolledRows][]float32
	perLine  float64 // columns to the distance of two lines
	variance float64
}

// unroll lays the surface flat. It is nil for a yarn of no length.
func (c *cut) unroll(src *source) *unrolled {
	const turn = 2 * unrolledReach / (unrolledRows - 1)
	step := max(turn*c.width/2, 0.7)
	along := c.strip.along.moved(make([]float64, c.strip.cols()), step)
	if along == nil {
		return nil
	}
	s := src.sampler(step)
	radius := int(1.5 * c.width / c.strip.along.step)
	top, bottom := smooth(c.outline.top, c.outline.sure, radius), smooth(c.outline.bottom, c.outline.sure, radius)
	u := &unrolled{perLine: turn * c.width / 2 / step}
	for j := range u.line {
		sin := math.Sin(turn*float64(j) - unrolledReach)
		u.line[j] = make([]float32, along.len())
		for i := range u.line[j] {
			k := min(int(float64(i)*step/c.strip.along.step), len(top)-1)
			x, y := along.at(i, (top[k]+bottom[k])/2+(bottom[k]-top[k])/2*sin)
			u.line[j][i] = s.at(0, x, y)
		}
		u.variance += levelled(u.line[j], int(unrolledSlow*c.width/step)) / unrolledRows
	}
	return u
}

// levelled takes the running mean over the radius off v and returns the variance
// left.
func levelled(v []float32, radius int) float64 {
	total := make([]float64, len(v)+1)
	for i, x := range v {
		total[i+1] = total[i] + float64(x)
	}
	var sum float64
	for i := range v {
		lo, hi := max(i-radius, 0), min(i+radius+1, len(v))
		v[i] -= float32((total[hi] - total[lo]) / float64(hi-lo))
		sum += float64(v[i]) * float64(v[i])
	}
	return sum / float64(max(len(v), 1))
}

// angleTerms is a value for each whole degree that long fibres may lean by, to the S
// side and to the Z side.
type angleTerms [2][steepestLong - slightestLong + 1]float64

// best is the greatest value of a side and its angle in degrees.
func (t *angleTerms) best(side int) (value float64, degrees int) {
	value = math.Inf(-1)
	for i, v := range t[side] {
		if v > value {
			value, degrees = v, slightestLong+i
		}
	}
	return value, degrees
}

// add adds the terms of a stretch and returns how many lean to the Z side in it, none
// or one.
func (t *angleTerms) add(part angleTerms) int {
	for side := range t {
		for i, v := range part[side] {
			t[side][i] += v
		}
	}
	s, _ := part.best(0)
	z, _ := part.best(1)
	if z > s {
		return 1
	}
	return 0
}

// lean sums up the terms of so many stretches, of which so many lean to the Z side,
// of lines that vary by so much over so many widths.
func (t *angleTerms) lean(parts, toZ int, variance, widths float64) longLay {
	n := float64(parts)
	s, degreesS := t.best(0)
	z, degreesZ := t.best(1)
	l := longLay{angle: float64(degreesZ), steady: toZ == parts}
	if s > z {
		s, z = z, s
		l.angle, l.steady = -float64(degreesS), toZ == 0
	}
	l.common = (z - max(s, 0)) / n * math.Sqrt(widths)
	l.depth = math.Sqrt(max(z, 0) / n * variance)
	return l
}

// common is the correlation of the lines of columns [from, to) shifted as fibres
// of each angle are.
func (u *unrolled) common(from, to int) (t angleTerms) {
	for _, apart := range linesApart {
		distance := float64(apart) * u.perLine
		reach := min(int(distance/math.Tan(slightestLong*math.Pi/180))+1, (to-from)/2)
		shifted := u.shifted(apart, reach, from, to)
		for i := range t[0] {
			shift := distance / math.Tan(float64(slightestLong+i)*math.Pi/180)
			for side := range t {
				at := float64(reach) + shift*float64(2*side-1)
				if at >= 0 && at < float64(2*reach) {
					t[side][i] += between(shifted, at) / float64(len(linesApart))
				}
			}
		}
	}
	return t
}

// shifted is the correlation of all lines so many apart, the second shifted by
// -reach to reach columns.
func (u *unrolled) shifted(apart, reach, from, to int) []float64 {
	out := make([]float64, 2*reach+1)
	for k := range out {
		s := k - reach
		lo, hi := max(from, from-s), min(to, to-s)
		var sum float64
		for j := range unrolledRows - apart {
			a, b := u.line[j][lo:hi], u.line[j+apart][lo+s:hi+s]
			var row float32
			for i, v := range a {
				row += v * b[i]
			}
			sum += float64(row)
		}
		out[k] = sum / float64((unrolledRows-apart)*max(hi-lo, 1)) / max(u.variance, 1e-9)
	}
	return out
}
