package wheel

import (
	"math"
	"slices"

	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// Treadled is a wheel in one setting, or a spindle.
type Treadled struct {
	Kind   Kind // not MotorDriven
	Whorl  Whorl
	Slip   Slip   // the zero Slip is not known; a spindle has none
	Bobbin Bobbin // needed only on a bobbin-led wheel
}

// Put is the twist that was put into a length.
type Put struct {
	Turns estimate.Estimate[Turns]
	Twist estimate.Estimate[unit.Twist]
	// Wraps are those wound on, each of which took a turn away; zero where they
	// take none.
	Wraps estimate.Estimate[Turns]
	// Gripped is the twist had nothing slipped.
	Gripped estimate.Estimate[unit.Twist]
}

// Setting is how a draw takes its twist.
type Setting struct {
	Treadles estimate.Estimate[Treadles]
	// Gripped is the treadles that would do if nothing slipped.
	Gripped estimate.Estimate[Treadles]
}

// Known is the treadles with the slip that is known, else those that would do if
// nothing slipped.
func (s Setting) Known() estimate.Estimate[Treadles] {
	if s.Treadles.Flags.Has(SlipUnknown) {
		return s.Gripped
	}
	return s.Treadles
}

// Wraps returns how often a length goes round a package of a diameter, above zero.
func Wraps(l, diameter unit.Length) Turns {
	return Turns(l.Metres() / (math.Pi * diameter.Metres()))
}

// ruler is by how much a diameter may be off either way: an assumption.
const ruler = unit.Millimetre

// OverEnd returns the twist that winding over the end of a package standing still
// adds or takes away: one turn a wrap. Drawn off sideways, the package turning,
// it is none. It refuses with an *Error a diameter outside 5 mm to 1 m.
func OverEnd(diameter unit.Length) (estimate.Estimate[yarn.StrandTwist], error) {
	if !within(diameter, 5*unit.Millimetre, unit.Metre) {
		return estimate.Estimate[yarn.StrandTwist]{}, refuse("Measure across the package where the yarn runs off: bobbins are 40 to 100 mm.", "A package of %.4g mm is outside 5 mm to 1 m.", diameter.Millimetres())
	}
	across := estimate.NewSampler(rows, 1).Uniform(float64(diameter-ruler), float64(diameter+ruler))
	return estimate.FromDraws(apply(func(i int) yarn.StrandTwist {
		return yarn.StrandTwist(Wraps(unit.Metre, unit.Length(across[i])))
	})), nil
}

// machine is a wheel as columns.
type machine struct {
	ratio, grip []float64
	across      []float64 // metres, where yarn winds on; nil where wraps take no turn
	n           int
	flags       estimate.Flags
}

func (t Treadled) columns(at Filled) (machine, error) {
	if t.Kind < FlyerLed || t.Kind > Spindle {
		return machine{}, refuse("Choose flyer-led, bobbin-led, double drive or spindle.", "A machine without treadles (%s) has no ratio.", t.Kind)
	}
	s := estimate.NewSampler(rows, 1)
	ratio, err := t.Whorl.draws(s)
	if err != nil {
		return machine{}, err
	}
	if err := t.Slip.check(); err != nil {
		return machine{}, err
	}
	m := machine{ratio: ratio, grip: t.slip().draws(s), n: len(t.Whorl.Counts), flags: t.flags()}
	if t.Kind != BobbinLed {
		return m, nil
	}
	d, err := t.Bobbin.Diameter(at)
	if err != nil {
		return machine{}, err
	}
	m.across = s.Uniform(float64(d-ruler), float64(d+ruler))
	return m, nil
}

func (t Treadled) slip() Slip {
	if !t.Kind.slips() {
		return NoSlip
	}
	return t.Slip
}

func (t Treadled) flags() estimate.Flags {
	fs := t.Whorl.flags()
	if !t.slip().known() {
		fs = fs.With(SlipUnknown, estimate.Modelled)
	}
	return fs
}

// gripped is the machine when nothing slips.
func (m machine) gripped() machine {
	m.grip = even(1)
	m.flags = slices.DeleteFunc(slices.Clone(m.flags), func(f estimate.Flag) bool {
		return f == SlipUnknown || f == estimate.Modelled
	})
	return m
}

// wraps is the turns that winding a length on takes away, in row i.
func (m machine) wraps(i int, l unit.Length) float64 {
	if m.across == nil {
		return 0
	}
	return float64(Wraps(l, unit.Length(m.across[i])))
}

func (m machine) turns(t Treadles, l unit.Length) []Turns {
	return apply(func(i int) Turns {
		return Turns(max(m.ratio[i]*m.grip[i]*float64(t)-m.wraps(i, l), 0))
	})
}

func (m machine) treadles(u unit.Twist, draw unit.Length) estimate.Estimate[Treadles] {
	e := estimate.FromDraws(apply(func(i int) Treadles {
		return Treadles((u.PerMetre()*draw.Metres() + m.wraps(i, draw)) / (m.ratio[i] * m.grip[i]))
	}))
	e.N, e.Flags = m.n, m.flags
	return e
}

func putOf(turns []Turns, l unit.Length, n int, flags estimate.Flags) Put {
	p := Put{Turns: estimate.FromDraws(turns)}
	p.Turns.N, p.Turns.Flags = n, flags
	p.Twist = scaled[unit.Twist](p.Turns, 1/l.Metres())
	p.Gripped = p.Twist
	return p
}

// PutIn returns the turns that treadles put into a length, wound on a bobbin as
// filled as it is said to be; only a bobbin-led wheel asks for that. It refuses
// with an *Error what cannot be meant, and treadles that could not have wound the
// length on.
func (t Treadled) PutIn(treadles Treadles, l unit.Length, at Filled) (Put, error) {
	if !within(treadles, 0.1, 1e6) {
		return Put{}, refuse("Say how many went into the length.", "%.4g treadles put nothing in that could be told.", float64(treadles))
	}
	if err := checkLength(l); err != nil {
		return Put{}, err
	}
	m, err := t.columns(at)
	if err != nil {
		return Put{}, err
	}
	p, free := putOf(m.turns(treadles, l), l, m.n, m.flags), m.gripped()
	p.Gripped = putOf(free.turns(treadles, l), l, m.n, free.flags).Twist
	if p.Gripped.Value == 0 {
		return Put{}, refuse("Check treadles, ratio and length: the bobbin must turn once for each wrap.", "%.4g treadles do not even wind %s on.", float64(treadles), l)
	}
	p.Wraps = estimate.FromDraws(apply(func(i int) Turns { return Turns(m.wraps(i, l)) }))
	return p, nil
}

// Setting returns the treadles that put a twist into a draw, wound on a bobbin as
// filled as it is said to be. It refuses with an *Error what cannot be meant.
func (t Treadled) Setting(u unit.Twist, draw unit.Length, at Filled) (Setting, error) {
	if err := checkTarget(u, draw); err != nil {
		return Setting{}, err
	}
	m, err := t.columns(at)
	if err != nil {
		return Setting{}, err
	}
	return Setting{m.treadles(u, draw), m.gripped().treadles(u, draw)}, nil
}

// Rhythm returns the treadles a minute that do the setting in the time of one
// draw. It refuses with an *Error a time that cannot be meant.
func (s Setting) Rhythm(beat Seconds) (estimate.Estimate[Rhythm], error) {
	if err := checkTime(beat); err != nil {
		return estimate.Estimate[Rhythm]{}, err
	}
	e := scaled[Rhythm](s.Treadles, 60/float64(beat))
	if e.Value > fastFeet {
		e.Flags = e.Flags.With(UnlikelyBeat)
	}
	return e, nil
}

// Time returns how long one draw takes at a rhythm. It refuses with an *Error a
// rhythm that cannot be meant.
func (s Setting) Time(r Rhythm) (estimate.Estimate[Seconds], error) {
	if err := checkRhythm(r); err != nil {
		return estimate.Estimate[Seconds]{}, err
	}
	return scaled[Seconds](s.Treadles, 60/float64(r)), nil
}

// scaled is an estimate times a constant above zero.
func scaled[To, From ~float64](e estimate.Estimate[From], by float64) estimate.Estimate[To] {
	times := func(v From) To { return To(float64(v) * by) }
	return estimate.Estimate[To]{
		Value: times(e.Value), SD: times(e.SD), Low: times(e.Low), High: times(e.High),
		N: e.N, State: e.State, Load: e.Load, Flags: e.Flags,
	}
}

// Speed returns how fast what the whorl drives turns at a rhythm. It refuses with
// an *Error what cannot be meant.
func (t Treadled) Speed(r Rhythm) (estimate.Estimate[Speed], error) {
	none := estimate.Estimate[Speed]{}
	if err := checkRhythm(r); err != nil {
		return none, err
	}
	if t.Kind == BobbinLed {
		t.Kind = FlyerLed // the bobbin's speed does not hang on its thickness
	}
	m, err := t.columns(0)
	if err != nil {
		return none, err
	}
	e := estimate.FromDraws(apply(func(i int) Speed { return Speed(m.ratio[i] * m.grip[i] * float64(r)) }))
	e.N, e.Flags = m.n, m.flags
	return fast(e), nil
}
