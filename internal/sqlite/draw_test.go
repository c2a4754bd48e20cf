package sqlite

import (
	"encoding/json"
	"fmt"
	"time"

	"pgregory.net/rapid"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

// Generators of records that obey the journal's rules, each value over its
// whole range.

func drawIn[T ~float64](t *rapid.T, name string, low, high, size T) T {
	return T(rapid.Float64Range(float64(low), float64(high)).Draw(t, name)) * size
}

func drawOrNil[T ~float64](t *rapid.T, name string, low, high, size T) *T {
	if !rapid.Bool().Draw(t, "has "+name) {
		return nil
	}
	return ptr(drawIn(t, name, low, high, size))
}

func drawTime(t *rapid.T) time.Time {
	return dawn.Add(time.Duration(rapid.Int64Range(-1e18, 1e18).Draw(t, "time")))
}

func drawDirection(t *rapid.T) yarn.Direction {
	return rapid.SampledFrom([]yarn.Direction{yarn.NoDirection, yarn.S, yarn.Z}).Draw(t, "direction")
}

func drawPlan(t *rapid.T) journal.Plan {
	p := journal.Plan{Strands: rapid.IntRange(2, 4).Draw(t, "strands"), Offset: drawIn(t, "offset", -0.5, 0.5, 1.0)}
	p.Chain = p.Strands == 3 && rapid.Bool().Draw(t, "chain")
	return p
}

func drawProject(t *rapid.T) journal.Project {
	p := journal.Project{
		Name: drawName(t), Aim: drawText(t, 200), Plan: drawPlan(t), Demo: rapid.Bool().Draw(t, "demo"),
		Want: drawOrNil(t, "want", 1.01, 74.9, unit.Degree),
	}
	if rapid.Bool().Draw(t, "finished") {
		p.Finished = ptr(drawTime(t))
	}
	return p
}

func drawBobbin(t *rapid.T) journal.Bobbin {
	b := journal.Bobbin{
		Name: drawName(t), Direction: drawDirection(t), Note: drawText(t, 200), Away: rapid.Bool().Draw(t, "away"),
		Diameter: drawOrNil(t, "diameter", 0.06, 49, unit.Millimetre),
		Wraps:    drawOrNil(t, "wraps", 0.6, 390, unit.WrapPerInch),
		Singles:  drawOrNil(t, "singles", 0.01, 74.9, unit.Degree),
	}
	if rapid.Bool().Draw(t, "has a lot") {
		b.Lot = &journal.Lot{
			Name: drawName(t), Fibre: drawText(t, 120), Note: drawText(t, 200),
			Preparation: finish.Preparation(rapid.IntRange(int(finish.Unknown), int(finish.Woollen)).Draw(t, "preparation")),
		}
	}
	return b
}

func drawStretch(t *rapid.T) journal.Stretch {
	s := journal.Stretch{Started: drawTime(t), Length: drawOrNil(t, "length", 0.01, 99_999, unit.Metre)}
	s.Ended = s.Started.Add(time.Duration(rapid.Int64Range(0, 1e16).Draw(t, "took")))
	if rapid.Bool().Draw(t, "has worked") {
		s.Worked = ptr(time.Duration(rapid.Int64Range(int64(time.Minute), int64(1000*time.Hour)).Draw(t, "worked")))
	}
	return s
}

// drawSample draws a piece of the bobbin, run or skein that a sample names.
func drawSample(t *rapid.T, s journal.Sample) journal.Sample {
	last := estimate.Washed
	if s.Bobbin != 0 {
		last = estimate.RewetDried
	}
	s.State = estimate.State(rapid.IntRange(int(estimate.Fresh), int(last)).Draw(t, "state"))
	s.Place, s.Depth, s.Note = drawText(t, 120), drawIn(t, "depth", 0, 1, 1.0), drawText(t, 200)
	s.AgeHours, s.Humidity = drawOrNil(t, "age", 0, 999_999, 1.0), drawOrNil(t, "humidity", 0, 100, 1.0)
	s.Soak, s.Water = drawOrNil(t, "soak", 0, 2880, 1.0), drawOrNil[unit.Temperature](t, "water", 0, 100, 1)
	s.Load = estimate.Load(rapid.IntRange(int(estimate.Free), int(estimate.AtWheel)).Draw(t, "load"))
	s.LoadGrams = drawOrNil(t, "load", 0.001, 999, 1.0)
	if s.Load == estimate.Light && s.LoadGrams == nil {
		s.LoadGrams = ptr(2.0)
	}
	if rapid.Bool().Draw(t, "soaks") {
		s.SoakStart = ptr(drawTime(t))
	}
	return s
}

func drawReading(t *rapid.T) journal.Reading {
	r := journal.Reading{
		Method: rapid.SampledFrom([]journal.Method{journal.Photograph, journal.Typed, journal.Dragged}).Draw(t, "method"),
		Reader: drawText(t, 120), Note: drawText(t, 200),
	}
	if r.Method != journal.Typed || rapid.Bool().Draw(t, "has a photograph") {
		r.Photo = &journal.Photo{
			Hash:  fmt.Sprintf("%064x", rapid.Uint64().Draw(t, "hash")),
			Width: rapid.IntRange(1, 20_000).Draw(t, "width"), Height: rapid.IntRange(1, 20_000).Draw(t, "height"),
		}
	}
	if r.Method == journal.Photograph && rapid.Bool().Draw(t, "refused") {
		r.Refused = drawName(t)
		return r
	}
	r.Structure = rapid.SampledFrom([]string{journal.Singles, journal.Ply}).Draw(t, "structure")
	r.Plies, r.Direction = rapid.IntRange(1, yarn.MaxStrands).Draw(t, "plies"), drawDirection(t)
	r.Line = yarn.Line(rapid.IntRange(int(yarn.StrandCentre), int(yarn.SurfaceFibre)).Draw(t, "line"))
	r.Angle, r.SD = drawIn(t, "angle", 0.01, 74.9, unit.Degree), drawIn(t, "sd", 0.01, 44.9, unit.Degree)
	r.Low, r.High = r.Angle-estimate.Reach*r.SD, r.Angle+estimate.Reach*r.SD
	if rapid.Bool().Draw(t, "traced") {
		trace, _ := json.Marshal(drawText(t, 200)) // a text always has a JSON form
		r.Trace = string(trace)
	}
	return r
}

func drawInterval(t *rapid.T) journal.Interval {
	low := drawIn(t, "low", 0.1, 60, unit.Degree)
	value := low + drawIn(t, "over low", 0, 14, unit.Degree)
	return journal.Interval{Value: value, Low: low, High: value + drawIn(t, "over value", 0, 15, unit.Degree)}
}

func drawTarget(t *rapid.T) journal.Target {
	target := journal.Target{
		Plan: drawPlan(t), Line: rapid.SampledFrom([]yarn.Line{yarn.StrandCentre, yarn.VisibleBorder}).Draw(t, "line"),
		Angle: drawInterval(t), Washed: drawInterval(t), Wheel: drawInterval(t),
		Measured: rapid.Bool().Draw(t, "measured"), Note: drawText(t, 200),
	}
	if low := drawOrNil[yarn.PlyTwist](t, "turns", 1, 2000, 1); low != nil {
		target.TurnsTPM = &journal.Turns{Low: *low, Value: *low * 1.2, High: *low * 1.5}
	}
	return target
}
