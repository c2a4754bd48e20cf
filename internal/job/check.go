package job

import (
	"fmt"
	"math"
	"slices"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Standing is how a piece of ply stands against the target.
type Standing int

// The standings.
const (
	Unknown Standing = iota // nothing to compare
	OnTarget
	TooFew  // turns
	TooMany // turns
)

// Check is a piece of ply compared with the target in the same state.
type Check struct {
	Standing Standing
	Read     estimate.Estimate[unit.Angle] // on the target's line
	Want     journal.Interval              // of the target in the piece's state
	Change   estimate.Estimate[rest.Share] // of the turns: 0.1 is a tenth more
	Crossed  bool                          // read on another line than the target's: less sure
	Singles  bool                          // the photograph was read as singles, which says nothing of a ply
	Smallest rest.Share                    // change that these readings could tell from none
	Treadles *estimate.Estimate[float64]   // to add to each draw; nil without a treadled drive
	RPM      *estimate.Estimate[float64]   // factor on the motor's speed at the same beat; nil without a motor
}

// drawsOfCheck is the number of rows behind a comparison.
const drawsOfCheck = 1000

// CheckOf compares a piece of ply with a target. diameter is that of the singles,
// nil when not known; treadles need it.
func CheckOf(s journal.Sample, t journal.Target, d Drive, diameter *unit.Length) Check {
	c := Check{Want: wanted(s, t)}
	valid := plyReadings(s)
	if len(valid) == 0 {
		c.Singles = len(s.Valid()) > 0
		return c
	}
	read, mapped := meanOn(t.Line, t.Plan.Strands, valid)
	c.Crossed = mapped > 0
	draws := estimate.NewSampler(drawsOfCheck, 1)
	logs := draws.Normal(math.Log(read.Value.Tan()), math.Hypot(logSD(read), mapped))
	change, angles := make([]rest.Share, len(logs)), make([]unit.Angle, len(logs))
	for i, y := range logs {
		angles[i] = unit.Atan(math.Exp(y))
		change[i] = rest.Share(c.Want.Value.Tan()/math.Exp(y) - 1)
	}
	c.Read, c.Change = estimate.FromDraws(angles), estimate.FromDraws(change)
	c.Read.State, c.Read.Load, c.Read.N = s.State, s.Load, len(valid)
	c.Smallest = (c.Change.High - c.Change.Low) / 2
	c.judge()
	c.drive(d, t, diameter, angles)
	return c
}

// plyReadings are the readings in force of a ply; those of singles are of fibres,
// not of strands.
func plyReadings(s journal.Sample) []journal.Reading {
	return slices.DeleteFunc(s.Valid(), func(r journal.Reading) bool { return r.Structure != journal.Ply })
}

// wanted is the target for the state in which a piece was read.
func wanted(s journal.Sample, t journal.Target) journal.Interval {
	switch {
	case s.State == estimate.Rewet:
		return t.Angle
	case s.State == estimate.Washed || s.State == estimate.RewetDried:
		return t.Washed
	}
	return t.Wheel
}

// judge says on target unless the readings tell otherwise nine times in ten.
func (c *Check) judge() {
	switch {
	case c.Change.Low > 0:
		c.Standing = TooFew
	case c.Change.High < 0:
		c.Standing = TooMany
	default:
		c.Standing = OnTarget
	}
}

// meanOn brings readings together on a line; mapped is the spread of the
// logarithm of the tangent that crossing lines adds.
func meanOn(line yarn.Line, strands int, readings []journal.Reading) (e estimate.Estimate[unit.Angle], mapped float64) {
	median, sigma := yarn.BorderRatio(strands)
	var sum, precision float64
	for _, r := range readings {
		tan := r.Angle.Tan()
		switch {
		case r.Line == yarn.VisibleBorder && line == yarn.StrandCentre:
			tan, mapped = tan/median, sigma
		case r.Line == yarn.StrandCentre && line == yarn.VisibleBorder:
			tan, mapped = tan*median, sigma
		}
		p := 1 / float64(r.SD*r.SD)
		sum += float64(unit.Atan(tan)) * p
		precision += p
	}
	return estimate.Estimate[unit.Angle]{Value: unit.Angle(sum / precision), SD: unit.Angle(1 / math.Sqrt(precision))}, mapped
}

func logSD(e estimate.Estimate[unit.Angle]) float64 {
	return float64(e.SD) / (math.Sin(float64(e.Value)) * math.Cos(float64(e.Value)))
}

// drive puts the change into the setting of the wheel or the motor.
func (c *Check) drive(d Drive, t journal.Target, diameter *unit.Length, angles []unit.Angle) {
	if d.Motor != nil && d.Draw != nil && d.Beat != nil {
		if speed, err := d.Motor.Speed(); err == nil {
			c.RPM = scaled(c.Change, func(share rest.Share) float64 { return float64(speed.Value) * (1 + float64(share)) })
		}
	}
	perTreadle := d.turnsATreadle()
	if perTreadle == 0 || d.Draw == nil || diameter == nil {
		return
	}
	// Turns missing in the length of one draw, over the turns of one treadle.
	turns := func(a unit.Angle) yarn.PlyTwist {
		b := CentreOf(a, t.Line, t.Plan.Strands)
		return yarn.Turns(t.Plan.Strands, min(b, yarn.Limit(t.Plan.Strands)), *diameter)
	}
	missing, want := make([]float64, len(angles)), turns(c.Want.Value)
	for i, a := range angles {
		have := turns(a)
		missing[i] = float64(want-have) * d.Draw.Metres() / perTreadle
	}
	e := estimate.FromDraws(missing)
	c.Treadles = &e
}

func scaled(e estimate.Estimate[rest.Share], by func(rest.Share) float64) *estimate.Estimate[float64] {
	return &estimate.Estimate[float64]{Value: by(e.Value), Low: by(e.Low), High: by(e.High), SD: by(e.SD) - by(0), N: e.N}
}

// Words says the standing in one line, and what to do.
func (c Check) Words() string {
	switch c.Standing {
	case Unknown:
		if c.Singles {
			return "Read as singles, and so not compared: open the reading, state the number of strands and read it again."
		}
		return "Not read yet."
	case OnTarget:
		return "On target: go on. " + c.telling() + c.sharper()
	}
	verb := "Add"
	if c.Standing == TooMany {
		verb = "Take away"
	}
	words := fmt.Sprintf("%s ply twist: about %.0f %% of the turns (%.0f to %.0f %%)", verb, 100*c.off(),
		100*math.Abs(float64(c.near())), 100*math.Abs(float64(c.far())))
	switch {
	case c.Treadles != nil:
		words += fmt.Sprintf(", that is %.1f treadles a draw %s", math.Abs(c.Treadles.Value), map[bool]string{true: "fewer", false: "more"}[c.Treadles.Value < 0])
	case c.RPM != nil:
		words += fmt.Sprintf(", that is %.0f turns a minute at the same beat", c.RPM.Value)
	}
	return words + "." + c.within()
}

// within says that a piece off the middle of the target may balance all the same.
func (c Check) within() string {
	if v := c.Read.Value; v < c.Want.Low || v > c.Want.High {
		return ""
	}
	return fmt.Sprintf(" It may balance as it is: the target lies between %.0f° and %.0f°.", c.Want.Low.Degrees(), c.Want.High.Degrees())
}

// telling says which change would not show.
func (c Check) telling() string {
	return fmt.Sprintf("In these readings %.0f %% of the turns more or fewer would not show.", 100*float64(c.Smallest))
}

// sharper says how to read what was read on another line than the target's.
func (c Check) sharper() string {
	if !c.Crossed {
		return ""
	}
	return " For a sharper answer read it as the samples were read, by eye or by photograph."
}

// Found says the standing of yarn that is off the wheel, where nothing is to be
// done at once.
func (c Check) Found() string {
	switch c.Standing {
	case Unknown:
		return c.Words()
	case OnTarget:
		return "As it was to be. " + c.telling() + c.sharper()
	}
	side := "fewer"
	if c.Standing == TooMany {
		side = "more"
	}
	lacking := func(s rest.Share) float64 { return 100 * math.Abs(1-1/(1+float64(s))) } // of the turns that were wanted
	return fmt.Sprintf("It has about %.0f %% %s turns than it was to have (%.0f to %.0f %%).",
		lacking(c.Change.Value), side, lacking(c.near()), lacking(c.far()))
}

// off is the share of the turns by which it is off.
func (c Check) off() float64 { return math.Abs(float64(c.Change.Value)) }

// near and far are the ends of the change nearest to and furthest from none.
func (c Check) near() rest.Share {
	if c.Standing == TooMany {
		return c.Change.High
	}
	return c.Change.Low
}

func (c Check) far() rest.Share {
	if c.Standing == TooMany {
		return c.Change.Low
	}
	return c.Change.High
}
