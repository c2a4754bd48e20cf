package hand

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"waketwist/finish"
	"waketwist/rest"
)

// Places of the parameters that everything of a spinner shares.
const (
	atStiffness = iota
	atTime
	atPower
	atMost
	atHumid
	atDamp
	atBorder
	atResidue
	atSingles
	atWash
	sharedCount = atWash + prepCount*(int(finish.Woollen)+1)
)

// Offsets of a fibre's parameters from its first.
const (
	fibreStiffness = iota
	fibreTime
	fibreMost
	fibreCount
)

// Offsets of a preparation's parameters from its first.
const (
	prepLength = iota
	prepDiameter
	prepCount
)

// prepAt is the first parameter of a preparation.
func prepAt(p finish.Preparation) int {
	if p < finish.Unknown || p > finish.Woollen {
		p = finish.Unknown
	}
	return atWash + prepCount*int(p)
}

// Places of a bobbin's own parameters; its places follow.
const (
	bobbinTurns = iota
	bobbinTime
	bobbinPlaces
)

// Places of a skein's own parameters.
const (
	skeinPly = iota
	skeinLength
	skeinDiameter
	skeinSize
)

// layout says where the parameters of a record stand: those that many readings
// share, and a block for each bobbin and each skein.
type layout struct {
	fibres  map[string]int // first parameter of each
	globals int
	bobbins map[string]int // block of each
	skeins  map[string]int
	sizes   []int           // of the blocks
	scales  [][]scale       // of each parameter of each block
	places  [][]place       // of each bobbin's block
	mixing  []*mat.TriDense // of the places' deviations, for a coefficient of variation of one
}

// place is where something was clipped off a bobbin.
type place struct {
	name  string
	depth float64
}

func lay(r Record) *layout {
	l := &layout{fibres: map[string]int{}, bobbins: map[string]int{}, skeins: map[string]int{}, globals: sharedCount}
	for _, b := range r.Bobbins {
		if _, ok := l.fibres[b.Fibre]; !ok {
			l.fibres[b.Fibre] = l.globals
			l.globals += fibreCount
		}
		l.addBobbin(b)
	}
	for _, s := range r.Skeins {
		l.skeins[s.ID] = len(l.sizes)
		l.add(skeinSize, []scale{fixed, ofLengths, ofDiameters}, nil)
	}
	return l
}

func (l *layout) add(size int, scales []scale, places []place) {
	l.sizes = append(l.sizes, size)
	l.scales = append(l.scales, scales)
	l.places = append(l.places, places)
	l.mixing = append(l.mixing, mixPlaces(places))
}

func (l *layout) addBobbin(b Bobbin) {
	var places []place
	note := func(p place) {
		if !slices.ContainsFunc(places, func(q place) bool { return q.name == p.name }) {
			places = append(places, p)
		}
	}
	for _, c := range b.Clips {
		note(place{c.Place, c.Depth})
	}
	for _, s := range b.Singles {
		note(place{s.Place, s.Depth})
	}
	scales := []scale{ofBobbins, ofRests}
	for range places {
		scales = append(scales, ofPlaces)
	}
	l.bobbins[b.ID] = len(l.sizes)
	l.add(len(scales), scales, places)
}

// mixPlaces is the lower triangle that turns independent deviations into those
// of places on one bobbin, in units of the coefficient of variation.
func mixPlaces(places []place) *mat.TriDense {
	if len(places) == 0 {
		return nil
	}
	c := mat.NewSymDense(len(places), nil)
	for i, a := range places {
		for j := range i + 1 {
			c.SetSym(i, j, rest.PlaceCovariance(a.depth, places[j].depth, i == j))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(c) { // cannot be: half of each variance stands alone
		panic("hand: places without spread of their own")
	}
	var lower mat.TriDense
	chol.LTo(&lower)
	return &lower
}

// newPlace says how the deviation at a further place hangs on those known: the
// weights on their independent deviations, and what is its own.
func newPlace(known []place, depth float64) (weights []float64, own float64) {
	all := append(slices.Clone(known), place{"\x00new", depth})
	lower, n := mixPlaces(all), len(known)
	for j := range n {
		weights = append(weights, lower.At(n, j))
	}
	return weights, lower.At(n, n)
}

func (l *layout) placeOf(block int, name string) int {
	return slices.IndexFunc(l.places[block], func(p place) bool { return p.name == name })
}

// startScales are the learnt scatters before anything is learnt.
func startScales() (s [scaleCount]float64) {
	for i := range s {
		s[i] = 1
	}
	return s
}

func norm(values ...[]float64) float64 {
	var sum float64
	for _, vs := range values {
		for _, v := range vs {
			sum += v * v
		}
	}
	return math.Sqrt(sum)
}
