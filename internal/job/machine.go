package job

import (
	"fmt"
	"math"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/wheel"
)

// MachineOf returns a treadled machine of the journal on one whorl and with one of
// its bobbins, with the slip that was learnt on it. Zero leaves a whorl out, for
// wheel.Treadled.Choose, and a bobbin, which only a bobbin-led wheel asks for. It
// refuses with a *journal.Error a motor, parts that the machine does not have, and
// a whorl of which no count stands, and with a *wheel.Error counts that contradict
// each other.
func MachineOf(m journal.Machine, whorl, spool journal.ID) (wheel.Treadled, error) {
	none := wheel.Treadled{}
	if m.Kind == wheel.MotorDriven {
		return none, unfit("%s has a motor and no treadles; choose one of its settings.", m.Name)
	}
	out := wheel.Treadled{Kind: m.Kind, Slip: SlipOf(m)}
	if whorl != 0 {
		w := m.Whorl(whorl)
		if w == nil {
			return none, journal.Missing("whorl", whorl)
		}
		if _, err := RatioOf(*w); err != nil {
			return none, err
		}
		out.Whorl = w.Counted()
	}
	if spool != 0 {
		s := m.Spool(spool)
		if s == nil {
			return none, journal.Missing("bobbin", spool)
		}
		out.Bobbin = spoolSize(*s)
	}
	return out, nil
}

// RatioOf returns the ratio of a whorl with its spread. It refuses with a
// *journal.Error one of which no count stands, and with a *wheel.Error counts that
// contradict each other.
func RatioOf(w journal.Whorl) (estimate.Estimate[wheel.Ratio], error) {
	counted := w.Counted()
	if counted.Stated == 0 && len(counted.Counts) == 0 {
		return estimate.Estimate[wheel.Ratio]{}, unfit("No count of “%s” stands; count it once more, with a flag over ten slow treadles.", w.Name)
	}
	return counted.Ratio()
}

// MotorOf returns the flyer at a setting of a machine's motor. It refuses with a
// *journal.Error a setting that the machine does not have, and one of which no
// timing stands.
func MotorOf(m journal.Machine, setting journal.ID) (wheel.Motor, error) {
	s := m.Setting(setting)
	if s == nil {
		return wheel.Motor{}, journal.Missing("motor setting", setting)
	}
	var out wheel.Motor
	if s.Stated != nil {
		out.Stated = *s.Stated
	}
	for _, t := range s.Timings {
		if t.Struck != "" {
			continue
		}
		timing, err := t.Seen.Timing()
		if err != nil {
			return out, err
		}
		out.Timings = append(out.Timings, timing)
	}
	if len(out.Timings) == 0 && out.Stated == 0 {
		return out, unfit("No timing of “%s” stands; time it once more.", s.Name)
	}
	return out, nil
}

// WhorlsOf returns the whorls of a machine that are in use and have a ratio, as they
// were counted.
func WhorlsOf(m journal.Machine) (out []wheel.Whorl) {
	for _, w := range m.Whorls {
		if _, err := RatioOf(w); w.Struck == "" && err == nil {
			out = append(out, w.Counted())
		}
	}
	return out
}

func spoolSize(s journal.Spool) (b wheel.Bobbin) {
	if s.Core != nil {
		b.Core = *s.Core
	}
	if s.Full != nil {
		b.Full = *s.Full
	}
	return b
}

// Sighting is slip that was seen, with the grip that it shows.
type Sighting struct {
	journal.Slip
	Whorl string                         // name
	Grip  *estimate.Estimate[wheel.Grip] // nil where it shows none
	Why   string                         // why it shows none
}

// Sightings are those of a machine that stand, in order of recording.
func Sightings(m journal.Machine) (out []Sighting) {
	for _, s := range m.Slips {
		w := m.Whorl(s.Whorl)
		if s.Struck != "" || w == nil {
			continue
		}
		one := Sighting{Slip: s, Whorl: w.Name}
		grip, err := gripOf(s, *w)
		switch {
		case err != nil:
			one.Why = err.Error()
		case grip.Value < leastGrip:
			one.Why = "That leaves less than a tenth of the turns; count turns and treadles once more."
		default:
			one.Grip = &grip
		}
		out = append(out, one)
	}
	return out
}

func gripOf(s journal.Slip, w journal.Whorl) (estimate.Estimate[wheel.Grip], error) {
	seen, err := s.Seen.Motor()
	if err != nil {
		return estimate.Estimate[wheel.Grip]{}, err
	}
	return wheel.SlipFrom(w.Counted(), s.Rhythm, seen)
}

// SlipOf is the grip to expect of a machine the next time, from all sightings that
// stand; the zero Slip, not known, without one.
func SlipOf(m journal.Machine) wheel.Slip {
	var grips []estimate.Estimate[wheel.Grip]
	for _, s := range Sightings(m) {
		if s.Grip != nil {
			grips = append(grips, *s.Grip)
		}
	}
	return nextGrip(grips)
}

// sitting is the standard deviation of a grip from one time of treadling to the
// next, as the band and the brake are set anew, before any was seen: an assumption
// with the weight of sittingWeight sightings.
const (
	sitting       = 0.03
	sittingWeight = 2
)

// nextGrip is the grip of a sitting to come: the mean of those seen, as wide as
// they were seen to differ, as few of them leave their mean, and as each was
// measured. A Slip is even between its bounds, so they stand √3 standard deviations
// from the mean; nothing grips better than 1.
func nextGrip(seen []estimate.Estimate[wheel.Grip]) wheel.Slip {
	n := float64(len(seen))
	if n == 0 {
		return wheel.Slip{}
	}
	values := make([]wheel.Grip, len(seen))
	var measured float64
	for i, g := range seen {
		values[i] = g.Value
		measured += float64(g.SD*g.SD) / n
	}
	mean, between := estimate.Mean(values), sittingWeight*sitting*sitting
	for _, v := range values {
		between += (float64(v) - mean) * (float64(v) - mean)
	}
	between /= sittingWeight + n - 1
	half := math.Sqrt(3 * (between*(1+1/n) + measured/n))
	within := func(v float64) wheel.Grip { return wheel.Grip(min(max(v, leastGrip), 1)) }
	return wheel.Slip{Low: within(mean - half), High: within(mean + half)}
}

// leastGrip is the least that a wheel.Slip may be.
const leastGrip = 0.1

func unfit(text string, args ...any) error {
	return &journal.Error{Code: journal.Invalid, Field: "machine", Text: fmt.Sprintf(text, args...)}
}
