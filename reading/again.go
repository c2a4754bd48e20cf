package reading

import (
	"cmp"
	"math"
	"slices"

	"waketwist/raster"
	"waketwist/unit"
)

// A tone is how a photograph is looked at: its luma, as a share of full light, raised to
// a power, and its chroma multiplied by a factor.
type tone struct{ gamma, chroma float64 }

// tones are tried on a picture that was refused as it is: its shadows brightened, its
// lights spread, its colours made less of. Which strands stand out against each other,
// and where the yarn ends, hangs on them; which way the yarn is twisted does not. The
// first shows most of what can be seen so: where it shows nothing, the others are spared.
var tones = [...]tone{{0.7, 0.4}, {1, 0.4}, {0.5, 0.4}, {0.5, 1}, {1.4, 1}}

const (
	leastAgreed = 3               // looks that must agree
	againSpread = 2 * unit.Degree // to either side of each: what hardly shows is read less exactly
)

// of returns a plane of channel c as it is looked at.
func (t tone) of(c int, p *raster.Plane) *raster.Plane {
	var as [256]uint8
	for v := range as {
		x := 255 * math.Pow(float64(v)/255, t.gamma)
		if raster.Channel(c) != raster.Luma {
			x = 128 + t.chroma*(float64(v)-128)
		}
		as[v] = uint8(math.Round(x))
	}
	out := raster.NewPlane(p.W, p.H)
	for y := range p.H {
		for x, v := range p.Row(y) {
			out.Pix[y*out.Stride+x] = as[v]
		}
	}
	return out
}

// in is the same photograph seen in another tone.
func (s *source) in(t tone) *source {
	return &source{photo: s.photo, base: s.base, samplers: map[int]*sampler{}, plain: s, tone: t}
}

// again reports whether a picture that was refused for this reason is worth another
// look: where twist was not seen, but neither was it seen why there is none to read.
func (r Reason) again() bool { return r.leansUnseen() || r == SmoothSurface }

// readAgain reads a picture that was refused as it is in other tones, and believes what
// most of these looks agree on and none gainsays. Narrow yarn is not, as between yarns
// the grain of the ground passes for its fibres, nor a lean of which no turn is seen.
func readAgain(src *source, opt Options, first finding) finding {
	var all []look
	twisted := first.amid || first.Reason == TooMany // of strands, be it of a ply
	for i, t := range tones {
		if i == 1 && len(all) == 0 || len(all)+len(tones)-i < leastAgreed {
			return first
		}
		s := src.in(t)
		if src.seen != nil {
			s.seen = &witness{}
		}
		if r := readOnce(s, opt); r.Readable && !r.Has(NarrowYarn) && !r.Has(RoughAngle) && !(twisted && r.Structure == Singles) {
			all = append(all, look{r.Reading, s.seen})
		}
	}
	l, ok := agreed(all, leastAgreed)
	if !ok {
		return first
	}
	src.seen.only(l.seen)
	l.Flags = append(slices.Clone(l.Flags), OtherTones)
	return finding{Reading: l.Reading}
}

// A look is what was read in one tone.
type look struct {
	Reading
	seen *witness
}

// agreed is the middle one of the looks that agree, of which there must be so many at
// least, its interval widened by what lies between them.
func agreed(all []look, least int) (l look, ok bool) {
	if slices.ContainsFunc(all, func(l look) bool { return l.Direction != all[0].Direction }) {
		return look{}, false
	}
	slices.SortStableFunc(all, func(a, b look) int { return cmp.Compare(a.Angle.Value, b.Angle.Value) })
	for plies := 1; plies <= maxPlies; plies++ {
		some := ofPlies(all, plies)
		if len(some) < least {
			continue
		}
		l = some[(len(some)-1)/2]
		for _, o := range some {
			l.Angle = l.Angle.including(o.Angle.Value, againSpread)
		}
		return l, true
	}
	return look{}, false
}

// ofPlies are those of the looks, which are in the order of their angles, that see so many
// plies and hold the middle one of these for possible.
func ofPlies(all []look, plies int) (out []look) {
	for _, l := range all {
		if l.Plies == plies {
			out = append(out, l)
		}
	}
	if len(out) == 0 {
		return nil
	}
	mid := out[(len(out)-1)/2].Angle.Value
	return slices.DeleteFunc(out, func(l look) bool { return mid < l.Angle.Low || mid > l.Angle.High })
}
