package wheel

import (
	"time"

	"waketwist/estimate"
	"waketwist/unit"
)

// Timing is turns of a flyer counted over a time, with what each may be off either
// way: at most half of it. From a tenth of a turn and a tenth of a second are taken.
// Counted, Filmed and Untwisted make one.
type Timing struct {
	Turns, TurnsOff Turns
	Time, TimeOff   Seconds
}

// Counted is a flag on the flyer counted by eye while a watch runs: to half a turn
// and three tenths of a second at the hand (an assumption). Set the motor slow.
func Counted(n Turns, over time.Duration) Timing {
	return Timing{n, 0.5, secondsOf(over), 0.3}
}

// fewestFrames is the number of frames a turn below which a marked arm may have
// gone round once more unseen.
const fewestFrames = 3

// Filmed is turns of a marked arm counted on a film of so many frames at so many
// frames a second: to a tenth of a turn and one frame. It refuses with an *Error
// films of fewer than three frames a turn, on which turns go unseen.
func Filmed(n Turns, frames int, framesPerSecond float64) (Timing, error) {
	if !within(framesPerSecond, 1, 10000) || frames < 1 || frames > 1e7 || !(n > 0) {
		return Timing{}, refuse("Say how many turns, over how many frames, at how many frames a second.", "%.4g turns over %d frames at %.4g a second are no film.", float64(n), frames, framesPerSecond)
	}
	if float64(frames) < fewestFrames*float64(n) {
		return Timing{}, refuse("Film it in slow motion, or set the motor slower.", "%d frames for %.4g turns are too few: a turn can go by unseen between two frames.", frames, float64(n))
	}
	return Timing{n, 0.1, Seconds(float64(frames) / framesPerSecond), Seconds(1 / framesPerSecond)}, nil
}

// Untwisted is the turns counted out of a piece that was held still at the orifice
// for a time: to one turn, and half a second of starting and stopping (an
// assumption).
func Untwisted(n Turns, held time.Duration) Timing {
	return Timing{n, 1, secondsOf(held), 0.5}
}

// Motor is a flyer that runs at one setting of a motor, while yarn winds on.
type Motor struct {
	Stated  Speed // 1 to 20,000; used only where nothing was timed
	Timings []Timing
}

// Speed returns the flyer's speed with its spread. It refuses with an *Error
// timings that cannot be meant or contradict each other.
func (m Motor) Speed() (estimate.Estimate[Speed], error) {
	draws, err := m.draws(estimate.NewSampler(rows, 1))
	if err != nil {
		return estimate.Estimate[Speed]{}, err
	}
	return judged(estimate.FromDraws(apply(func(i int) Speed { return Speed(draws[i]) })), m), nil
}

func judged(e estimate.Estimate[Speed], m Motor) estimate.Estimate[Speed] {
	e.N, e.Flags = len(m.Timings), m.flags()
	return fast(e)
}

// fast flags a speed at which the maker's limit should be asked for.
func fast(e estimate.Estimate[Speed]) estimate.Estimate[Speed] {
	if e.Value > FastSpeed {
		e.Flags = e.Flags.With(FastFlyer)
	}
	return e
}

func (m Motor) flags() (fs estimate.Flags) {
	switch n := len(m.Timings); {
	case n == 0:
		return fs.With(NotMeasured)
	case n < 3:
		return fs.With(estimate.FewReadings)
	}
	return fs
}

func (m Motor) draws(s *estimate.Sampler) ([]float64, error) {
	if len(m.Timings) == 0 {
		if !within(m.Stated, 1, 20000) {
			return nil, refuse("Flyers run at 100 to 2,000; count slow turns, film it, or count turns out of a piece held still.", "%.4g turns a minute cannot be meant.", float64(m.Stated))
		}
		return stated(float64(m.Stated), s), nil
	}
	tallies := make([]tally, len(m.Timings))
	for i, t := range m.Timings {
		if err := t.check(); err != nil {
			return nil, err
		}
		tallies[i] = tally{float64(t.Turns), float64(t.Time) / 60, float64(t.TurnsOff), float64(t.TimeOff) / 60}
	}
	return pooled(tallies, s)
}

func (t Timing) check() error {
	if !(t.TurnsOff >= 0 && t.TimeOff >= 0) || !within(t.Turns, max(2*t.TurnsOff, 0.1), 1e7) || !within(t.Time, max(2*t.TimeOff, 0.1), 1e6) {
		return refuse("Count more turns over a longer time.", "%.4g turns in %.4g seconds are too few to tell a speed.", float64(t.Turns), float64(t.Time))
	}
	return nil
}

// Hold returns how long a draw must be held to take a twist at the motor's speed.
// It refuses with an *Error what cannot be meant.
func (m Motor) Hold(u unit.Twist, draw unit.Length) (estimate.Estimate[Seconds], error) {
	none := estimate.Estimate[Seconds]{}
	if err := checkTarget(u, draw); err != nil {
		return none, err
	}
	speed, err := m.draws(estimate.NewSampler(rows, 1))
	if err != nil {
		return none, err
	}
	turns := u.PerMetre() * draw.Metres()
	e := estimate.FromDraws(apply(func(i int) Seconds { return Seconds(60 * turns / speed[i]) }))
	e.N, e.Flags = len(m.Timings), m.flags()
	return e, nil
}

// PutIn returns the turns that a motor put into a length in a time. It refuses
// with an *Error what cannot be meant.
func (m Motor) PutIn(time Seconds, l unit.Length) (Put, error) {
	if err := checkTime(time); err != nil {
		return Put{}, err
	}
	if err := checkLength(l); err != nil {
		return Put{}, err
	}
	speed, err := m.draws(estimate.NewSampler(rows, 1))
	if err != nil {
		return Put{}, err
	}
	turns := apply(func(i int) Turns { return Turns(speed[i] * float64(time) / 60) })
	return putOf(turns, l, len(m.Timings), m.flags()), nil
}

// SpeedFor returns the flyer speed that puts a twist into a draw in a time,
// whatever drives it: it is exact, and flagged when fast. Over an hour and the
// length spun in it, it is the speed that a rate of spinning needs. It refuses
// with an *Error what cannot be meant.
func SpeedFor(u unit.Twist, draw unit.Length, beat Seconds) (estimate.Estimate[Speed], error) {
	none := estimate.Estimate[Speed]{}
	if err := checkTarget(u, draw); err != nil {
		return none, err
	}
	if err := checkTime(beat); err != nil {
		return none, err
	}
	v := Speed(60 * u.PerMetre() * draw.Metres() / float64(beat))
	return fast(estimate.Estimate[Speed]{Value: v, Low: v, High: v}), nil
}

func checkTarget(u unit.Twist, draw unit.Length) error {
	if err := checkTwist(u); err != nil {
		return err
	}
	return checkLength(draw)
}
