package sqlite

import (
	"time"

	"pgregory.net/rapid"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

// drawRun draws a run of plying of some of the bobbins.
func drawRun(t *rapid.T, bobbins []journal.Bobbin) journal.Run {
	r := journal.Run{
		Name: drawName(t), Plan: drawPlan(t), Direction: drawDirection(t), Drive: drawDrive(t),
		Note: drawText(t, 200), Started: drawTime(t),
	}
	r.Ended = drawEnd(t, r.Started)
	most := min(r.Plan.Strands, len(bobbins))
	if r.Plan.Chain {
		most = 1
	}
	for _, b := range rapid.Permutation(bobbins).Draw(t, "bobbins")[:rapid.IntRange(1, most).Draw(t, "feeds")] {
		r.Feeds = append(r.Feeds, drawFeed(t, b.ID))
	}
	return r
}

func drawFeed(t *rapid.T, bobbin journal.ID) journal.Feed {
	f := journal.Feed{Bobbin: bobbin, Rewound: rapid.IntRange(0, 2).Draw(t, "rewound")}
	if f.Rewound > 0 && rapid.Bool().Draw(t, "over end") {
		f.OverEnd = &journal.OverEnd{Adds: drawTwist(t), Package: drawIn(t, "package", 5.1, 999, unit.Millimetre)}
	}
	return f
}

// drawTwist draws one of the two directions.
func drawTwist(t *rapid.T) yarn.Direction {
	return rapid.SampledFrom([]yarn.Direction{yarn.S, yarn.Z}).Draw(t, "twist")
}

func drawEnd(t *rapid.T, started time.Time) *time.Time {
	if !rapid.Bool().Draw(t, "ended") {
		return nil
	}
	return ptr(started.Add(time.Duration(rapid.Int64Range(0, 1e16).Draw(t, "took"))))
}

func drawDrive(t *rapid.T) journal.Drive {
	d := journal.Drive{
		Ratio: drawOrNil(t, "ratio", 0.5, 200, 1.0), RPM: drawOrNil(t, "rpm", 1, 10_000, 1.0),
		Draw: drawOrNil(t, "draw", 0.011, 9.9, unit.Metre),
	}
	if rapid.Bool().Draw(t, "has a beat") {
		d.Beat = ptr(time.Duration(rapid.Int64Range(int64(100*time.Millisecond), int64(10*time.Minute)).Draw(t, "beat")))
	}
	return d
}

func drawFinished(t *rapid.T) estimate.State {
	return rapid.SampledFrom([]estimate.State{estimate.Rested, estimate.Washed}).Draw(t, "state")
}

func drawMeasure(t *rapid.T) journal.Measure {
	m := journal.Measure{
		State: drawFinished(t), Girth: drawOrNil(t, "girth", 0.11, 9.9, unit.Metre), LoadGrams: drawOrNil(t, "load", 0.1, 20_000, 1.0),
		Mass: drawOrNil(t, "mass", 0.1, 99_999, unit.Gram), Humidity: drawOrNil(t, "humidity", 0, 100, 1.0),
		Wraps: drawOrNil(t, "wraps", 0.6, 390, unit.WrapPerInch),
	}
	if m.Girth == nil && m.Mass == nil && m.Wraps == nil || rapid.Bool().Draw(t, "has loops") {
		m.Loops = ptr(rapid.IntRange(1, 100_000).Draw(t, "loops"))
	}
	return m
}

func drawWash(t *rapid.T) journal.Wash {
	return journal.Wash{
		Treatment: rapid.SampledFrom(journal.Treatments).Draw(t, "treatment"), Water: drawOrNil[unit.Temperature](t, "water", 0, 100, 1),
		Minutes: drawOrNil(t, "minutes", 0, 2880, 1.0), HungGrams: drawOrNil(t, "hung", 0.1, 20_000, 1.0), Note: drawText(t, 200),
	}
}

func drawHang(t *rapid.T) journal.Hang {
	h := journal.Hang{State: drawFinished(t), Length: drawOrNil(t, "length", 0.051, 4.9, unit.Metre)}
	if rapid.Bool().Draw(t, "turns") {
		h.Direction, h.HalfTurns = drawTwist(t), drawIn(t, "half turns", 0.01, 200, 1.0)
	}
	return h
}
