package job

import (
	"math"
	"time"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
)

// Stash is what is in hand: fibre by lot, and finished yarn.
type Stash struct {
	Lots   []LotStock
	Skeins []SkeinStock
}

// LotStock is a fibre lot with what is left of it.
type LotStock struct {
	journal.Lot
	Bought    unit.Mass // all that was bought, 0 where not weighed
	Left      []Stock   // by what was done to it, rawest first; nothing where nothing was weighed
	Bobbins   []SpunBobbin
	Unweighed int  // bobbins spun from it whose singles were not weighed: less is left than is said
	Demo      bool // only the demonstration spins it
}

// Stock is fibre in hand in one state of preparation.
type Stock struct {
	What     journal.Weighed // Bought, Scoured or Prepared
	Mass     estimate.Estimate[unit.Mass]
	Weighed  time.Time // when what is left was weighed; zero where it is reckoned
	Reckoned bool      // from what was bought and what was used
}

// SpunBobbin is a bobbin spun from a lot.
type SpunBobbin struct {
	journal.Bobbin
	Singles *unit.Mass // net, nil where not known
}

// SkeinStock is a skein of yarn that is still there.
type SkeinStock struct {
	journal.Skein
	Project string
	State   estimate.State // of the measure below; Unstated where it was never measured
	Mass    *unit.Mass
	Length  *unit.Length
	Grist   *unit.LinearDensity
	Wraps   *unit.Wraps
	Part    StockPart
	Demo    bool
}

// StockPart says of what part of a skein its figures in the stash are.
type StockPart int

// The parts.
const (
	WholeSkein  StockPart = iota
	RestMeasure           // of what came back after a use, as measured
	RestReckon            // of that: weighed, its length from the grist of the whole skein
	BeforeUse             // of the whole skein, for what came back was neither weighed nor reeled
)

// String says it in words, empty for a whole skein.
func (p StockPart) String() string {
	return [...]string{
		"", "what is left of it", "what is left of it: weighed, its length modelled by the grist of the whole skein",
		"as it was before some was taken; weigh what came back",
	}[p]
}

// StashOf reckons what is left of every lot, and lists the skeins that are not
// used up, in the order of the projects. What was spun and not weighed by itself is taken from
// its skeins; fibre used is singles and what spinning lost of it.
func StashOf(projects []journal.Project, lots []journal.Lot, known Losses) Stash {
	var out Stash
	bobbins, spun := bobbinsOfLots(projects), spunMasses(projects)
	_, shown := parted(projects, lots, nil)
	demo := map[journal.ID]bool{}
	for _, l := range shown.lots {
		demo[l.ID] = true
	}
	for _, l := range lots {
		stock := lotStock(l, bobbins[l.ID], spun, known.Spinning.Estimate)
		stock.Demo = demo[l.ID]
		out.Lots = append(out.Lots, stock)
	}
	for _, p := range projects {
		for _, r := range p.Runs {
			out.addSkeins(p, r.Skeins)
		}
		for _, b := range p.Bobbins {
			out.addSkeins(p, b.Skeins)
		}
	}
	return out
}

func (s *Stash) addSkeins(p journal.Project, skeins []journal.Skein) {
	for _, one := range skeins {
		if one.InStash() {
			s.Skeins = append(s.Skeins, StockOf(p, one))
		}
	}
}

// StockOf is a skein of a project as it lies in the stash.
func StockOf(p journal.Project, one journal.Skein) SkeinStock {
	out := SkeinStock{Skein: one, Project: p.Name, Demo: p.Demo}
	m := one.Measured(estimate.Washed)
	if m == nil {
		if m = one.Measured(estimate.Rested); m == nil {
			m = &journal.Measure{}
		}
	}
	out.State, out.Mass, out.Wraps = m.State, m.Mass, m.Wraps
	out.Length, out.Grist = lengthOf(*m), gristOf(*m)
	out.takeRest()
	return out
}

// takeRest puts what is left of a skein that came back in the place of the whole.
// A part is as fine as the whole, so its weight gives its length.
func (s *SkeinStock) takeRest() {
	rest, back := s.MeasuredSince()
	if !back {
		return
	}
	s.Part = BeforeUse
	if rest == nil || rest.Mass == nil && lengthOf(*rest) == nil {
		return
	}
	s.Part, s.Mass, s.Length = RestMeasure, rest.Mass, lengthOf(*rest)
	if rest.Wraps != nil {
		s.Wraps = rest.Wraps
	}
	if both := gristOf(*rest); both != nil {
		s.State, s.Grist = rest.State, both
	} else if s.Length == nil && s.Grist != nil {
		l := s.Grist.LengthOf(*s.Mass)
		s.Part, s.Length = RestReckon, &l
	}
}

// spunMasses are the masses of singles by bobbin, where they are known: weighed,
// else of the skeins taken off, else an even part of the skeins of its run.
func spunMasses(projects []journal.Project) map[journal.ID]unit.Mass {
	out := map[journal.ID]unit.Mass{}
	for _, p := range projects {
		for _, b := range p.Bobbins {
			if w := latest(b.Weighings); w != nil {
				out[b.ID] = w.Net()
			} else if m, ok := massOfSkeins(b.Skeins); ok {
				out[b.ID] = m
			}
		}
		for _, r := range p.Runs {
			m, ok := massOfSkeins(r.Skeins)
			for _, f := range r.Feeds {
				if b := p.Bobbin(f.Bobbin); ok && b != nil && latest(b.Weighings) == nil {
					out[f.Bobbin] += m / unit.Mass(len(r.Feeds))
				}
			}
		}
	}
	return out
}

// massOfSkeins is the mass of skeins together; ok is false where none is there,
// or one was not weighed.
func massOfSkeins(skeins []journal.Skein) (sum unit.Mass, ok bool) {
	for _, s := range skeins {
		m := s.Measured(estimate.Rested)
		if m == nil || m.Mass == nil {
			m = s.Measured(estimate.Washed)
		}
		if m == nil || m.Mass == nil {
			return 0, false
		}
		sum += *m.Mass
	}
	return sum, len(skeins) > 0
}

// lotStock follows a lot through its states: what went into the next state is no
// longer in the one before, and spinning takes from the last.
func lotStock(l journal.Lot, bobbins []journal.Bobbin, spun map[journal.ID]unit.Mass, loss estimate.Estimate[cloth.Loss]) LotStock {
	by := weighed(l.Weighings)
	out := LotStock{Lot: l, Bought: total(by[journal.Bought]).mass}
	left := latest(by[journal.Left])
	used := spentFibre{loss: loss}
	for _, b := range bobbins {
		one := SpunBobbin{Bobbin: b}
		if m, ok := spun[b.ID]; ok {
			one.Singles = &m
		} else {
			out.Unweighed++
		}
		out.Bobbins = append(out.Bobbins, one)
		if one.Singles != nil && (left == nil || spunAfter(b, *left)) {
			used.add(b, *one.Singles)
		}
	}
	out.Left = stocksOf(by, left, used)
	return out
}

// spentFibre is the fibre that bobbins took.
type spentFibre struct {
	loss     estimate.Estimate[cloth.Loss]
	mass     unit.Mass
	variance float64 // square grams
}

func (u *spentFibre) add(b journal.Bobbin, singles unit.Mass) {
	if w := latest(b.Weighings); w != nil && w.Before != nil {
		u.mass += *w.Before
		u.variance += scaleVariance(*w)
		return
	}
	fibre := cloth.Before(u.loss.Value, singles)
	u.mass += fibre
	u.variance += square(fibre.Grams() * math.Hypot(float64(u.loss.SD), moistureSD))
}

// stocksOf are the states in which some of a lot is left.
func stocksOf(by map[journal.Weighed][]journal.Weighing, left *journal.Weighing, used spentFibre) (out []Stock) {
	states := []journal.Weighed{journal.Bought, journal.Scoured, journal.Prepared}
	last := -1
	for i, what := range states {
		if len(by[what]) > 0 {
			last = i
		}
	}
	for i, what := range states[:last+1] {
		if len(by[what]) == 0 {
			continue
		}
		w := total(by[what])
		for _, next := range states[i+1 : last+1] {
			if len(by[next]) > 0 {
				w = lessTaken(w, by[next])
				break
			}
		}
		s := Stock{What: what, Reckoned: true}
		if i == last {
			w = w.minus(total(by[journal.Sampled]))
			if left != nil {
				w, s.Weighed, s.Reckoned = weightOf(*left), left.At, false
			}
			w = weight{mass: w.mass - used.mass, variance: w.variance + used.variance, n: 1}
			s.Reckoned = s.Reckoned || used.mass > 0
		}
		s.Mass = massIn(w, s.Reckoned)
		if i < last && s.Mass.Value <= 0 { // all of it went into the next state
			continue
		}
		if weighedOut := !s.Reckoned && w.mass == 0; s.Mass.High > 0 && !weighedOut {
			out = append(out, s)
		}
	}
	return out
}

// lessTaken takes off what went into the next state: what it says, else all.
func lessTaken(w weight, next []journal.Weighing) weight {
	for _, one := range next {
		if one.Before == nil {
			return weight{}
		}
		w = w.minus(beforeOf(one))
	}
	return w
}

// massIn is a weight as an estimate: by the scale and, where it is reckoned,
// with what moisture does to it from day to day.
func massIn(w weight, reckoned bool) estimate.Estimate[unit.Mass] {
	if w.n == 0 {
		return estimate.Estimate[unit.Mass]{}
	}
	variance := w.variance
	m := max(0, w.mass)
	var flags estimate.Flags
	if reckoned {
		variance += square(moistureSD * m.Grams())
		flags = estimate.Flags{estimate.Modelled}
	}
	sd := unit.Mass(math.Sqrt(variance)) * unit.Gram
	if m == 0 && w.mass < -estimate.Reach*sd { // all of it is used up, and the scales disagree
		return estimate.Estimate[unit.Mass]{Flags: flags}
	}
	return estimate.Estimate[unit.Mass]{Value: m, SD: sd, Low: max(0, m-estimate.Reach*sd), High: m + estimate.Reach*sd, N: w.n, Flags: flags}
}
