package job

import (
	"fmt"
	"strings"
	"time"

	"waketwist/estimate"
	"waketwist/hand"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// RecordOf gathers what the model of the spinner learns from: every reading in
// force of every project. The demonstration teaches nothing as soon as there are
// readings of the spinner's own; demo reports that it is all there is.
func RecordOf(projects []journal.Project) (record hand.Record, demo bool) {
	var shown hand.Record
	for _, p := range projects {
		into := &record
		if p.Demo {
			into = &shown
		}
		for _, b := range p.Bobbins {
			into.Bobbins = append(into.Bobbins, learnBobbin(b))
		}
		for _, run := range p.Runs {
			for _, s := range run.Skeins {
				into.Skeins = append(into.Skeins, learnSkein(p, run, s))
			}
		}
	}
	if record.Readings() == 0 {
		return shown, shown.Readings() > 0
	}
	return record, false
}

// RecordFor is what answers a question about one project: everything there is to
// learn from and, for the demonstration, that alone.
func RecordFor(p journal.Project, projects []journal.Project) hand.Record {
	if p.Demo {
		projects = []journal.Project{p}
	}
	record, _ := RecordOf(projects)
	return record
}

// learnFrom is what a record teaches: nil where nothing was read, and where the
// readings cannot be brought together.
func learnFrom(record hand.Record) *hand.Posterior {
	if record.Readings() == 0 {
		return nil
	}
	known, err := hand.Fit(record)
	if err != nil {
		return nil
	}
	return known
}

// BobbinKey names a bobbin to the model.
func BobbinKey(id journal.ID) string { return fmt.Sprintf("bobbin %d", id) }

// SkeinKey names a skein to the model.
func SkeinKey(id journal.ID) string { return fmt.Sprintf("skein %d", id) }

func readingKey(id journal.ID) string { return fmt.Sprintf("reading %d", id) }

func learnBobbin(b journal.Bobbin) hand.Bobbin {
	out := hand.Bobbin{ID: BobbinKey(b.ID), Fibre: fibreOf(b)}
	if b.Singles != nil {
		out.Singles = append(out.Singles, hand.SinglesReading{
			ID: BobbinKey(b.ID) + ", singles", Angle: yarn.SurfaceAngle(*b.Singles), SD: rest.EyeSD,
		})
	}
	for _, s := range b.Samples {
		clip := hand.Clip{State: s.State, Place: s.Place, Depth: s.Depth, Room: roomOf(s)}
		if s.AgeHours != nil {
			clip.Age = time.Duration(*s.AgeHours * float64(time.Hour))
		}
		if s.Soak != nil {
			clip.Soak = *s.Soak
		}
		clip.Readings = learnReadings(plyReadings(s))
		if len(clip.Readings) > 0 {
			out.Clips = append(out.Clips, clip)
		}
	}
	return out
}

func roomOf(s journal.Sample) rest.Room {
	if s.Humidity == nil {
		return rest.Steady(RoomHumidity)
	}
	return rest.Steady(rest.Humidity(*s.Humidity))
}

func learnReadings(valid []journal.Reading) (out []hand.Reading) {
	for _, r := range valid {
		out = append(out, hand.Reading{ID: readingKey(r.ID), Angle: r.Angle, Line: r.Line, SD: r.SD})
	}
	return out
}

// learnSkein compares a skein off the wheel with itself washed.
func learnSkein(p journal.Project, run journal.Run, s journal.Skein) hand.Skein {
	out := hand.Skein{ID: SkeinKey(s.ID), Strands: run.Plan.Strands}
	if b := p.Bobbin(run.Feeds[0].Bobbin); b != nil && b.Lot != nil {
		out.Preparation = b.Lot.Preparation
	}
	out.WheelLength, out.WheelDiameter = sizeOf(s.Measured(estimate.Rested))
	out.WashedLength, out.WashedDiameter = sizeOf(s.Measured(estimate.Washed))
	for _, piece := range s.Samples {
		switch {
		case piece.State == estimate.Washed:
			out.Washed = append(out.Washed, learnReadings(plyReadings(piece))...)
		case piece.State.Dry():
			out.Wheel = append(out.Wheel, learnReadings(plyReadings(piece))...)
		}
	}
	for _, check := range run.Checks {
		if check.Load == estimate.AtWheel {
			out.Wheel = append(out.Wheel, learnReadings(plyReadings(check))...)
		}
	}
	return out
}

func sizeOf(m *journal.Measure) (length, diameter unit.Length) {
	if m == nil {
		return 0, 0
	}
	length, _ = m.Length()
	if m.Wraps != nil {
		diameter = m.Wraps.Pitch()
	}
	return length, diameter
}

// fibreOf is the word by which bobbins are pooled.
func fibreOf(b journal.Bobbin) string {
	if b.Lot == nil {
		return ""
	}
	return strings.ToLower(strings.TrimSpace(b.Lot.Fibre))
}
