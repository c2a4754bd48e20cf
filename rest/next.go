package rest

import (
	"math"
	"slices"

	"waketwist/estimate"
	"waketwist/unit"
)

// NextClip is the further re-wet sample that would narrow the target most.
type NextClip struct {
	Bobbin string
	Depth  float64    // 0 outermost, 1 at the core
	Now    unit.Angle // width of this bobbin's 90 % interval as it stands
	Then   unit.Angle // width to expect with the further sample
}

// next tries a further re-wet sample at each depth of each bobbin, read as well
// as the samples there are, and returns the one that narrows its bobbin's word
// most. Bobbins weigh alike in the ply, so the widest gains are to be had there.
func next(words []word) *NextClip {
	var best *NextClip
	var gain float64 // in variance of the log tangent
	for _, w := range words {
		y, now := whole(w.sight, w.spread)
		another := sight{y: y, sd: typicalSD(w.sight), place: "\x00next"}
		for _, another.depth = range depths {
			_, then := whole(append(slices.Clone(w.sight), another), w.spread)
			if best == nil || now*now-then*then > gain {
				gain = now*now - then*then
				best = &NextClip{w.name, another.depth, width(y, now), width(y, then)}
			}
		}
	}
	return best
}

func typicalSD(sights []sight) float64 {
	var sum float64
	for _, s := range sights {
		sum += s.sd
	}
	return sum / float64(len(sights))
}

// width is the 90 % interval of a log tangent y as an angle.
func width(y, sd float64) unit.Angle {
	return unit.Angle(math.Atan(math.Exp(y+estimate.Reach*sd)) - math.Atan(math.Exp(y-estimate.Reach*sd)))
}
