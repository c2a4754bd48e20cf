package rest

import (
	"cmp"
	"math"
	"slices"
	"sort"
	"time"

	"waketwist/unit"
	"waketwist/yarn"
)

// Stretch is a time of spinning onto a bobbin without a stop worth noting. Its
// yarn is known by its length, or by its share of the bobbin; where no stretch
// of a bobbin says either, the yarn is taken to have come evenly with time.
type Stretch struct {
	Start, End time.Time
	Length     unit.Length // 0 when not known
	Share      Share       // of the bobbin, 0 when not known; only ratios count
}

// Rewind is winding a bobbin onto another: what was outside comes to lie inside.
// The zero Rewind is drawn off sideways, the package turning, and leaves the
// twist as it was. Drawn off over the end of a package that stands still, each
// wrap adds one turn or takes one away.
//
// Seen from the end over which the yarn is drawn, yarn that runs off clockwise
// gains Z, and anticlockwise S (own derivation: over the end is sideways and the
// package turned back once for each wrap).
type Rewind struct {
	OverEnd bool
	Adds    yarn.Direction // for over the end
	Full    unit.Length    // diameter of the full package, for over the end
	Core    unit.Length    // diameter of the core; 0 takes Full throughout
}

func (r Rewind) check() error {
	switch {
	case !r.OverEnd:
		return nil
	case r.Adds != yarn.S && r.Adds != yarn.Z:
		return refuse("Look at the end over which it was drawn: run off clockwise it gains Z, anticlockwise S.", "A rewind over the end does not say which way its turns go.")
	case !(r.Full >= 5*unit.Millimetre && r.Full <= unit.Metre):
		return refuse("Measure across the full package: bobbins are 40 to 100 mm.", "A package of %.4g mm is outside 5 mm to 1 m.", r.Full.Millimetres())
	case !(r.Core >= 0 && r.Core <= r.Full) || r.Core > 0 && r.Core < unit.Millimetre:
		return refuse("Measure across the bare core, or leave it out.", "A core of %.4g mm does not fit a package of %.4g mm.", r.Core.Millimetres(), r.Full.Millimetres())
	}
	return nil
}

// added is the change of turns that the rewind makes where the share x of the
// package has come off: one turn per wrap, 1/(pi D).
func (r Rewind) added(x Share, singles yarn.Direction) yarn.StrandTwist {
	if !r.OverEnd {
		return 0
	}
	full, core := r.Full.Metres(), r.Core.Metres()
	if core == 0 {
		core = full
	}
	// Yarn of even thickness fills equal areas of the end face with equal lengths.
	d := math.Sqrt(full*full - float64(x)*(full*full-core*core))
	turns := yarn.StrandTwist(1 / (math.Pi * d))
	if r.Adds != singles {
		return -turns
	}
	return turns
}

// Layer is a part of a bobbin that was spun in one stretch. Places are counted
// as shares of the yarn in the order in which it comes off, 0 for the first
// metre to come off and 1 for the last; between its two ends the age runs in a
// straight line.
type Layer struct {
	From, To       Share
	FromAge, ToAge time.Duration
}

func (l Layer) age(at Share) time.Duration {
	if l.To <= l.From {
		return l.FromAge
	}
	x := float64(inside01((at - l.From) / (l.To - l.From)))
	return l.FromAge + time.Duration(x*float64(l.ToAge-l.FromAge))
}

// Wound is a bobbin of singles as a stack of layers of known age.
type Wound struct {
	Length  unit.Length // of all the yarn; 0 when not known, and then free to be set
	layers  []Layer
	rewinds []Rewind
}

// maxStretches and maxRewinds keep a slip of the pen from becoming hours of work.
const (
	maxStretches = 200
	maxRewinds   = 20
	oldest       = 100 * 365 * day
	day          = 24 * time.Hour
)

// Layers returns how old each metre of a bobbin is at a time, in the order in
// which it comes off. What was wound on last comes off first; every rewind
// turns the order round and changes no age. The stretches may be given in any
// order. It refuses with an *Error stretches that overlap, end before they
// begin or after at, or of which only some give a length.
func Layers(stretches []Stretch, rewinds []Rewind, at time.Time) (Wound, error) {
	spun := slices.SortedStableFunc(slices.Values(stretches), func(a, b Stretch) int {
		return cmp.Or(a.Start.Compare(b.Start), a.End.Compare(b.End))
	})
	if err := checkStretches(spun, at); err != nil {
		return Wound{}, err
	}
	weights, length, err := weigh(spun)
	if err != nil {
		return Wound{}, err
	}
	w := Wound{Length: length, layers: stack(spun, weights, at)}
	for _, r := range rewinds {
		if w, err = w.Rewound(r); err != nil {
			return Wound{}, err
		}
	}
	return w, nil
}

func checkStretches(spun []Stretch, at time.Time) error {
	if len(spun) == 0 {
		return refuse("Say when the bobbin was spun, from when to when.", "Nothing is known of when this bobbin was spun.")
	}
	if len(spun) > maxStretches {
		return refuse("Join those of one day.", "%d stretches of spinning on one bobbin are more than the %d that are taken.", len(spun), maxStretches)
	}
	for i, s := range spun {
		if err := s.check(at); err != nil {
			return err
		}
		if i > 0 && s.Start.Before(spun[i-1].End) {
			return refuse("One bobbin fills at one time: correct one of the two.", "A stretch of spinning begins on %s, before the one before it ended.", s.Start.Format(momentLayout))
		}
	}
	return nil
}

const momentLayout = "2 January 2006 15:04"

func (s Stretch) check(at time.Time) error {
	switch {
	case s.End.Before(s.Start):
		return refuse("Check the two times.", "A stretch of spinning ends on %s, before it begins.", s.End.Format(momentLayout))
	case s.End.After(at):
		return refuse("Check the times, or ask for a later day.", "A stretch of spinning ends on %s, after the time asked about, %s.", s.End.Format(momentLayout), at.Format(momentLayout))
	case at.Sub(s.Start) > oldest:
		return refuse("Check the year.", "A stretch of spinning in the year %d is more than a hundred years old.", s.Start.Year())
	case s.Length < 0 || s.Share < 0 || math.IsNaN(float64(s.Length)) || math.IsNaN(float64(s.Share)) || s.Length > 1000*unit.Kilometre || s.Share > 1e6:
		return refuse("Give the length spun, or the share of the bobbin, or leave both out.", "A stretch of spinning cannot hold %.4g m of yarn or %.4g of a bobbin.", s.Length.Metres(), float64(s.Share))
	}
	return nil
}

// weigh returns each stretch's part of the bobbin, adding up to 1, and the
// whole length where it is known.
func weigh(spun []Stretch) (parts []float64, length unit.Length, err error) {
	byLength := func(s Stretch) float64 { return s.Length.Metres() }
	byShare := func(s Stretch) float64 { return float64(s.Share) }
	sum, known := total(spun, byLength)
	if known == len(spun) {
		return shares(spun, byLength, sum), unit.Length(sum) * unit.Metre, nil
	}
	if known > 0 {
		return nil, 0, refuse("Give it for all stretches of the bobbin or for none.", "Only %d of %d stretches of spinning say their length.", known, len(spun))
	}
	sum, known = total(spun, byShare)
	if known == len(spun) {
		return shares(spun, byShare, sum), 0, nil
	}
	if known > 0 {
		return nil, 0, refuse("Give it for all stretches of the bobbin or for none.", "Only %d of %d stretches of spinning say their share.", known, len(spun))
	}
	parts, err = weighByTime(spun)
	return parts, 0, err
}

func weighByTime(spun []Stretch) (parts []float64, err error) {
	byTime := func(s Stretch) float64 { return s.End.Sub(s.Start).Hours() }
	sum, known := total(spun, byTime)
	if len(spun) == 1 {
		return []float64{1}, nil
	}
	if known < len(spun) {
		return nil, refuse("Give the length of each stretch, or when each began and ended.", "A stretch of spinning took no time, and nothing says how much yarn it made.")
	}
	return shares(spun, byTime, sum), nil
}

// total is the sum over the stretches and the number of those that say anything.
func total(spun []Stretch, of func(Stretch) float64) (sum float64, known int) {
	for _, s := range spun {
		if v := of(s); v > 0 {
			sum += v
			known++
		}
	}
	return sum, known
}

func shares(spun []Stretch, of func(Stretch) float64, sum float64) []float64 {
	out := make([]float64, len(spun))
	for i, s := range spun {
		out[i] = of(s) / sum
	}
	return out
}

// stack lays the stretches in the order in which they come off as wound.
func stack(spun []Stretch, weights []float64, at time.Time) []Layer {
	out := make([]Layer, len(spun))
	var from Share
	for i := range spun {
		last := len(spun) - 1 - i
		to := min(from+Share(weights[last]), 1)
		out[i] = Layer{from, to, at.Sub(spun[last].End), at.Sub(spun[last].Start)}
		from = to
	}
	out[len(out)-1].To = 1
	return out
}

// Layers returns the layers in the order in which they come off.
func (w Wound) Layers() []Layer { return slices.Clone(w.layers) }

// Age returns the age of the metre at a place: the share of the bobbin that
// comes off before it, held inside 0 to 1. Where two layers meet it is the age
// of the one that comes off later. A Wound not made by Layers has no age.
func (w Wound) Age(at Share) time.Duration {
	if len(w.layers) == 0 {
		return 0
	}
	return w.layers[w.layerAt(at)].age(at)
}

func (w Wound) layerAt(at Share) int {
	i := sort.Search(len(w.layers), func(i int) bool { return w.layers[i].To > at })
	return min(i, len(w.layers)-1)
}

// Rewound returns the bobbin wound once more onto another. Ages do not change,
// only which end comes first; over the end the turns change too, see Added. It
// refuses with an *Error an over-end rewind without its direction or diameter.
func (w Wound) Rewound(r Rewind) (Wound, error) {
	if err := r.check(); err != nil {
		return Wound{}, err
	}
	if len(w.rewinds) == maxRewinds {
		return Wound{}, refuse("Leave out what was wound forth and back.", "A bobbin rewound more than %d times is not taken.", maxRewinds)
	}
	return w.over(r), nil
}

func (w Wound) over(r Rewind) Wound {
	layers := make([]Layer, len(w.layers))
	for i, l := range w.layers {
		layers[len(layers)-1-i] = Layer{1 - l.To, 1 - l.From, l.ToAge, l.FromAge}
	}
	w.layers, w.rewinds = layers, append(slices.Clone(w.rewinds), r)
	return w
}

// inside01 holds a share in 0 to 1; what is not a number counts as 0.
func inside01(x Share) Share {
	if !(x > 0) {
		return 0
	}
	return min(x, 1)
}

// overEnd reports whether rewinding has changed the turns.
func (w Wound) overEnd() bool {
	return slices.ContainsFunc(w.rewinds, func(r Rewind) bool { return r.OverEnd })
}

// Added returns the turns per metre that rewinding over the end has added at a
// place (below zero: taken away), for singles spun in a direction. Sideways
// winding adds none. One turn for each wrap: 1/(pi D), D the package's diameter
// where the yarn ran off, the more the emptier the package was.
func (w Wound) Added(at Share, singles yarn.Direction) yarn.StrandTwist {
	at = inside01(at)
	var sum yarn.StrandTwist
	for i := len(w.rewinds) - 1; i >= 0; i-- {
		at = 1 - at // where this metre lay before rewind i
		sum += w.rewinds[i].added(at, singles)
	}
	return sum
}
