package job

import (
	"fmt"
	"time"

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
	Bobbin journal.ID // the bobbin it concerns; zero for none
	Urgent bool       // something waits for the spinner now
}

// NextStep says what to do next on a project: what waits first, then the least
// advanced bobbin.
func NextStep(p journal.Project, now time.Time) Step {
	if p.Finished != nil {
		return Step{Words: "Finished."}
	}
	if len(p.Bobbins) == 0 {
		return Step{Words: "Record the bobbins you have spun."}
	}
	var best *journal.Bobbin
	var bestProgress Progress
	for i := range p.Bobbins {
		at := ProgressOf(p.Bobbins[i], now)
		if best == nil || rank(at.Stage) < rank(bestProgress.Stage) {
			best, bestProgress = &p.Bobbins[i], at
		}
	}
	if bestProgress.Stage == Sampled {
		return decided(p)
	}
	return Step{Words: stepWords(*best, bestProgress, now), Bobbin: best.ID, Urgent: rank(bestProgress.Stage) < 2}
}

// rank orders stages by what should be done first: a wet sample dries, so it
// comes before a bobbin not yet begun.
func rank(s Stage) int {
	return map[Stage]int{ReadWet: 0, Soaking: 1, Soak: 2, ReadDry: 3, Cut: 4, Sampled: 5}[s]
}

func decided(p journal.Project) Step {
	if p.Target() == nil {
		return Step{Words: "Every bobbin is sampled. Choose the ply to hold."}
	}
	return Step{Words: fmt.Sprintf("Ply to the target: %.0f degrees re-wet.", p.Target().Angle.Value.Degrees())}
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
