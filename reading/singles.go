package reading

import (
	"math"

	"waketwist/unit"
	"waketwist/yarn"
)

const (
	// Plies and ropes side by side cover each other's outlines and pass for
	// singles sooner, so more is asked of several yarns: that they lean alike,
	// that lines along them have much in common, and a clear lean, the clearer
	// the more there is to be said for a ply, unless long fibres bear it out. Under
	// smallWidth they may as well be rows of stitches of a knitted cord.
	alikeAbreast    = 8 * unit.Degree // from the middle one, at most
	commonAbreast   = 0.4             // of all together
	contrastAbreast = 0.68
	contrastBeside  = 0.15 // more contrast for each unit of evidence for a ply
	mostOfYarns     = 0.75 // of several yarns: so many must lean alike

	softEdge = 0.17 // edge blur over width beyond which a shadow was taken for yarn
	softLens = 5    // pixels of edge blur that any lens leaves

	// Standard deviation of the lightness at the size of strands, in levels, beyond
	// which strands of several colours are looked at. Singles of mixed fibre come
	// to 18.
	mostStriped = 24

	leastWindows = 6                // three widths: fewer say little, a braid may lean one way so far
	clearTexture = 10               // mean squared brightness step from which noise does not drown fibres
	steepest     = 55 * unit.Degree // singles so twisted curl up; blurred ground leans as it likes
	mostUnsure   = 6 * unit.Degree  // standard deviation of an angle that says hardly more than the direction

	// The fibres seen lie a little inside the outline, where their helix is
	// flatter in proportion (assumption; loose fibres make the outline).
	surfaceOverSeen = 1.04
)

// readUnplied reads singles: two or three that lie against each other where they pass for
// one yarn.
func (c *cut) readUnplied(src *source, yarns []*cut, opt Options, ply proof) (finding, []*cut) {
	if len(yarns) == 1 && yarns[0].abreast < 2 {
		if r, some := c.singlesAgainst(src, ply.hint); some != nil {
			return r, some
		}
	}
	// Grain and folds elsewhere may lean a little over a short way.
	later := src.asked >= laterScore
	r := readSingles(src, yarns, ply.hint, later || ply.hint > longHint)
	// Fibres of a ply lie nearly along it as well.
	if r.Readable && ply.contested && r.Angle.Value < slightLean {
		r = refuse(UnsureReading)
	}
	pointed := opt.Plies == 1 || len(opt.Along) > 0
	if r.Readable && !pointed && len(yarns) == 1 && yarns[0].isStrand(src.ground) {
		r = refuse(UnsureReading)
		r.amid = true
	}
	return r, yarns
}

// readSingles measures the surface fibres of the yarns, beside so much evidence for
// a ply. Where one is hinted at, fibres must be clear: faint ones may be those of
// its strands.
func readSingles(src *source, yarns []*cut, evidence float64, hint bool) finding {
	f, long, why := singlesFibres(src, yarns, hint)
	if why != NoReason {
		return refuse(why)
	}
	var blur, striped, width, cv, girth []float64
	for _, y := range yarns {
		if y.abreast < 2 { // between neighbours falls no shadow that could be taken for yarn
			blur = append(blur, y.edgeBlur()/max(softEdge*y.width, softLens))
		}
		striped = append(striped, y.body().striped())
		w, v := y.evenness()
		g := y.body().girth(nil)
		girth, width, cv = append(girth, g), append(width, g*solidShare*w), append(cv, v)
	}
	if median(blur) > 1 || median(striped) > mostStriped {
		return refuse(UnsureReading)
	}
	if len(yarns) > 1 && (median(width) < smallWidth || !alike(f.each) || long.common < commonAbreast || f.local < contrastAbreast+contrastBeside*evidence && !long.bearsOut(f)) {
		return refuse(UnsureReading)
	}
	a := math.Atan(surfaceOverSeen * math.Tan(median(f.each)))
	r := finding{Reading: Reading{Readable: true, Structure: Singles, Plies: 1, Direction: yarn.S,
		Angle:       interval(unit.Angle(math.Abs(a)), singlesSD(math.Abs(a), f.spread, float64(f.windows), f.faint)),
		AngleSpread: unit.Angle(f.spread),
		Width:       Pixels{Value: median(width)},
		WidthCV:     median(cv)}}
	if a > 0 {
		r.Direction = yarn.Z
	}
	if r.Angle.SD > mostUnsure {
		return refuse(UnsureReading)
	}
	middle := yarns[len(yarns)/2]
	if middle.isRope(src, f, long) {
		return refuse(TooMany)
	}
	r.Width.SD = middle.outlineSD(r.Width.Value, 1, 0)
	r.Overlay = middle.overlay(girth[len(girth)/2]*solidShare, r.Angle.Value, r.Direction)
	return r
}

// alike reports whether most of the yarns side by side lean alike, as one yarn wrapped
// several times does.
func alike(angles []float64) bool {
	mid, n := median(angles), 0
	for _, a := range angles {
		if math.Abs(a-mid) <= alikeAbreast.Radians() {
			n++
		}
	}
	return float64(n) >= mostOfYarns*float64(len(angles))
}

// singlesFibres measures the fibres of yarns and says why they are not to be
// believed.
func singlesFibres(src *source, yarns []*cut, hint bool) (fibreLay, longLay, Reason) {
	f := readFibres(src, yarns)
	doubt := f.doubt()
	if doubt == TooLittle {
		return f, longLay{}, doubt
	}
	long := longFibres(src, yarns)
	if doubt != NoReason && len(yarns) > 1 && long.bearsOut(f) {
		doubt = f.beyond(borneLimits)
	}
	switch {
	case doubt == NoReason && f.faint && hint && unit.Angle(math.Abs(f.angle)) < slightLean:
		return f, long, NoLay
	case doubt == NoReason && (long.common < clearCommon || long.angle*f.angle < 0):
		return f, long, UnsureReading
	case doubt == NoReason || hint:
		return f, long, doubt
	}
	bordered := yarns[len(yarns)/2].body().borders().share > f.contrast+bordersClearer
	if faint := faintFibres(src, yarns); long.sure(f, faint) && !(bordered && long.steeperThan(faint)) {
		return faint, long, NoReason
	}
	return f, long, doubt
}

// fibreLimits is what fibres must show to be believed.
type fibreLimits struct {
	texture  float64    // mean squared brightness step, at least
	contrast float64    // of the lean, in the middle one of the windows, at least
	agree    float64    // share of the length with fibres that lean to one side, at least
	margin   float64    // of the contrast over that of the opposite lean, at least
	spread   unit.Angle // of the windows, at most
	steady   float64    // the angle over that spread, at least
}

// More agreement is asked of fibres that show only through a strong blur, and less
// contrast where long ones bear them out.
var (
	clearLimits = fibreLimits{texture: 0.5, contrast: 0.7, agree: 0.85, margin: 0.12, spread: 14 * unit.Degree, steady: 2.5}
	faintLimits = fibreLimits{texture: 0.12, contrast: 0.66, agree: 0.9, margin: 0.12, spread: 8 * unit.Degree, steady: 4}
	borneLimits = fibreLimits{texture: 0.5, contrast: 0.5, agree: 0.75, margin: 0.12, spread: 8 * unit.Degree, steady: 4}
)

// doubt says why the fibres' lean is not to be believed. The strands of a ply,
// hairs and cloth can lean as well, but not so steadily along the yarn.
func (f fibreLay) doubt() Reason {
	if f.faint {
		return f.beyond(faintLimits)
	}
	return f.beyond(clearLimits)
}

// beyond says which of some limits the fibres do not keep.
func (f fibreLay) beyond(least fibreLimits) Reason {
	switch {
	case f.energy < least.texture:
		return SmoothSurface
	case f.windows < leastWindows:
		return TooLittle
	case f.local < least.contrast || f.agree < least.agree:
		return NoLay
	case f.contrast-f.mirror < least.margin || math.Abs(f.angle) < least.steady*f.spread:
		return BothWays
	case unit.Angle(f.spread) > least.spread || unit.Angle(math.Abs(f.angle)) > steepest:
		return UnsureReading
	}
	return NoReason
}

// evenness is the mean width of the outline and its coefficient of variation
// over stretches of about a width.
func (c *cut) evenness() (width, cv float64) {
	o := c.outline
	wide := smooth(o.widths(), o.sure, int(c.width/c.strip.along.step))
	var sum, sum2 float64
	for _, w := range wide {
		sum += w
		sum2 += w * w
	}
	n := float64(len(wide))
	mean := sum / n
	return mean, math.Sqrt(math.Max(sum2/n/(mean*mean)-1, 0))
}
