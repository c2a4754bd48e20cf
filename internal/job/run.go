package job

import (
	"time"

	"waketwist/hand"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Meet lays the bobbins of a run against each other along the ply, as old as
// they are at a moment, by what the record knows of their fibres. It refuses with
// a *rest.Error when too little is known of when they were spun.
func Meet(p journal.Project, record hand.Record, run journal.Run, at time.Time) (*rest.Meeting, error) {
	var pairing rest.Pairing
	known := learnFrom(record)
	for _, f := range run.Feeds {
		b := p.Bobbin(f.Bobbin)
		if b == nil {
			return nil, journal.Missing("bobbin", f.Bobbin)
		}
		wound, err := rest.Layers(stretchesOf(*b), rewindsOf(f), at)
		if err != nil {
			return nil, err
		}
		strand := rest.Strand{Name: b.Name, Wound: wound, Direction: b.Direction, Fibre: restingOf(known, *b)}
		if d, _, ok := b.Thickness(); ok {
			strand.Diameter = &d
			if b.Singles != nil {
				turns := yarn.SurfaceAngle(*b.Singles).Twist(d)
				strand.Turns = &turns
			}
		}
		pairing.Strands = append(pairing.Strands, strand)
	}
	pairing.Room = rest.Steady(RoomHumidity)
	return rest.Meet(pairing)
}

// RoomHumidity is the air in which bobbins are taken to have rested when nothing
// is recorded: the standard atmosphere of ISO 139.
const RoomHumidity rest.Humidity = 65

func stretchesOf(b journal.Bobbin) (out []rest.Stretch) {
	for _, s := range b.Stretches {
		one := rest.Stretch{Start: s.Started, End: s.Ended}
		if s.Length != nil {
			one.Length = *s.Length
		}
		out = append(out, one)
	}
	return out
}

func rewindsOf(f journal.Feed) []rest.Rewind {
	out := make([]rest.Rewind, f.Rewound)
	if len(out) > 0 && f.OverEnd != nil {
		out[len(out)-1] = rest.Rewind{OverEnd: true, Adds: f.OverEnd.Adds, Full: f.OverEnd.Package}
	}
	return out
}

// DiameterOf is the mean thickness of the singles in a run, nil when none is
// known.
func DiameterOf(p journal.Project, run journal.Run) *unit.Length {
	var fed []journal.Bobbin
	for _, f := range run.Feeds {
		if b := p.Bobbin(f.Bobbin); b != nil {
			fed = append(fed, *b)
		}
	}
	d, _ := thickness(fed)
	return d
}
