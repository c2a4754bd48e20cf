package hand

import (
	"math"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Question is a ply to be forecast: what is plied, how, and after how long a
// rest.
type Question struct {
	Bobbins     []string // by ID, plied together with equal numbers of strands; none asks of a new bobbin
	Fibre       string   // of a new bobbin
	Preparation finish.Preparation
	Strands     int       // 2 to 4
	Line        yarn.Line // on which angles are given and wanted: VisibleBorder or StrandCentre

	Rested time.Duration // since the singles were spun
	Room   rest.Room     // the air in which they rested

	// The ply at the wheel: an angle on Line, or turns, which need a Diameter.
	// With neither it is plied so as to come out of the wash in balance.
	Wheel *unit.Angle
	Turns *yarn.PlyTwist

	Diameter   *unit.Length // of the singles
	DiameterCV rest.Share   // its coefficient of variation
	Singles    yarn.Direction
	Hanging    unit.Length // of the loop in the hang test; 0 takes UsualHanging
}

// UsualHanging is the length of the open loop in which a skein hangs.
const UsualHanging = 0.6 * unit.Metre

// Factor is the ratio of a washed measure to the same at the wheel.
type Factor float64

// HalfTurns are half-turns of a hanging skein about itself: over zero in the
// direction of its singles (too much ply twist), under zero in that of its ply.
type HalfTurns float64

// Forecast is the washed skein that follows, and the way there. Every estimate
// rests on the model. Angles are on Line.
type Forecast struct {
	Line yarn.Line

	Dormant   estimate.Estimate[rest.Share]
	DryLook   estimate.Estimate[unit.Angle] // what rested singles suggest: a dry piece of ply that rests in balance
	Target    estimate.Estimate[unit.Angle] // a re-wet piece of ply in balance
	WheelLook estimate.Estimate[unit.Angle] // the ply at the wheel that washes into balance

	Wheel         estimate.Estimate[unit.Angle] // the ply as asked
	Washed        estimate.Estimate[unit.Angle] // the same washed and dry
	WashedBalance estimate.Estimate[unit.Angle] // where it would rest

	Excess      estimate.Estimate[rest.Share] // ply turns beyond balance, as a share; under zero short of it
	Over, Under rest.Share                    // how likely it is over-plied and under-plied by more than Tolerance
	Verdict     finish.Balance                // the likeliest

	Hangs     yarn.Direction                // in which the skein is likeliest to turn; NoDirection when open or the singles' is not known
	HalfTurns *estimate.Estimate[HalfTurns] // nil without a diameter

	Length, Diameter, Grist estimate.Estimate[Factor] // washed / at the wheel; Grist is of the linear density

	Flags estimate.Flags
}

// Tolerance is the share of its ply turns by which a skein may miss balance and
// still hang open. An assumption without a source.
const Tolerance rest.Share = 0.06

func (q Question) check() error {
	if q.Strands < 2 || q.Strands > 4 {
		return refuse("Choose 2, 3 or 4 strands.", "A ply of %d strands is not covered.", q.Strands)
	}
	if q.Line != yarn.VisibleBorder && q.Line != yarn.StrandCentre {
		return refuse("Choose the visible border or the strand centre.", "A forecast on the %s is not covered.", q.Line)
	}
	if q.Rested < 0 {
		return refuse("Give the days since the singles were spun.", "A rest of %.1f hours is not possible.", q.Rested.Hours())
	}
	if err := q.Room.Check(); err != nil {
		return err
	}
	if q.Wheel != nil {
		if deg := q.Wheel.Degrees(); !(deg >= 1 && deg <= 70) {
			return refuse("Firm plies show 30 to 45 degrees.", "A ply of %.4g degrees at the wheel is outside 1 to 70.", deg)
		}
	}
	return q.checkThickness()
}

func (q Question) checkThickness() error {
	if d := q.Diameter; d != nil && !(d.Millimetres() > 0.05 && d.Millimetres() < 50) {
		return refuse("Give the singles' diameter, or their wraps per inch or centimetre.", "Singles %s thick are not yarn.", d.Metric())
	}
	if !(q.DiameterCV >= 0 && q.DiameterCV <= 1) {
		return refuse("Give it as a share between 0 and 1.", "A coefficient of variation of %.4g makes no sense.", float64(q.DiameterCV))
	}
	if q.Turns != nil && q.Diameter == nil {
		return refuse("Give the diameter too, or the angle of the ply.", "Turns alone do not say how steep a ply is.")
	}
	if q.Turns != nil && !(*q.Turns > 0 && *q.Turns < 5000) {
		return refuse("Hand-plied yarn has 20 to 1000 turns per metre.", "%.4g turns per metre are no ply.", float64(*q.Turns))
	}
	if !(q.Hanging >= 0 && q.Hanging <= 10*unit.Metre) {
		return refuse("Give the length of the hanging loop, usually 0.4 to 0.8 m.", "A skein does not hang %s long.", q.Hanging.Metric())
	}
	return nil
}

// Forecast answers a question by draws from the posterior. It refuses with a
// *rest.Error questions that make no sense, bobbins that are not in the record,
// and fibres that twist by themselves.
func (p *Posterior) Forecast(q Question) (*Forecast, error) {
	if err := q.check(); err != nil {
		return nil, err
	}
	stock, err := p.stock(q)
	if err != nil {
		return nil, err
	}
	w := p.weave(q, stock)
	out := &Forecast{Line: q.Line, Flags: p.flags(q)}
	w.balance(out)
	w.wash(out)
	w.hang(out)
	return out, nil
}

// strand is one bobbin of a question.
type strand struct {
	block int // -1 for a new one
	fibre string
	read  bool // a ply-back of it was read
}

func (p *Posterior) stock(q Question) (out []strand, err error) {
	if len(q.Bobbins) == 0 {
		out = []strand{{-1, q.Fibre, false}}
	}
	for _, id := range q.Bobbins {
		block, ok := p.fitter.bobbins[id]
		if !ok {
			return nil, refuse("Choose bobbins of which something was read, or none for a new one.", "There is no bobbin %q in the record.", id)
		}
		b := p.record.Bobbins[block]
		out = append(out, strand{block, b.Fibre, len(b.Clips) > 0})
	}
	for _, s := range out {
		if rest.TwistsByItself(s.fibre) {
			return nil, refuse("Judge it by a piece plied, washed and dried.", "%s twists by itself as it takes up or gives off water, which is not covered.", s.fibre)
		}
	}
	return out, nil
}

// flags are what every number of a forecast carries.
func (p *Posterior) flags(q Question) estimate.Flags {
	flags := estimate.Flags{estimate.Modelled}
	if p.record.Readings() < 3 {
		flags = flags.With(estimate.FewReadings)
	}
	oldest := time.Duration(0)
	for _, b := range p.record.Bobbins {
		for _, c := range b.Clips {
			oldest = max(oldest, c.Age)
		}
	}
	if oldest > 0 && q.Rested > 4*oldest {
		flags = flags.With(estimate.Extrapolated)
	}
	return flags
}

// woven are the columns from which a forecast is made.
type woven struct {
	q       Question
	sampler *estimate.Sampler
	n       int // readings behind it

	eye, damp, length, width []float64
	residue                  []float64    // of the soak, in standard deviations
	stiffness                []float64    // log k
	wake                     []float64    // log tan of the balanced two-ply, soaked
	asleep                   []rest.Share // dormant share

	balanced []yarn.CentreAngle // ply in balance, re-wet
	wheel    []float64          // tan of the ply at the wheel, on the centre line
	excess   []rest.Share
}

// weave draws everything that a forecast needs, bobbins averaged as their
// strands share the torque.
func (p *Posterior) weave(q Question, stock []strand) *woven {
	qs := []quantity{p.eye(), p.logDamp(), p.logWash(q.Preparation, prepLength), p.logWash(q.Preparation, prepDiameter),
		shared(atResidue, 0, 1)}
	rested := sighting{age: q.Rested, room: q.Room}
	for _, s := range stock {
		turns := p.singles(s.block)
		if s.read {
			turns = p.wake(s.block, s.fibre)
		}
		qs = append(qs, p.logStiffness(s.fibre), turns)
	}
	// Last, so that a longer rest leaves the draws of all else as they are.
	for _, s := range stock {
		qs = append(qs, p.asleep(s.block, s.fibre, rested))
	}
	w := &woven{q: q, sampler: estimate.NewSampler(drawCount, seed), n: p.record.Readings()}
	columns := p.draw(w.sampler, qs...)
	w.eye, w.damp, w.length, w.width, w.residue = columns[0], columns[1], columns[2], columns[3], columns[4]
	w.stiffness, w.wake, w.asleep = make([]float64, drawCount), make([]float64, drawCount), make([]rest.Share, drawCount)
	n := float64(len(stock))
	own, asleep := columns[5:], columns[5+2*len(stock):]
	for i := range drawCount {
		var tan float64
		for j, s := range stock {
			logK := own[2*j][i]
			w.stiffness[i] += logK / n
			tan += math.Exp(s.wakes(own[2*j+1][i], logK, w.left(i))) / n
			w.asleep[i] += rest.Share(1 / (1 + math.Exp(-asleep[j][i])) / n)
		}
		w.wake[i] = min(math.Log(tan), steepestWake)
	}
	return w
}

// left is the share of the twist that the soak leaves asleep in draw i.
func (w *woven) left(i int) float64 {
	left, _ := residue(w.residue[i], fullSoak)
	return left
}

// steepestWake is log tan of the steepest two-ply taken as a balance, 44
// degrees: nearer to 45 the needed twist grows without bound.
const steepestWake = -0.0349

// wakes is the log tangent of a bobbin's two-ply in a draw.
func (s strand) wakes(turns, logK, left float64) float64 {
	if s.read {
		return turns
	}
	eta, _ := logTurns(turns)
	y, _, _ := plyback(eta+math.Log1p(-left), logK)
	return y
}

// border is tan on the question's line / tan on the centre line in draw i.
func (w *woven) border(i int) float64 {
	if w.q.Line == yarn.StrandCentre {
		return 1
	}
	log, _ := border(w.q.Strands, w.eye[i])
	return math.Exp(log)
}

// angles are tangents of the centre line as angles on the question's line.
func (w *woven) angles(tan func(i int) float64, state estimate.State, load estimate.Load) estimate.Estimate[unit.Angle] {
	out := make([]unit.Angle, drawCount)
	for i := range out {
		out[i] = unit.Atan(tan(i) * w.border(i))
	}
	e := settle(w, out, state)
	e.Load = load
	return e
}

func settle[T ~float64](w *woven, draws []T, state estimate.State) estimate.Estimate[T] {
	e := estimate.FromDraws(draws)
	e.N, e.State, e.Flags = w.n, state, estimate.Flags{estimate.Modelled}
	return e
}

// balance fills in where the ply rests, awake and as the singles are now.
func (w *woven) balance(out *Forecast) {
	n := w.q.Strands
	w.balanced = make([]yarn.CentreAngle, drawCount)
	dry := make([]float64, drawCount)
	for i := range drawCount {
		k := math.Exp(w.stiffness[i])
		s := math.Exp(w.wake[i])
		t, _ := liveliness(s, k)
		w.balanced[i] = balanced(n, k, t)
		dry[i] = math.Tan(float64(balanced(n, k, t*(1-float64(w.asleep[i]))/(1-w.left(i)))))
	}
	out.Dormant = settle(w, w.asleep, estimate.Rested)
	out.DryLook = w.angles(func(i int) float64 { return dry[i] }, estimate.Rested, estimate.Free)
	out.Target = w.angles(w.target, estimate.Rewet, estimate.Free)
	out.WashedBalance = w.angles(w.washedBalance, estimate.Washed, estimate.Free)
	out.WheelLook = w.angles(func(i int) float64 { return w.washedBalance(i) * math.Exp(w.length[i]-w.width[i]) }, estimate.Rested, estimate.AtWheel)
}

func (w *woven) target(i int) float64 { return math.Tan(float64(w.balanced[i])) }

func (w *woven) washedBalance(i int) float64 { return w.target(i) * math.Exp(w.damp[i]) }

// wash takes the ply as asked through the wash.
func (w *woven) wash(out *Forecast) {
	w.wheel = w.atWheel(out.WheelLook.Value)
	w.excess = make([]rest.Share, drawCount)
	over, under := 0, 0
	for i := range drawCount {
		rests := w.washedBalance(i)
		w.excess[i] = rest.Share(turnsOf(w.q.Strands, w.washed(i))/turnsOf(w.q.Strands, rests) - 1)
		switch {
		case w.excess[i] > Tolerance:
			over++
		case w.excess[i] < -Tolerance:
			under++
		}
	}
	out.Wheel = w.angles(func(i int) float64 { return w.wheel[i] }, estimate.Rested, estimate.AtWheel)
	out.Washed = w.angles(w.washed, estimate.Washed, estimate.Free)
	out.Excess = settle(w, w.excess, estimate.Washed)
	out.Over, out.Under = rest.Share(over)/drawCount, rest.Share(under)/drawCount
	switch open := 1 - out.Over - out.Under; {
	case out.Over >= open && out.Over >= out.Under:
		out.Verdict = finish.OverPlied
	case out.Under >= open:
		out.Verdict = finish.UnderPlied
	}
	out.Length = settle(w, factors(w.length, 1), estimate.Washed)
	out.Diameter = settle(w, factors(w.width, 1), estimate.Washed)
	out.Grist = settle(w, factors(w.length, -1), estimate.Washed)
}

func factors(logs []float64, power float64) []Factor {
	out := make([]Factor, len(logs))
	for i, v := range logs {
		out[i] = Factor(math.Exp(power * v))
	}
	return out
}

func (w *woven) washed(i int) float64 { return w.wheel[i] * math.Exp(w.width[i]-w.length[i]) }

// atWheel is the tangent of the ply as asked, on the centre line. An angle is
// held on its line: the spinner plies to what the eye sees.
func (w *woven) atWheel(look unit.Angle) []float64 {
	out := make([]float64, drawCount)
	thickness := w.thickness()
	for i := range out {
		switch {
		case w.q.Turns != nil:
			b, _ := yarn.AngleOf(w.q.Strands, *w.q.Turns, thickness[i])
			out[i] = math.Tan(float64(b))
		case w.q.Wheel != nil:
			out[i] = w.q.Wheel.Tan() / w.border(i)
		default:
			out[i] = look.Tan() / w.border(i)
		}
	}
	return out
}

// thickness is the diameter of the singles; nil when not known.
func (w *woven) thickness() []unit.Length {
	if w.q.Diameter == nil {
		return nil
	}
	out := make([]unit.Length, drawCount)
	for i, v := range w.sampler.LogNormal(1, max(float64(w.q.DiameterCV), 1e-6)) {
		out[i] = *w.q.Diameter * unit.Length(v)
	}
	return out
}

// turnsOf is in proportion to the turns of a ply whose strands lie at tan b.
func turnsOf(n int, tan float64) float64 {
	if n == 2 {
		return tan
	}
	return tan / yarn.ContactRadius(n, yarn.CentreAngle(math.Atan(tan)))
}

// Share of the unbalanced turns that a hanging skein works off: it turns about
// (U - U*) times its length at most, and less as it stiffens. An assumption
// without a source.
const leastHang, mostHang = 0.3, 1.0

// hang fills in the hang test.
func (w *woven) hang(out *Forecast) {
	if out.Verdict == finish.OverPlied {
		out.Hangs = w.q.Singles
	} else if out.Verdict == finish.UnderPlied {
		out.Hangs = w.q.Singles.Opposite()
	}
	if w.q.Diameter == nil {
		return
	}
	length := w.q.Hanging
	if length == 0 {
		length = UsualHanging
	}
	thickness, share := w.thickness(), w.sampler.Uniform(leastHang, mostHang)
	turns := make([]HalfTurns, drawCount)
	for i := range turns {
		rests := yarn.CentreAngle(math.Atan(w.washedBalance(i)))
		washed := thickness[i] * unit.Length(math.Exp(w.width[i]))
		balance := float64(yarn.Turns(w.q.Strands, rests, washed))
		turns[i] = HalfTurns(2 * float64(w.excess[i]) * balance * length.Metres() * share[i])
	}
	e := settle(w, turns, estimate.Washed)
	out.HalfTurns = &e
}
