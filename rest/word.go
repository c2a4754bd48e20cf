package rest

import (
	"math"
	"slices"

	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// word is what the samples of one bobbin say, as draws.
type word struct {
	name     string
	own      []float64 // log tan of the whole bobbin's re-wet ply-back, on the answer's line
	centre   []float64 // the same on the centre line
	dried    []float64 // log tan re-wet-dried minus re-wet; nil without such a sample
	dry      []float64 // log tan of the dry samples on the centre line; nil without
	dormant  []Share   // nil without dry samples
	sight    []sight   // the samples of which the target is taken
	readings int
	places   []string
	flags    estimate.Flags
	slope    float64 // d log tan b / d log turns
	spread   float64 // standard deviation of the log tangent from place to place
	undamped bool    // taken from a dried sample: its re-wet angle is modelled
}

// columns are the draws that all bobbins share.
type columns struct {
	border []float64 // of the eye: log of tan border / tan centre, in sd from the median
	damp   []float64 // log of tan dried / tan re-wet
	k      []float64 // wool that is plied together is alike
	held
	*estimate.Sampler
}

// hear turns a bobbin's wet samples into draws.
func hear(b Bobbin, line yarn.Line, c columns) (word, error) {
	w := word{name: b.Name}
	wet, dried := b.in(estimate.Rewet), b.in(estimate.RewetDried)
	if len(wet)+len(dried) == 0 {
		return w, refuse("Soak a ply-back for 20 to 30 minutes in cool water with a drop of detergent and read it wet: only water shows the twist that sleeps.",
			"%s has no re-wet sample.", capital(b.called()))
	}
	w.undamped = len(wet) == 0
	if w.undamped {
		wet = dried
	}
	w.slope = c.slopeAt(sights(wet, line, c.held), line, c.singlesOf(b))
	w.sight = c.woken(wet, line, w.slope)
	w.note(wet, c.held)
	w.spread = c.placeSpread(w.slope)
	w.rewet(dried, line, c)
	w.centre = c.toCentre(w.own, line, c.border)
	return w, nil
}

// rewet draws the whole bobbin's re-wet angle, and its step to dry where a
// dried sample shows it.
func (w *word) rewet(dried []Clip, line yarn.Line, c columns) {
	y, sd := whole(w.sight, w.spread)
	w.own = c.Normal(y, sd)
	switch {
	case w.undamped:
		w.dried = c.damp
		for i := range w.own {
			w.own[i] -= c.damp[i]
		}
	case len(dried) > 0:
		yd, sdd := mean(c.woken(dried, line, w.slope))
		yw, sdw := mean(w.sight)
		w.dried = c.Normal(yd-yw, math.Hypot(sdd, sdw))
	}
}

// in returns the clips of a state.
func (b Bobbin) in(states ...estimate.State) (out []Clip) {
	for _, c := range b.Clips {
		if slices.Contains(states, c.State) {
			out = append(out, c)
		}
	}
	return out
}

func sights(clips []Clip, line yarn.Line, h held) []sight {
	out := make([]sight, len(clips))
	for i, c := range clips {
		y, sd := c.pooled(line, h)
		out[i] = sight{y, sd, c.Depth, c.Place}
	}
	return out
}

// woken are the sights of wet clips as a full soak would have shown them. slope
// is d log tan b / d log turns.
func (h held) woken(wet []Clip, line yarn.Line, slope float64) []sight {
	out := sights(wet, line, h)
	for i, c := range wet {
		more, sd := h.asleepStill(c.Soak)
		out[i].y += slope * more
		out[i].sd = math.Hypot(out[i].sd, slope*sd)
	}
	return out
}

// asleepStill is the log of the twist that a full soak wakes over that which a
// soak of some minutes wakes, with its standard deviation: what either leaves
// asleep is evenly likely up to its most, and wool that wakes slowly does so in
// both.
func (h held) asleepStill(minutes float64) (more, sd float64) {
	full, most := h.SoakResidue, ResidueAfter(h.SoakResidue, minutes)
	if most == full {
		return 0, 0
	}
	var steps [20]float64
	for i := range steps {
		u := (Share(i) + 0.5) / Share(len(steps))
		steps[i] = math.Log1p(-float64(full*u)) - math.Log1p(-float64(most*u))
	}
	return estimate.Mean(steps[:]), estimate.SD(steps[:])
}

// note counts the readings and raises the conditions of the re-wet clips.
func (w *word) note(clips []Clip, h held) {
	for _, c := range clips {
		w.readings += len(c.Readings)
		if !slices.Contains(w.places, w.name+"\x00"+c.Place) {
			w.places = append(w.places, w.name+"\x00"+c.Place)
		}
		if c.Soak > 0 && c.Soak < FullSoak {
			w.flags = w.flags.With(ShortSoak, estimate.Modelled)
		}
		if standsApart(c.Readings) {
			w.flags = w.flags.With(OutlyingAngle)
		}
		for _, r := range c.Readings {
			if r.Angle >= h.steepest(r.Line) {
				w.flags = w.flags.With(PastLimit, estimate.Extrapolated)
			}
		}
	}
}

// steepest is the angle on a line past which no balanced two-ply shows itself: the
// limit of the centre line, or the border that a soft ply at the limit shows at
// most (the upper end of the 90 % range of the ratio).
func (h held) steepest(line yarn.Line) unit.Angle {
	limit := unit.Angle(yarn.Limit(2))
	if line == yarn.StrandCentre {
		return limit
	}
	return unit.Atan(limit.Tan() * h.borderRatio(2, estimate.Reach))
}

// standsApart reports a reading further from the median of its clip than
// readings by one hand wander: a slip of the pen, like 73 for 37.
func standsApart(readings []Reading) bool {
	if len(readings) < 3 {
		return false
	}
	angles := make([]unit.Angle, len(readings))
	for i, r := range readings {
		angles[i] = r.Angle
	}
	slices.Sort(angles)
	middle := estimate.Quantile(angles, 0.5)
	for _, r := range readings {
		if math.Abs(float64(r.Angle-middle)) > 3.5*float64(r.SD) {
			return true
		}
	}
	return false
}

// toCentre maps log tangents of a line to the centre line.
func (h held) toCentre(own []float64, line yarn.Line, border []float64) []float64 {
	if line == yarn.StrandCentre {
		return own
	}
	out := make([]float64, len(own))
	for i, y := range own {
		out[i] = y - math.Log(h.borderRatio(2, border[i]))
	}
	return out
}

// slopeAt is the sensitivity at the middle of the samples and of k.
func (h held) slopeAt(sights []sight, line yarn.Line, singles SinglesReading) float64 {
	var y float64
	for _, s := range sights {
		y += s.y / float64(len(sights))
	}
	b := angle(h.toCentre([]float64{y}, line, []float64{0})[0])
	return sensitivity(b, h.stiffness(0.5, balance{b, singles}))
}

func angle(logTan float64) yarn.CentreAngle { return yarn.CentreAngle(math.Atan(math.Exp(logTan))) }

// drawStiffness draws the k of the wool in all bobbins.
func (c columns) drawStiffness(bobbins []Bobbin, words []word) []float64 {
	out := c.Uniform(0, 1)
	plied := make([]balance, len(words))
	for i, p := range out {
		for j, w := range words {
			plied[j] = balance{angle(w.centre[i]), c.singlesOf(bobbins[j])}
		}
		out[i] = float64(c.stiffness(p, plied...))
	}
	return out
}

// hearDry draws the dormant share from pairs of a dry and a re-wet sample:
// 1 - f = t(b_dry)/t(b_rewet), the living twist of one over that of the other.
func (w *word) hearDry(b Bobbin, line yarn.Line, c columns) error {
	clips := b.in(estimate.Fresh, estimate.Rested)
	if len(clips) == 0 {
		return nil
	}
	// Eye readings all pass through the same eye: its border is drawn once.
	own := lineOf(clips)
	y, sd := mean(sights(clips, own, c.held))
	w.dry = c.toCentre(c.Normal(y, sd), own, c.border)
	against := w.against(b, clips, c)
	if err := w.steeperDry(b, sights(clips, line, c.held)); err != nil {
		return err
	}
	w.noteDry(clips, against)
	w.share(against, c)
	return nil
}

// mean is the precision-weighted mean of samples.
func mean(seen []sight) (y, sd float64) {
	var precision float64
	for _, d := range seen {
		p := 1 / (d.sd * d.sd)
		y += d.y * p
		precision += p
	}
	return y / precision, 1 / math.Sqrt(precision)
}

// against draws the re-wet log tangent that the dry samples are compared with:
// that of the same place where there is one, else of anywhere on the bobbin.
func (w *word) against(b Bobbin, dry []Clip, c columns) []float64 {
	var same []Clip
	for _, one := range b.in(estimate.Rewet) {
		if slices.ContainsFunc(dry, func(d Clip) bool { return d.Place == one.Place }) {
			same = append(same, one)
		}
	}
	if len(same) == 0 {
		off := c.Normal(0, w.spread*math.Sqrt2)
		for i := range off {
			off[i] += w.centre[i]
		}
		return off
	}
	line := lineOf(same)
	y, sd := mean(c.woken(same, line, w.slope))
	return c.toCentre(c.Normal(y, sd), line, c.border)
}

// steeperDry refuses dry readings that are steeper than the re-wet ones by more
// than readings can err. It compares angles and not their logarithms, whose
// spread grows without bound for soft plies.
func (w *word) steeperDry(b Bobbin, dry []sight) error {
	yd, sdd := mean(dry)
	yw, sdw := mean(w.sight)
	steep, wet := float64(angle(yd)), float64(angle(yw))
	err := math.Hypot(sdd*math.Sin(steep)*math.Cos(steep), sdw*math.Sin(wet)*math.Cos(wet))
	if steep-wet <= estimate.Reach*err {
		return nil
	}
	return refuse("Check that the two were not swapped, that the dry one is a ply-back of resting singles and not of finished yarn, and that the wet one soaked right through; then read again.",
		"On %s the dry sample reads steeper (%.1f degrees) than the re-wet one (%.1f degrees): water wakes twist, it does not put it to sleep.",
		b.called(), angle(yd).Degrees(), angle(yw).Degrees())
}

// noteDry raises the conditions of the dry samples.
func (w *word) noteDry(clips []Clip, rewet []float64) {
	differences := make([]float64, len(rewet))
	for i := range rewet {
		differences[i] = rewet[i] - w.dry[i]
	}
	if estimate.FromDraws(differences).Low < 0 {
		w.flags = w.flags.With(NoDormancy)
	}
	if outermost(clips) {
		w.flags = w.flags.With(OuterOnly)
	}
}

// share fills in the dormant share.
func (w *word) share(rewet []float64, c columns) {
	left := c.Uniform(0, float64(c.SoakResidue))
	w.dormant = make([]Share, len(rewet))
	for i := range rewet {
		k := yarn.Stiffness(c.k[i])
		ratio := living(2, k, angle(w.dry[i])) / living(2, k, angle(rewet[i]))
		w.dormant[i] = Share(max(0, 1-float64(ratio)*(1-left[i])))
	}
}

// outermost reports whether all dry clips came from the outer third.
func outermost(clips []Clip) bool {
	return !slices.ContainsFunc(clips, func(c Clip) bool { return c.Depth > 1.0/3 })
}
