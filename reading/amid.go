package reading

import "math"

// A strand of a ply is followed like a yarn where it has a colour of its own. What
// tells it from singles is what lies against it, on one side and then the other: not
// the ground, but the next strand.
const (
	amidFrom  = 0.12 // of the width beyond the edge, where blur and hairs are past
	amidTo    = 0.3
	amidShare = 0.3  // of the length on either side that is not ground
	amidTint  = 12   // the least difference of tint that no shadow makes
	amidNoise = 3    // or so many times the noise of the picture's
	amidLoud  = 36   // at most: where many strands of several colours lie, they are much of that noise
	amidLight = 25   // or the least it is lighter, levels
	leastEnd  = 0.65 // width near the ends over that of the middle half: of singles one end at least comes to 0.8
)

// A bulk is what most of a picture looks like.
type bulk struct{ luma, blue, red, noise float64 }

// look is the bulk of a map as lightness and tints.
func (m *cueMap) look() bulk {
	luma := float32(m.bulk[0])
	return bulk{m.bulk[0], float64(tintOf(float32(m.bulk[1]), luma)), float64(tintOf(float32(m.bulk[2]), luma)),
		math.Hypot(float64(tintOf(float32(128+m.noise[1]), luma)), float64(tintOf(float32(128+m.noise[2]), luma)))}
}

// other reports whether what has this lightness and these tints is not the bulk,
// lit or in shadow.
func (b bulk) other(luma, blue, red float64) bool {
	return math.Hypot(blue-b.blue, red-b.red) > min(max(amidTint, amidNoise*b.noise), amidLoud) || luma > b.luma+amidLight
}

// isStrand reports whether what passes for singles is one strand of a ply or a rope.
func (c *cut) isStrand(ground bulk) bool { return c.amidOthers(ground) || c.tapers() }

// A yarn is so many widths of one of its strands wide: of two that touch 2, of three
// 2.15, of four 2.4, of five 2.7.
const (
	wholeWidths = 2.2
	mostWidths  = 2.5
)

// readWhole reads the ply of which a candidate that was refused is one strand.
func (c *candidate) readWhole(src *source, m *cueMap, opt Options) finding {
	if opt.Plies == 1 || !c.cut.isStrand(src.ground) {
		return refuse(NoYarn)
	}
	a := c.cut.strip.along
	mid := a.len() / 2
	whole := newCandidate(src, band{x: a.x[mid], y: a.y[mid], dir: c.cut.direction().Radians(), width: wholeWidths * c.cut.width}, m)
	if whole == nil || whole.cut.width < c.cut.width/narrower {
		return refuse(NoYarn)
	}
	src.asked = laterScore
	if opt.Plies == 0 {
		opt.Plies = plyOnly
	}
	r := whole.read(src, m, opt)
	if whole.cut.width > mostWidths*c.cut.width {
		return refuse(TooMany)
	}
	return r
}

// amidOthers reports whether something else than ground, and than itself, lies
// against both sides of what does not look like the ground.
func (c *cut) amidOthers(ground bulk) bool {
	n := c.strip.cols()
	var share [2]float64
	var inside float64
	for i := range n {
		top, bottom := c.outline.top[i], c.outline.bottom[i]
		own := ground
		own.luma, own.blue, own.red = c.meanOf(i, top+(bottom-top)/4, bottom-(bottom-top)/4)
		if !ground.other(own.luma, own.blue, own.red) {
			continue
		}
		inside++
		for side, near := range [2]float64{top - amidFrom*c.width, bottom + amidFrom*c.width} {
			luma, blue, red := c.meanOf(i, near, near+float64(2*side-1)*(amidTo-amidFrom)*c.width)
			if ground.other(luma, blue, red) && own.other(luma, blue, red) {
				share[side]++
			}
		}
	}
	return 2*inside > float64(n) && min(share[0], share[1]) > amidShare*float64(n)
}

// tapers reports whether the cut narrows to both its ends, as a strand does that is seen
// between the two places where others cross it. Yarn that was cut does not.
func (c *cut) tapers() bool {
	wide := c.outline.widths()
	n := len(wide)
	start, _ := trimmedMean(wide[:n/8], 0)
	middle, _ := trimmedMean(wide[n/4:n-n/4], 0)
	end, _ := trimmedMean(wide[n-n/8:], 0)
	return max(start, end) < leastEnd*middle
}

// meanOf is the mean lightness and tints of column i between two places across.
func (c *cut) meanOf(i int, from, to float64) (luma, blue, red float64) {
	a, b := c.row(min(from, to)), c.row(max(from, to))
	n := float64(b - a + 1)
	for j := a; j <= b; j++ {
		k := j*c.strip.cols() + i
		luma += float64(c.strip.chan_[0].Pix[k]) / n
		blue += float64(c.cues[cueBlue].Pix[k]) / n
		red += float64(c.cues[cueRed].Pix[k]) / n
	}
	return luma, blue, red
}
