package sqlite

import (
	"pgregory.net/rapid"

	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/wheel"
)

func drawKind(t *rapid.T) wheel.Kind {
	return wheel.Kind(rapid.IntRange(int(wheel.FlyerLed), int(wheel.MotorDriven)).Draw(t, "kind"))
}

func drawMachine(t *rapid.T) journal.Machine {
	return journal.Machine{Name: drawName(t), Kind: drawKind(t), Note: drawText(t, 200), Demo: rapid.Bool().Draw(t, "demo")}
}

// drawCount draws a count whose ratio lies well within what is taken.
func drawCount(t *rapid.T) journal.Count {
	treadles := drawIn[wheel.Treadles](t, "treadles", 1, 500, 1)
	return journal.Count{Treadles: treadles, Turns: wheel.Turns(treadles) * drawIn[wheel.Turns](t, "ratio", 2, 100, 1)}
}

func drawWhorl(t *rapid.T) journal.Whorl {
	w := journal.Whorl{Name: drawName(t), Stated: drawOrNil[wheel.Ratio](t, "stated", 0.3, 499, 1)}
	for range rapid.IntRange(0, 2).Draw(t, "counts") {
		w.Counts = append(w.Counts, drawCount(t))
	}
	if w.Stated == nil && w.Counts == nil {
		w.Stated = ptr(wheel.Ratio(8))
	}
	return w
}

// drawSeen draws turns counted in one of the ways.
func drawSeen(t *rapid.T) journal.Seen {
	s := journal.Seen{How: rapid.SampledFrom(journal.Hows).Draw(t, "how"), Turns: drawIn[wheel.Turns](t, "turns", 3, 900, 1)}
	if s.How == journal.OnFilm {
		s.Frames, s.FramesPerSecond = rapid.IntRange(3000, 9000).Draw(t, "frames"), drawIn(t, "rate", 24, 240, 1.0)
	} else {
		s.Time = drawIn[wheel.Seconds](t, "time", 2, 900, 1)
	}
	return s
}

func drawSetting(t *rapid.T) journal.MotorSetting {
	s := journal.MotorSetting{Name: drawName(t), Stated: drawOrNil[wheel.Speed](t, "stated", 2, 19_999, 1)}
	for range rapid.IntRange(0, 2).Draw(t, "timings") {
		s.Timings = append(s.Timings, journal.Timing{Seen: drawSeen(t)})
	}
	if s.Stated == nil && s.Timings == nil {
		s.Stated = ptr(wheel.Speed(600))
	}
	return s
}

func drawSpool(t *rapid.T) journal.Spool {
	s := journal.Spool{
		Name: drawName(t), Core: drawOrNil(t, "core", 5.1, 300, unit.Millimetre),
		Tare: drawOrNil(t, "tare", 1, 4999, unit.Gram), Holds: drawOrNil(t, "holds", 1, 9999, unit.Gram),
	}
	if s.Core != nil {
		s.Full = drawOrNil(t, "full", 301, 999, unit.Millimetre)
	} else if s.Tare == nil && s.Holds == nil {
		s.Tare = ptr(60 * unit.Gram)
	}
	return s
}
