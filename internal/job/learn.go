package job

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"waketwist/hand"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/yarn"
)

// Advice is a further reading worth making, in words.
type Advice struct {
	Words     string
	Now, Then float64 // width of the answer's 90 % interval: degrees, or per cent
}

// NextReading finds the single reading that would narrow a project's answer most:
// the ply to hold, the look at the wheel, or the dormant share. It returns
// nothing when no reading would.
func NextReading(known *hand.Posterior, p journal.Project, goal hand.Goal, now time.Time) (*Advice, error) {
	p = p.AtWork()
	q := questionOf(p, Ask{}, now)
	gains, err := known.Next(q, goal, candidates(p, q))
	if err != nil || len(gains) == 0 {
		return nil, err
	}
	best := gains[0]
	if best.Then > 0.97*best.Now {
		return nil, nil
	}
	return &Advice{candidateWords(p, best.Candidate), best.Now, best.Then}, nil
}

// candidates are the readings that could be made on a project as it stands.
func candidates(p journal.Project, q hand.Question) (out []hand.Candidate) {
	for _, b := range p.Bobbins {
		key := BobbinKey(b.ID)
		out = append(out, hand.Candidate{Kind: hand.SinglesAngle, Bobbin: key, Place: "new"})
		for _, d := range journal.Depths {
			for _, kind := range []hand.Kind{hand.RewetClip, hand.DryClip} {
				out = append(out, hand.Candidate{Kind: kind, Bobbin: key, Place: "new", Depth: d.Depth, Line: q.Line, Age: q.Rested, Room: q.Room})
			}
		}
		for _, s := range b.Samples {
			out = append(out, hand.Candidate{Kind: hand.DriedClip, Bobbin: key, Place: s.Place, Depth: s.Depth, Line: q.Line, Room: rest.Steady(RoomHumidity)})
		}
	}
	return append(out,
		hand.Candidate{Kind: hand.WashLength, Preparation: q.Preparation},
		hand.Candidate{Kind: hand.WashDiameter, Preparation: q.Preparation})
}

func candidateWords(p journal.Project, c hand.Candidate) string {
	name := c.Bobbin
	for _, b := range p.Bobbins {
		if BobbinKey(b.ID) == c.Bobbin {
			name = b.Name
		}
	}
	how := "by photograph"
	if c.Line == yarn.VisibleBorder {
		how = "by eye"
	}
	switch c.Kind {
	case hand.RewetClip:
		return fmt.Sprintf("a re-wet clip from %s of %s, read %s", journal.DepthWords(c.Depth), name, how)
	case hand.DryClip:
		return fmt.Sprintf("a dry clip from %s of %s, read %s", journal.DepthWords(c.Depth), name, how)
	case hand.DriedClip:
		return fmt.Sprintf("the wet sample of %s (%s), dried hanging free and read once more %s", name, c.Place, how)
	case hand.SinglesAngle:
		return fmt.Sprintf("the surface angle of the singles of %s, fresh or re-wet", name)
	case hand.WashLength:
		return "the length of one skein of this preparation before and after its wash"
	}
	return "the thickness of one skein of this preparation before and after its wash"
}

// SuspectOf finds the reading that the model names a suspect, zero when it is
// not one of the journal's.
func SuspectOf(s hand.Suspect) journal.ID {
	n, err := strconv.ParseInt(strings.TrimPrefix(s.Reading, "reading "), 10, 64)
	if err != nil {
		return 0
	}
	return journal.ID(n)
}
