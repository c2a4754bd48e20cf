package wheel

import (
	"math"
	"time"

	"waketwist/estimate"
	"waketwist/unit"
)

// Count is turns of what a whorl drives, counted while the drive wheel is turned
// slowly by hand: put a flag on flyer or bobbin, turn ten times, count. Diameters
// of whorls mislead, because the band sits down in the groove. For a spindle it is
// turns counted over flicks.
type Count struct {
	Turns    Turns    // 1 to 100,000, read to half a turn
	Treadles Treadles // 1 to 10,000, back to a mark within a fiftieth of a turn
}

// Whorl is a whorl that the spinner owns, by what was counted on it or, failing
// that, by what is said of it.
type Whorl struct {
	Name   string
	Stated Ratio // 0.2 to 500; used only where nothing was counted
	Counts []Count
}

// tally is a number n over a number m, each off by up to so much either way.
type tally struct{ n, m, nOff, mOff float64 }

// statedOff is by how much a figure that nobody measured may be off, nine times in
// ten: an assumption.
const statedOff = 0.03

// Ratio returns the whorl's ratio with its spread. It refuses with an *Error
// counts that cannot be meant or contradict each other.
func (w Whorl) Ratio() (estimate.Estimate[Ratio], error) {
	draws, err := w.draws(estimate.NewSampler(rows, 1))
	if err != nil {
		return estimate.Estimate[Ratio]{}, err
	}
	e := estimate.FromDraws(apply(func(i int) Ratio { return Ratio(draws[i]) }))
	e.N, e.Flags = len(w.Counts), w.flags()
	return e, nil
}

func (w Whorl) flags() (fs estimate.Flags) {
	switch n := len(w.Counts); {
	case n == 0:
		return fs.With(NotCounted)
	case n < 3:
		return fs.With(estimate.FewReadings)
	}
	return fs
}

func (w Whorl) draws(s *estimate.Sampler) ([]float64, error) {
	if len(w.Counts) == 0 {
		if !within(w.Stated, 0.2, 500) {
			return nil, refuse("Put a flag on what it drives, turn the wheel ten times by hand and count; wheels have 3 to 40.", "A ratio of %.4g turns a treadle cannot be meant.", float64(w.Stated))
		}
		return stated(float64(w.Stated), s), nil
	}
	tallies := make([]tally, len(w.Counts))
	for i, c := range w.Counts {
		if !within(c.Turns, 1, 1e5) || !within(c.Treadles, 1, 1e4) {
			return nil, refuse("Count at least one turn over at least one treadle; ten treadles tell more.", "%.4g turns over %.4g treadles are no count.", float64(c.Turns), float64(c.Treadles))
		}
		tallies[i] = tally{float64(c.Turns), float64(c.Treadles), 0.5, 0.02}
	}
	return pooled(tallies, s)
}

func stated(v float64, s *estimate.Sampler) []float64 {
	return s.LogNormal90(v/(1+statedOff), v*(1+statedOff))
}

// pooled puts tallies together: all turns over all treadles, with what each may be
// off and what they differ among each other.
func pooled(tallies []tally, s *estimate.Sampler) ([]float64, error) {
	scatter, err := scatterOf(tallies)
	if err != nil {
		return nil, err
	}
	n, m := even(0), even(0)
	for _, t := range tallies {
		nOff, mOff := s.Uniform(-t.nOff, t.nOff), s.Uniform(-t.mOff, t.mOff)
		for i := range n {
			n[i] += t.n + nOff[i]
			m[i] += t.m + mOff[i]
		}
	}
	factor := s.LogNormal(1, scatter)
	return apply(func(i int) float64 { return n[i] / m[i] * factor[i] }), nil
}

// scatterOf is the standard error of the mean of the tallies' logarithms.
func scatterOf(tallies []tally) (float64, error) {
	logs := make([]float64, len(tallies))
	low, high := math.Inf(1), math.Inf(-1)
	for i, t := range tallies {
		logs[i] = math.Log(t.n / t.m)
		low, high = min(low, logs[i]), max(high, logs[i])
	}
	if high-low > math.Ln2 {
		return 0, refuse("Count again, and leave out the one that went wrong.", "The counts contradict each other: %.4g and %.4g.", math.Exp(low), math.Exp(high))
	}
	return estimate.SD(logs) / math.Sqrt(float64(len(logs))), nil
}

// Slip is the grip of the band, evenly likely between two bounds. The zero Slip is
// not known.
type Slip struct{ Low, High Grip }

// NoSlip is a band that passes every turn on.
var NoSlip = Slip{1, 1}

// LeastGrip is the grip left by the largest loss that was measured on a wheel at
// work, 39 % on a lace flyer (common practice).
const LeastGrip Grip = 0.61

func (s Slip) known() bool { return s != Slip{} }

func (s Slip) check() error {
	if s.known() && (!within(s.Low, 0.1, 1) || !within(s.High, s.Low, 1)) {
		return refuse("Give the share of the turns that arrives, from 0.1 to 1; 0.61 to 1 have been measured.", "A grip of %.4g to %.4g cannot be meant.", float64(s.Low), float64(s.High))
	}
	return nil
}

// draws of a grip that is not known lie between LeastGrip and 1, by the cube of an
// even chance: half of all lose less than a twentieth. That shape is an assumption.
func (s Slip) draws(from *estimate.Sampler) []float64 {
	if s.known() {
		return from.Uniform(float64(s.Low), float64(s.High))
	}
	out := from.Uniform(0, 1)
	for i, p := range out {
		out[i] = 1 - float64(1-LeastGrip)*p*p*p
	}
	return out
}

// SlipFrom returns the grip that the speed of what the whorl drives, seen at work,
// shows against the counted ratio at a rhythm. It may come out a little over 1,
// which is the counting's doing. It refuses with an *Error what cannot be meant,
// and speeds that the wheel cannot drive.
func SlipFrom(w Whorl, r Rhythm, seen Motor) (estimate.Estimate[Grip], error) {
	none := estimate.Estimate[Grip]{}
	if err := checkRhythm(r); err != nil {
		return none, err
	}
	s := estimate.NewSampler(rows, 1)
	ratio, err := w.draws(s)
	if err != nil {
		return none, err
	}
	speed, err := seen.draws(s)
	if err != nil {
		return none, err
	}
	e := estimate.FromDraws(apply(func(i int) Grip { return Grip(speed[i] / ratio[i] / float64(r)) }))
	if e.Low > 1 {
		return none, refuse("Count the ratio again, and the treadles of a whole minute.", "A flyer at %.4g turns a minute is faster than %.4g treadles can drive it.", estimate.FromDraws(speed).Value, float64(r))
	}
	e.N, e.Flags = len(seen.Timings), w.flags().With(seen.flags()...)
	return e, nil
}

func checkRhythm(r Rhythm) error {
	if !within(r, 1, 400) {
		return refuse("Count the treadles of a minute; 60 to 90 are usual.", "%.4g treadles a minute cannot be meant.", float64(r))
	}
	return nil
}

func root(square float64) unit.Length { return unit.Length(math.Sqrt(square)) }

func secondsOf(t time.Duration) Seconds { return Seconds(t.Seconds()) }
