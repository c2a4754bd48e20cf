package rest

import (
	"fmt"
	"math"
	"math/bits"
	"slices"
	"strings"
	"time"

	"waketwist/unit"
)

// Verdict says what to do before plying so that no place of the ply shows that
// its strands are of different age.
type Verdict struct {
	Case  int           // of Meeting.Cases: which bobbins to rewind first, sideways
	Wait  time.Duration // before plying; 0 for none
	Shows bool          // the gap shows all the same
}

// WorthWaiting is the longest wait that a Verdict recommends, and maxWait the
// longest that is looked at. Assumptions.
const (
	WorthWaiting = 14 * day
	maxWait      = 365 * day
)

// along fills in the stations as they stand.
func (m *Meeting) along(g *gauge, r run) {
	for i, at := range r.spots(g.strands, stationCount, 1) {
		m.Stations = append(m.Stations, g.station(at, r.fed))
		if m.Stations[i].Gap.Look.Value > m.Stations[m.Widest].Gap.Look.Value {
			m.Widest = i
		}
	}
}

// compare tries every way of rewinding sideways and finds the best.
func (m *Meeting) compare(g *gauge, wounds []Wound) {
	for which := range uint(1) << len(wounds) {
		turned, rewound := slices.Clone(wounds), make([]bool, len(wounds))
		for i := range wounds {
			if which>>i&1 == 1 {
				turned[i], rewound[i] = wounds[i].over(Rewind{}), true
			}
		}
		m.Cases = append(m.Cases, g.tryOut(newRun(turned), rewound))
	}
	for i, c := range m.Cases {
		least := m.Cases[m.Best].Largest.Value
		fewer := bits.OnesCount(uint(i)) < bits.OnesCount(uint(m.Best))
		if c.Largest.Value < least-sameLook || fewer && c.Largest.Value < least+sameLook {
			m.Best = i
		}
	}
}

func (g *gauge) tryOut(r run, rewound []bool) Case {
	c := Case{Rewound: rewound, Legs: r.legs()}
	largest := make([]unit.Angle, g.draws)
	var widest float64
	for _, at := range r.spots(g.strands, stationCount, 1) {
		var sum float64
		for d := range largest {
			gap := g.lookGap(at, d, 0)
			sum += gap
			largest[d] = max(largest[d], unit.Angle(gap))
		}
		if sum > widest {
			widest, c.Where = sum, at.along
		}
	}
	for _, l := range largest {
		if l < PlyShows {
			c.Unseen += 1 / Share(g.draws)
		}
	}
	c.Unseen = min(c.Unseen, 1)
	c.Largest = modelled(largest, g.flags)
	c.Wait, c.SureWait = g.waits(r.spots(g.strands, 0, 2))
	return c
}

// waits returns the waiting that is enough in half and in nine tenths of the
// draws.
func (g *gauge) waits(spots []spot) (likely, sure *time.Duration) {
	n := min(g.draws, waitDraws)
	waits := make([]time.Duration, n)
	for i := range waits {
		waits[i] = g.wait(spots, i*g.draws/n)
	}
	slices.Sort(waits)
	at := func(p float64) *time.Duration {
		w := waits[max(int(math.Ceil(p*float64(n)))-1, 0)]
		if w > maxWait {
			return nil
		}
		return &w
	}
	return at(0.5), at(0.9)
}

// waitSteps are the waits at which the gap is looked at: it may grow before it
// shrinks, so that the last crossing is searched from the far end.
var waitSteps = func() (out []time.Duration) {
	out = append(out, 0)
	for h := 1.0; h < maxWait.Hours(); h *= 1.6 {
		out = append(out, time.Duration(h*float64(time.Hour)))
	}
	return append(out, maxWait)
}()

// wait is how long until the gap of a draw stays under what a ply shows; more
// than maxWait when it still shows then.
func (g *gauge) wait(spots []spot, draw int) time.Duration {
	shows := func(wait time.Duration) bool {
		return slices.ContainsFunc(spots, func(at spot) bool { return unit.Angle(g.lookGap(at, draw, wait)) >= PlyShows })
	}
	last := len(waitSteps) - 1
	for last >= 0 && !shows(waitSteps[last]) {
		last--
	}
	switch last {
	case -1:
		return 0
	case len(waitSteps) - 1:
		return maxWait + 1
	}
	low, high := waitSteps[last], waitSteps[last+1]
	for high-low > time.Minute && high-low > low/50 {
		if mid := low + (high-low)/2; shows(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// decide prefers what costs least: ply as they are, rewind, wait a little, both.
func (m *Meeting) decide() Verdict {
	now, best := m.Cases[0], m.Cases[m.Best]
	switch {
	case now.Largest.Value < PlyShows:
		return Verdict{}
	case best.Largest.Value < PlyShows:
		return Verdict{Case: m.Best}
	}
	wait, waitBest := worth(now.Wait), worth(best.Wait)
	switch {
	case wait > 0 && (waitBest == 0 || wait-waitBest < day):
		return Verdict{Wait: wait}
	case waitBest > 0:
		return Verdict{Case: m.Best, Wait: waitBest}
	}
	return Verdict{Case: m.Best, Shows: true}
}

// worth is a wait that may be recommended, 0 when none is. Fewer draws and places
// stand behind a wait than behind a gap: one of nothing is no answer to a gap.
func worth(wait *time.Duration) time.Duration {
	if wait == nil || *wait > WorthWaiting {
		return 0
	}
	return max(*wait, time.Hour)
}

// Words returns the verdict in a sentence or two.
func (m *Meeting) Words() string {
	v := m.Verdict
	now, then := m.Cases[0], m.Cases[v.Case]
	gap := func(c Case) string {
		return fmt.Sprintf("%.0f° (90 %%: %.0f° to %.0f°)", c.Largest.Value.Degrees(), c.Largest.Low.Degrees(), c.Largest.High.Degrees())
	}
	stand := fmt.Sprintf("The dry looks of the strands differ by up to %s, most %s; from %.0f° on a ply shows it.",
		gap(now), placed(now.Where), PlyShows.Degrees())
	rewind := m.rewinding(v.Case)
	switch {
	case v.Shows && rewind == "":
		return stand + " Neither rewinding nor a fortnight's wait helps: ply by counted turns and not by the look, and let water wake all of it."
	case v.Shows:
		return fmt.Sprintf("%s %s, which leaves %s; ply by counted turns and not by the look, and let water wake all of it.", stand, capital(rewind), gap(then))
	case rewind == "" && v.Wait == 0:
		return "Ply them as they are. " + stand
	case v.Wait == 0:
		return fmt.Sprintf("%s %s: then it is %s.", stand, capital(rewind), gap(then))
	case rewind == "":
		return fmt.Sprintf("%s Wait %s, and it will more likely than not have fallen under that.", stand, unit.FormatDuration(v.Wait))
	}
	return fmt.Sprintf("%s %s and wait %s, and it will more likely than not have fallen under that.", stand, capital(rewind), unit.FormatDuration(v.Wait))
}

func placed(along Share) string {
	switch {
	case along < 0.005:
		return "at the first metre"
	case along > 0.995:
		return "at the last metre"
	}
	return fmt.Sprintf("%.0f %% along the ply", 100*float64(along))
}

// rewinding names the bobbins of a case that are to be rewound.
func (m *Meeting) rewinding(which int) string {
	var names []string
	for i, r := range m.Cases[which].Rewound {
		if r {
			names = append(names, m.Names[i])
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "rewind " + strings.Join(names, " and ") + " sideways"
}
