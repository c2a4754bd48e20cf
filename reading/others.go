package reading

import "slices"

// readCandidates reads the first that can be read of those that stand out not much less
// than the best, and says of the best why it could not be.
func readCandidates(src *source, all []*candidate, m *cueMap, opt Options) finding {
	if len(all) == 0 {
		return refuse(NoYarn)
	}
	best := all[0].quality() // before it is cut out with care, as the others are compared
	first := all[0].read(src, m, opt)
	if first.Readable || first.Reason == TooBlurred {
		return first
	}
	all[0].refused = first.Reason
	o := others{first, best}
	if r := all[0].readWhole(src, m, opt); r.Readable && o.believes(r, false) {
		return r
	}
	return o.read(src, all, m, opt)
}

// others are what else stands out in a picture, where what does so most could not be read.
// That may have been a gap between yarns, or a whole bundle with its gaps. It may also be
// the whole yarn, and the next a strand of it, or a braid, so more than a few turns must be
// seen there, and anywhere else where the number of strands is in doubt as well. What is
// not believed so is where another is explained alike.
type others struct {
	first finding // of what stood out most
	best  float64 // its quality
}

// secondBest is the share of the best candidate's quality from which another
// is read where the best cannot be.
const secondBest = 0.5

// plyOnly stands for any number of strands from two, for yarn whose fibres have
// been looked at before: looking twice would make chance twice as likely.
const plyOnly = -1

// leastAlike is how many bands must agree where one that stood out more was refused.
const leastAlike = 2

// overRope is the evidence for a ply, over that for one in the place of what was taken for
// a rope, from which that was a bundle, or a yarn cut out with something beside it: strands
// of ropes, and ropes cut out otherwise, come to 1.3, such yarns to 5 and more.
const overRope = 3

// read reads all but the first, best first, and says why the first could not be read
// where none can.
func (o others) read(src *source, all []*candidate, m *cueMap, opt Options) finding {
	src.asked = laterScore // of what was not pointed to
	var unsure []look
	for i, c := range all[1:] {
		if o.first.Reason != TooMany && !m.boxed && c.quality() <= secondBest*o.best {
			break
		}
		again, before := opt, all[:i+1]
		if again.Plies == 0 && slices.ContainsFunc(before, c.sameYarn) {
			again.Plies = plyOnly
		}
		part := slices.ContainsFunc(before, c.partOf)
		r := c.read(src, m, again)
		if r.Readable && o.believes(r, part) {
			return r
		}
		if r.Readable {
			unsure = append(unsure, look{Reading: r.Reading, seen: src.seen.last()})
		}
		c.refused = r.Reason
		o.first.amid = o.first.amid || r.amid
	}
	l, ok := agreed(unsure, leastAlike)
	if !ok || l.Structure != Ply {
		return o.first
	}
	src.seen.only(l.seen)
	return finding{Reading: l.Reading}
}

// believes reports whether another reading is believed by itself, which may be part of
// what was refused; beside a rope only a ply that is so much surer.
func (o others) believes(r finding, part bool) bool {
	if o.first.Reason == TooMany {
		return r.Structure == Ply && o.first.evidence > 0 && r.evidence > overRope*o.first.evidence
	}
	return !(r.Has(FewTurns) && (part || r.Has(UnsurePlies)))
}
