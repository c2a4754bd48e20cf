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
	k        []float64
	dried    []float64 // log tan re-wet-dried minus re-wet; nil without such a sample
	dry      []float64 // log tan of the dry samples on the centre line; nil without
	dormant  []Share   // nil without dry samples
	sight    []sight   // the re-wet samples
	readings int
	places   []string
	flags    estimate.Flags
	slope    float64 // d log tan b / d log turns
}

// hear turns a bobbin's samples into draws.
func hear(b Bobbin, line yarn.Line, border []float64, s *estimate.Sampler) (word, error) {
	w := word{name: b.Name}
	state := estimate.Rewet
	clips := b.in(state)
	if len(clips) == 0 {
		state = estimate.RewetDried
		clips = b.in(state)
	}
	if len(clips) == 0 {
		return w, refuse("Soak a ply-back for 20 to 30 minutes in cool water with a drop of detergent and read it wet: only water shows the twist that sleeps.",
			"%s has no re-wet sample.", capital(b.called()))
	}
	w.sight = sights(clips, line)
	w.note(clips)
	w.slope = slopeAt(w.sight, line, b.singlesOrPrior())
	y, sd := whole(w.sight, w.slope)
	w.own = s.Normal(y, sd)
	w.centre = toCentre(w.own, line, border)
	w.k = drawStiffness(w.centre, b.singlesOrPrior(), s)
	if other := b.in(estimate.RewetDried); state == estimate.Rewet && len(other) > 0 {
		yd, sdd := whole(sights(other, line), w.slope)
		w.dried = s.Normal(yd-y, math.Hypot(sdd, readingSD(w.sight)))
	}
	return w, w.hearDry(b, border, s)
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

func sights(clips []Clip, line yarn.Line) []sight {
	out := make([]sight, len(clips))
	for i, c := range clips {
		y, sd := c.pooled(line)
		out[i] = sight{y, sd, c.Depth, c.Place}
	}
	return out
}

// note counts the readings and raises the conditions of the re-wet clips.
func (w *word) note(clips []Clip) {
	for _, c := range clips {
		w.readings += len(c.Readings)
		if !slices.Contains(w.places, w.name+"\x00"+c.Place) {
			w.places = append(w.places, w.name+"\x00"+c.Place)
		}
		if c.Soak > 0 && c.Soak < 20 {
			w.flags = w.flags.With(ShortSoak)
		}
		if standsApart(c.Readings) {
			w.flags = w.flags.With(OutlyingAngle)
		}
		for _, r := range c.Readings {
			if r.Line == yarn.StrandCentre && yarn.CentreAngle(r.Angle) >= yarn.Limit(2) {
				w.flags = w.flags.With(PastLimit, estimate.Extrapolated)
			}
		}
	}
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

func readingSD(sights []sight) float64 {
	var precision float64
	for _, s := range sights {
		precision += 1 / (s.sd * s.sd)
	}
	return 1 / math.Sqrt(precision)
}

// toCentre maps log tangents of a line to the centre line.
func toCentre(own []float64, line yarn.Line, border []float64) []float64 {
	if line == yarn.StrandCentre {
		return own
	}
	out := make([]float64, len(own))
	for i, y := range own {
		out[i] = y - math.Log(borderRatio(2, border[i]))
	}
	return out
}

// slopeAt is the sensitivity at the middle of the samples and of k.
func slopeAt(sights []sight, line yarn.Line, singles SinglesReading) float64 {
	var y float64
	for _, s := range sights {
		y += s.y / float64(len(sights))
	}
	b := angle(toCentre([]float64{y}, line, []float64{0})[0])
	return sensitivity(b, stiffness(b, singles, 0.5))
}

func angle(logTan float64) yarn.CentreAngle { return yarn.CentreAngle(math.Atan(math.Exp(logTan))) }

func drawStiffness(centre []float64, singles SinglesReading, s *estimate.Sampler) []float64 {
	out := s.Uniform(0, 1)
	for i, p := range out {
		out[i] = float64(stiffness(angle(centre[i]), singles, p))
	}
	return out
}

// hearDry draws the dormant share from pairs of a dry and a re-wet sample:
// 1 - f = t(b_dry)/t(b_rewet), the living twist of one over that of the other.
func (w *word) hearDry(b Bobbin, border []float64, s *estimate.Sampler) error {
	clips := b.in(estimate.Fresh, estimate.Rested)
	if len(clips) == 0 {
		return nil
	}
	seen := sights(clips, yarn.StrandCentre)
	// Eye readings all pass through the same eye: its border is drawn once.
	byEye := clips[0].Readings[0].Line == yarn.VisibleBorder
	if byEye {
		seen = sights(clips, yarn.VisibleBorder)
	}
	y, sd := dryMean(seen)
	w.dry = s.Normal(y, sd)
	if byEye {
		w.dry = toCentre(w.dry, yarn.VisibleBorder, border)
	}
	against := w.against(b, clips, border, s)
	if err := w.steeperDry(b, against); err != nil {
		return err
	}
	w.share(against, s)
	if outermost(clips) {
		w.flags = w.flags.With(OuterOnly)
	}
	return nil
}

// dryMean is the precision-weighted mean of the dry samples.
func dryMean(seen []sight) (y, sd float64) {
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
func (w *word) against(b Bobbin, dry []Clip, border []float64, s *estimate.Sampler) []float64 {
	var same []Clip
	for _, c := range b.in(estimate.Rewet, estimate.RewetDried) {
		if slices.ContainsFunc(dry, func(d Clip) bool { return d.Place == c.Place }) {
			same = append(same, c)
		}
	}
	if len(same) == 0 {
		off := s.Normal(0, w.slope*PlaceCV*math.Sqrt2)
		for i := range off {
			off[i] += w.centre[i]
		}
		return off
	}
	line := yarn.StrandCentre
	if same[0].Readings[0].Line == yarn.VisibleBorder {
		line = yarn.VisibleBorder
	}
	y, sd := dryMean(sights(same, line))
	return toCentre(s.Normal(y, sd), line, border)
}

// steeperDry refuses a dry reading that is steeper than the re-wet one by more
// than the readings can err.
func (w *word) steeperDry(b Bobbin, rewet []float64) error {
	differences := make([]float64, len(rewet))
	for i := range rewet {
		differences[i] = rewet[i] - w.dry[i]
	}
	e := estimate.FromDraws(differences)
	if e.High < 0 {
		return refuse("Check that the two were not swapped, that the dry one is a ply-back of resting singles and not of finished yarn, and that the wet one soaked right through; then read again.",
			"On %s the dry sample reads steeper (%.1f degrees) than the re-wet one (%.1f degrees): water wakes twist, it does not put it to sleep.",
			b.called(), angle(estimate.FromDraws(w.dry).Value).Degrees(), angle(estimate.FromDraws(rewet).Value).Degrees())
	}
	if e.Low < 0 {
		w.flags = w.flags.With(NoDormancy)
	}
	return nil
}

// share fills in the dormant share. A soak leaves up to a tenth asleep (prior).
func (w *word) share(rewet []float64, s *estimate.Sampler) {
	left := s.Uniform(0, 0.1)
	w.dormant = make([]Share, len(rewet))
	for i := range rewet {
		k := yarn.Stiffness(w.k[i])
		ratio := living(2, k, angle(w.dry[i])) / living(2, k, angle(rewet[i]))
		w.dormant[i] = Share(max(0, 1-float64(ratio)*(1-left[i])))
	}
}

// outermost reports whether all dry clips came from the outer third.
func outermost(clips []Clip) bool {
	return !slices.ContainsFunc(clips, func(c Clip) bool { return c.Depth > 1.0/3 })
}
