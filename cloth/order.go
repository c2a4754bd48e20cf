package cloth

import (
	"waketwist/estimate"
	"waketwist/unit"
)

// Order is a cloth that is wanted, with what is known of each loss. Exactly gives
// a value without spread.
type Order struct {
	Width, Length         unit.Length // finished
	DrawIn, TakeUp        estimate.Estimate[Loss]
	WashWidth, WashLength estimate.Estimate[Loss]
	Waste                 estimate.Estimate[unit.Length]
	Fringe                unit.Length
	Ends                  Density[OnLoom] // as sleyed
	Picks                 estimate.Estimate[Density[OffLoom]]
	WeftCrimp, Spare      Allowance
}

// LoomWaste is what a loom keeps of the warp where it is not known: 27 in, which
// is typical, to 36 in, which is allowed (common practice).
func LoomWaste() estimate.Estimate[unit.Length] {
	const low, high = 27 * unit.Inch, 36 * unit.Inch
	return estimate.Estimate[unit.Length]{
		Value: (low + high) / 2, SD: (high - low) / (2 * estimate.Reach), Low: low, High: high, Flags: estimate.Flags{CommonPractice},
	}
}

// WeftCrimp is by how much weft is longer than the reed is wide (common
// practice), and Spare what to have beyond all that is reckoned.
const (
	WeftCrimp Allowance = 0.05
	Spare     Allowance = 0.10
)

// Answer is what an Order takes, each with its 90 % interval.
type Answer struct {
	Middle                               Needs // at the middle of every input; its Ends and Picks are whole
	WidthOffLoom, ReedWidth              estimate.Estimate[unit.Length]
	WovenOffLoom, WovenOnLoom            estimate.Estimate[unit.Length]
	WarpLength, Warp, Weft, Yarn, Spared estimate.Estimate[unit.Length]
}

// Answer works the needs through draws of all inputs. It refuses what
// Piece.Needs refuses at the middle of the inputs, and ranges that run
// backwards.
func (o Order) Answer() (Answer, error) {
	if err := o.check(); err != nil {
		return Answer{}, err
	}
	middle, err := o.middle().Needs()
	if err != nil {
		return Answer{}, err
	}
	needs := make([]Needs, 0, drawCount)
	for _, piece := range o.draws() {
		n, err := piece.Needs()
		if err != nil {
			return Answer{}, err
		}
		needs = append(needs, n)
	}
	return summarise(middle, needs, o.flags()), nil
}

func (o Order) middle() Piece {
	return Piece{
		Width: o.Width, Length: o.Length, DrawIn: o.DrawIn.Value, TakeUp: o.TakeUp.Value,
		WashWidth: o.WashWidth.Value, WashLength: o.WashLength.Value, Waste: o.Waste.Value, Fringe: o.Fringe,
		Ends: o.Ends, Picks: o.Picks.Value, WeftCrimp: o.WeftCrimp, Spare: o.Spare,
	}
}

func (o Order) draws() []Piece {
	s := estimate.NewSampler(drawCount, seed)
	drawIn, takeUp := drawLoss(s, o.DrawIn), drawLoss(s, o.TakeUp)
	width, length := drawLoss(s, o.WashWidth), drawLoss(s, o.WashLength)
	waste, picks := drawPositive(s, o.Waste), drawPositive(s, o.Picks)
	out := make([]Piece, drawCount)
	for i := range out {
		out[i] = o.middle()
		out[i].DrawIn, out[i].TakeUp = drawIn[i], takeUp[i]
		out[i].WashWidth, out[i].WashLength = width[i], length[i]
		out[i].Waste, out[i].Picks = waste[i], picks[i]
	}
	return out
}

func (o Order) flags() estimate.Flags {
	flags := estimate.Flags{estimate.Modelled}
	for _, e := range []estimate.Estimate[Loss]{o.DrawIn, o.TakeUp, o.WashWidth, o.WashLength} {
		flags = flags.With(e.Flags...)
	}
	return flags.With(o.Waste.Flags...).With(o.Picks.Flags...)
}

func (o Order) check() error {
	for _, e := range []estimate.Estimate[Loss]{o.DrawIn, o.TakeUp, o.WashWidth, o.WashLength} {
		if err := e.High.check("A loss"); err != nil {
			return err
		}
		if !inOrder(e) {
			return refuse("Give the smaller one first.", "A range of losses runs backwards.")
		}
	}
	if !inOrder(o.Waste) || !inOrder(o.Picks) || o.Waste.Value > 0 && !(o.Waste.Low > 0) || !(o.Picks.Low > 0) {
		return refuse("Give the smaller one first, above zero.", "The range of the loom waste or of the picks is none.")
	}
	return nil
}

func inOrder[T ~float64](e estimate.Estimate[T]) bool { return e.Low <= e.Value && e.Value <= e.High }

func summarise(middle Needs, needs []Needs, flags estimate.Flags) Answer {
	of := func(part func(Needs) unit.Length) estimate.Estimate[unit.Length] {
		column := make([]unit.Length, len(needs))
		for i, n := range needs {
			column[i] = part(n)
		}
		e := estimate.FromDraws(column)
		e.Flags = flags
		return e
	}
	return Answer{
		Middle:       middle,
		WidthOffLoom: of(func(n Needs) unit.Length { return n.WidthOffLoom }),
		ReedWidth:    of(func(n Needs) unit.Length { return n.ReedWidth }),
		WovenOffLoom: of(func(n Needs) unit.Length { return n.WovenOffLoom }),
		WovenOnLoom:  of(func(n Needs) unit.Length { return n.WovenOnLoom }),
		WarpLength:   of(func(n Needs) unit.Length { return n.WarpLength }),
		Warp:         of(func(n Needs) unit.Length { return n.Warp }),
		Weft:         of(func(n Needs) unit.Length { return n.Weft }),
		Yarn:         of(func(n Needs) unit.Length { return n.Yarn }),
		Spared:       of(func(n Needs) unit.Length { return n.YarnWithSpare }),
	}
}
