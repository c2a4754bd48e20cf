package hand

import (
	"math"
	"slices"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Kind is what a further reading would be of.
type Kind int

// The kinds of readings that can be proposed.
const (
	RewetClip    Kind = iota + 1 // a re-wet ply-back
	DryClip                      // a ply-back of the rested singles
	DriedClip                    // a ply-back re-wet and dried
	SinglesAngle                 // the surface angle of the singles
	WashLength                   // the length of a skein before and after its wash
	WashDiameter                 // its thickness before and after
)

// Candidate is a reading that could be made next.
type Candidate struct {
	Kind        Kind
	Bobbin      string // by ID; for the kinds read on a bobbin
	Place       string // one that was clipped before; any other word for a new one
	Depth       float64
	Preparation finish.Preparation // of a skein; for the kinds of the wash
	Line        yarn.Line          // for ply-backs
	Age         time.Duration      // for DryClip
	Room        rest.Room
}

// Goal is an answer that a further reading may narrow.
type Goal int

// The goals.
const (
	WantedPly    Goal = iota + 1 // the ply in balance, re-wet
	WantedLook                   // the ply at the wheel that washes into balance
	WantedAsleep                 // the dormant share
)

// Gain is what a candidate is expected to do for the answer: the width of its 90
// % interval now and with the reading made, in degrees for a ply and in per cent
// for a dormant share.
type Gain struct {
	Candidate Candidate
	Now, Then float64 // degrees, or per cent of the twist
}

// Next weighs candidates by how much each would narrow the answer to a question,
// the best first. The posterior is normal near its middle, so what a reading of
// known scatter would leave does not depend on what it will say: the variance of
// the goal times one less the squared correlation of the two. Candidates on
// bobbins that are not in the record are left out.
func (p *Posterior) Next(q Question, goal Goal, candidates []Candidate) ([]Gain, error) {
	if err := q.check(); err != nil {
		return nil, err
	}
	stock, err := p.stock(q)
	if err != nil {
		return nil, err
	}
	a := p.aim(q, stock, goal)
	now := p.system.covariance(a.along, a.along) + a.extra
	var out []Gain
	for _, c := range candidates {
		s, ok := p.wouldShow(c)
		if !ok {
			continue
		}
		then := now - square(p.system.covariance(a.along, s.along))/(p.system.covariance(s.along, s.along)+s.extra)
		out = append(out, Gain{c, a.width(now), a.width(max(then, 0))})
	}
	slices.SortStableFunc(out, func(x, y Gain) int {
		return int(math.Copysign(1, x.Then-y.Then))
	})
	return out, nil
}

// aim is an answer as the posterior sees it: its middle, its direction, and
// what no reading on record can narrow.
type aim struct {
	middle, extra float64
	along         direction
	asleep        bool
}

// width is the 90 % interval of a goal of some variance.
func (a aim) width(variance float64) float64 {
	off := estimate.Reach * math.Sqrt(variance) * caution
	if a.asleep {
		off *= asleepCaution
		share := func(v float64) float64 { return 100 / (1 + math.Exp(-v)) }
		return share(a.middle+off) - share(a.middle-off)
	}
	return (unit.Atan(math.Exp(a.middle+off)) - unit.Atan(math.Exp(a.middle-off))).Degrees()
}

func (p *Posterior) aim(q Question, stock []strand, goal Goal) aim {
	n := float64(len(stock))
	out := aim{asleep: goal == WantedAsleep, along: p.system.along(-1, point{global: make([]float64, p.fitter.globals)})}
	add := func(times float64, what quantity) {
		v, d := p.where(what)
		out.middle += times * v
		out.along = out.along.plus(times, d)
		out.extra += times * times * what.extra
	}
	if out.asleep {
		for _, s := range stock {
			add(1/n, p.asleep(s.block, s.fibre, sighting{age: q.Rested, room: q.Room}))
		}
		return out
	}
	for _, s := range stock {
		p.addPly(q.Strands, s, 1/n, add)
	}
	if q.Line == yarn.VisibleBorder {
		log, d := border(q.Strands, 0)
		out.middle += log
		add(d, p.eye())
	}
	if goal == WantedLook {
		add(1, p.logDamp())
		add(1, p.logWash(q.Preparation, prepLength))
		add(-1, p.logWash(q.Preparation, prepDiameter))
	}
	return out
}

// addPly adds the log tangent of a ply of n strands of one bobbin.
func (p *Posterior) addPly(n int, s strand, times float64, add func(float64, quantity)) {
	q := p.wake(s.block, s.fibre)
	if n == 2 {
		add(times, q)
		return
	}
	two, _ := p.where(q)
	logK, _ := p.where(p.logStiffness(s.fibre))
	ply := func(two, logK float64) float64 {
		t, _ := liveliness(math.Exp(min(two, steepestWake)), math.Exp(logK))
		return math.Log(math.Tan(float64(balanced(n, math.Exp(logK), t))))
	}
	const h = 1e-4
	here := ply(two, logK)
	byTwo, byStiffness := (ply(two+h, logK)-here)/h, (ply(two, logK+h)-here)/h
	// add counts the middles of both parts; what they miss is put right by a constant.
	add(times*byTwo, q)
	add(times*byStiffness, p.logStiffness(s.fibre))
	add(times, constant(here-byTwo*two-byStiffness*logK))
}

func constant(v float64) quantity {
	return quantity{block: -1, value: func(*context, point, point) float64 { return v }}
}

// prospect is what a candidate would show: its direction, and the variance of it
// that nothing on record tells.
type prospect struct {
	along direction
	extra float64
}

func (p *Posterior) wouldShow(c Candidate) (prospect, bool) {
	switch c.Kind {
	case WashLength:
		return p.prospectOf(p.logWash(c.Preparation, prepLength), loopSD), true
	case WashDiameter:
		return p.prospectOf(p.logWash(c.Preparation, prepDiameter), gaugeSD), true
	}
	block, ok := p.fitter.bobbins[c.Bobbin]
	if !ok {
		return prospect{}, false
	}
	s := sighting{block: block, fibre: p.fibreAt(p.record.Bobbins[block].Fibre), age: c.Age, room: c.Room, line: c.Line}
	predict, ok := c.prediction(&s)
	if !ok {
		return prospect{}, false
	}
	sd := float64(rest.PhotographSD) * p.fitter.scales[byPhoto]
	if c.Line == yarn.VisibleBorder || c.Kind == SinglesAngle {
		sd = float64(rest.EyeSD) * p.fitter.scales[byEye]
	}
	return p.prospectOf(p.atPlace(&s, c, predict), sd), true
}

func (p *Posterior) prospectOf(q quantity, sd float64) prospect {
	_, d := p.where(q)
	return prospect{d, q.extra + sd*sd}
}

// prediction chooses the state of the sample and what is read on it.
func (c Candidate) prediction(s *sighting) (func(*context, point, point) float64, bool) {
	switch c.Kind {
	case RewetClip:
		s.state = estimate.Rewet
	case DryClip:
		s.state = estimate.Rested
	case DriedClip:
		s.state = estimate.RewetDried
	case SinglesAngle:
		return func(c *context, at, slope point) float64 { return s.predictSurface(c, at, slope) }, true
	default:
		return nil, false
	}
	return func(c *context, at, slope point) float64 { return s.predict(c, at, slope) }, true
}

// atPlace is a prediction at a place known or new: what a new one has of its own
// is a variance that nothing on record tells.
func (p *Posterior) atPlace(s *sighting, c Candidate, predict func(*context, point, point) float64) quantity {
	known := p.fitter.places[s.block]
	if p.fitter.placeOf(s.block, c.Place) >= 0 {
		s.weights = p.fitter.weightsAt(s.block, c.Place)
		return quantity{block: s.block, value: predict}
	}
	weights, own := newPlace(known, c.Depth)
	s.weights = append(weights, own)
	longer := func(at, slope point) (point, point) {
		return point{at.global, append(slices.Clone(at.local), 0)}, point{slope.global, make([]float64, len(at.local)+1)}
	}
	f := p.fitter
	at, slope := longer(point{f.global, f.locals[s.block]}, point{global: make([]float64, f.globals)})
	predict(&f.context, at, slope)
	return quantity{block: s.block, extra: square(slope.local[len(slope.local)-1]),
		value: func(c *context, at, slope point) float64 {
			longAt, long := longer(at, slope)
			v := predict(c, longAt, long)
			copy(slope.local, long.local)
			return v
		}}
}
