package hand

import (
	"math"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

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
	left, _ := residue(w.residue[i], rest.FullSoak)
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
