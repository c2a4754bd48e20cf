package job

import (
	"fmt"
	"time"

	"waketwist/estimate"
	"waketwist/internal/journal"
)

// LongestSoak is how long the soak timer asks for (common practice: 20 to 30
// minutes in cool water; rest.FullSoak is the least that wakes the twist).
const LongestSoak = 30 * time.Minute

// Stage is how far the sampling of a bobbin has come.
type Stage int

// The stages, in order.
const (
	Cut     Stage = iota + 1 // cut two lengths
	ReadDry                  // read the one that stays dry
	Soak                     // put the other into water
	Soaking                  // it lies in water
	ReadWet                  // read it wet
	Sampled                  // both are read
)

// Progress is the sampling of a bobbin as it stands: the stage, and the latest
// dry and wet samples of the round in hand.
type Progress struct {
	Stage    Stage
	Dry, Wet *journal.Sample
}

// ProgressOf finds the stage of a bobbin's latest round of sampling.
func ProgressOf(b journal.Bobbin, now time.Time) Progress {
	var p Progress
	for i := range b.Samples {
		s := &b.Samples[i]
		if !s.State.Dry() {
			p.Wet = s
			continue
		}
		// A dry sample opens a new round.
		p.Dry, p.Wet = s, nil
	}
	p.Stage = p.stage(now)
	return p
}

func (p Progress) stage(now time.Time) Stage {
	switch {
	case p.Wet != nil && len(p.Wet.Valid()) > 0:
		return Sampled
	case p.Wet != nil && Remaining(*p.Wet, now) > 0:
		return Soaking
	case p.Wet != nil:
		return ReadWet
	case p.Dry == nil:
		return Cut
	case len(p.Dry.Valid()) == 0:
		return ReadDry
	default:
		return Soak
	}
}

// Remaining is how much of the soak is left; zero when it is over or was timed
// by hand.
func Remaining(s journal.Sample, now time.Time) time.Duration {
	if s.SoakStart == nil || s.Soak != nil {
		return 0
	}
	return max(0, LongestSoak-now.Sub(*s.SoakStart))
}

// Soaked is how long a sample has lain in water, in minutes. One that was
// forgotten counts as journal.LongestSoak, and a clock set back as none, so that
// a sample can always be taken out.
func Soaked(s journal.Sample, now time.Time) float64 {
	switch {
	case s.Soak != nil:
		return *s.Soak
	case s.SoakStart != nil:
		return min(max(0, now.Sub(*s.SoakStart).Minutes()), journal.LongestSoak)
	}
	return 0
}

// Step is the next thing to do on a project.
type Step struct {
	Words  string
	Bobbin journal.ID // the bobbin to sample; zero for none
	Run    journal.ID // the run to go on with, or to take a skein off; zero for none
	Skein  journal.ID // the skein to wash or to hang; zero for none
	Ply    bool       // a run is to be begun
	Urgent bool       // something waits for the spinner now
}

// NextStep says what to do next on a project: what waits first, then the least
// advanced bobbin that is not plied yet, then the skeins.
func NextStep(p journal.Project, now time.Time) Step {
	if p.Finished != nil {
		return Step{Words: "Finished."}
	}
	p = p.AtWork()
	if len(p.Bobbins) == 0 {
		return Step{Words: "Record the bobbins you have spun."}
	}
	plied := pliedUp(p)
	var best *journal.Bobbin
	var bestProgress Progress
	for i := range p.Bobbins {
		at := ProgressOf(p.Bobbins[i], now)
		if !plied[p.Bobbins[i].ID] && (best == nil || rank(at.Stage) < rank(bestProgress.Stage)) {
			best, bestProgress = &p.Bobbins[i], at
		}
	}
	switch {
	case best == nil:
		return offTheWheel(p)
	case bestProgress.Stage == Sampled:
		return decided(p)
	}
	return Step{Words: stepWords(*best, bestProgress, now), Bobbin: best.ID, Urgent: rank(bestProgress.Stage) < 2}
}

// pliedUp are the bobbins of runs that are done, and those whose singles were taken
// off to stay singles.
func pliedUp(p journal.Project) map[journal.ID]bool {
	out := map[journal.ID]bool{}
	for _, b := range p.Bobbins {
		out[b.ID] = len(b.Skeins) > 0
	}
	for _, r := range p.Runs {
		for _, f := range r.Feeds {
			out[f.Bobbin] = out[f.Bobbin] || r.Ended != nil
		}
	}
	return out
}

// rank orders stages by what should be done first: a wet sample dries, so it
// comes before a bobbin not yet begun.
func rank(s Stage) int {
	return map[Stage]int{ReadWet: 0, Soaking: 1, Soak: 2, ReadDry: 3, Cut: 4, Sampled: 5}[s]
}

// decided is the step after all bobbins that are not plied yet were sampled.
func decided(p journal.Project) Step {
	if p.Target() == nil {
		return Step{Words: "Every bobbin is sampled. Choose the ply to hold."}
	}
	ply := Step{Words: fmt.Sprintf("Ply to the target: %.0f° re-wet.", p.Target().Angle.Value.Degrees())}
	for _, r := range p.Runs {
		if r.Ended == nil {
			ply.Run = r.ID
		}
	}
	if ply.Run == 0 {
		if step := offTheWheel(p); step.Run != 0 || step.Skein != 0 {
			return step
		}
		ply.Ply = true
	}
	return ply
}

// offTheWheel is what yarn that is plied waits for.
func offTheWheel(p journal.Project) Step {
	var skeins []journal.Skein
	for _, b := range p.Bobbins {
		skeins = append(skeins, b.Skeins...)
	}
	for _, r := range p.Runs {
		if r.Ended != nil && len(r.Skeins) == 0 {
			return Step{Words: fmt.Sprintf("Take the yarn of %s off as a skein and measure it.", r.Name), Run: r.ID}
		}
		skeins = append(skeins, r.Skeins...)
	}
	for _, s := range skeins {
		if words := finishing(s); s.InStash() && words != "" {
			return Step{Words: fmt.Sprintf(words, s.Name), Skein: s.ID}
		}
	}
	return Step{Words: "All is off the wheel, washed and hung. Record a swatch of the cloth when it is made, and say when the project is finished."}
}

// finishing is what a skein waits for, with a place for its name; empty when it is
// finished.
func finishing(s journal.Skein) string {
	switch {
	case s.Hung(estimate.Washed) != nil:
		return ""
	case len(s.Washes) > 0 || s.Measured(estimate.Washed) != nil:
		return "Hang %s, washed and dry, as an open loop and record how it turns."
	}
	return "Measure %s as it is, then wash it."
}

func stepWords(b journal.Bobbin, p Progress, now time.Time) string {
	switch p.Stage {
	case Cut:
		return fmt.Sprintf("Cut two lengths from %s.", b.Name)
	case ReadDry:
		return fmt.Sprintf("Read the dry sample of %s.", b.Name)
	case Soak:
		return fmt.Sprintf("Soak the second length of %s.", b.Name)
	case Soaking:
		return fmt.Sprintf("%s is soaking: %.0f minutes to go.", b.Name, max(1, Remaining(*p.Wet, now).Minutes()))
	default:
		return fmt.Sprintf("Read the wet sample of %s before it dries.", b.Name)
	}
}
