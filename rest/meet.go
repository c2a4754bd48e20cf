package rest

import (
	"cmp"
	"math"
	"slices"
	"time"

	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// Strand is a bobbin as it goes into a ply.
type Strand struct {
	Name      string
	Wound     Wound             // as old as it will be when plied
	Fibre     []Blend           // equally likely, in the same order for all strands; nil takes PriorCurves
	Turns     *yarn.StrandTwist // spun in, before any rewinding; nil when not known
	Diameter  *unit.Length      // nil when not known
	Direction yarn.Direction    // of the singles; needed only after rewinding over the end
}

// Pairing is two to four bobbins that are to be plied together.
type Pairing struct {
	Strands   []Strand
	Room      Room            // the air in which they rested
	Stiffness *yarn.Stiffness // k; nil takes the middle of its prior
}

// Leg is a part of the ply along which the ages of all strands run in straight
// lines. Places are shares of the ply from its first metre, 0, to its last, 1;
// lengths are metres of singles fed, the same of each strand, and 0 when no
// bobbin's length is known. Ages are in the order of the strands.
type Leg struct {
	From, To         Share
	FromFed, ToFed   unit.Length
	FromAges, ToAges []time.Duration
}

// Leftover is what stays on a bobbin when the shortest has run out. All is zero
// on the shortest itself.
type Leftover struct {
	Length         unit.Length
	Share          Share // of the bobbin
	FromAge, ToAge time.Duration
}

// Station is a place along the ply and what meets there, dry.
type Station struct {
	Along   Share // of the ply
	Fed     unit.Length
	Ages    []time.Duration
	Dormant []estimate.Estimate[Share] // of each strand
	Gap     Gap
}

// Gap is how far the most and the least of several strands are apart, dry.
type Gap struct {
	Dormant estimate.Estimate[Share]
	Living  *estimate.Estimate[yarn.StrandTwist] // turns per metre not dormant; nil when the turns are not known
	Look    estimate.Estimate[unit.Angle]        // between the centre-line angles of a dry ply-back of each
}

// Case is one way of rewinding the bobbins sideways before plying.
type Case struct {
	Rewound []bool // which, in the order of the strands
	Legs    []Leg
	Largest estimate.Estimate[unit.Angle] // the largest gap of looks along the ply
	Where   Share                         // of the ply, where it is to be expected
	Unseen  Share                         // probability that it stays under what a ply shows

	// Waiting after which the gap stays under what a ply shows: as likely as not,
	// and nine times in ten. Nil when a year is not enough.
	Wait, SureWait *time.Duration
}

// Meeting is what meets what along a ply of several bobbins.
type Meeting struct {
	Names    []string
	Fed      unit.Length // of each strand, until the shortest runs out; 0 when no length is known
	Leftover []Leftover
	Stations []Station // as they stand, first metre first; twice where an age jumps
	Widest   int       // the station with the largest gap
	Cases    []Case    // every way of rewinding; the first has none rewound
	Best     int       // the case with the least largest gap, by the fewest rewinds
	Verdict  Verdict
	Flags    estimate.Flags
}

// AlikeSingles is raised when strands are taken as alike in their twist because
// the turns of one are not known.
const AlikeSingles estimate.Flag = "singles taken as alike"

// PlyShows is the difference between the looks of two strands that shows in a
// ply. An assumption without a source.
const PlyShows = 4 * unit.Degree

const (
	meetDraws    = 400 // the ends of a 90 % interval then repeat to about a tenth of the standard deviation
	waitDraws    = 100
	stationCount = 48
	sameLook     = unit.Degree / 10 // cases closer than this count as equal
)

// Meet lays two to four bobbins against each other along the ply, first metre
// against first metre, until the shortest runs out; bobbins of unknown length
// are taken to run out with it. It says which ages meet, how far dormant share,
// living turns and dry look are apart, what each way of rewinding would change,
// and whether to wait. It refuses with an *Error.
//
// The gap in dormancy is one of handling and of the look at the wheel: water
// wakes all strands, and after the wash only their turns count.
func Meet(p Pairing) (*Meeting, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	g := newGauge(p)
	wounds := make([]Wound, len(p.Strands))
	m := &Meeting{Flags: g.flags}
	for i, s := range p.Strands {
		wounds[i] = s.Wound
		m.Names = append(m.Names, s.called(i))
	}
	run := newRun(wounds)
	m.Fed, m.Leftover = run.fed, run.leftover()
	m.along(g, run)
	m.compare(g, wounds)
	m.Verdict = m.decide()
	return m, nil
}

func (s Strand) called(i int) string {
	if s.Name == "" {
		return "bobbin " + string(rune('A'+i))
	}
	return s.Name
}

func (p Pairing) check() error {
	if n := len(p.Strands); n < 2 || n > 4 {
		return refuse("Choose 2 to 4 bobbins.", "Bobbins that meet in a ply are two at least and four at most here, not %d.", n)
	}
	if k := p.Stiffness; k != nil && !(*k >= 0 && *k <= 20) {
		return refuse("Leave it out to take the middle of what is usual, 0.7.", "A stiffness ratio of %.4g is outside 0 to 20.", float64(*k))
	}
	if err := p.Room.Check(); err != nil {
		return err
	}
	direction, draws := yarn.NoDirection, 1
	for i, s := range p.Strands {
		if err := s.check(s.called(i)); err != nil {
			return err
		}
		if s.Direction != yarn.NoDirection && direction == s.Direction.Opposite() {
			return refuse("Plied together they cannot balance: ply each bobbin with one spun the same way.", "%s is spun %s and another bobbin %s.", capital(s.called(i)), s.Direction, direction)
		}
		direction = cmp.Or(direction, s.Direction)
		n := len(s.Fibre)
		if n > 1 && draws > 1 && n != draws {
			return refuse("Draw the curves of all bobbins together.", "%s has %d curves and another bobbin %d.", capital(s.called(i)), n, draws)
		}
		draws = max(draws, n)
	}
	return nil
}

func (s Strand) check(name string) error {
	w := s.Wound
	if len(w.layers) == 0 {
		return refuse("Say when it was spun, from when to when.", "Nothing is known of when %s was spun.", name)
	}
	if !(w.Length >= 0 && w.Length <= 1000*unit.Kilometre) {
		return refuse("Give its length, or leave it out.", "A length of %.4g m does not fit on %s.", w.Length.Metres(), name)
	}
	if u := s.Turns; u != nil && !(*u >= 1 && *u <= 1e5) {
		return refuse("Give the turns per metre of the singles, or leave them out.", "%.4g turns per metre on %s are outside 1 to 100,000.", float64(*u), name)
	}
	if d := s.Diameter; d != nil && !(d.Millimetres() > 0.05 && d.Millimetres() < 50) {
		return refuse("Give the singles' diameter, or leave it out.", "Singles of %.4g mm on %s are not yarn.", d.Millimetres(), name)
	}
	if s.Turns != nil && s.Diameter != nil {
		if a := yarn.SurfaceAngleOf(*s.Turns, *s.Diameter).Degrees(); a < 1 || a > 75 {
			return refuse("Check the turns and the diameter.", "The turns and the diameter of %s make a surface angle of %.3g degrees; singles have 1 to 75.", name, a)
		}
	}
	if w.overEnd() && (s.Turns == nil || s.Direction == yarn.NoDirection) {
		return refuse("Give the turns per metre of the singles and whether they are S or Z, or rewind sideways.", "What rewinding over the end did to %s cannot be told.", name)
	}
	if s.Fibre == nil {
		return nil
	}
	return checkFibre(s.Fibre)
}

// run is several bobbins drawn off together.
type run struct {
	wounds []Wound
	fed    unit.Length
	reach  []Share // the share of each bobbin that goes into the ply
}

func newRun(wounds []Wound) run {
	r := run{wounds: wounds, reach: make([]Share, len(wounds))}
	for _, w := range wounds {
		if w.Length > 0 && (r.fed == 0 || w.Length < r.fed) {
			r.fed = w.Length
		}
	}
	for i, w := range wounds {
		r.reach[i] = 1
		if w.Length > 0 {
			r.reach[i] = Share(r.fed / w.Length)
		}
	}
	return r
}

func (r run) leftover() []Leftover {
	out := make([]Leftover, len(r.wounds))
	for i, w := range r.wounds {
		if r.reach[i] < 1 {
			out[i] = Leftover{w.Length - r.fed, 1 - r.reach[i], w.Age(r.reach[i]), w.layers[len(w.layers)-1].ToAge}
		}
	}
	return out
}

// hair is the share of a ply under which two places are the same.
const hair = 1e-9

// cuts are the ends of the legs: where a layer of any bobbin runs out.
func (r run) cuts() []Share {
	out := []Share{0, 1}
	for i, w := range r.wounds {
		for _, l := range w.layers {
			if y := l.To / r.reach[i]; y > hair && y < 1-hair {
				out = append(out, y)
			}
		}
	}
	slices.Sort(out)
	return slices.CompactFunc(out, func(a, b Share) bool { return math.Abs(float64(b-a)) < hair })
}

func (r run) legs() []Leg {
	cuts := r.cuts()
	out := make([]Leg, len(cuts)-1)
	for i := range out {
		from, to := cuts[i], cuts[i+1]
		leg := Leg{From: from, To: to, FromFed: r.fed * unit.Length(from), ToFed: r.fed * unit.Length(to)}
		for j, w := range r.wounds {
			l := w.layers[w.layerAt((from+to)/2*r.reach[j])]
			leg.FromAges = append(leg.FromAges, l.age(from*r.reach[j]))
			leg.ToAges = append(leg.ToAges, l.age(to*r.reach[j]))
		}
		out[i] = leg
	}
	return out
}

// spot is a place along the ply with its strands' ages, and their turns there
// over the turns spun.
type spot struct {
	along Share
	ages  []time.Duration
	turns []float64
}

// spots places at least least+1 spots on every leg, its ends among them, and
// about count on the whole ply.
func (r run) spots(strands []Strand, count, least int) (out []spot) {
	for _, leg := range r.legs() {
		n := max(int(math.Ceil(float64(leg.To-leg.From)*float64(count))), least)
		for i := range n + 1 {
			x := float64(i) / float64(n)
			s := spot{along: leg.From + Share(x)*(leg.To-leg.From)}
			for j, from := range leg.FromAges {
				s.ages = append(s.ages, from+time.Duration(x*float64(leg.ToAges[j]-from)))
				s.turns = append(s.turns, strands[j].kept(r.wounds[j], s.along*r.reach[j]))
			}
			out = append(out, s)
		}
	}
	return out
}

// kept is the turns after rewinding over those spun. What rewinding takes away
// beyond all of them is no twist of these singles any more.
func (s Strand) kept(w Wound, at Share) float64 {
	if !w.overEnd() {
		return 1
	}
	return max(0, 1+float64(w.Added(at, s.Direction) / *s.Turns))
}
