package simulate

import (
	"fmt"
	"math"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/hand"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// AtHand names the bobbin that a trial asks about.
const AtHand = "at hand"

// Trial is a spinner's record, the bobbin at hand last, and what is true of it.
type Trial struct {
	Spinner *Spinner
	Bobbin  *Bobbin
	Record  hand.Record
	Line    yarn.Line // on which the bobbin at hand is read
	Age     time.Duration
	// Of the skein that will be plied from it:
	Preparation      finish.Preparation
	Length, Diameter float64
}

// New trials hold one to so many readings before the bobbin at hand, which gives
// a pair of its own, both read in the same way.
func NewTrial(seed uint64, h Habit, readings int) *Trial {
	s := New(seed, h)
	fibres := []Fibre{s.NewFibre("first"), s.NewFibre("second")}
	t := &Trial{Spinner: s, Preparation: finish.Preparation(s.rng.IntN(4)), Line: s.line()}
	for i := 0; t.Record.Readings() < readings; i++ {
		fibre := fibres[0]
		if s.rng.Float64() < 0.25 {
			fibre = fibres[1]
		}
		b := s.NewBobbin(fibre)
		line := s.line()
		left := readings - t.Record.Readings()
		t.Record.Bobbins = append(t.Record.Bobbins, b.sample(fmt.Sprint("bobbin ", i), line, s.age(), left))
		if left = readings - t.Record.Readings(); left > 1 && s.rng.Float64() < 0.4 {
			t.Record.Skeins = append(t.Record.Skeins, s.skein(b, fmt.Sprint("skein ", i), t.Preparation, line))
		}
	}
	t.Bobbin, t.Age = s.NewBobbin(fibres[0]), s.age()
	t.Record.Bobbins = append(t.Record.Bobbins, t.Bobbin.sample(AtHand, t.Line, t.Age, 2))
	t.Length, t.Diameter = s.Wash(t.Preparation)
	return t
}

func (s *Spinner) line() yarn.Line {
	if s.rng.Float64() < 0.6 {
		return yarn.VisibleBorder
	}
	return yarn.StrandCentre
}

// age is a resting time from hours to a month.
func (s *Spinner) age() time.Duration {
	return time.Duration(math.Exp(math.Log(3)+math.Log(240)*s.rng.Float64()) * float64(time.Hour))
}

// sample clips and reads a bobbin: a dry and a re-wet ply-back from the outside,
// then more from deeper down, and now and then the singles and a dried one.
func (b *Bobbin) sample(id string, line yarn.Line, age time.Duration, most int) hand.Bobbin {
	out := hand.Bobbin{ID: id, Fibre: b.Name}
	add := func(c hand.Clip, angle yarn.CentreAngle) {
		if a, ok := b.s.Read(angle, 2, line); ok {
			c.Readings = []hand.Reading{{ID: fmt.Sprint(id, " ", len(out.Clips)), Angle: a, Line: line, SD: recorded(line)}}
			out.Clips = append(out.Clips, c)
		}
	}
	outer := hand.Clip{Place: "outside", Age: age, Room: rest.Steady(b.s.Humidity), Soak: 25}
	dry, wet, deep, dried := outer, outer, outer, outer
	dry.State, wet.State, deep.State, dried.State = estimate.Rested, estimate.Rewet, estimate.Rewet, estimate.RewetDried
	deep.Place, deep.Depth = "inside", 0.5
	add(wet, b.Rewet(0))
	if most > 1 {
		add(dry, b.Dry(0, age))
	}
	if most > 2 && b.s.rng.Float64() < 0.5 {
		add(deep, b.Rewet(0.5))
	}
	if most > 3 && b.s.rng.Float64() < 0.3 {
		add(dried, b.s.Dried(b.Rewet(0)))
	}
	if most > 4 && b.s.rng.Float64() < 0.3 {
		out.Singles = append(out.Singles, b.readSingles(id))
	}
	return out
}

func recorded(line yarn.Line) unit.Angle {
	if line == yarn.StrandCentre {
		return rest.PhotographSD
	}
	return rest.EyeSD
}

func (b *Bobbin) readSingles(id string) hand.SinglesReading {
	a := math.Atan(b.turns(0)) + float64(b.s.EyeSD)*b.s.rng.NormFloat64()
	return hand.SinglesReading{ID: id + " singles", SD: rest.EyeSD, Place: "outside",
		Angle: yarn.SurfaceAngle(min(max(a, float64(2*unit.Degree)), float64(75*unit.Degree)))}
}

// skein is a wash of a two-ply near its balance, read before and after.
func (s *Spinner) skein(b *Bobbin, id string, p finish.Preparation, line yarn.Line) hand.Skein {
	length, diameter := s.Wash(p)
	off := math.Exp(0.1 * s.rng.NormFloat64())
	wheel := scaled(b.Target(2), off*length/diameter)
	out := hand.Skein{ID: id, Preparation: p, Strands: 2,
		WheelLength: 100, WashedLength: unit.Length(100 * length * math.Exp(0.02*s.rng.NormFloat64()))}
	if a, ok := s.Read(wheel, 2, line); ok {
		out.Wheel = []hand.Reading{{ID: id + " wheel", Angle: a, Line: line, SD: recorded(line)}}
	}
	if a, ok := s.Read(scaled(wheel, diameter/length), 2, line); ok {
		out.Washed = []hand.Reading{{ID: id + " washed", Angle: a, Line: line, SD: recorded(line)}}
	}
	return out
}

// Samples are the readings of the bobbin at hand as rest.Wake takes them.
func (t *Trial) Samples() rest.Bobbin {
	b := t.Record.Bobbins[len(t.Record.Bobbins)-1]
	out := rest.Bobbin{Name: b.ID}
	for _, c := range b.Clips {
		clip := rest.Clip{State: c.State, Place: c.Place, Depth: c.Depth, Soak: c.Soak}
		for _, r := range c.Readings {
			clip.Readings = append(clip.Readings, rest.Reading{Angle: r.Angle, Line: r.Line, SD: r.SD})
		}
		out.Clips = append(out.Clips, clip)
	}
	return out
}

// Readable reports whether the bobbin at hand could be read re-wet and dry.
func (t *Trial) Readable() bool { return len(t.Record.Bobbins[len(t.Record.Bobbins)-1].Clips) == 2 }
