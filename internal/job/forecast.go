package job

import (
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/hand"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Ask is a what-if: what is not set stays as the project has it.
type Ask struct {
	Rested   *time.Duration // since the singles were spun; nil for as old as they are
	Humidity *rest.Humidity // nil for RoomHumidity
	Angle    *unit.Angle    // of the ply at the wheel; nil for what washes into balance
	Strands  int            // 0 for the project's plan
	Prepared *finish.Preparation
}

// Forecast says what skein a project's bobbins make, by what the readings taught.
// It refuses with a *rest.Error.
func Forecast(known *hand.Posterior, p journal.Project, a Ask, now time.Time) (*hand.Forecast, error) {
	return known.Forecast(questionOf(p.AtWork(), a, now))
}

// Asleep is the dormant share of some bobbins by everything that was read, their
// own samples and the set curve of their fibre together; nil where the model
// cannot say.
func Asleep(p journal.Project, record hand.Record, bobbins []journal.Bobbin, now time.Time) *estimate.Estimate[rest.Share] {
	known := learnFrom(record)
	if known == nil {
		return nil
	}
	p.Bobbins = bobbins
	f, err := known.Forecast(questionOf(p, Ask{}, now))
	if err != nil { // such as a fibre outside the model
		return nil
	}
	return &f.Dormant
}

func questionOf(p journal.Project, a Ask, now time.Time) hand.Question {
	q := hand.Question{
		Strands: p.Plan.Strands, Line: yarn.StrandCentre, Room: rest.Steady(RoomHumidity),
		Wheel: a.Angle, Singles: singlesDirection(p), Preparation: preparation(p.Bobbins),
	}
	if t := p.Target(); t != nil {
		q.Line = t.Line
	}
	for _, b := range p.Bobbins {
		q.Bobbins = append(q.Bobbins, BobbinKey(b.ID))
	}
	q.Diameter, q.DiameterCV = thickness(p.Bobbins)
	q.Rested = RestedOf(p, now)
	if a.Rested != nil {
		q.Rested = *a.Rested
	}
	if a.Humidity != nil {
		q.Room = rest.Steady(*a.Humidity)
	}
	if a.Strands != 0 {
		q.Strands = a.Strands
	}
	if a.Prepared != nil {
		q.Preparation = *a.Prepared
	}
	return q
}

// singlesDirection is that of the project's singles, none where it is not known.
func singlesDirection(p journal.Project) yarn.Direction {
	for _, b := range p.Bobbins {
		if b.Direction != yarn.NoDirection {
			return b.Direction
		}
	}
	return yarn.NoDirection
}

// preparation is that of all bobbins, unknown where they differ.
func preparation(bobbins []journal.Bobbin) finish.Preparation {
	var common finish.Preparation
	for i, b := range bobbins {
		prep := finish.Unknown
		if b.Lot != nil {
			prep = b.Lot.Preparation
		}
		if i > 0 && prep != common {
			return finish.Unknown
		}
		common = prep
	}
	return common
}

// RestedOf is how long the middle of a project's bobbins has rested, on the
// average; a day where nothing is recorded.
func RestedOf(p journal.Project, now time.Time) time.Duration {
	var sum time.Duration
	n := 0
	for _, b := range p.Bobbins {
		if outside, inside, ok := b.Age(now); ok {
			sum += (outside + inside) / 2
			n++
		}
	}
	if n == 0 {
		return 24 * time.Hour
	}
	return sum / time.Duration(n)
}
