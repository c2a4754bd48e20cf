package plan

import (
	"fmt"
	"math"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
)

// Weighed is what the scale says in the middle of the work. Zero says that a
// thing was not measured; of what is left, which may be nothing, nil says so.
type Weighed struct {
	Prepared unit.Mass  // prepared fibre when the spinning began
	Left     *unit.Mass // of it now
	Spun     unit.Mass  // singles so far, net
	Length   unit.Length
	Step     unit.Mass // that the scale shows; 0 takes a gram

	Done     cloth.Share // of the fabric, 0 to 1
	UsedYarn unit.Mass   // in it so far
	LeftYarn *unit.Mass

	// Told is true where a journal tells it and not the wish: there is then no
	// outlook, and no complaint, where none follows.
	Told bool
}

// Outlook is whether what is left suffices.
type Outlook struct {
	Enough float64                        // probability
	Needed estimate.Estimate[unit.Mass]   // still, of what Have is
	Have   unit.Mass                      // fibre, or yarn, that is left
	More   unit.Mass                      // to have, so that it suffices nineteen times in twenty; 0 for none
	Length estimate.Estimate[unit.Length] // of singles still to spin; zero for yarn
	Waste  estimate.Estimate[cloth.Loss]  // in spinning, as the weighings have it; zero for yarn
	Grist  estimate.Estimate[unit.LinearDensity]
	OfYarn bool
	Told   bool // see Weighed
}

// How far the rest of a work may differ from its beginning, as the standard
// deviation of a logarithm: waste in what is kept, grist, and the yarn that a
// part of a fabric takes. Assumptions.
const (
	wasteWander = 0.01
	gristWander = 0.04
	usedWander  = 0.03
	// lengthError is that of a length of singles as it is measured.
	lengthError = 0.02
)

// Check refuses weighings that cannot be meant.
func (w Weighed) Check() error {
	left := known(w.Left)
	switch {
	case left < 0 || w.Spun < 0 || w.Length < 0 || w.Step < 0 || w.UsedYarn < 0 || known(w.LeftYarn) < 0 || w.Prepared < 0:
		return refuseField("weighed", "Weigh again, less bobbin or bowl.", "A weighing is below zero.")
	case w.Done < 0 || w.Done > 1:
		return refuseField("weighed.done", "Give the part of the fabric that is done, as in 40%.", "A fabric cannot be done to %.0f %%.", 100*float64(w.Done))
	case w.Done > 0 && w.UsedYarn == 0:
		return lacking("weighed.used", "Weigh the yarn that is left, and give what went in.", "The part of the fabric is given, and not the yarn in it.")
	case w.Done > 0 && w.Done < 1 && w.LeftYarn == nil:
		return lacking("weighed.left-yarn", "Weigh it, and give 0 g where none is left.", "The yarn in the fabric is given, and not the yarn that is left.")
	case w.Done == 0 && (w.UsedYarn > 0 || w.LeftYarn != nil):
		return lacking("weighed.done", "Give it, as in 40%.", "The yarn is weighed, and not which part of the fabric is done.")
	case w.Done > 0:
		return nil
	case w.Left == nil:
		return lacking("weighed.left", "Weigh it, and give 0 g where none is left.", "The fibre that is left is not weighed.")
	case w.Spun == 0 && w.Length == 0 && w.Prepared > left+w.step():
		return lacking("weighed.spun", "Weigh the singles, less their bobbins.", "Some of the fibre is gone, and the singles are not weighed.")
	case w.Prepared > 0 && left+w.Spun > w.Prepared*1.1+w.step():
		return refuseField("weighed.left", "Check the bobbin's own mass, and whether the fibre took up damp.", "There are %s of singles and %s of fibre, and %s at the start.", w.Spun, left, w.Prepared)
	}
	return nil
}

// lacking refuses a weighing of which a part is still to come.
func lacking(field, advice, problem string) error {
	return &Error{Field: field, Problem: problem, Advice: advice, Incomplete: true}
}

func known(m *unit.Mass) unit.Mass {
	if m == nil {
		return 0
	}
	return *m
}

func (w Weighed) step() unit.Mass {
	if w.Step == 0 {
		return unit.Gram
	}
	return w.Step
}

// Outlook says whether what is left suffices for what is left to do, from a
// weighing in the middle of the work; nil without one. It refuses with an *Error
// plans that have no size, and weighings that cannot be meant.
func (r *Result) Outlook() (*Outlook, error) { return r.outlook, r.doubtful }

func (s *solver) outlook() (*Outlook, error) {
	m := s.w.Weighed
	if m == nil {
		return nil, nil
	}
	out, err := s.outlookOf(m)
	if m.Told && err != nil {
		return nil, nil
	}
	if out != nil {
		out.Told = m.Told
	}
	return out, err
}

func (s *solver) outlookOf(m *Weighed) (*Outlook, error) {
	if err := m.Check(); err != nil {
		return nil, err
	}
	if s.seeded || !s.known(qMass) || !s.known(qSingles) {
		return nil, refuseField("weighed", "Give the size that the work is to reach.", "Without a size nothing can run short.")
	}
	if m.Done > 0 {
		return s.yarnOutlook(*m), nil
	}
	return s.fibreOutlook(*m), nil
}

// scaleError is the standard deviation of a weighing: a step of the scale either
// way at most, twice over for the tare.
func (w Weighed) scaleError() float64 { return float64(w.step()) / math.Sqrt(6) }

// fibreOutlook learns waste and grist from what was spun, and asks what the rest
// takes. Where nothing was measured the plan's own stand.
func (s *solver) fibreOutlook(m Weighed) *Outlook {
	grists := s.columns[qSinglesGrist]
	kept := make([]float64, s.n)
	for i, v := range s.columns[qSpinning] {
		kept[i] = 1 - v
	}
	left := *m.Left
	if used := m.Prepared - left; m.Prepared > 0 && m.Spun > 0 && used > 0 {
		err := m.scaleError() * math.Hypot(1/float64(m.Spun), 1/float64(used))
		kept = s.learn(kept, float64(m.Spun/used), math.Hypot(err, wasteWander))
	}
	if m.Spun > 0 && m.Length > 0 {
		err := math.Hypot(m.scaleError()/float64(m.Spun), lengthError)
		grists = s.learn(grists, float64(unit.LinearDensityOf(m.Spun, m.Length)), math.Hypot(err, gristWander))
	}
	need, length, waste := make([]unit.Mass, s.n), make([]unit.Length, s.n), make([]cloth.Loss, s.n)
	for i := range need {
		spun := float64(m.Length)
		if spun == 0 {
			spun = float64(m.Spun) / grists[i] * 1e3
		}
		more := max(0, s.columns[qSingles][i]-spun)
		if knitted(s.w) { // a swatch gives the mass, however fine the yarn comes out
			more = max(0, s.columns[qMass][i]-float64(m.Spun)) / grists[i] * 1e3
		}
		length[i] = unit.Length(more)
		need[i] = unit.Mass(more * grists[i] * 1e-3 / min(1, kept[i]))
		waste[i] = cloth.Loss(1 - kept[i])
	}
	out := suffice(need, left)
	out.Length, out.Waste = estimate.FromDraws(length), estimate.FromDraws(waste)
	out.Grist = typed[unit.LinearDensity](estimate.FromDraws(grists))
	return out
}

// yarnOutlook scales what the done part took to the rest.
func (s *solver) yarnOutlook(m Weighed) *Outlook {
	done := float64(m.Done)
	part := make([]float64, s.n)
	for i, total := range s.columns[qMass] {
		part[i] = total / (1 + s.spare(i))
	}
	err := math.Hypot(m.scaleError()/float64(m.UsedYarn), usedWander)
	part = s.learn(part, float64(m.UsedYarn)/done, err)
	need := make([]unit.Mass, s.n)
	for i := range need {
		need[i] = unit.Mass(part[i] * (1 - done))
	}
	out := suffice(need, known(m.LeftYarn))
	out.OfYarn = true
	return out
}

func (s *solver) spare(i int) float64 {
	if !s.known(qSpare) {
		return 0
	}
	return s.columns[qSpare][i]
}

func suffice(need []unit.Mass, have unit.Mass) *Outlook {
	out := &Outlook{Needed: estimate.FromDraws(need), Have: have}
	for _, n := range need {
		if n <= have {
			out.Enough += 1 / float64(len(need))
		}
	}
	out.Enough = min(1, out.Enough)
	out.More = max(0, out.Needed.High-have)
	return out
}

// learn moves a column of a quantity above zero towards a measured value with a
// relative error: each draw by the gain of normal logarithms, against a reading
// that is itself drawn (Burgers, van Leeuwen and Evensen, Monthly Weather Review
// 126 (1998) 1719). A column without spread becomes the reading.
func (s *solver) learn(column []float64, measured, err float64) []float64 {
	logs := make([]float64, s.n)
	for i, v := range column {
		logs[i] = math.Log(v)
	}
	prior := estimate.SD(logs)
	if prior == 0 { // it was fixed, and turned out otherwise
		prior = math.Inf(1)
	}
	gain := 1.0
	if !math.IsInf(prior, 1) {
		gain = prior * prior / (prior*prior + err*err)
	}
	out := make([]float64, s.n)
	for i, z := range s.s.Normal(0, err) {
		out[i] = math.Exp(logs[i] + gain*(math.Log(measured)+z-logs[i]))
	}
	return out
}

// Say tells it in a sentence or two.
func (o *Outlook) Say() string {
	by := "By the scale"
	if o.Told {
		by = "By the weighings of its project"
	}
	if o.Needed.High == 0 {
		return by + ", nothing more is needed."
	}
	what := "fibre"
	if o.OfYarn {
		what = "yarn"
	}
	have := "no " + what
	if o.Have > 0 {
		have = o.Have.String() + " of " + what
	}
	out := fmt.Sprintf("%s, what is left suffices with a probability of %s. There: %s; still needed: %s.",
		by, Chance(o.Enough), have, spoken(masses, "", plain(o.Needed)))
	if o.More > 0 {
		out += fmt.Sprintf(" With %s more it suffices nineteen times in twenty.", o.More)
	}
	if o.OfYarn {
		return out
	}
	return out + fmt.Sprintf(" %s; still to spin: %s.", o.sayWaste(), spoken(lengths, " of singles", plain(o.Length)))
}

// sayWaste does not call a gain a waste.
func (o *Outlook) sayWaste() string {
	if o.Waste.Value < 0 {
		return fmt.Sprintf("So far the singles weigh %.2g %% more than the fibre that is gone, from damp or a bobbin's own mass", -100*float64(o.Waste.Value))
	}
	return fmt.Sprintf("So far %.2g %% (%.2g to %.2g) go to waste", 100*float64(o.Waste.Value), max(0, 100*float64(o.Waste.Low)), 100*float64(o.Waste.High))
}

// spoken says a figure of something with its interval.
func spoken(k kind, of string, e estimate.Estimate[float64]) string {
	if span := between(k, e); span != "" {
		return k.say(e.Value) + of + ", from " + span
	}
	return k.say(e.Value) + of
}
